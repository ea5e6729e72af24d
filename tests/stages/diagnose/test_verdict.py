"""Leave it, fix it, send it back: the verdict, its reasons, and what no work at home cures."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import parts_read as parts
from simulated_rotary import Taker, Truth, job_of, pair_of
from wormwright.job.findings import Diagnosis, Judged, Verdict
from wormwright.job.rotary import Duty, Job
from wormwright.stages.diagnose import diagnose
from wormwright.stages.diagnose.duty import felt_by_duty

Sheet = Callable[[Taker], object]


def job(**duty: Any) -> Job:
    base = job_of(Truth())
    return replace(base, duty=replace(base.duty, **duty))


def diagnosed(
    truth: Truth | None = None, *, sheet: Sheet = Taker.full_sheet, seed: int = 3, **duty: Any
) -> Diagnosis:
    taker = Taker(truth or Truth(), np.random.default_rng([81, seed]))
    sheet(taker)
    return diagnose(job(**duty), taker.readings)


def verdict(found: Diagnosis) -> Verdict:
    assert found.verdict is not None
    return found.verdict


def judged(found: Diagnosis, key: str) -> Judged:
    return next(j for j in verdict(found).judged if j.key == key)


CLOCK_MAKER: dict[str, Any] = {
    "approach": "one way",
    "work": "indexed",
    "radius_mm": 25.0,
    "error_mm": 0.08,
}
"""Wheels of up to 50 mm cut tooth by tooth, always turned on from the same side."""


def test_the_clock_maker_is_told_to_leave_it_as_it_is() -> None:
    """14 arcmin of lost motion do no harm to one who always comes from the same side."""
    found = diagnosed(**CLOCK_MAKER)
    assert math.degrees(found.lost_motion_mean.value) * 60 > 10
    assert verdict(found).word == "leave it as it is"
    assert verdict(found).chance_meets_duty > 0.99
    assert "approached from one side only" in verdict(found).reasons[0]


def test_the_same_unit_cut_both_ways_is_to_be_fixed() -> None:
    found = diagnosed(**{**CLOCK_MAKER, "approach": "both ways"})
    assert verdict(found).word == "fix it at home"
    assert "misses its duty" in verdict(found).reasons[0]


def test_the_clock_maker_is_told_how_far_the_wheel_runout_swings_the_position() -> None:
    """One way takes up the play, not the swing: e/r2 at the radius of the work, each way."""
    found = diagnosed(Truth(wheel=(0.026, 1.0)), **CLOCK_MAKER)
    line = next(r for r in verdict(found).reasons if "swings the position" in r)
    swing = 0.026 / Truth().r2 * 25.0
    shown = float(line.split("± ")[1].split(" µm")[0]) / 1000
    assert shown == pytest.approx(swing, abs=0.002)


def test_a_unit_that_meets_its_duty_is_left_alone_even_with_a_part_far_off() -> None:
    found = diagnosed(Truth(end_play=0.32), **CLOCK_MAKER)
    assert judged(found, "end_play").where == "far above"
    assert verdict(found).word == "leave it as it is"


def test_a_unit_that_turns_too_hard_is_not_left_as_it_is() -> None:
    def hard(taker: Taker) -> None:
        taker.full_sheet()
        parts.drag_map(taker, mean=900.0)

    found = diagnosed(sheet=hard, **CLOCK_MAKER, drag_limit_nmm=400.0)
    assert verdict(found).word == "fix it at home"
    assert any("turns harder than the duty allows" in r for r in verdict(found).reasons)
    light = diagnosed(sheet=hard, **CLOCK_MAKER, drag_limit_nmm=1200.0)
    assert verdict(light).word == "leave it as it is"


def test_a_bent_worm_is_sent_back_and_said_to_be_past_cure_at_home() -> None:
    found = diagnosed(Truth(worm=(0.08, 0.4)))
    assert verdict(found).word == "send it back"
    assert judged(found, "worm_runout").where == "far above"
    bent = next(c for c in verdict(found).cannot_cure if "bent worm shaft" in c)
    assert bent.endswith("Here it shows.")


def test_the_same_worm_runout_goes_home_when_the_duty_does_not_feel_it() -> None:
    found = diagnosed(Truth(worm=(0.08, 0.4)), **CLOCK_MAKER)
    assert verdict(found).word == "leave it as it is"


def test_runout_of_the_worm_that_alone_eats_the_duty_is_told() -> None:
    truth = Truth(worm=(0.03, 0.4))
    tight, wide = diagnosed(truth, error_mm=0.01), diagnosed(truth, error_mm=0.2)
    assert any("the runout of the worm alone" in c for c in verdict(tight).cannot_cure)
    assert not any("the runout of the worm alone" in c for c in verdict(wide).cannot_cure)


def test_scattered_teeth_are_told_from_good_ones() -> None:
    """Pitch error of 30 µm at each place, where 2 µm is usual."""

    def scattered(taker: Taker) -> None:
        for place in range(3600):
            taker.pitch[place] = float(taker.rng.normal(0.0, 0.03))
        taker.full_sheet()

    bad, good = diagnosed(sheet=scattered), diagnosed()
    assert judged(bad, "pitch").where in ("above", "far above")
    assert judged(good, "pitch").where == "inside"
    told = next(c for c in verdict(bad).cannot_cure if "Pitch error" in c)
    assert told.endswith("Here it shows.")


def few(taker: Taker) -> None:
    taker.identity()
    for phi in (0.0, 90.0, 180.0, 270.0):
        taker.rock_at(phi, psi=0.0)


def test_a_duty_in_the_balance_asks_to_read_more_first() -> None:
    felt = felt_by(diagnosed(sheet=few))
    middle = float(np.quantile(felt, 0.7))
    found = diagnosed(sheet=few, error_mm=middle * 50.0, probability=0.95)
    assert 0.5 < verdict(found).chance_meets_duty < 0.95
    assert verdict(found).word == "read more first"
    assert found.next_readings
    assert min(n.duty_left for n in found.next_readings) < 0.9


def felt_by(found: Diagnosis, **duty: Any) -> np.ndarray:
    pair = pair_of(Truth())
    return felt_by_duty(found.posterior, pair, job(**duty).duty, warm_opens=0.0, wear=0.0).draws


def test_what_was_not_read_is_not_judged() -> None:
    assert {j.key for j in verdict(diagnosed(sheet=few)).judged} <= {
        "lost_motion",
        "mesh",
        "wheel_runout",
    }


@pytest.mark.parametrize(
    ("end_play", "where"),
    [(0.0, "below"), (0.04, "inside"), (0.0762, "open"), (0.12, "above"), (0.32, "far above")],
)
def test_a_figure_is_judged_by_its_interval_against_the_usual_range(
    end_play: float, where: str
) -> None:
    """The trade's range of worm end play is 0.5 to 3 thou; 10 thou is far off."""
    assert judged(diagnosed(Truth(end_play=end_play)), "end_play").where == where


def test_a_part_above_its_range_comes_with_its_cure_among_the_reasons() -> None:
    found = diagnosed(Truth(end_play=0.12), error_mm=0.02)
    line = next(r for r in verdict(found).reasons if r.startswith("Worm end play"))
    assert judged(found, "end_play").cure in line


def test_limits_of_each_figure_rise_from_usual_to_far_and_name_a_source() -> None:
    from wormwright.handbook.as_found import LIMITS  # noqa: PLC0415

    for key, limit in LIMITS.items():
        low, high = limit.usual
        assert 0 <= low < high < limit.far, key
        assert limit.far >= 1.99 * high, key
        assert limit.cure, key
        assert limit.source, key


@cache
def full() -> Diagnosis:
    return diagnosed()


DUTIES = st.fixed_dictionaries(
    {
        "approach": st.sampled_from(["one way", "both ways"]),
        "direction": st.sampled_from(["tangential", "radial", "axial"]),
        "radius_mm": st.floats(5, 400),
    }
)


@settings(max_examples=60, deadline=None)
@given(duty=DUTIES, error=st.floats(0.001, 1.0), more=st.floats(1.0, 5.0))
def test_a_wider_duty_is_never_met_less_often(
    duty: dict[str, Any], error: float, more: float
) -> None:
    def chance(allowed: float) -> float:
        wanted: Duty = job(**duty, error_mm=allowed).duty
        return felt_by_duty(
            full().posterior, pair_of(Truth()), wanted, warm_opens=0.0, wear=0.0
        ).chance

    assert chance(error) <= chance(error * more)


def test_coming_from_one_side_never_feels_more_than_both() -> None:
    one, both = felt_by(full(), approach="one way"), felt_by(full(), approach="both ways")
    assert np.all(one <= both + 1e-12)


def test_heat_and_wear_add_to_what_the_duty_feels_both_ways() -> None:
    pair, duty = pair_of(Truth()), job().duty
    base, warm, worn = (
        felt_by_duty(full().posterior, pair, duty, warm_opens=w, wear=r).draws
        for w, r in ((0.0, 0.0), (0.01, 0.0), (0.0, 0.02))
    )
    assert np.allclose(warm - base, 0.01 / pair.r2)
    assert np.allclose(worn - base, 0.02 / pair.r2)


def test_a_radial_duty_feels_the_table_shaft_and_an_axial_one_the_table() -> None:
    assert np.allclose(
        felt_by(full(), direction="radial"), full().posterior.of("table_radial") / 50.0
    )
    assert np.allclose(
        felt_by(full(), direction="axial"), full().posterior.of("table_axial") / 50.0
    )
