"""Flanks held to one side, or the table held still: weight and cord, friction brake, clamp."""

from __future__ import annotations

import math

from wormwright.bench import Bench, Figure
from wormwright.core.counterweight import (
    Bias,
    bias_torque,
    bias_torque_needed,
    bias_weight,
    brake_torque_needed,
    clamp_torque_needed,
)
from wormwright.core.friction import Interval, efficiency_worm_driving, normal_pressure_angle
from wormwright.job.corrections import Correction
from wormwright.job.result import Doubt, Estimate
from wormwright.quantities import Dimension, shown
from wormwright.stages.correct.cure import CHAIN, TABLE_PARTS, Cure, not_read
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.wording import arc, length

FRICTION = Interval(0.06, 0.12)
"""Friction of a greased worm on bronze (common practice)."""

DRUM = 0.9
"""Radius of the cord on the table rim as a share of the wheel's own pitch radius, at least."""

MOST_MASS = 15.0
"""Heaviest weight worth hanging on a cord, kg (common practice)."""

ABOUT = 0.05
USUAL_SHIFT = 0.010
USUAL_SHIFT_AT = 100.0
"""Usual shift of a table on locking, mm, and the radius it is read at (common practice)."""


def bias_weight_and_cord(facts: Facts, bench: Bench) -> Cure | None:
    """A weight on a cord that keeps the flanks to one side; None for endless turning."""
    duty = facts.job.duty
    if duty.work == "continuous":
        return None
    bias = _bias(facts, bench)
    if bias is None:
        return None
    mass, drum, got = bias
    units = facts.job.units
    steps = (
        f"Cord once round the table at {length(drum, units, to=1.0)} radius, over a pulley that "
        f"runs free, {shown(mass, 'mass', resolution=0.1, units=units)} on it. Guard the drop.",
        f"It falls {length(got.drop_per_turn, units, to=1.0)} for each turn of the table: that is "
        "how far the axis may go. It must not touch, swing or unwind.",
        "Hang it so that it pulls against the way the work approaches; approach both ways is then "
        "allowed, the flank stays the same.",
        f"The motor has {shown(got.motor_torque.high, 'torque', resolution=1.0, units=units)} more "
        "to do at worst when it lifts, all friction counted.",
        "Self-locking is no brake: with the drive off, chock the weight.",
    )
    correction = Correction(
        "bias_weight",
        "Weight and cord that keep the flanks to one side",
        "The weight outdoes the reversing cut and the table's drag, so the flanks never change "
        "sides and the play of the chain does not show.",
        (
            _about("weight", mass, "mass"),
            _about("torque it gives at the table", got.torque, "torque"),
            _about("torque that is needed", got.needed, "torque"),
        ),
        (),
        steps,
        (),
        90.0,
        _motor_doubts(facts, got.motor_torque.high),
    )
    return Cure(correction, takes_up=CHAIN, agreed=True)


def _bias(facts: Facts, bench: Bench) -> tuple[float, float, Bias] | None:
    """Weight, cord radius and what they do; None when it would be too heavy to hang."""
    cut, drag = facts.job.duty.torque_resist_nmm, _table_drag(bench)
    drum = max(DRUM * facts.pair.r2, _rim(bench) or 0.0)
    needed = bias_torque_needed(reversing_torque=cut, table_drag=drag)
    mass = math.ceil(needed / bias_torque(mass=1.0, drum_radius=drum) * 2) / 2
    if mass > MOST_MASS:
        return None
    got = bias_weight(
        mass=mass,
        drum_radius=drum,
        reversing_torque=cut,
        table_drag=drag,
        pitch_radius=facts.pair.r2,
        ratio=facts.pair.ratio,
        efficiency=efficiency_of(facts),
    )
    return mass, drum, got


def efficiency_of(facts: Facts) -> Interval:
    """Efficiency of the mesh with the worm driving, over the usual friction."""
    lead = math.atan(facts.pair.g)
    angle = normal_pressure_angle(axial_angle=facts.pair.pressure_angle, lead_angle=lead)
    low, high = (
        efficiency_worm_driving(lead_angle=lead, friction=mu, normal_angle=angle)
        for mu in (FRICTION.high, FRICTION.low)
    )
    return Interval(low, high)


def _rim(bench: Bench) -> float | None:
    """Radius of the farthest pin that the rock was read at: the table reaches at least there."""
    radii = [r.number("pin_radius") for r in bench.of("rock")]
    known = [r for r in radii if r]
    return max(known) if known else None


def _table_drag(bench: Bench) -> float:
    read = bench.figure("drag_table")
    return read.value if read else 0.0


def friction_brake(facts: Facts, bench: Bench) -> Cure | None:
    """A drag on the table against reversing cuts; only of use with approach from one side."""
    duty = facts.job.duty
    need = brake_torque_needed(
        reversing_torque=duty.torque_resist_nmm, table_drag=_table_drag(bench)
    )
    if need <= 0:
        return None
    units = facts.job.units
    at_worm = need / (facts.pair.ratio * efficiency_of(facts).low)
    steps = (
        "A shoe or strap on the table rim with its own spring and screw, or the table lock "
        "dragging lightly if it does not shift the table.",
        f"Set it with the worm out of mesh: it must take {shown(need, 'torque', units=units)} at "
        "the table to drag it round, even all round the turn.",
        f"The motor has {shown(at_worm, 'torque', resolution=1.0, units=units)} more to do all the "
        "time; feel the brake for warmth after ten minutes.",
    )
    correction = Correction(
        "friction_brake",
        "Friction brake on the table",
        "It keeps a reversing cut from carrying the table across the play; it does not take the "
        "play out of a reversal of the drive.",
        (_about("brake at the table", need, "torque"),),
        (),
        steps,
        (),
        120.0,
        _motor_doubts(facts, at_worm),
    )
    needs = () if duty.approach == "one way" else ("approach",)
    return Cure(correction, needs=needs, agreed=True)


def _motor_doubts(facts: Facts, more: float) -> tuple[Doubt, ...]:
    """Warn when the added torque at the worm eats the motor or the duty's drag limit."""
    units, motor = facts.job.units, facts.job.motor.torque_hold_nmm
    limit = facts.job.duty.drag_limit_nmm
    if motor is not None and 2 * more > motor:
        limit = motor / 2
    if more <= limit:
        return ()
    return (
        Doubt(
            "warn",
            "E-15",
            f"It asks {shown(more, 'torque', units=units)} more of the motor at worst.",
            f"This unit should stay below {shown(limit, 'torque', units=units)}: the motor may "
            "stall at the tight spot when cold.",
            "Take lighter cuts, a larger radius for the cord, or close the mesh instead.",
        ),
    )


def clamp(facts: Facts, bench: Bench) -> Cure | None:
    """The table lock set so that it holds the cut and shifts little; indexed work only."""
    duty = facts.job.duty
    if duty.work != "indexed":
        return None
    shift, u, doubts = _shift(bench)
    hold = clamp_torque_needed(duty.torque_resist_nmm)
    units = facts.job.units
    steps = (
        "Stone the clamp's pads, clean the ways, a drop of oil: it must pull the table down, not "
        "turn it. Screws always in the same order.",
        f"Proof: locked, {shown(hold, 'torque', units=units)} on a lever must not move the needle "
        "at the rim.",
        "Lock slowly with the needle on a pin; where it moves by the same amount each time, zero "
        "after locking or enter it as an offset.",
        "Lock for every cut, unlock before every move: a lock left on under power wears the wheel.",
    )
    correction = Correction(
        "clamp",
        "Table lock adjusted, and used for every cut",
        "A locked table rests on its ways and not on the flanks; the cut cannot use the play.",
        (
            _about("torque it must hold", hold, "torque"),
            ("shift on locking", Estimate(shift, u, shift - 2 * u, shift + 2 * u, "angle", "read")),
        ),
        (),
        steps,
        (),
        45.0,
        doubts,
    )
    needs = () if duty.approach == "one way" else ("approach",)
    felt = abs(shift) + 2 * u
    return Cure(correction, takes_up=CHAIN | TABLE_PARTS, shift=felt, needs=needs, agreed=True)


def _shift(bench: Bench) -> tuple[float, float, tuple[Doubt, ...]]:
    """Shift of the table on locking, rad, its doubt, and what to ask when it was not read."""
    read: Figure | None = bench.figure("clamp_shift", "turning")
    radii = [r.number("radius") for r in bench.of("clamp_shift", "turning")]
    known = [r for r in radii if r]
    if read is not None and known:
        radius = known[-1]
        return read.value / radius, read.u / radius, ()
    usual = USUAL_SHIFT / USUAL_SHIFT_AT
    why = f"Locking usually turns a table by up to {arc(usual)}; that is allowed for."
    return 0.0, usual / 2, (not_read("The shift on locking", "clamp_shift", why),)


def _about(label: str, value: float, dimension: Dimension) -> tuple[str, Estimate]:
    """A figure from the duty's own torque, which nobody knows to better than a twentieth."""
    spread = ABOUT * value
    low, high = value - spread, value + spread
    return label, Estimate(value, spread / 2, low, high, dimension, "statics")
