"""Commission: what is typed into the control, and what the motor will do."""

from __future__ import annotations

from wormwright.bench import Bench, pair_in_hand
from wormwright.bench.motor import curve_of, winding_of
from wormwright.core.coupling import home_error, index_turns_home
from wormwright.core.stepper import (
    MID_BAND,
    load_error,
    microstep_torque,
    natural_frequency,
    rpm_of_step_rate,
)
from wormwright.core.steps import rounded_setting, turns_of_counter
from wormwright.job.commissioning import Commissioning, RoundingCost
from wormwright.job.control import Control
from wormwright.job.findings import Figured
from wormwright.job.given import Given
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.rotary import Job
from wormwright.quantities import Dimension
from wormwright.stages.commission.plate import UNMOVED, Moved, coupling_fits, motor_plate
from wormwright.stages.commission.programmes import programmes_of
from wormwright.stages.commission.ratio import Gearing, gearing_of
from wormwright.stages.commission.sheet import settings_of
from wormwright.stages.commission.speeds import (
    DragFacts,
    drag_of,
    limits_of,
    safe_acceleration,
    safe_speed,
)
from wormwright.stages.commission.turning import turning_doubts, turning_of
from wormwright.stages.commission.works import divided_of, wrapped_of

TURNS = (1, 100)
MARGIN = 2.0
"""Pull-out torque against the cold drag at the tight spot (common practice)."""
ROUNDED_TOO_FAR = 36
"""Arc seconds in 100 turns above which a rounded setting is warned of (common practice)."""
LOOSE_HAND = (
    "Power off, driver off: turn the motor shaft by hand; it must turn all round without a tight "
    "place, and the needle must follow at once when the hand turns back.",
    "Hands, sleeves, chuck key and bars away; then power on.",
    "Jog plus 1 degree: note which way the table turns, seen on its face. Wrong way: change the "
    "direction setting, never the sign in the programmes.",
    "Jog 10 degrees both ways at a slow walk, then at half the safe speed, then at the safe speed; "
    "cold, over a whole turn: it must not stall at the tight spot.",
    "Run the test programmes below, needle on an edge; write what it reads on its return.",
)


def commission(job: Job, live: tuple[Reading, ...], *, moved: Moved | None = None) -> Commissioning:
    """Exact settings, safe speed and acceleration, feeds, limits and test programmes.

    `moved` is where the plan takes the worm to; the motor plate follows it.

    Raises:
        StageRefusal: the ratio or the pulses of the motor are not known.
    """
    bench = Bench(job, live)
    gearing = gearing_of(job, bench)
    drag, pair = drag_of(bench), pair_in_hand(bench)
    control = job.control or Control()
    limits = limits_of(job, gearing, drag, pair)
    safe = safe_speed(limits)
    rounding = [
        rounded_setting(gearing.per_degree, decimals=control.decimals, turns=turns)
        for turns in TURNS
    ]
    acceleration = safe_acceleration(job, gearing, drag, safe)
    figures = (*_motor_figures(job, gearing, drag), *_home_figures(control))
    turning = turning_of(job, bench, safe, gearing.worm_ratio)
    return Commissioning(
        ratio=gearing.ratio,
        ratio_from=gearing.said,
        pulses_per_turn=gearing.pulses_per_turn,
        per_degree=gearing.per_degree,
        typed=rounding[0].typed,
        rounding=tuple(RoundingCost(r.turns, r.pulses, r.angle) for r in rounding),
        limits=limits,
        safe_rpm=safe,
        figures=figures,
        settings=settings_of(job, gearing, safe, acceleration),
        divided=divided_of(job, gearing),
        wrapped=wrapped_of(job, safe),
        turning=turning,
        programmes=programmes_of(job, safe),
        checks=LOOSE_HAND,
        plate=motor_plate(job.plate, moved or UNMOVED) if job.plate else None,
        couplings=coupling_fits(moved or UNMOVED) if job.plate else (),
        doubts=(
            *turning_doubts(turning),
            *_doubts(job, gearing, drag, rounding[-1].angle > ROUNDED_TOO_FAR),
        ),
    )


def _figure(key: str, label: str, figure: Given, dimension: Dimension) -> Figured:
    return Figured(key, label, figure.estimate(dimension, "commission"))


def _motor_figures(job: Job, gearing: Gearing, drag: DragFacts | None) -> list[Figured]:
    motor, ratio = job.motor, float(gearing.ratio)
    found = []
    hold = motor.torque_hold_nmm
    if drag is not None:
        cold = Given(drag.peak, min(drag.peak, drag.cold.low), drag.cold.high)
        found.append(_figure("drag", "drag at the tight spot, read to cold", cold, "torque"))
        if hold is not None:
            margin = Given(hold / drag.cold.high, hold / drag.cold.high, hold / drag.cold.low)
            found.append(_figure("margin", "holding torque / cold drag", margin, "ratio"))
    if hold is not None and motor.kind == "stepper" and motor.steps_per_turn:
        found += _steps(job, ratio, hold, motor.steps_per_turn)
    winding = winding_of(motor)
    if winding is not None:
        rms, peak = Given.plain(winding.current), Given.plain(winding.peak_current)
        found.append(_figure("rms", "current, driver that counts RMS", rms, "current"))
        found.append(_figure("peak", "current, driver that counts peaks", peak, "current"))
    return found


def _steps(job: Job, ratio: float, hold: float, steps: int) -> list[Figured]:
    """What open-loop steps do: lag under load, torque of one pulse, speeds to keep away from."""
    motor, found = job.motor, []
    load = job.duty.torque_resist_nmm / ratio
    if load < hold:
        lag = load_error(load=load, holding=hold, rotor_teeth=steps // 4) / ratio
        found.append(
            _figure("lag", "lag of the table under the duty's torque", Given.plain(lag), "angle")
        )
    if motor.pulses is not None and motor.pulses >= steps:
        one = microstep_torque(holding=hold, microsteps=round(motor.pulses / steps))
        found.append(
            _figure("pulse", "torque that one pulse brings up", Given.plain(one), "torque")
        )
    if motor.inertia is not None:
        own = natural_frequency(holding=hold, inertia=motor.inertia, rotor_teeth=steps // 4)
        rpm = rpm_of_step_rate(own, steps=steps) / ratio
        found.append(
            _figure("low band", "table speed that shakes the rotor", Given.plain(rpm), "speed")
        )
    low, high = (rpm_of_step_rate(rate, steps=steps) / ratio for rate in MID_BAND)
    band = Given((low + high) / 2, low, high)
    found.append(
        _figure("mid band", "table speeds of the mid band, undamped driver", band, "speed")
    )
    return found


def _home_figures(control: Control) -> list[Figured]:
    if control.home_repeat is None or control.home_arm is None:
        return []
    error = home_error(repeat=control.home_repeat, arm=control.home_arm)
    return [_figure("home", "spread of the home switch, at the table", Given.plain(error), "angle")]


def _doubts(job: Job, gearing: Gearing, drag: DragFacts | None, rounded: bool) -> tuple[Doubt, ...]:
    found = []
    control = job.control or Control()
    if rounded:
        found.append(_rounded(control.decimals))
    if gearing.per_table_turn.denominator != 1:
        found.append(_no_whole_turn())
    if drag is not None and job.motor.torque_hold_nmm is not None:
        against = drag.cold.high / gearing.belt
        if job.motor.torque_hold_nmm < MARGIN * against:
            found.append(_weak(drag))
    if curve_of(job.motor) is None:
        found.append(_no_curve())
    if control.home_repeat is not None and control.home_arm is not None:
        error = home_error(repeat=control.home_repeat, arm=control.home_arm)
        if not index_turns_home(error=error, ratio=gearing.worm_ratio):
            found.append(_home_too_coarse())
    turns = turns_of_counter(per_degree=gearing.per_degree, bits=control.bits)
    if turns < 100 and not control.wraps:
        found.append(_counter(turns))
    return tuple(found)


def _rounded(decimals: int) -> Doubt:
    return Doubt(
        "warn",
        "E-25",
        f"With {decimals} decimals the steps for a degree are rounded.",
        "The error grows with every turn one way; see what 100 turns cost.",
        "Set pulses so that the fraction comes out whole, or unwind now and then.",
    )


def _no_whole_turn() -> Doubt:
    return Doubt(
        "warn",
        "E-25",
        "A table turn is no whole number of pulses.",
        "A place that comes round again is not the same pulse.",
        "Choose microsteps so that pulses times ratio is whole.",
    )


def _weak(drag: DragFacts) -> Doubt:
    return Doubt(
        "refuse",
        "E-23",
        "The motor has less than twice the cold drag at the tight spot.",
        "It will stall on the first cold morning, and lose its place without a sign.",
        "Ease the tight spot or the preload, thinner grease, or a stronger motor.",
        drag.rows,
    )


def _no_curve() -> Doubt:
    return Doubt(
        "ask",
        "",
        "Nothing is known of the motor's torque at speed.",
        "The holding torque says nothing about a motor that turns.",
        "Enter torque_points of its data sheet, or its electrical figures, in [motor].",
    )


def _home_too_coarse() -> Doubt:
    return Doubt(
        "warn",
        "",
        "The home switch does not tell one worm turn from the next.",
        "Home would come a worm turn off now and then.",
        "A longer arm or a better switch; or home against an indicator.",
    )


def _counter(turns: int) -> Doubt:
    return Doubt(
        "warn",
        "",
        f"The counter of the control is full after {turns} turns one way.",
        "An endless axis then stops, or jumps.",
        "Reset the position between works, or let the axis wrap at 360.",
    )
