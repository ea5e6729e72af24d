"""The positioning test: readings put in their places, holes named, figures handed over."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from results_samples import job
from stages.prove.position_rows import ARCSEC, position_rows
from wormwright.job.operation import SignOff
from wormwright.job.proof import Proof
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, StageRefusal
from wormwright.stages.prove import prove, report
from wormwright.traveler import live_readings

TARGETS = (0.0, 50.0, 100.0, 150.0)
DOWN = ((22.0, 24.0, 18.0), (34.5, 36.5, 37.5), (36.5, 36.5, 34.0), (34.5, 32.0, 38.0))
UP = ((-26.0, -30.0, -29.0), (-14.5, -10.5, -15.0), (-6.0, -3.5, -3.5), (3.0, 0.5, 5.0))
ROWS = position_rows(TARGETS, UP, DOWN)


def proved(rows: tuple[Reading, ...]) -> Proof:
    return prove(job(), rows)


def told(proof: Proof, code: str) -> Doubt:
    """The one doubt of that code."""
    (doubt,) = [d for d in proof.doubts if d.code == code]
    return doubt


def signed(operation: str) -> SignOff:
    return SignOff(90, operation, "", "AB", gate_values=(), verdict="done")


def test_readings_are_put_in_their_places_whatever_their_order() -> None:
    test = proved(tuple(replace(r, seq=100 - r.seq) for r in ROWS)).positioning
    assert test is not None
    assert test.forward == pytest.approx(np.array(UP) * ARCSEC)
    assert test.backward == pytest.approx(np.array(DOWN) * ARCSEC)
    assert test.targets == pytest.approx([math.radians(t) for t in TARGETS])
    assert test.means == ("polygon",)
    b = test.of("reversal")
    assert b.value == pytest.approx((64 / 3 + 85 / 3) * ARCSEC)
    assert b.low < b.value < b.high


def test_a_target_with_a_hole_is_left_out_and_named() -> None:
    proof = proved(tuple(r for r in ROWS if r.seq != 2))
    assert proof.positioning is not None
    assert proof.positioning.targets == pytest.approx([math.radians(t) for t in (0, 100, 150)])
    doubt = told(proof, "P-11")
    assert "target 50°" in doubt.seen


def test_a_run_that_was_broken_off_is_left_out_as_a_whole() -> None:
    proof = proved(tuple(r for r in ROWS if r.number("run") != 3.0 or r.seq % 8 < 2))
    assert proof.positioning is not None
    assert proof.positioning.runs == 2
    assert len(proof.positioning.targets) == 4
    assert "run 3" in told(proof, "P-11").seen


def test_a_place_that_stands_twice_is_asked_about_and_the_later_one_counts() -> None:
    twice = (*ROWS, replace(ROWS[0], seq=90, value=-33 * ARCSEC))
    proof = proved(twice)
    assert proof.positioning is not None
    assert proof.positioning.forward[0, 0] == pytest.approx(-33 * ARCSEC)
    assert told(proof, "P-3").rows == (1, 90)


def test_one_direction_alone_is_no_test_from_both_sides() -> None:
    with pytest.raises(StageRefusal, match="both sides") as refusal:
        proved(tuple(r for r in ROWS if r.said("approach") == "forward"))
    assert refusal.value.stage == "prove"


def test_nothing_read_on_the_finished_axis_says_what_to_read() -> None:
    with pytest.raises(StageRefusal, match="position_error"):
        proved(())


def test_the_report_names_every_figure_of_the_standard() -> None:
    words = repr(report(proved(ROWS), job()))
    for figure in ("B, reversal", "R, repeatability", "E, systematic", "M, mean", "A, accuracy"):
        assert figure in words


def test_work_on_the_mesh_makes_the_test_stale_and_greasing_it_too() -> None:
    for operation in ("strip_wash", "final_depth", "seal_grease"):
        done = SignOff(
            seq=90, operation=operation, when="", initials="AB", gate_values=(), verdict="done"
        )
        assert live_readings(ROWS, [done]) == ()
    done = SignOff(
        seq=90, operation="adapter_true", when="", initials="AB", gate_values=(), verdict="done"
    )
    assert live_readings(ROWS, [done]) == ROWS
