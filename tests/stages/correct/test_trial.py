"""The trial pair: depth and throat centre come back, and the final pair reaches both."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest

import correct_fixture as made
from wormwright.bench import Bench
from wormwright.core.backlash import ClosedFormMesh, sine_of_half_face
from wormwright.core.eccentric import depth_and_centre_from_trial
from wormwright.job.pair import WheelKind
from wormwright.job.parts import EccentricBushing
from wormwright.job.reading import Reading
from wormwright.stages.correct import correct
from wormwright.stages.correct.strategy import FINAL
from wormwright.stages.correct.trial import Trial, found_by_trial, trial_read
from wormwright.stages.correct.unit import UnitRows, unit_rows

THROW = 0.21
PAIR = "worm_shim+bushings"
EQUAL: tuple[tuple[WheelKind, float], ...] = (("hob-equal", 1.0),)
OVERSIZE: tuple[tuple[WheelKind, float], ...] = (("oversize-hob", 1.0),)


def drag_angle(
    mesh: ClosedFormMesh, *, opened: float, play: float, centre: float, side: int
) -> float:
    """Where a real unit of that play at the tight spot first shuts, coming from the open side."""
    found = float(mesh.backlash_change(da=opened))

    def left(angle: float) -> float:
        closing, aside = THROW * math.cos(angle), side * THROW * math.sin(angle)
        change = float(mesh.backlash_change(da=opened - closing, dz=aside - centre))
        return play + change - found

    low, high = 0.0, math.pi / 2
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if left(middle) < 0 else (low, middle)
    return low


def mesh_of(excess: float) -> ClosedFormMesh:
    pair = made.pair(EQUAL)
    sine = float(sine_of_half_face(face=pair.face_width, r1=pair.r1, hob_excess=excess))
    return ClosedFormMesh(pair.t, -pair.g, pair.r1, 61.12, sine, excess)


def rows_of(kinds: Sequence[tuple[WheelKind, float]]) -> UnitRows:
    return unit_rows(made.pair(kinds), made.posterior(), centre_distance=61.12)


def told(angle_plus: float, angle_minus: float) -> tuple[Reading, ...]:
    """Three repeats at each side."""
    rows = tuple(
        Reading(
            1,
            "trial_angle",
            "typed",
            value=angle,
            station=station,
            conditions={"throw": THROW},
        )
        for station, angle in (("plus", angle_plus), ("minus", angle_minus))
        for _ in range(3)
    )
    every = (*made.readings(), *rows)
    return tuple(replace(r, seq=k) for k, r in enumerate(every, start=1))


@pytest.mark.parametrize("centre", [-0.04, 0.0, 0.03])
@pytest.mark.parametrize(("excess", "kinds"), [(0.0, EQUAL), (0.3, OVERSIZE)])
def test_depth_and_throat_centre_of_a_known_unit_come_back(
    excess: float, kinds: tuple[tuple[WheelKind, float], ...], centre: float
) -> None:
    mesh, opened, play = mesh_of(excess), 0.06, 0.11
    at = {s: drag_angle(mesh, opened=opened, play=play, centre=centre, side=s) for s in (1, -1)}
    trial = Trial(THROW, at[1], -at[-1], math.radians(0.3), math.radians(0.3))
    got = found_by_trial(rows_of(kinds), trial, target=0.02)
    found = float(mesh.backlash_change(da=opened))
    closing = np.linspace(0, 0.5, 5001)
    left = play + np.asarray(mesh.backlash_change(da=opened - closing)) - found
    true_depth = float(np.interp(-0.02, -left, closing))
    assert float(got.centre.mean()) == pytest.approx(centre, abs=0.02)
    assert abs(float(got.centre.mean()) - centre) < 2.5 * float(got.centre.std())
    assert float(got.closing.mean()) == pytest.approx(true_depth, abs=0.02)
    low, high = np.quantile(got.closing, [0.01, 0.99])
    assert low < true_depth < high


def test_a_hob_equal_wheel_agrees_with_the_two_straight_lines() -> None:
    """Where the centred mesh shuts at the place it was cut for, the closed form is the plain V."""
    pair = made.pair(EQUAL)
    tan_face = pair.sin_face / math.sqrt(1 - pair.sin_face**2)
    v = depth_and_centre_from_trial(
        throw=THROW, angle_plus=1.0, angle_minus=-1.1, tan_face=tan_face
    )
    unit = rows_of(EQUAL)
    opened = replace(unit, opened=np.full(unit.count, v.closing))
    got = found_by_trial(opened, Trial(THROW, 1.0, -1.1, 1e-6, 1e-6), target=0.0)
    assert float(np.median(got.centre)) == pytest.approx(v.sideways, abs=0.004)
    assert float(np.median(got.closing)) == pytest.approx(v.closing, abs=0.004)


def test_a_trial_narrows_the_depth() -> None:
    vague: made.Plays = {"mesh": (0.145, 0.03)}
    before = correct(
        made.job(), made.readings(), made.diagnosis(kinds=EQUAL, plays=vague), draws=8192
    )
    after = correct(
        made.job(), told(0.9, 0.95), made.diagnosis(kinds=EQUAL, plays=vague), draws=8192
    )
    assert before.closing is not None
    assert after.closing is not None
    assert after.closing.u < before.closing.u / 2


def test_the_final_pair_is_made_to_depth_and_throat_and_stays_in_the_order_of_work() -> None:
    mesh = mesh_of(0.3)
    at = {s: drag_angle(mesh, opened=0.06, play=0.11, centre=0.03, side=s) for s in (1, -1)}
    got = correct(
        made.job(), told(at[1], at[-1]), made.diagnosis(kinds=OVERSIZE), draws=8192, plan=PAIR
    )
    assert got.strategy == FINAL
    assert "trial" in got.strategy
    assert got.chosen is not None
    pair = [p for c in got.chosen.corrections for p in c.parts if isinstance(p, EccentricBushing)]
    assert got.closing is not None
    reached = pair[0].throw * math.cos(pair[0].start_angle)
    aside = pair[0].throw * math.sin(pair[0].start_angle)
    assert reached == pytest.approx(got.closing.value, abs=0.001)
    assert 0.03 < aside < 0.03 + 0.09  # no nearer than the doubt of the depth lets it point
    assert got.picture is not None
    assert got.picture.sideways_to_throat.value == pytest.approx(0.03, abs=0.02)
    assert got.chosen.p_jam <= 0.005


@pytest.mark.parametrize("centre", [-0.03, 0.03])
def test_a_narrow_throat_is_brought_to_the_pair_by_that_much_less_shim(centre: float) -> None:
    """Too little room for a pointing pair: the wheel follows, on the side the throat lies."""
    mesh = mesh_of(0.0)
    at = {s: drag_angle(mesh, opened=0.06, play=0.11, centre=centre, side=s) for s in (1, -1)}
    got = correct(made.job(), told(at[1], at[-1]), made.diagnosis(kinds=EQUAL), draws=8192)
    assert got.strategy == "wheel re-centred after trial"
    assert FINAL in dict(got.rejected_strategies)
    plan = next(p for p in got.plans if p.key == PAIR)
    pair = [p for c in plan.corrections for p in c.parts if isinstance(p, EccentricBushing)]
    aside = pair[0].throw * math.sin(pair[0].start_angle)
    assert math.copysign(1.0, aside) == math.copysign(1.0, centre)
    steps = " ".join(s for c in plan.corrections for s in c.steps)
    assert f"Shift the wheel {abs(aside) - 0.03:.2f} mm" in steps


def test_half_a_trial_or_two_throws_are_questioned_and_not_used() -> None:
    both = told(0.9, 0.95)
    half = tuple(r for r in both if r.station != "minus")
    two = tuple(replace(r, conditions={"throw": 0.31}) if r.station == "minus" else r for r in both)
    for rows in (half, two):
        trial, doubts = trial_read(Bench(made.job(), rows))
        assert trial is None
        assert [d.action for d in doubts] == ["ask"]
        got = correct(made.job(), rows, made.diagnosis(kinds=EQUAL), draws=8192)
        assert any(d.code == "trial pair" for d in got.doubts)
        assert got.strategy != FINAL


def test_without_a_trial_nothing_is_asked() -> None:
    assert trial_read(Bench(made.job(), made.readings())) == (None, ())
