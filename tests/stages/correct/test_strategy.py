"""How the unit adjusts decides first; then the strategy list, in its order, with its reasons."""

from __future__ import annotations

import math
from collections.abc import Sequence

import pytest

import correct_fixture as made
from wormwright.core.backlash import sideways_for_false_depth
from wormwright.core.eccentric import refuse_blind_throw, sideways_from_closing
from wormwright.job.corrections import Remedy
from wormwright.job.pair import WheelKind
from wormwright.job.parts import EccentricBushing, ShimRing
from wormwright.job.rotary import BearingRow
from wormwright.stages.correct import correct
from wormwright.stages.correct.bushing import BRIDGE, SLOT_WIDTH, Turned, slots_for

HELICAL: Sequence[tuple[WheelKind, float]] = (("helical", 1.0),)
OVERSIZE: Sequence[tuple[WheelKind, float]] = (("oversize-hob", 1.0),)
EQUAL: Sequence[tuple[WheelKind, float]] = (("hob-equal", 1.0),)
UNKNOWN: Sequence[tuple[WheelKind, float]] = (("hob-equal", 0.5), ("oversize-hob", 0.5))


def remedy(kinds: Sequence[tuple[WheelKind, float]] = HELICAL, **given: object) -> Remedy:
    readings = made.readings(**given)  # type: ignore[arg-type]  # handed on by name
    return correct(made.job(), readings, made.diagnosis(kinds=kinds), draws=8192)


def bushings(of: Remedy) -> list[EccentricBushing]:
    assert of.chosen is not None
    return [p for c in of.chosen.corrections for p in c.parts if isinstance(p, EccentricBushing)]


def test_fixed_bores_with_a_helical_wheel_get_a_single_pair_pointing_at_the_wheel() -> None:
    got = remedy(HELICAL)
    assert got.strategy == "single pair"
    a, b = bushings(got)
    assert (a.side, b.side) == ("A", "B")
    assert got.closing is not None
    assert a.throw >= got.closing.high - 1e-9
    assert a.throw - got.closing.high < 0.006
    assert a.start_angle == pytest.approx(math.acos(got.closing.value / a.throw))
    assert a.start_angle == b.start_angle  # the same way in space


def test_a_flange_gets_two_slots_where_three_would_meet() -> None:
    few = slots_for(Turned(0.3, 0.8, 0.2, 1.2), 40.0)
    assert few.count == 3
    wide = slots_for(Turned(0.3, 0.8, -0.2, 1.9), 40.0)
    assert wide.count == 2
    assert wide.work_range == (-0.2, 1.9)
    widest = slots_for(Turned(0.3, 0.8, -1.5, 2.5), 40.0)
    assert widest.count == 2
    assert widest.work_range[0] < 0.8 < widest.work_range[1]
    for slots in (few, wide, widest):  # metal between the ends of two slots, at their radius
        left = (2 * math.pi / slots.count - slots.sweep) * 20.0 - SLOT_WIDTH
        assert left >= BRIDGE - 1e-9


def test_a_re_centred_wheel_gets_the_ring_that_moves_it_drawn_when_its_outline_is_read() -> None:
    outline = {
        ("wheel_shim_inside", ""): 40.0,
        ("wheel_shim_outside", ""): 60.0,
        ("wheel_shim_screws", ""): 0.0,
    }
    got = remedy(EQUAL, numbers=outline)
    assert got.chosen is not None
    rings = [p for c in got.chosen.corrections for p in c.parts if isinstance(p, ShimRing)]
    (ring,) = [r for r in rings if r.name == "wheel shim"]
    (a, _) = bushings(got)
    assert ring.thickness.size == pytest.approx(a.throw * math.sin(a.start_angle), abs=0.006)
    assert "away from" in ring.purpose
    without = remedy(EQUAL)
    assert without.chosen is not None
    doubts = [d.do for c in without.chosen.corrections for d in c.doubts]
    assert any("`wheel_shim_inside`" in do for do in doubts)


def test_a_hob_equal_wheel_refuses_the_single_pair_and_says_why() -> None:
    got = remedy(EQUAL)
    rejected = dict(got.rejected_strategies)
    assert got.strategy == "wheel re-centred"
    assert "sideways" in rejected["single pair"]
    assert "trial pair" in rejected
    (a, _) = bushings(got)
    assert got.closing is not None
    assert 1.3 <= a.throw / got.closing.value <= 2.0
    assert math.radians(40) <= a.start_angle <= math.radians(61)


def test_an_unknown_kind_is_judged_by_the_one_that_bears_least() -> None:
    assert remedy(UNKNOWN).strategy == remedy(EQUAL).strategy


def test_an_oversize_hob_bears_more_sideways_than_an_equal_one() -> None:
    tolerance = dict(remedy(OVERSIZE).picture.sideways_tolerance)  # type: ignore[union-attr]
    assert tolerance["oversize-hob"] > 2 * tolerance["hob-equal"]
    assert "single pair" not in dict(remedy(HELICAL).rejected_strategies)


def test_a_blind_throw_on_a_hob_equal_wheel_is_refused_and_on_a_helical_one_taken() -> None:
    got = remedy(EQUAL)
    assert got.closing is not None
    assert got.picture is not None
    tolerance = dict(got.picture.sideways_tolerance)["hob-equal"]
    with pytest.raises(ValueError, match="sideways"):
        refuse_blind_throw(throw=0.3, closing=got.closing.value, tolerance=tolerance)
    endless = float(sideways_for_false_depth(false_depth=0.02, sin_face=0.0, hob_excess=0.0))
    aside = refuse_blind_throw(throw=0.3, closing=got.closing.value, tolerance=endless)
    assert aside == pytest.approx(sideways_from_closing(throw=0.3, closing=got.closing.value))
    for bushing in bushings(got):
        assert bushing.throw != pytest.approx(0.3, abs=0.01)


@pytest.mark.parametrize(
    ("word", "numbers"),
    [
        ("factory eccentric", {("adjuster_throw", ""): 1.5, ("adjuster_arm", ""): 40.0}),
        ("pivot box", {("adjuster_arm", ""): 60.0}),
        ("bolted block", {}),
    ],
)
def test_a_unit_that_adjusts_itself_gets_a_setting_move_and_no_bushings(
    word: str, numbers: dict[tuple[str, str], float]
) -> None:
    got = remedy(words={("adjusting", ""): word}, numbers=numbers)
    assert got.strategy == word
    assert got.chosen is not None
    assert "setting" in {c.key for c in got.chosen.corrections}
    assert not bushings(got)
    assert got.chosen.p_meets_duty > 0.8


def test_a_split_housing_is_told_honestly() -> None:
    got = remedy(words={("adjusting", ""): "split housing"})
    assert not {"bushings", "setting"} & {c.key for p in got.plans for c in p.corrections}
    assert "split housing" in got.strategy_reason
    assert any("bored again" in d.why for d in got.doubts)


def test_without_the_adjusting_type_no_depth_correction_is_given() -> None:
    got = remedy(without=("adjusting",))
    assert not {"bushings", "setting"} & {c.key for p in got.plans for c in p.corrections}
    assert any(d.code == "adjusting" and d.action == "refuse" for d in got.doubts)


def test_without_end_play_the_mesh_is_not_closed() -> None:
    got = remedy(without=("worm_end_play",))
    assert not {"bushings", "setting"} & {c.key for p in got.plans for c in p.corrections}
    assert any(d.code == "E-44" for d in got.doubts)


def test_walls_too_thin_are_refused_with_the_wall_in_the_reason() -> None:
    got = remedy(
        words={("bearing_marking", "A"): "6802", ("bearing_marking", "B"): "6802"},
        numbers={("housing_bore", "A"): 24.005, ("housing_bore", "B"): 24.005},
    )
    assert got.strategy == "none fits"
    reasons = dict(got.rejected_strategies)
    assert set(reasons) == {
        "single pair",
        "trial pair",
        "wheel re-centred",
        "graded pairs",
        "nested pair",
    }
    assert "no smaller bearing" in reasons["single pair"]


def test_a_users_own_bearing_row_is_used_and_its_thin_wall_refused() -> None:
    from dataclasses import replace  # noqa: PLC0415

    small = BearingRow("mine 15x32", 15.0, 32.0, 9.0, static_n=2500.0)
    job = replace(made.job(), bearings=(small,))
    words = {("bearing_kind", "A"): "other", ("bearing_kind", "B"): "other"}
    got = correct(job, made.readings(words=words), made.diagnosis())
    assert "thin wall" in dict(got.rejected_strategies)["single pair"]
    better = replace(job, bearings=(BearingRow("mine 15x28", 15.0, 28.0, 7.0, static_n=2500.0),))
    taken = correct(better, made.readings(words=words), made.diagnosis())
    assert {b.bearing for b in bushings(taken)} == {"mine 15x28"}


def test_a_bearing_too_weak_for_the_thrust_is_passed_over() -> None:
    strong = correct(
        made.job(torque_resist_nmm=40_000.0, drag_limit_nmm=300.0),
        made.readings(),
        made.diagnosis(),
    )
    reasons = " ".join(why for _, why in strong.rejected_strategies)
    assert "static safety" in reasons


@pytest.mark.parametrize("kinds", [HELICAL, OVERSIZE, EQUAL, UNKNOWN])
def test_no_offered_plan_jams_or_stands_further_sideways_than_the_wheel_bears(
    kinds: Sequence[tuple[WheelKind, float]],
) -> None:
    got = remedy(kinds)
    for plan in got.plans:
        if plan.offered:
            assert plan.p_jam <= 0.005
    assert got.picture is not None
    rows = [r for r in got.setting_chart if r.angle == pytest.approx(got.picture.chosen_angle)]
    assert rows
    assert not rows[0].false_tight


def test_setting_chart_covers_both_sides_and_marks_the_false_tight_angle() -> None:
    got = remedy(EQUAL)
    angles = [r.angle for r in got.setting_chart]
    assert min(angles) < 0 < max(angles)
    throw = got.picture.throw  # type: ignore[union-attr]
    for row in got.setting_chart:
        assert row.sideways**2 + row.closing**2 == pytest.approx(throw**2)
    assert any(r.false_tight for r in got.setting_chart if r.angle < 0)
    helical = [r.backlash_helical for r in got.setting_chart if r.angle <= 0]
    assert helical == sorted(helical, reverse=True)  # nothing but the closing counts there


def test_plain_bushes_get_a_bronze_bush_that_the_journal_passes_through() -> None:
    kind = "plain bush with thrust washer"
    got = remedy(words={("bearing_kind", "A"): kind, ("bearing_kind", "B"): kind})
    assert len(bushings(got)) == 2
    for bushing in bushings(got):
        assert bushing.bearing.startswith("bronze bush 15 x 21")
        assert 15.001 < bushing.shoulder_bore < bushing.bore.size


@pytest.mark.parametrize(
    ("kinds", "plan", "plays"),
    [
        (HELICAL, None, {}),
        (EQUAL, None, {}),
        (EQUAL, "worm_shim+bushings:nested-pair", {}),
        (HELICAL, None, {"mesh": (0.35, 0.03)}),
    ],
)
def test_every_bushing_can_be_made(
    kinds: Sequence[tuple[WheelKind, float]],
    plan: str | None,
    plays: dict[str, tuple[float, float]],
) -> None:
    found = made.diagnosis(kinds=kinds, plays=plays)
    parts = bushings(correct(made.job(), made.readings(), found, plan=plan, draws=8192))
    assert parts
    for part in parts:
        seat, body = part.bore.size / 2, part.outside.size / 2
        assert part.wall_thin == pytest.approx(body - seat - part.throw, abs=0.002)
        assert part.wall_thick == pytest.approx(body - seat + part.throw, abs=0.002)
        assert part.wall_thin >= 1.5
        assert part.shoulder_bore < part.bore.size
        assert part.bearing_depth < part.length + part.flange_thickness
        assert (part.slot_circle - part.slot_width) / 2 > body
        assert (part.slot_circle + part.slot_width) / 2 < part.flange_outside / 2
        ends = part.slot_sweep + part.slot_width / (part.slot_circle / 2)
        assert ends < 2 * math.pi / part.slot_count
        low, high = part.work_range
        assert low < part.start_angle < high


def test_nested_bushings_fit_into_each_other_and_their_screws_stay_clear() -> None:
    found = made.diagnosis(kinds=EQUAL)
    got = correct(
        made.job(), made.readings(), found, plan="worm_shim+bushings:nested-pair", draws=8192
    )
    inner, outer = bushings(got)[:2]
    assert inner.side == outer.side == "A"
    assert outer.bore.size == inner.outside.size
    assert outer.bore.lower >= inner.outside.upper
    assert outer.slot_circle - outer.slot_width > inner.flange_outside
