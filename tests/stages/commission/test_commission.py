"""Settings, speeds and refusals of commissioning, on the garage router and changes of it."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from fractions import Fraction
from functools import cache
from pathlib import Path

import pytest

from drive_jobs import plain, with_task
from wormwright.app.measure import sound
from wormwright.bench import Bench, pair_in_hand
from wormwright.core.friction import sliding_speed
from wormwright.drawings.part_sheet import part_text
from wormwright.drawings.style import SheetStyle
from wormwright.job.blocks import Cautions, PartDrawing
from wormwright.job.commissioning import Commissioning, SpeedLimit, Turning
from wormwright.job.control import Chuck, Control, PlateSizes
from wormwright.job.reading import Reading
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Job
from wormwright.job.work import Task
from wormwright.stages.commission import Moved, commission, report, sheet_text
from wormwright.store import JobFolder

EXAMPLES = Path(__file__).resolve().parents[3] / "examples"


@cache
def router() -> tuple[Job, tuple[Reading, ...]]:
    folder = JobFolder.open(EXAMPLES / "garage-router")
    return folder.job, sound(folder, folder.readings).readings


def commissioned(job: Job | None = None) -> Commissioning:
    own, readings = router()
    return commission(job or own, readings)


def limit(found: Commissioning, key: str) -> SpeedLimit:
    return next(one for one in found.limits if one.key == key)


def turning(found: Commissioning, work: str) -> Turning:
    return next(one for one in found.turning if one.work == work)


def test_the_settings_of_the_router_are_exact() -> None:
    """By hand: 2000 · 80/360 = 4000/9; three decimals lose 16 pulses or 130″ in 100 turns."""
    found = commissioned()
    assert found.per_degree == Fraction(4000, 9)
    assert found.typed == Fraction("444.444")
    assert [cost.pulses for cost in found.rounding] == [Fraction(4, 25), 16]
    assert float(found.rounding[1].arcsec) == pytest.approx(129.6)
    assert "E-25" in {d.code for d in found.doubts}


def test_a_fraction_that_comes_out_costs_nothing() -> None:
    job, _ = router()
    whole = commissioned(replace(job, motor=replace(job.motor, pulses=1800)))
    assert whole.per_degree == 400
    assert all(cost.pulses == 0 for cost in whole.rounding)
    assert "E-25" not in {d.code for d in whole.doubts}


def test_a_belt_between_motor_and_worm_stays_exact() -> None:
    job, _ = router()
    belted = commissioned(replace(job, motor=replace(job.motor, belt=(18, 42))))
    assert belted.ratio == Fraction(80) * Fraction(42, 18)
    assert belted.per_degree == 2000 * belted.ratio / 360


def test_the_safe_speed_is_the_lowest_of_its_limits() -> None:
    found = commissioned()
    assert limit(found, "pulses").rpm is not None
    assert limit(found, "pulses").rpm.value == pytest.approx(11.25)  # type: ignore[union-attr]
    told = [one.rpm.low for one in found.limits if one.rpm is not None]
    assert found.safe_rpm is not None
    assert found.safe_rpm.low == min(told)


def test_sliding_limits_a_bronze_wheel_at_one_metre_a_second() -> None:
    job, readings = router()
    rpm = limit(commissioned(), "sliding").rpm
    pair = pair_in_hand(Bench(job, readings))
    assert rpm is not None
    assert pair is not None
    at = sliding_speed(
        worm_diameter=pair.worm_d1, rpm=rpm.value * pair.ratio, lead_angle=math.atan(pair.g)
    )
    assert at == pytest.approx(1.0, rel=1e-6)
    iron = commissioned(replace(job, rotary=replace(job.rotary, wheel_material="cast iron")))
    half = limit(iron, "sliding").rpm
    assert half is not None
    assert half.value == pytest.approx(rpm.value / 2)


def test_a_heavier_drag_or_a_weaker_motor_is_slower() -> None:
    job, readings = router()
    now = limit(commissioned(), "torque").rpm
    heavy = tuple(
        replace(r, value=r.value * 4) if r.kind == "drag_in_mesh" and r.value else r
        for r in readings
    )
    slower = limit(commission(job, heavy), "torque").rpm
    assert now is not None
    assert slower is not None
    assert slower.low < now.low


def test_a_motor_below_twice_the_cold_drag_is_refused() -> None:
    job, _ = router()
    weak = commissioned(
        replace(job, motor=replace(job.motor, torque_hold_nmm=300.0, points=((0.0, 300.0),)))
    )
    doubt = next(d for d in weak.doubts if d.code == "E-23")
    assert doubt.action == "refuse"
    assert doubt.rows


def test_without_drag_or_curve_no_safe_speed_is_stated() -> None:
    job, readings = router()
    silent = commission(job, tuple(r for r in readings if r.kind != "drag_in_mesh"))
    assert silent.safe_rpm is None
    assert "drag_in_mesh" in limit(silent, "torque").why
    bare = commissioned(replace(job, motor=replace(job.motor, points=())))
    assert bare.safe_rpm is None
    assert "torque_points" in limit(bare, "torque").why
    assert "largest speed" in {s.name for s in bare.settings if s.figure == "not known"}


def test_slow_turning_is_allowed_for_a_time_and_refused_above_the_limits() -> None:
    found = commissioned()
    boss = turning(found, "turn-milled boss")
    assert boss.allowed == "allowed for a time"
    assert boss.minutes == pytest.approx(41, abs=1)
    fast = turning(found, "turning with a fixed tool")
    assert fast.allowed == "refused"
    assert any(d.code == "E-2" and d.action == "refuse" for d in found.doubts)


def test_a_run_longer_than_the_warmth_allows_is_refused() -> None:
    job, _ = router()
    long = turning(commissioned(with_task(job, "turn-milled boss", run=60.0)), "turn-milled boss")
    assert long.allowed == "refused"
    cool = with_task(job, "turn-milled boss", speed=2.0)
    assert turning(commissioned(cool), "turn-milled boss").allowed == "allowed"


def test_the_chuck_speed_is_a_limit_of_its_own() -> None:
    job, _ = router()
    slow_chuck = turning(
        commissioned(replace(job, chuck=Chuck(speed_limit=5.0))), "turn-milled boss"
    )
    assert slow_chuck.allowed == "refused"
    assert "marked 5 rpm" in slow_chuck.reasons[0]
    weak = Chuck(jaws=3, jaw_mass=0.5, jaw_radius=60.0, grip=0.01)
    lost = turning(commissioned(replace(job, chuck=weak)), "turn-milled boss")
    assert "lost two thirds" in lost.reasons[0]


def test_turning_before_the_warmth_was_read_asks_for_it() -> None:
    job, readings = router()
    cold = commission(job, tuple(r for r in readings if r.kind != "temperature_rise"))
    assert turning(cold, "turn-milled boss").allowed == "read first"


def test_an_unbalanced_work_on_a_level_axis_needs_a_brake_and_balance() -> None:
    job, _ = router()
    level = replace(job, rotary=replace(job.rotary, table_axis="horizontal"))
    heavy = with_task(level, "turn-milled boss", mass=4.0, off_centre=15.0, hold="power off")
    found = turning(commissioned(heavy), "turn-milled boss")
    assert found.allowed == "refused"
    assert any("brake" in reason for reason in found.reasons)


def test_remainders_of_127_are_spread_and_named() -> None:
    one = commissioned().divided[0]
    assert sum(pulses * times for pulses, times in one.moves) == 160_000
    assert one.lost == 107
    assert one.worst <= Fraction(1_296_000, 2 * 160_000)
    assert one.at_radius == pytest.approx(float(one.worst) / 206265 * 32, rel=1e-3)


def test_a_turn_that_is_no_whole_number_of_pulses_is_said_so() -> None:
    job, _ = router()
    odd = commissioned(replace(job, motor=replace(job.motor, pulses=2000, belt=(19, 42))))
    assert odd.divided == ()
    assert any("no whole number" in d.seen for d in odd.doubts)


def test_feeds_follow_the_rule_of_the_control() -> None:
    """600 mm/min at 20 mm: 1719 degrees a minute; the sample block is 33 mm long there."""
    job, _ = router()
    sleeve = commissioned().wrapped[0]
    assert sleeve.degrees_a_minute == pytest.approx(1718.9, abs=0.1)
    assert sleeve.degrees_per_mm == pytest.approx(360 / (math.pi * 40))
    per_minute = 600 / math.hypot(10, 20 * math.pi / 2)
    assert sleeve.inverse_time == f"F{per_minute:.3g} (blocks a minute)"
    seconds = commissioned(replace(job, control=Control(30_000, inverse_time="seconds a block")))
    assert seconds.wrapped[0].inverse_time == f"F{60 / per_minute:.3g} (seconds a block)"
    assert sleeve.seam == pytest.approx(0.1 * math.pi)
    assert sleeve.most_feed is not None
    assert commissioned().safe_rpm is not None


def test_a_small_radius_is_held_to_what_the_rotary_can_turn() -> None:
    job, _ = router()
    small = commissioned(with_task(job, "engraved sleeve", radius=2.0)).wrapped[0]
    fastest = commissioned().safe_rpm
    assert fastest is not None
    assert small.degrees_a_minute is not None
    assert small.degrees_a_minute > 360 * fastest.low
    word = float(re.findall(r"F([\d.]+)", small.inverse_time)[0])
    assert word == pytest.approx(360 * fastest.low / 90, rel=0.01)


def _moved(text: str) -> tuple[float, list[float]]:
    """Where a programme leaves the axis, and every place it stops at."""
    at, places, absolute = 0.0, [], True
    for line in text.splitlines():
        absolute = {"G90": True, "G91": False}.get(line.split(" ")[0], absolute)
        step = re.search(r"^G1 A(-?\d+\.\d+)", line)
        if step:
            at = float(step[1]) if absolute else at + float(step[1])
        if line == "M0":
            places.append(at)
    return at, places


@pytest.mark.parametrize("name", ["direction", "return-10", "return-100"])
def test_the_return_programmes_come_back_to_their_start(name: str) -> None:
    text = next(p.text for p in commissioned().programmes if p.name == name)
    at, places = _moved(text)
    assert at == 0.0
    assert places[0] == (90.0 if name == "direction" else 0.0)
    assert text.endswith("M2\n")


def test_the_return_turns_as_often_as_it_says() -> None:
    text = next(p.text for p in commissioned().programmes if p.name == "return-100")
    forward = sum(float(a) for a in re.findall(r"^G1 A(\d+\.\d+)$", text, re.M))
    assert forward == 36_000 + 2 * 5


def test_every_place_of_a_divided_turn_is_come_to_from_below_and_closes() -> None:
    text = next(p.text for p in commissioned().programmes if p.name == "divide-127")
    _, places = _moved(text)
    assert len(places) == 128
    assert places[0] == 0
    assert places[-1] == 360
    assert [round(p * 127 / 360) for p in places] == list(range(128))
    steps = [float(a) for a in re.findall(r"^G1 A(-?\d+\.\d+)", text, re.M)]
    assert all(
        b - a == pytest.approx(3.0, abs=1e-5) for a, b in zip(steps[::2], steps[1::2], strict=True)
    )


def test_programmes_hold_nothing_but_plain_words() -> None:
    words = re.compile(r"(\([A-Z0-9 .\-]+\)|G\d+( G\d+)?|G1 A-?\d+\.\d+( F\d+)?|M0|M2)")
    for programme in commissioned().programmes:
        for line in programme.text.splitlines():
            assert words.fullmatch(line), line


def test_the_sheet_is_plain_text_with_a_unit_or_word_at_every_figure() -> None:
    job, _ = router()
    text = sheet_text(commissioned(), job)
    assert "MADE-UP EXAMPLE" in text
    assert "444.444 pulses/degree" in text
    assert "4000/9" in text
    assert re.search(r"largest speed\s+\d+ degrees/min", text)


def test_a_home_switch_that_cannot_tell_worm_turns_is_warned_of() -> None:
    job, _ = router()
    coarse = Control(30_000, home_repeat=2.0, home_arm=70.0)
    assert any("home" in d.seen for d in commissioned(replace(job, control=coarse)).doubts)
    assert not any("home" in d.seen for d in commissioned().doubts)


def test_an_endless_axis_that_wraps_has_no_soft_limits() -> None:
    job, _ = router()
    wrapped = commissioned(replace(job, control=Control(30_000, wraps=True)))
    limits = next(s for s in wrapped.settings if s.name == "soft limits")
    assert "endless" in limits.figure


def test_nothing_is_said_without_teeth_or_pulses() -> None:
    job, readings = router()
    with pytest.raises(StageRefusal) as refusal:
        commission(replace(job, motor=replace(job.motor, pulses=None, steps_per_turn=None)), ())
    assert len(refusal.value.doubts) == 2
    assert readings


def test_cautions_are_shown() -> None:
    job, _ = router()
    lines = [
        line for b in report(commissioned(), job) if isinstance(b, Cautions) for line in b.lines
    ]
    assert any("never a brake" in line for line in lines)
    assert any("chuck key" in line for line in lines)


def test_an_open_loop_stepper_tells_lag_resonance_and_current() -> None:
    job, _ = router()
    motor = replace(
        job.motor, kind="stepper", points=(), current=2.8, resistance=1.13, inductance=5.4e-3
    )
    found = commissioned(replace(job, motor=replace(motor, voltage=48.0)))
    figures = {f.key: f.estimate for f in found.figures}
    assert figures["peak"].value == pytest.approx(2.8 * math.sqrt(2))
    lag = math.asin(6000 / 80 / 2000) / 50 / 80
    assert figures["lag"].value == pytest.approx(lag)
    assert figures["low band"].value == pytest.approx(
        60 * math.sqrt(50 * 2000 * 1000 / 48) / (2 * math.pi) / 200 / 80
    )
    assert limit(found, "torque").rpm is not None


SIZES = PlateSizes(
    style="slotted",
    frame=23,
    outside=100.0,
    thickness=10.0,
    register=34.0,
    circle=56.0,
    holes=4,
    hole=5.5,
    standoff=42.0,
    shaft=6.35,
    worm_shaft=8.0,
    coupling="bellows",
)


@pytest.mark.parametrize("style", ["slotted", "eccentric"])
def test_the_motor_plate_reaches_where_the_worm_went_and_can_be_drawn(style: str) -> None:
    job, readings = router()
    sizes = replace(SIZES, style=style)  # type: ignore[arg-type]  # one of two words
    found = commission(replace(job, plate=sizes), readings, moved=Moved(0.17, 0.07))
    plate = found.plate
    assert plate is not None
    assert plate.travel >= math.hypot(0.17, 0.07)
    if style == "eccentric":
        assert plate.throw * math.sin(plate.turn) == pytest.approx(0.17)
        assert plate.register.fit == "H7"
    else:
        assert plate.throw == 0
        assert plate.register.size >= 34.0 + 2 * math.hypot(0.17, 0.07)
    assert part_text(plate, SheetStyle("mm", "A4")).name.endswith(style)
    assert any(isinstance(b, PartDrawing) for b in report(found, job))


def test_couplings_are_judged_aligned_and_with_the_motor_left_behind() -> None:
    job, readings = router()
    found = commission(replace(job, plate=SIZES), readings, moved=Moved(0.17, 0.07))
    takes = {(fit.kind, fit.left > 0.1): fit.takes for fit in found.couplings}
    assert not takes["rigid sleeve", False]
    assert takes["disc", False]
    assert not takes["disc", True]
    assert takes["Oldham", True]
    assert found.couplings[-1].left == pytest.approx(math.hypot(0.17, 0.07))


def test_a_plate_whose_slots_leave_the_rim_is_refused() -> None:
    job, readings = router()
    small = commission(replace(job, plate=replace(SIZES, outside=60.0)), readings).plate
    assert small is not None
    with pytest.raises(ValueError, match="rim"):
        part_text(small, SheetStyle("mm", "A4"))


def test_the_ratio_of_an_owned_drive_stands_in_until_teeth_are_counted() -> None:
    job, _ = router()
    choice = JobFolder.open(EXAMPLES / "drive-choice").job
    owned = replace(choice.drives[3], have=True)
    found = commission(replace(job, drives=(owned,)), ())
    assert found.ratio == 40
    assert "as entered" in found.ratio_from
    work = Task("x", "indexed", 10.0, force=plain(1.0), teeth=7)
    assert commission(replace(job, drives=(owned,), work=(work,)), ()).divided[0].lost == 80_000 % 7
