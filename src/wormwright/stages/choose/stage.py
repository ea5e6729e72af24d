"""Choose: the duty from the work, the drives side by side, and what the verdict hangs on."""

from __future__ import annotations

from dataclasses import replace

from wormwright.handbook.drives import drive_family
from wormwright.job.choice import Choice, Load, Need, Side
from wormwright.job.result import Doubt, StageRefusal
from wormwright.job.rotary import Job, Units
from wormwright.quantities import shown, shown_estimate
from wormwright.stages.choose.figures import curve, figures_of
from wormwright.stages.choose.flips import flips_of, ways_of
from wormwright.stages.choose.load import load_of
from wormwright.stages.choose.side import facts_of
from wormwright.stages.choose.verdict import outcome, sides_of

SHOWN_FLIPS = 12


def choose(job: Job) -> Choice:
    """Which of the drives of a job suits its work. No reading is needed.

    Raises:
        StageRefusal: the job names no work or no drive.
    """
    missing = _missing(job)
    if missing:
        raise StageRefusal("choose", missing)
    loads = tuple(load_of(cut, job) for cut in job.work)
    plain = sides_of(job, loads)
    sides = tuple(_full(side, loads, job) for side in plain)
    word, names = outcome(plain)
    return Choice(
        loads=loads,
        sides=sides,
        word=word,
        chosen=names,
        reasons=_reasons(sides, names, job.units),
        ways=ways_of(job, plain),
        flips=flips_of(job, plain, loads)[:SHOWN_FLIPS],
        doubts=(*_unusual(job), *_unknown(sides)),
    )


def _missing(job: Job) -> tuple[Doubt, ...]:
    wanted = (
        (job.work, "[[work]]", "what is cut, at which radius, with which force and error"),
        (job.drives, "[[drive]]", "ratio, stiffness, lost motion, efficiency and motor"),
    )
    return tuple(
        Doubt(
            "refuse",
            "",
            f"job.toml has no {section}.",
            f"Nothing can be compared without it: {what}.",
            f"Add one {section} for each; docs/howto/choose.md shows how.",
        )
        for rows, section, what in wanted
        if not rows
    )


def _full(side: Side, loads: tuple[Load, ...], job: Job) -> Side:
    return replace(
        side,
        figures=figures_of(side, loads),
        curve=curve(side),
        setting=_setting(side),
        words=_words(side, loads, job),
    )


def _setting(side: Side) -> str:
    motor = side.drive.motor
    if side.pulses == motor.pulses_per_turn or not motor.steps_per_turn:
        return ""
    each = side.pulses // motor.steps_per_turn
    return (
        f"set {side.pulses} pulses a motor turn ({each} microsteps) instead of "
        f"{motor.pulses_per_turn}: the control cannot send more at the speed wanted"
    )


def _words(side: Side, loads: tuple[Load, ...], job: Job) -> tuple[str, ...]:
    """What a machinist should know of this drive beyond its figures."""
    setting = _setting(side)
    words = [setting] if setting else []
    words += _nothing_to_spare(side)
    facts = facts_of(side.drive)
    for load in loads:
        cut = load.cut
        if cut.error is None or load.swings:
            continue
        lost = facts.lost_motion.value * cut.radius
        wound = load.force.value * cut.radius**2 / facts.total.value
        if wound + lost / 2 <= cut.error < 2 * wound + lost:
            reversal = shown(lost, "length", resolution=1e-3, units=job.units)
            words.append(
                f"cut {cut.name} one way only: on reversal {reversal} of lost motion comes in"
            )
    words.append(f"back-driving: {side.back_driving}")
    words.append(f"wear: {drive_family(side.drive.family).wear}")
    return tuple(words)


def _nothing_to_spare(side: Side) -> list[str]:
    return [
        f"{need.label} ({need.work}): met with nothing to spare"
        for need in side.needs
        if need.status == "met"
        and abs(need.got.value - need.limit.value) < 1e-6 * need.limit.value
        and need.key != "power off"
    ]


def _reasons(sides: tuple[Side, ...], names: tuple[str, ...], units: Units) -> tuple[str, ...]:
    lines = []
    for side in sides:
        if side.standing == "meets every need":
            lines.append(f"{side.drive.name} meets every need.")
            continue
        unmet = "; ".join(_unmet(need, units) for need in side.unmet)
        verb = "fails" if side.standing == "fails" else "cannot be told"
        lines.append(f"{side.drive.name} {verb}: {unmet}.")
    chosen = [side for side in sides if side.drive.name in names]
    costs = [side for side in sides if side.standing == "meets every need" and side.cost]
    if len(chosen) == 1 and len(costs) > 1:
        lines.append(f"Of those that meet every need {chosen[0].drive.name} costs least.")
    lines += _perhaps_cheaper(sides, chosen)
    return tuple(lines)


def _perhaps_cheaper(sides: tuple[Side, ...], chosen: list[Side]) -> list[str]:
    """Drives that cost less and may do as well, if their figures were known better."""
    cost = min((side.cost.low for side in chosen if side.cost), default=None)
    return [
        f"{side.drive.name} costs less and may do as well: its figures must be known better first."
        for side in sides
        if cost is not None
        and side.standing == "cannot tell"
        and side.cost
        and side.cost.low < cost
    ]


def _unmet(need: Need, units: Units) -> str:
    if need.key == "power off":
        return f"no brake, and {need.work} must hold with the power off"
    got = shown_estimate(need.got, units=units)
    limit = shown_estimate(need.limit, units=units)
    way = "over" if need.at_most else "under"
    if need.status == "cannot tell":
        way = "not surely within"
    return f"{need.label} {got}, {way} {limit} ({need.work})"


def _unusual(job: Job) -> tuple[Doubt, ...]:
    """Entered figures outside the usual range of their family: worth a second look."""
    doubts = []
    for drive in job.drives:
        family = drive_family(drive.family)
        figures = (
            ("ratio", float(drive.ratio), float(drive.ratio), family.ratio),
            ("lost motion", drive.lost_motion.low, drive.lost_motion.high, family.lost_motion),
            ("efficiency", drive.efficiency.low, drive.efficiency.high, family.efficiency),
        )
        for name, low, high, (least, most) in figures:
            if high < least * 0.999 or low > most * 1.001:
                doubts.append(_outside(drive.name, drive.family, name, family.source))
    return tuple(doubts)


def _outside(drive: str, family: str, what: str, source: str) -> Doubt:
    return Doubt(
        "warn",
        "",
        f"{drive}: its {what} lies outside what a {family} usually has ({source}).",
        "Lost motion of two makers compares only at the same torque, stiffness only with the "
        "bearing in it.",
        "Look the figure up once more, and at which torque it was measured.",
    )


def _unknown(sides: tuple[Side, ...]) -> tuple[Doubt, ...]:
    lacking = [side.drive.name for side in sides if not side.curve]
    if not lacking:
        return ()
    return (
        Doubt(
            "ask",
            "",
            f"No torque against speed is known for: {', '.join(lacking)}.",
            "The holding torque says nothing about a motor that turns.",
            "Enter torque_points of its data sheet, or current, resistance, inductance, voltage.",
        ),
    )
