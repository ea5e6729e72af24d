"""A setting tried on paper agrees with the plans and with plain geometry."""

from __future__ import annotations

import math

import pytest

import correct_fixture as made
from wormwright.stages.correct import correct
from wormwright.stages.correct.tried import Trial, TrialBench


@pytest.fixture(scope="module")
def bench() -> TrialBench:
    return TrialBench(made.job(), made.readings(), made.diagnosis())


def test_no_throw_at_all_leaves_the_unit_as_it_is(bench: TrialBench) -> None:
    tried = bench.tried(Trial(throw=0.0, angle=0.0))
    leave = next(
        p for p in correct(made.job(), made.readings(), made.diagnosis()).plans if p.key == "leave"
    )
    assert (tried.closing, tried.sideways) == (0.0, 0.0)
    assert tried.mean.value == pytest.approx(leave.mean.value, rel=0.02)
    assert tried.loose.value == pytest.approx(leave.loose.value, rel=0.02)


@pytest.mark.parametrize("angle", [0, 30, 60, -45, 120])
def test_the_worm_stands_on_the_circle_of_the_throw(bench: TrialBench, angle: float) -> None:
    tried = bench.tried(Trial(throw=0.2, angle=math.radians(angle), wheel_shift=0.05))
    assert math.hypot(tried.closing, tried.sideways) == pytest.approx(0.2)
    assert tried.off_centre == pytest.approx(tried.sideways - 0.05)


def test_closing_takes_backlash_and_so_does_a_shift_aside_on_a_throated_wheel() -> None:
    throated = made.diagnosis(kinds=(("hob-equal", 1.0),))
    bench = TrialBench(made.job(), made.readings(), throated)
    found = bench.tried(Trial(throw=0.0, angle=0.0)).backlash.value
    closed = bench.tried(Trial(throw=0.1, angle=0.0)).backlash.value
    aside = bench.tried(Trial(throw=0.1, angle=math.pi / 2)).backlash.value
    centred = bench.tried(Trial(throw=0.1, angle=math.pi / 2, wheel_shift=0.1)).backlash.value
    assert closed < found
    assert aside < found, "edge contact takes up backlash"
    assert centred == pytest.approx(found, abs=1e-6), "the wheel follows: nothing is lost"


def test_too_much_closing_binds_and_says_so(bench: TrialBench) -> None:
    tried = bench.tried(Trial(throw=0.6, angle=0.0))
    assert tried.p_jam > 0.9
    assert tried.backlash.value < 0
    assert any("bind" in words for words in tried.says)


def test_a_shim_on_hand_takes_the_end_play_that_it_can(bench: TrialBench) -> None:
    facts = bench.facts
    assert facts.worm_shim is not None
    assert facts.end_play is not None
    as_found = bench.tried(Trial(throw=0.0, angle=0.0))
    same = bench.tried(Trial(throw=0.0, angle=0.0, worm_shim=facts.worm_shim.value))
    assert same.mean.value == pytest.approx(as_found.mean.value, rel=0.02)
    thinner = facts.worm_shim.value - facts.end_play.value
    cured = bench.tried(Trial(throw=0.0, angle=0.0, worm_shim=thinner))
    lost = (as_found.mean.value - cured.mean.value) * bench.unit.pair.r2
    assert lost == pytest.approx(facts.end_play.value, rel=0.35)
    assert any("end play is left" in words for words in as_found.says)
    assert not any("end play is left" in words for words in cured.says)


def test_a_bearing_too_large_leaves_no_wall(bench: TrialBench) -> None:
    housing = bench.facts.ends[0].housing_bore
    assert housing is not None
    tried = bench.tried(Trial(throw=0.3, angle=0.0, bearing_outside=housing.value - 1.0))
    assert {w.side for w in tried.walls} == {"A", "B"}
    assert tried.walls[0].thin == pytest.approx(0.2)
    assert any("thin wall" in words for words in tried.says)


def test_no_bushing_can_have_such_a_throw() -> None:
    with pytest.raises(ValueError, match="throw"):
        Trial(throw=5.0, angle=0.0)
    with pytest.raises(ValueError, match="angle"):
        Trial(throw=0.1, angle=4.0)
