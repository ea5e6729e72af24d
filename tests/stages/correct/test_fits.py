"""Fits as measured: rings on their seats, the bushing in its bore from cold to warm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

import correct_fixture as made
from wormwright.job.corrections import Correction
from wormwright.job.parts import EccentricBushing
from wormwright.job.rotary import Job
from wormwright.stages.correct import correct
from wormwright.stages.correct.fits import BORE_GRADES, SHAFT_GRADES, nearest_grade


def _worm_shim(numbers: Mapping[tuple[str, str], float]) -> Correction:
    readings = made.readings(numbers=numbers)
    got = correct(made.job(), readings, made.diagnosis(), plan="worm_shim", draws=8192)
    assert got.chosen is not None
    (correction,) = got.chosen.corrections
    return correction


def _bushings(job: Job) -> tuple[Correction, EccentricBushing]:
    got = correct(job, made.readings(), made.diagnosis(), draws=8192)
    found = next(c for p in got.plans for c in p.corrections if c.key == "bushings")
    return found, next(p for p in found.parts if isinstance(p, EccentricBushing))


@pytest.mark.parametrize(
    ("measured", "nominal", "grades", "grade"),
    [
        (15.0052, 15.0, SHAFT_GRADES, "k5"),  # k5 at 15 mm: +9 / +1 µm
        (14.9955, 15.0, SHAFT_GRADES, "h5"),  # 0 / -8
        (14.988, 15.0, SHAFT_GRADES, "g6"),  # -6 / -17
        (35.0125, 35.0, BORE_GRADES, "H7"),  # +25 / 0
        (34.995, 35.0, BORE_GRADES, "K6"),  # +3 / -13
    ],
)
def test_a_measured_seat_is_named_by_the_class_it_is_the_middle_of(
    measured: float, nominal: float, grades: tuple[str, ...], grade: str
) -> None:
    assert nearest_grade(measured, nominal, grades) == grade


def test_fits_of_both_rings_are_told_with_their_grade_at_the_tighter_end() -> None:
    """Seats 15.001 and 15.000, ring 15 +0/-8 µm; bores 35.006 and 35.004, ring 35 +0/-11 µm."""
    checked = dict(_worm_shim({}).checked)
    inner = next(v for k, v in checked.items() if "inner ring on its seat, end A" in k)
    outer = next(v for k, v in checked.items() if "outer ring in its bore, end B" in k)
    assert inner.value == pytest.approx(-0.001 - 0.004, abs=1e-9)
    assert outer.value == pytest.approx(0.004 + 0.0055, abs=1e-9)
    assert inner.low < -0.009
    assert outer.high > 0.015


def test_a_ring_that_creeps_on_the_shaft_and_one_that_sticks_in_the_bore_are_warned_of() -> None:
    sound = {d.code for d in _worm_shim({}).doubts}
    assert not {"ring creeps", "ring sticks"} & sound
    loose = _worm_shim({("shaft_seat", "B"): 14.95})
    (doubt,) = [d for d in loose.doubts if d.code == "ring creeps"]
    assert doubt.seen.startswith("End B")
    tight = _worm_shim({("housing_bore", "A"): 34.95})
    (doubt,) = [d for d in tight.doubts if d.code == "ring sticks"]
    assert doubt.seen.startswith("End A")


def test_the_bushing_gets_its_clearance_over_the_temperatures_and_what_pressing_closes() -> None:
    """Aluminium on steel: (23.5 - 11.7)e-6 x 35.006 mm is 0.413 µm a kelvin."""
    job = made.job(shop_low_c=15.0, shop_high_c=26.0, rise_k=15.0)
    checked = dict(_bushings(job)[0].checked)
    clear = next(v for k, v in checked.items() if k.startswith("clearance of the bushing"))
    assert clear.low == pytest.approx(0.002 - 5 * 0.413e-3, abs=2e-5)
    assert clear.high == pytest.approx(0.008 + 21 * 0.413e-3, abs=2e-5)
    closes = next(v for k, v in checked.items() if k.startswith("bearing seat would close"))
    assert 0.002 < closes.low <= closes.value <= closes.high < 0.010


def test_a_housing_that_grips_in_the_cold_gets_a_larger_bearing_seat() -> None:
    usual = _bushings(made.job())[1].bore
    cold = _bushings(made.job(shop_low_c=-25.0))[1].bore
    assert usual.fit.startswith("JS6")
    assert "cold housing" in cold.fit
    assert usual.upper < cold.upper < usual.upper + 0.017
    assert cold.upper - cold.lower == pytest.approx(usual.upper - usual.lower)
    iron = replace(made.job(shop_low_c=-25.0).rotary, housing_material="grey iron")
    same = _bushings(replace(made.job(shop_low_c=-25.0), rotary=iron))[1].bore
    assert same.fit.startswith("JS6"), "iron shrinks no more than the bushing"
