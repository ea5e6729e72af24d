"""One drive against the needs of every work."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.bench.motor import field_stiffness, planned_torque
from wormwright.core.friction import Interval, holding
from wormwright.core.reduction import at_table, back_driving_by_efficiency, in_series, table_error
from wormwright.core.steps import most_pulses_per_turn
from wormwright.job.choice import ErrorParts, Load, Need, Side, Standing, Status
from wormwright.job.drive import Drive
from wormwright.job.given import Given
from wormwright.job.work import Task
from wormwright.quantities import Dimension
from wormwright.stages.choose.load import STEP_SHARE
from wormwright.stages.choose.spread import loss_within, spread, within

MICROSTEPS = (64, 50, 40, 32, 25, 20, 16, 10, 8, 5, 4, 2, 1)
"""Divisions of a full step that drivers offer."""
HOLD_SHARE = 0.5
"""A powered motor may be loaded at rest with this share of its holding torque."""
NORMAL_ANGLE = math.radians(20)
NEVER_A_BRAKE = "self-locking is never a brake"


@dataclass(frozen=True, slots=True)
class Facts:
    """The figures of a drive with their doubt, at the table where nothing else is said."""

    drive: Drive
    ratio: float
    lost_motion: Given
    efficiency: Given
    stiffness: Given
    total: Given


def facts_of(drive: Drive) -> Facts:
    """The figures that the needs are judged by."""
    ratio = float(drive.ratio)
    stiffness = within(drive.stiffness, drive.doubt)
    field = at_table(field_stiffness(drive.motor), ratio=ratio) if _has_field(drive) else math.inf
    return Facts(
        drive=drive,
        ratio=ratio,
        lost_motion=within(drive.lost_motion, drive.doubt),
        efficiency=loss_within(drive.efficiency, drive.doubt),
        stiffness=stiffness,
        total=spread(lambda k: in_series(k, field), stiffness),
    )


def _has_field(drive: Drive) -> bool:
    return math.isfinite(field_stiffness(drive.motor))


def judged(drive: Drive, loads: tuple[Load, ...], pulse_limit: float | None) -> Side:
    """The drive with its pulses as set, or as they must be set for the speed that is wanted."""
    facts = facts_of(drive)
    pulses = _pulses(drive, loads, pulse_limit)
    needs = [need for load in loads for need in _needs(facts, load, pulses, pulse_limit)]
    return Side(
        drive=drive,
        pulses=pulses,
        figures=(),
        needs=tuple(needs),
        errors=tuple(_error_parts(facts, load) for load in loads),
        standing=_standing(needs),
        back_driving=back_driving(drive),
    )


def _standing(needs: list[Need]) -> Standing:
    if any(need.status == "not met" for need in needs):
        return "fails"
    if all(need.status == "met" for need in needs):
        return "meets every need"
    return "cannot tell"


def _pulses(drive: Drive, loads: tuple[Load, ...], pulse_limit: float | None) -> int:
    """The pulses as set; fewer microsteps when the control could not send them fast enough."""
    entered = drive.motor.pulses_per_turn or 0
    fastest = max((load.cut.speed or 0.0 for load in loads), default=0.0)
    if pulse_limit is None or fastest == 0.0:
        return entered
    most = most_pulses_per_turn(rate=pulse_limit, rpm=fastest, ratio=float(drive.ratio))
    steps = drive.motor.steps_per_turn or 200
    offered = [steps * m for m in MICROSTEPS if steps * m < entered]
    return next((p for p in [entered, *offered] if p <= most * (1 + 1e-9)), entered)


def _status(got: Given, limit: Given, *, at_most: bool) -> Status:
    low, high = (got, limit) if at_most else (limit, got)
    if low.high <= high.low * (1 + 1e-9):
        return "met"
    return "not met" if low.low > high.high * (1 + 1e-9) else "cannot tell"


@dataclass(frozen=True, slots=True)
class _Asked:
    """What one need is called and in which unit it is judged; `at_most` its way."""

    key: str
    label: str
    dimension: Dimension
    at_most: bool = True


def _need(cut: Task, asked: _Asked, got: Given, limit: Given) -> Need:
    return Need(
        asked.key,
        cut.name,
        asked.label,
        got.estimate(asked.dimension),
        limit.estimate(asked.dimension),
        asked.at_most,
        _status(got, limit, at_most=asked.at_most),
    )


def error_of(facts: Facts, load: Load) -> Given:
    """Error at the radius: from its place when cut one way, to and fro when the force swings."""
    cut = load.cut

    def error(force: float, stiffness: float, lost_motion: float) -> float:
        got = table_error(
            force=force, radius=cut.radius, stiffness=stiffness, lost_motion=lost_motion
        )
        return got.to_and_fro if load.swings else got.one_way

    return spread(error, _force(load), facts.total, facts.lost_motion)


def _force(load: Load) -> Given:
    """The highest force, with the unbalance as a force at the radius."""
    t, r = load.torque, load.cut.radius
    return Given(t.value / r, t.low / r, t.high / r)


def _error_parts(facts: Facts, load: Load) -> ErrorParts:
    cut, times = load.cut, 2 if load.swings else 1
    torque = load.torque.value
    whole = torque / facts.total.value * cut.radius
    own = torque / facts.stiffness.value * cut.radius
    lost = facts.lost_motion.value * cut.radius / 2
    return ErrorParts(
        cut.name,
        (
            ("wind-up of the drive", times * own),
            ("motor field giving way", times * (whole - own)),
            ("lost motion" if load.swings else "half of the lost motion", times * lost),
        ),
        error_of(facts, load).estimate("length"),
        cut.error,
    )


def motor_torque(facts: Facts, torque: Given) -> Given:
    """Torque at the motor that moves a torque at the table and the drag."""
    drive = facts.drive
    return spread(
        lambda t, eta: (t + drive.table_drag) / (facts.ratio * eta) + drive.motor_drag,
        torque,
        facts.efficiency,
    )


def _needs(facts: Facts, load: Load, pulses: int, pulse_limit: float | None) -> list[Need]:
    cut, drive = load.cut, facts.drive
    torque = Given(load.torque.value, load.torque.low, load.torque.high)
    needs = [*_truth(facts, load, pulses), *_motor(facts, cut, torque)]
    if cut.speed is not None:
        needs += _speeds(facts, cut, pulses, pulse_limit)
    if drive.torque_limit is not None:
        asked = _Asked("strength", "torque on the drive", "torque")
        needs.append(_need(cut, asked, torque, Given.plain(drive.torque_limit)))
    if drive.moment_limit is not None and cut.overhang is not None:
        arm = cut.overhang / cut.radius
        asked = _Asked("moment", "moment on its bearing", "torque")
        moment = spread(lambda t: t * arm, torque)
        needs.append(_need(cut, asked, moment, Given.plain(drive.moment_limit)))
    if cut.hold == "power off":
        asked = _Asked("power off", "a brake for power off", "count", at_most=False)
        has = Given.plain(1.0 if drive.brake else 0.0)
        needs.append(_need(cut, asked, has, Given.plain(1.0)))
    return needs


def _motor(facts: Facts, cut: Task, torque: Given) -> list[Need]:
    """Held at rest by the powered motor, and moved at the speed that is wanted."""
    motor = facts.drive.motor
    hold = motor.torque_hold_nmm or 0.0
    held = spread(lambda t: t / facts.ratio, torque)
    rest = _Asked("hold", "held by the powered motor", "torque")
    rpm = (cut.speed or 0.0) * facts.ratio
    given = planned_torque(motor, rpm) or Given(hold / 2, 0.0, hold)
    moved = _Asked("torque", "motor torque at its speed" if rpm else "motor torque", "torque")
    return [
        _need(cut, rest, held, Given.plain(HOLD_SHARE * hold)),
        _need(cut, moved, motor_torque(facts, torque), given),
    ]


def _truth(facts: Facts, load: Load, pulses: int) -> list[Need]:
    cut = load.cut
    if cut.error is None:
        return []
    words = "error to and fro" if load.swings else "error, cut one way"
    step = Given.plain(2 * math.pi / (pulses * facts.ratio) * cut.radius)
    return [
        _need(
            cut,
            _Asked("error", words, "length"),
            error_of(facts, load),
            Given.plain(cut.error),
        ),
        _need(
            cut, _Asked("step", "one pulse", "length"), step, Given.plain(STEP_SHARE * cut.error)
        ),
    ]


def _speeds(facts: Facts, cut: Task, pulses: int, pulse_limit: float | None) -> list[Need]:
    wanted = Given.plain(cut.speed or 0.0)
    limits = (
        ("speed", "table speed by the motor", facts.drive.motor.useful_rpm),
        ("input", "table speed by the drive", facts.drive.input_limit),
    )
    found = [
        _need(cut, _Asked(key, label, "speed", False), Given.plain(rpm / facts.ratio), wanted)
        for key, label, rpm in limits
        if rpm is not None
    ]
    if pulse_limit is not None:
        rate = Given.plain(wanted.value / 60 * facts.ratio * pulses)
        asked = _Asked("pulses", "pulses of the control", "frequency")
        found.append(_need(cut, asked, rate, Given.plain(pulse_limit)))
    return found


def back_driving(drive: Drive) -> str:
    """Whether a load can turn it backwards, in words, with the friction as far as it is known."""
    if drive.lead_angle is not None and drive.friction is not None:
        friction = Interval(drive.friction.low, drive.friction.high)
        word = holding(lead_angle=drive.lead_angle, friction=friction, normal_angle=NORMAL_ANGLE)
        told = {"holds": "stays at rest without vibration"}.get(word, word)
    elif drive.family.startswith("worm"):
        loss = loss_within(drive.efficiency, drive.doubt)
        told = back_driving_by_efficiency(Interval(loss.low, loss.high))
    else:
        told = "drives back"
    return told if told == "drives back" else f"{told}; {NEVER_A_BRAKE}"
