"""Closing the circle from readings: errors, doubts stated, every bad row with its reason."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from results_samples import job
from stages.prove.closed_circle import ARCSEC, closure_rows
from wormwright.job.blocks import Plot, Table
from wormwright.job.proof_closure import ClosureProof
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, StageRefusal
from wormwright.stages.prove import prove, report
from wormwright.stages.prove.report_closure import closure_plan_blocks

TABLE, SQUARE = (3.0, -7.0, 12.0, -8.0), (5.0, -2.0, -9.0, 6.0)
ROWS = closure_rows(TABLE, SQUARE, (1, 2, 3, 4))


def found(rows: tuple[Reading, ...]) -> tuple[ClosureProof, tuple[Doubt, ...]]:
    proof = prove(job(), rows)
    assert proof.closure is not None
    return proof.closure, proof.doubts


def refused(rows: tuple[Reading, ...]) -> Doubt:
    with pytest.raises(StageRefusal) as refusal:
        prove(job(), rows)
    return next(d for d in refusal.value.doubts if d.action == "refuse")


def with_condition(row: Reading, **said: float | str) -> Reading:
    return replace(row, conditions={**row.conditions, **said})


@pytest.mark.parametrize("swept", [False, True])
def test_table_and_square_are_told_apart_whatever_way_the_faces_were_read(swept: bool) -> None:
    closed, doubts = found(closure_rows(TABLE, SQUARE, (1, 2, 3, 4), swept=swept))
    assert [e.value / ARCSEC for e in closed.table] == pytest.approx(TABLE, abs=1e-6)
    assert [e.value / ARCSEC for e in closed.artefact] == pytest.approx(SQUARE, abs=1e-6)
    assert closed.span.value / ARCSEC == pytest.approx(20)
    assert closed.span_at == pytest.approx((math.radians(270), math.radians(180)))
    assert closed.first_faces == (1, 2, 3, 4)
    assert doubts == ()


def test_errors_are_covered_as_often_as_their_intervals_say() -> None:
    pick = np.random.default_rng(31)
    inside = []
    for _ in range(150):
        rows = closure_rows(TABLE, SQUARE, (1, 2, 4), noise=pick.normal(0, 3.0, (5, 3)))
        closed, _ = found(rows)
        truth = np.array(TABLE) * ARCSEC
        inside += [e.low <= t <= e.high for e, t in zip(closed.table, truth, strict=True)]
        inside.append(closed.span.low <= 20 * ARCSEC <= closed.span.high)
    assert 0.92 <= np.mean(inside) <= 0.99


def test_rough_seating_widens_every_interval_and_is_said() -> None:
    noise = np.random.default_rng(32).normal(0, 20.0, (5, 4))
    closed, doubts = found(closure_rows(TABLE, SQUARE, (1, 2, 3, 4), noise=noise))
    assert closed.widened
    assert closed.reading_u > 10 * ARCSEC
    assert any(d.code in ("C-10", "C-11") for d in doubts)


def test_faces_moved_by_two_only_are_refused_and_the_lost_waves_named() -> None:
    doubt = refused(closure_rows(TABLE, SQUARE, (1, 3)))
    assert doubt.code == "C-8"
    assert "multiples of 2 faces of 4" in doubt.seen
    assert "2 waves" in doubt.why
    assert "3 combinations" in doubt.why
    one = refused(closure_rows(TABLE, SQUARE, (1,)))
    assert "one face in line" in one.seen


def test_a_missing_face_is_named_and_its_place_known_less_well() -> None:
    rows = tuple(r for r in ROWS if r.seq not in (7,))
    closed, doubts = found(rows)
    assert closed.missing == 1
    assert closed.table[1].u > closed.table[0].u
    assert [e.value / ARCSEC for e in closed.table] == pytest.approx(TABLE, abs=1e-6)
    (doubt,) = doubts
    assert doubt.code == "C-7"
    assert "90° of set-up 2" in doubt.seen


def test_a_position_read_in_no_set_up_is_refused_by_name() -> None:
    rows = tuple(r for r in ROWS if abs(math.degrees(r.table_angle or 0) - 180) > 1)
    doubt = refused(rows)
    assert doubt.code == "C-9"
    assert "position 3" in doubt.seen


def test_faces_reached_from_both_sides_are_refused() -> None:
    rows = tuple(with_condition(r, approach="backward") if r.seq in (3, 8) else r for r in ROWS)
    doubt = refused(rows)
    assert doubt.code == "C-2"
    assert doubt.rows == (3, 8)
    assert "2 of 20 faces were reached backward" in doubt.seen


def test_two_artefacts_or_two_first_faces_are_refused() -> None:
    mixed = tuple(with_condition(r, faces=6.0) if r.seq == 2 else r for r in ROWS)
    assert refused(mixed).rows == (2,)
    moved = tuple(with_condition(r, first_face=3.0) if r.seq == 2 else r for r in ROWS)
    assert "1 and 3" in refused(moved).seen
    beyond = tuple(
        with_condition(r, first_face=7.0) if r.number("setup") == 2.0 else r for r in ROWS
    )
    assert "face 7 of an artefact of 4" in refused(beyond).seen


def test_a_row_off_the_even_positions_and_a_place_read_twice_are_asked_about() -> None:
    off = tuple(replace(r, table_angle=math.radians(77)) if r.seq == 2 else r for r in ROWS)
    _, doubts = found(off)
    assert [d.code for d in doubts] == ["C-4", "C-7"]
    assert "77°" in doubts[0].seen
    twice = (*ROWS, replace(ROWS[1], seq=50))
    assert found(twice)[1][0].rows == (2, 50)


def test_the_first_position_read_again_as_a_full_turn_shows_drift_and_counts_once() -> None:
    drifted = tuple(
        replace(r, value=(r.value or 0) + 60 * ARCSEC) if r.seq == 5 else r for r in ROWS
    )
    closed, doubts = found(drifted)
    assert [d.code for d in doubts] == ["C-6"]
    assert doubts[0].rows == (1, 5)
    assert [e.value / ARCSEC for e in closed.table] == pytest.approx(TABLE, abs=1e-6)
    below = tuple(
        replace(r, table_angle=(r.table_angle or 0) - 2 * math.pi) if r.seq in (3, 4) else r
        for r in ROWS
    )
    assert found(below)[0].table == found(ROWS)[0].table


@pytest.mark.parametrize(
    ("factor", "words"), [(60.0, "minutes were written"), (-1.0, "sign"), (25.4, "inches")]
)
def test_a_slip_of_unit_or_sign_is_named(factor: float, words: str) -> None:
    rows = closure_rows((30.0, -70.0, 120.0, -80.0), SQUARE, (1, 2, 3, 4))
    slipped = tuple(replace(r, value=(r.value or 0) * factor) if r.seq == 3 else r for r in rows)
    _, doubts = found(slipped)
    assert doubts[0].code == "C-10"
    assert doubts[0].rows == (3,)
    assert words in doubts[0].seen


def test_the_report_gives_every_angle_of_table_and_artefact_with_its_doubt() -> None:
    blocks = report(prove(job(), ROWS), job())
    table = next(b for b in blocks if isinstance(b, Table) and "from their mean" in b.caption)
    assert len(table.rows) == 4
    assert all(row[1].estimate and row[3].estimate for row in table.rows)
    words = repr(blocks)
    assert "errors that repeat within 90°" in words
    assert "allowed at the work" in words


def test_the_plan_names_faces_gain_and_what_stays_unseen() -> None:
    words = repr(closure_plan_blocks(12, 72.0))
    assert "1, 2, 5" in words
    assert "0.67 u" in words
    assert "wholly unseen" in words
    assert "shows as 6 waves" in repr(closure_plan_blocks(12, 90.0))


def test_a_fine_closure_is_drawn_as_lines_and_its_long_table_left_to_the_file() -> None:
    at = np.arange(96) * 2 * math.pi / 96
    rows = closure_rows(tuple(20 * np.cos(at)), tuple(5 * np.sin(3 * at)), (1, 2, 5))
    blocks = report(prove(job(), rows), job())
    plot = next(b for b in blocks if isinstance(b, Plot))
    assert [t.look for t in plot.traces] == ["line", "dashed"]
    assert not any(isinstance(b, Table) and "from their mean" in b.caption for b in blocks)


def test_a_closure_counts_as_positions_read_under_power() -> None:
    words = repr(report(prove(job(), ROWS), job()))
    assert "ositions but those of the closure" in words
    assert "turned by hand" not in words


@pytest.mark.parametrize(("faces", "counts"), [(4, False), (12, True)])
def test_a_closure_of_enough_places_gives_the_range_of_the_error_at_the_work(
    faces: int, counts: bool
) -> None:
    at = np.arange(faces) * 2 * math.pi / faces
    error = 40 * np.cos(at)
    rows = closure_rows(tuple(error), tuple(0 * at), (1, 2, 4))
    proof = prove(job(), rows)
    parts = () if proof.part is None else proof.part.contributions
    assert any(c.figure.source == "closure" for c in parts) == counts
