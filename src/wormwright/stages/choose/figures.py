"""The figures of the drives side by side, and the torque that each gives over its speed."""

from __future__ import annotations

import math

from wormwright.bench.motor import SHARES, curve_of
from wormwright.core.reduction import heat
from wormwright.core.rotating import cylinder_inertia, reflected_inertia
from wormwright.core.steps import pulse_rate, pulses_per_degree
from wormwright.job.choice import Load, Side
from wormwright.job.findings import Figured
from wormwright.job.given import Given
from wormwright.quantities import Dimension
from wormwright.stages.choose.side import Facts, error_of, facts_of, motor_torque
from wormwright.stages.choose.spread import spread

CURVE_POINTS = 40


def figures_of(side: Side, loads: tuple[Load, ...]) -> tuple[Figured, ...]:
    """The same figures for every drive, in one order."""
    facts, drive = facts_of(side.drive), side.drive
    pulses = drive.motor.pulses_per_turn or side.pulses
    exact = pulses_per_degree(pulses_per_turn=pulses, ratio=drive.ratio)
    found = [
        _plain("ratio", "ratio", facts.ratio, "ratio"),
        _plain("per degree", "pulses for a degree, as entered", float(exact), "ratio"),
        _plain("step", "one pulse, as entered", math.radians(1 / float(exact)), "angle"),
        _figure("stiffness", "stiffness at the table, with the motor", facts.total, "stiffness"),
    ]
    for load in loads:
        if load.cut.error is not None:
            found += _truth(facts, load)
    rpm = drive.motor.useful_rpm
    if rpm is not None:
        found.append(_plain("table speed", "table speed by the motor", rpm / facts.ratio, "speed"))
    fastest = max((load.cut.speed or 0.0 for load in loads), default=0.0)
    if fastest:
        rate = pulse_rate(per_degree=exact, rpm=fastest)
        found.append(_plain("rate", "pulses at the speed wanted, as entered", rate, "frequency"))
        found.append(_plain("set", "pulses of a motor turn to set", side.pulses, "count"))
    heaviest = max(loads, key=lambda load: load.torque.value)
    torque = Given(heaviest.torque.value, heaviest.torque.low, heaviest.torque.high)
    found.append(
        _figure(
            "motor torque", "motor torque, heaviest work", motor_torque(facts, torque), "torque"
        )
    )
    held = (drive.motor.torque_hold_nmm or 0.0) * facts.ratio
    found.append(
        _plain("holds", "torque at the table that the powered motor holds", held, "torque")
    )
    return (*found, *_running(facts, loads))


def _truth(facts: Facts, load: Load) -> list[Figured]:
    cut = load.cut
    wound = spread(
        lambda force, k: force * cut.radius**2 / k,
        Given(load.force.value, load.force.low, load.force.high),
        facts.total,
    )
    lost = spread(lambda angle: angle * cut.radius, facts.lost_motion)
    name = cut.name
    return [
        _figure(f"wind-up {name}", f"wind-up, {name}", wound, "length"),
        _figure(f"lost motion {name}", f"lost motion, {name}", lost, "length"),
        _figure(f"error {name}", f"error, {name}", error_of(facts, load), "length"),
    ]


def _running(facts: Facts, loads: tuple[Load, ...]) -> list[Figured]:
    """Heat while it turns, and the load's inertia against the rotor, where they can be told."""
    found, drive = [], facts.drive
    turning = [load for load in loads if load.cut.speed]
    if turning:
        load = max(turning, key=lambda one: one.cut.speed or 0.0)
        drag = drive.table_drag + drive.motor_drag * facts.ratio
        lost = spread(
            lambda t, eta: heat(torque=t, rpm=load.cut.speed or 0.0, efficiency=eta, drag=drag),
            Given(load.torque.value, load.torque.low, load.torque.high),
            facts.efficiency,
        )
        found.append(_figure("heat", f"heat while turning, {load.cut.name}", lost, "power"))
    masses = [load.cut for load in loads if load.cut.mass]
    if masses and drive.motor.inertia:
        cut = max(masses, key=lambda one: (one.mass or 0.0) * one.radius**2)
        load_j = cylinder_inertia(mass=cut.mass or 0.0, diameter=2 * cut.radius)
        felt = reflected_inertia(load=load_j, ratio=facts.ratio) / drive.motor.inertia
        found.append(_plain("inertia", "work's inertia at the motor / rotor", felt, "ratio"))
    return found


def curve(side: Side) -> tuple[tuple[float, float], ...]:
    """(table rpm, torque at the table to plan with); empty where no curve is known."""
    drive, facts = side.drive, facts_of(side.drive)
    pulled = curve_of(drive.motor)
    if pulled is None:
        return ()
    share = SHARES[drive.motor.kind]
    last = drive.motor.points[-1][0] if drive.motor.points else 3000.0
    end = min(last, drive.input_limit or math.inf)
    points = []
    for i in range(CURVE_POINTS + 1):
        rpm = end * i / CURVE_POINTS
        motor = pulled(rpm) * share.low - drive.motor_drag
        table = motor * facts.ratio * facts.efficiency.value - drive.table_drag
        if table <= 0 and i:
            break
        points.append((rpm / facts.ratio, max(0.0, table)))
    return tuple(points)


def _plain(key: str, label: str, value: float, dimension: Dimension) -> Figured:
    return _figure(key, label, Given.plain(value), dimension)


def _figure(key: str, label: str, figure: Given, dimension: Dimension) -> Figured:
    return Figured(key, label, figure.estimate(dimension))
