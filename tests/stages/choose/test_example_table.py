"""The drive choice example: its table worked by hand, and its verdict where it should flip."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from drive_jobs import example, figure, with_drive, with_task
from wormwright.job.choice import Choice, Side
from wormwright.stages.choose import choose

ARCMIN = math.radians(1 / 60)
BELT6, BELT18, STRAIN, WORM = "belt 6:1", "belt 18:1", "strain wave 80:1", "worm 40:1"
TABLE = {
    BELT6: {
        "per degree": 33.333,
        "step_arcsec": 108,
        "stiffness": 0.563,
        "wind-up milling flats": 0.074,
        "lost motion milling flats": 0.005,
        "error milling flats": 0.077,
        "error fine engraving": 0.009,
        "table speed": 100,
        "rate": 5.0,
        "motor": 0.51,
    },
    BELT18: {
        "per degree": 100,
        "step_arcsec": 36,
        "stiffness": 0.828,
        "wind-up milling flats": 0.051,
        "lost motion milling flats": 0.014,
        "error milling flats": 0.058,
        "error fine engraving": 0.008,
        "table speed": 33.3,
        "rate": 15.0,
        "motor": 0.18,
    },
    STRAIN: {
        "per degree": 355.556,
        "step_arcsec": 10.1,
        "stiffness": 2.54,
        "wind-up milling flats": 0.017,
        "lost motion milling flats": 0.021,
        "error milling flats": 0.027,
        "error fine engraving": 0.005,
        "table speed": 25,
        "rate": 53.3,
        "motor": 0.18,
    },
    WORM: {
        "per degree": 222.222,
        "step_arcsec": 16.2,
        "stiffness": 4.24,
        "wind-up milling flats": 0.010,
        "lost motion milling flats": 0.049,
        "error milling flats": 0.034,
        "error fine engraving": 0.009,
        "table speed": 20,
        "rate": 33.3,
        "motor": 0.25,
    },
}
"""Worked by hand from 50 T_hold i² in series with the drive, F r²/K and half the lost motion."""


@pytest.fixture(scope="module")
def choice() -> Choice:
    return choose(example())


def side(choice: Choice, name: str) -> Side:
    return next(side for side in choice.sides if side.drive.name == name)


@pytest.mark.parametrize("name", TABLE)
def test_the_table_of_the_example_is_reproduced(choice: Choice, name: str) -> None:
    of, want = side(choice, name), TABLE[name]
    assert figure(of, "per degree") == pytest.approx(want["per degree"], abs=0.001)
    assert figure(of, "step") / ARCMIN * 60 == pytest.approx(want["step_arcsec"], abs=0.05)
    assert figure(of, "stiffness") * ARCMIN / 1000 == pytest.approx(want["stiffness"], abs=0.006)
    for key in ("wind-up milling flats", "lost motion milling flats"):
        assert figure(of, key) == pytest.approx(want[key], abs=0.0006), key
    for key in ("error milling flats", "error fine engraving"):
        assert figure(of, key) == pytest.approx(want[key], abs=0.0006), key
    assert figure(of, "table speed") == pytest.approx(want["table speed"], abs=0.05)
    assert figure(of, "rate") / 1000 == pytest.approx(want["rate"], abs=0.05)


@pytest.mark.parametrize("name", TABLE)
def test_motor_torque_of_the_table_is_that_at_2_9_newton_metres(choice: Choice, name: str) -> None:
    torque = figure(side(choice, name), "motor torque") / 1000
    assert torque == pytest.approx(TABLE[name]["motor"], abs=0.006)


def test_belts_fail_the_flats_and_the_worm_its_speed(choice: Choice) -> None:
    missed = {s.drive.name: {(n.key, n.work) for n in s.unmet} for s in choice.sides}
    assert ("error", "milling flats") in missed[BELT6]
    assert missed[BELT18] == {("error", "milling flats")}
    assert missed[STRAIN] == set()
    assert missed[WORM] == {("speed", "rounding stock")}
    assert [s.standing for s in choice.sides] == ["fails", "fails", "meets every need", "fails"]


def test_the_strain_wave_is_taken_with_four_microsteps_and_nothing_to_spare(
    choice: Choice,
) -> None:
    assert (choice.word, choice.chosen) == ("take this one", (STRAIN,))
    taken = side(choice, STRAIN)
    assert taken.pulses == 800
    assert "4 microsteps" in taken.setting
    assert any("nothing to spare" in words for words in taken.words)
    step = next(n for n in taken.needs if (n.key, n.work) == ("step", "milling flats"))
    assert step.got.value == pytest.approx(0.006, abs=0.0002)


def test_relaxing_the_speed_to_20_flips_to_the_worm_which_then_cuts_one_way(
    choice: Choice,
) -> None:
    flip = next(c for c in choice.flips if c.then == f"take {WORM}" and "speed of" in c.what)
    assert flip.turns_at == 20
    slower = choose(with_task(example(), "rounding stock", speed=20.0))
    assert slower.chosen == (WORM,)
    assert any("one way only" in words and "49 µm" in words for words in side(slower, WORM).words)


def test_a_smaller_radius_lets_the_long_belt_do(choice: Choice) -> None:
    way = next(w for w in choice.ways if w.drive == BELT18)
    radius = next(c for c in way.changes if c.what == "radius of milling flats")
    assert 50 <= radius.turns_at < 56
    smaller = choose(with_task(example(), "milling flats", radius=50.0))
    assert smaller.chosen == (BELT18,)
    error = next(n for n in side(smaller, BELT18).needs if n.key == "error")
    assert error.got.value == pytest.approx(0.041, abs=0.0005)


def test_what_a_change_is_said_to_do_it_does(choice: Choice) -> None:
    """Every need in the table of flips is set to its turning point and judged anew."""
    job = example()
    fields = {"error": "error", "radius": "radius", "speed": "speed"}
    checked = 0
    for change in choice.flips:
        field, _, name = change.what.partition(" of ")
        if field not in fields or name not in {task.name for task in job.work}:
            continue
        at = choose(with_task(job, name, **{fields[field]: change.turns_at}))
        assert (at.word, at.chosen) != (choice.word, choice.chosen), change.what
        short = change.now + 0.9 * (change.turns_at - change.now)
        before = choose(with_task(job, name, **{fields[field]: short}))
        if change.share > 0.01:
            assert (before.word, before.chosen) == (choice.word, choice.chosen), change.what
        checked += 1
    assert checked >= 4


def test_no_single_need_saves_the_short_belt(choice: Choice) -> None:
    way = next(w for w in choice.ways if w.drive == BELT6)
    assert way.changes == ()
    assert len(way.unmet) == 3


def test_the_figure_that_decides_is_named_first(choice: Choice) -> None:
    assert choice.flips[0].share == min(change.share for change in choice.flips)
    assert "speed" in choice.flips[0].what


def test_a_worm_that_stands_on_the_bench_is_kept_when_it_does() -> None:
    job = with_task(example(), "rounding stock", speed=20.0)
    mine = with_drive(job, WORM, lambda d: replace(d, have=True, cost=None))
    kept = choose(mine)
    assert (kept.word, kept.chosen) == ("keep what you have", (WORM,))
    still_short = choose(with_drive(example(), WORM, lambda d: replace(d, have=True)))
    assert still_short.word != "keep what you have"
