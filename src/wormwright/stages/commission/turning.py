"""Turning on the axis: which speed and how long, by motor, chuck and warmth; refused above that."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.bench import Bench
from wormwright.core.rotating import centrifugal_force, jaw_speed_limit
from wormwright.core.warm_running import duty_share, rise_at_speed, run_minutes, steady_rise_of_run
from wormwright.job.commissioning import Allowed, Turning
from wormwright.job.result import Doubt, Estimate
from wormwright.job.rotary import Job, Units
from wormwright.job.work import Task
from wormwright.quantities import shown

TIME_CONSTANT = 60.0
"""Minutes in which such a housing comes to 63 per cent of its rise (common practice)."""
GRIP_LOST = 2 / 3
"""Share of the grip at rest that the jaws may have lost at speed (EN 1550, recalled)."""
MOST_PULL = 0.1
"""Pull of the unbalance that is let pass, as a share of its weight (common practice)."""
WARN_RPM = 500.0


@dataclass(frozen=True, slots=True)
class Warmth:
    """Rise read after a run: K after minutes at rpm of the table."""

    rise: float
    minutes: float
    rpm: float


def turning_of(
    job: Job, bench: Bench, safe: Estimate | None, worm_ratio: float
) -> tuple[Turning, ...]:
    """Every work that turns, judged."""
    warmth = _warmth(bench, worm_ratio)
    return tuple(
        _judged(task, job, safe, warmth)
        for task in job.work
        if task.speed is not None and task.kind in ("slow turning", "continuous")
    )


def _warmth(bench: Bench, worm_ratio: float) -> Warmth | None:
    for reading in reversed(bench.of("temperature_rise")):
        minutes, speed = reading.number("minutes"), reading.number("speed")
        if reading.value is not None and minutes and speed:
            return Warmth(reading.value, minutes, speed / worm_ratio)
    return None


def _judged(task: Task, job: Job, safe: Estimate | None, warmth: Warmth | None) -> Turning:
    rpm, units = task.speed or 0.0, job.units
    refusals = [*_by_motor(rpm, safe, units), *_by_chuck(rpm, job, units)]
    refusals += _by_balance(task, job, units)
    if refusals:
        return Turning(task.name, rpm, "refused", None, None, tuple(refusals))
    if safe is None:
        words = ("pulses or torque are not known: see the limits of speed",)
        return Turning(task.name, rpm, "read first", None, None, words)
    if warmth is None:
        words = ("read temperature_rise: half an hour at the working speed, lock off, table bare",)
        return Turning(task.name, rpm, "read first", None, None, words)
    return _by_warmth(task, rpm, job, warmth)


def _by_motor(rpm: float, safe: Estimate | None, units: Units) -> list[str]:
    if safe is None or rpm <= safe.low:
        return []
    most = shown(safe.low, "speed", resolution=0.1, units=units)
    return [f"{shown(rpm, 'speed', units=units)} is above the safe speed of {most}"]


def _by_chuck(rpm: float, job: Job, units: Units) -> list[str]:
    chuck, refusals = job.chuck, []
    if chuck is None:
        return []
    if chuck.speed_limit is not None and rpm > chuck.speed_limit:
        most = shown(chuck.speed_limit, "speed", units=units)
        refusals.append(f"the chuck is marked {most}")
    if chuck.grip and chuck.jaw_mass and chuck.jaw_radius:
        limit = jaw_speed_limit(
            grip=chuck.grip,
            mass=chuck.jaw_mass,
            radius=chuck.jaw_radius,
            jaws=chuck.jaws,
            share=GRIP_LOST,
        )
        if rpm > limit:
            at = shown(limit, "speed", resolution=10, units=units)
            refusals.append(f"above {at} the jaws have lost two thirds of their grip")
    return refusals


def _by_balance(task: Task, job: Job, units: Units) -> list[str]:
    """An unbalanced work: never on a level worm alone, and not where it shakes the machine."""
    if task.mass is None or not task.off_centre:
        return []
    refusals = []
    pull = centrifugal_force(mass=task.mass, radius=task.off_centre, rpm=task.speed or 0.0)
    if pull > MOST_PULL * task.mass * 9.80665:
        force = shown(pull, "force", resolution=0.1, units=units)
        refusals.append(f"the unbalance pulls with {force} round the turn: counterbalance it")
    if job.rotary.table_axis == "horizontal" and task.hold == "power off":
        refusals.append("an unbalanced work on a level axis needs a brake; a worm alone is none")
    return refusals


def _by_warmth(task: Task, rpm: float, job: Job, warmth: Warmth) -> Turning:
    allowed = job.duty.rise_k
    if rpm > 3 * warmth.rpm:
        again = "the rise was read at less than a third of this speed: read it again, faster"
        return Turning(task.name, rpm, "read first", None, None, (again,))
    steady = steady_rise_of_run(
        rise=rise_at_speed(rise=warmth.rise, at=warmth.rpm, rpm=rpm),
        minutes=warmth.minutes,
        time_constant=TIME_CONSTANT,
    )
    minutes = run_minutes(allowed=allowed, steady=steady, time_constant=TIME_CONSTANT)
    share = duty_share(allowed=allowed, steady=steady)
    end = shown(steady, "rise", resolution=1.0, units=job.units)
    most = shown(allowed, "rise", units=job.units)
    words: tuple[str, ...] = (f"it would come to a rise of about {end}; the duty allows {most}",)
    if math.isinf(minutes):
        return Turning(task.name, rpm, "allowed", minutes, share, words)
    wanted = task.run or 0.0
    verdict: Allowed = "refused" if wanted > minutes else "allowed for a time"
    if wanted > minutes:
        words = (
            *words,
            f"wanted for {wanted:.0f} min, too warm after {minutes:.0f} min",
        )
    return Turning(task.name, rpm, verdict, minutes, share, words)


def turning_doubts(turning: tuple[Turning, ...]) -> tuple[Doubt, ...]:
    """Refusals of turning work as doubts, with what to do."""
    doubts = []
    for one in turning:
        if one.allowed == "refused":
            doubts.append(
                Doubt(
                    "refuse",
                    "E-2",
                    f"{one.work}: {'; '.join(one.reasons)}.",
                    "A rotary is no lathe: work that comes loose or a worm that seizes does harm.",
                    "Turn slower or shorter, balance the work, or use a driven cutter.",
                )
            )
        elif one.rpm > WARN_RPM:
            doubts.append(
                Doubt(
                    "warn",
                    "E-2",
                    f"{one.work}: the table turns above {WARN_RPM:.0f} rpm.",
                    "Jaws lose grip with the square of the speed.",
                    "Guard shut, chuck key out, nobody in the plane of the chuck.",
                )
            )
    return tuple(doubts)
