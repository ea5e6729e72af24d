"""Waves with their causes, and the table for the control: what is told, refused and printed."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import replace

import numpy as np
import pytest

from results_samples import diagnosis, job
from simulated_axis import ARCSEC, SimulatedAxis
from stages.prove.position_rows import position_rows
from wormwright.core.worm_phase import planned_targets
from wormwright.job.proof import Proof
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Motor
from wormwright.stages.prove import compensation_files, prove, report

R2 = 54.0
AXIS = SimulatedAxis(
    waves={1: (0.02 / R2 / ARCSEC, 0.3), 72: (0.006 / R2 / ARCSEC, 1.0)}, play=60.0, noise=2.0
)


def unit(teeth: int = 72, starts: int = 1) -> tuple[Reading, ...]:
    five = 5 * math.pi * 1.5
    return (
        Reading(1, "teeth", str(teeth), float(teeth)),
        Reading(2, "thread_length", f"{five:.3f} mm", five, conditions={"threads": 5.0}),
        Reading(3, "worm_od", "31 mm", 31.0),
        Reading(4, "starts", str(starts), float(starts)),
    )


def rows(
    axis: SimulatedAxis = AXIS, *, targets: np.ndarray | None = None, runs: int = 5
) -> tuple[Reading, ...]:
    at = planned_targets(ratio=72, count=11, seed=3) if targets is None else targets
    up, down = axis.test(at, runs, np.random.default_rng(1))
    return (*unit(), *position_rows(list(np.degrees(at)), up, down, first=10))


def words(proof: Proof) -> str:
    return repr(report(proof, job()))


def test_even_targets_refuse_the_worm_wave_and_say_why() -> None:
    even = np.radians(np.arange(0.0, 360.0, 30.0))
    found = prove(job(), rows(targets=even)).harmonics
    assert found is not None
    worm = found.of("worm")
    assert worm is not None
    assert worm.size is None
    assert "cannot be told from the zero" in worm.refusal
    assert not worm.causes


def test_a_wave_that_looks_like_another_names_it_on_both() -> None:
    at = np.radians(np.arange(0, 71, 6) * 360 / 71)
    found = prove(job(), rows(targets=at)).harmonics
    assert found is not None
    table, worm = found.of("table"), found.of("worm")
    assert table is not None
    assert worm is not None
    assert "once per table turn" in worm.refusal
    assert "once per worm turn and tooth" in table.alike


def test_the_amount_is_set_beside_what_the_rocks_said() -> None:
    def said(tir: float) -> str:
        runout = Estimate(tir, 0.003, tir - 0.006, tir + 0.006, "length", "rocks")
        found = prove(job(), rows(), diagnosis=replace(diagnosis(), wheel_runout=runout)).harmonics
        assert found is not None
        wave = found.of("table")
        assert wave is not None
        return wave.causes[0].compared

    assert said(0.04).startswith("agrees with the rocks")
    assert said(0.09).startswith("does not agree")
    silent = prove(job(), rows()).harmonics
    assert silent is not None
    assert silent.waves[0].causes[0].compared == ""


def test_more_starts_tell_teeth_from_worm_and_steps_are_looked_for_when_known() -> None:
    two = tuple(r for r in rows() if r.kind != "starts")
    many = (*two, Reading(4, "starts", "3", 3.0))
    keys = {w.key for w in prove(job(), many).harmonics.waves}  # type: ignore[union-attr]
    assert "tooth" in keys
    labels = [w.label for w in prove(job(), (*two, Reading(4, "starts", "2", 2.0))).harmonics.waves]  # type: ignore[union-attr]
    assert "twice per worm turn and once per tooth" in labels
    with_motor = replace(job(), motor=Motor("stepper", steps_per_turn=200))
    found = prove(with_motor, rows()).harmonics
    assert found is not None
    step = found.of("step")
    assert step is not None
    assert step.order == 200 * 72


def test_without_a_known_pair_nothing_is_named() -> None:
    bare = tuple(r for r in rows() if r.kind != "teeth")
    assert prove(job(), bare).harmonics is None


def test_a_sweep_read_from_one_side_is_left_out_and_said_so() -> None:
    sweep = np.radians(np.arange(24) * 10 / 24)
    up, down = AXIS.test(sweep, 1, np.random.default_rng(2))
    fine = position_rows(list(np.degrees(sweep)), up, down, first=300, kind="fine_error")
    both = prove(job(), (*rows(), *fine))
    one = prove(job(), (*rows(), *(r for r in fine if r.said("approach") == "forward")))
    assert both.harmonics is not None
    assert one.harmonics is not None
    assert both.harmonics.places == one.harmonics.places + 24
    assert "P-13" in {d.code for d in one.doubts}
    assert "P-13" not in {d.code for d in both.doubts}


def test_a_table_is_offered_where_it_helps_with_its_sign_in_words() -> None:
    proof = prove(job(), rows())
    made = proof.compensation
    assert made is not None
    assert made.offered
    assert made.reversal <= made.least_play
    assert made.reversal == pytest.approx(60 * ARCSEC, rel=0.2)
    assert made.rms_after.value < made.rms_before.value / 2
    slow = SimulatedAxis(waves={1: AXIS.waves[1]})
    worst = int(np.argmax(np.abs(made.add)))
    assert made.check_at == made.angles[worst]
    assert made.add == pytest.approx(-slow.mean(made.angles) * ARCSEC, abs=30 * ARCSEC)
    text = words(proof)
    for said in ("One move", "every sign is wrong", "minus the error", "smallest play"):
        assert said in text


def test_the_files_for_the_control_hold_the_table_and_the_words() -> None:
    made = prove(job(), rows()).compensation
    assert made is not None
    files = dict(compensation_files(made, "no. 7"))
    head, *lines = csv.reader(io.StringIO(files["compensation.csv"]))
    assert head == ["angle [deg]", "error [arcsec]", "add [arcsec]", "add [deg]"]
    assert [float(x[0]) for x in lines] == list(range(0, 361, 10))
    for line, add in zip(lines, made.add, strict=True):
        assert float(line[1]) == -float(line[2])
        assert float(line[2]) * ARCSEC == pytest.approx(add, abs=1 * ARCSEC)
        assert float(line[3]) * 3600 == pytest.approx(float(line[2]), abs=0.5)
    assert "One move" in files["compensation.txt"]
    assert "no. 7" in files["compensation.txt"]
    assert compensation_files(replace(made, offered=False), "no. 7") == ()


def test_the_reversal_stays_below_the_tight_spot_of_the_rocks() -> None:
    tight = Estimate(20 * ARCSEC, ARCSEC, 18 * ARCSEC, 22 * ARCSEC, "angle", "rocks")
    made = prove(
        job(), rows(), diagnosis=replace(diagnosis(), lost_motion_tight=tight)
    ).compensation
    assert made is not None
    assert made.reversal == pytest.approx(20 * ARCSEC)
    assert "tight spot" in made.play_from


@pytest.mark.parametrize(
    "axis", [SimulatedAxis(noise=4.0), SimulatedAxis(waves={72: (12.0, 1.0)}, noise=1.0)]
)
def test_no_table_for_scatter_nor_for_what_repeats_with_the_worm(axis: SimulatedAxis) -> None:
    proof = prove(job(), rows(axis))
    assert proof.compensation is not None
    assert not proof.compensation.offered
    assert "No table is offered" in words(proof)
    assert "One move" not in words(proof)


def test_two_runs_are_too_few_to_judge_a_table_by() -> None:
    assert prove(job(), rows(runs=2)).compensation is None


def test_the_report_has_other_conventions_and_says_what_few_runs_are_worth() -> None:
    text = words(prove(job(), rows()))
    for said in ("VDI/DGQ 3441", "ISO 230-2:1988", "ASME B5.54", "86%", "0.60", "2.87"):
        assert said in text
