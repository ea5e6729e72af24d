"""The joint of wheel and table made tight, and the coupling between motor and worm."""

from __future__ import annotations

import math

from wormwright.bench import Bench
from wormwright.job.corrections import Correction
from wormwright.stages.correct.cure import Cure
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.predict import Left
from wormwright.stages.correct.wording import length, sized

SEEN = 2.0
"""A play is worth curing when it is this many times its own doubt."""

TIGHT = 0.0005
"""What a screwed and pinned joint may still give, one standard deviation at r2, mm (practice)."""

CLAMPED = math.radians(0.05)
"""What a clamped coupling without play may still give at the motor, rad (common practice)."""


def wheel_joint(facts: Facts, bench: Bench) -> Cure | None:
    """Screws, pins and register of the wheel tight on the table; None when no play was read."""
    read = bench.figure("wheel_joint_play")
    if read is None or read.value < SEEN * read.u:
        return None
    units = facts.job.units
    steps = (
        "Wheel off. Clean both faces and the register; stone down burrs round the holes: a wheel "
        "screwed on paint or a burr never stays.",
        "Wheel on by its mark, screws in a star to their torque, then the pins. A pin that goes in "
        "by hand does not hold: ream both parts together for the next size, a taper pin best.",
        "No pins there: drill and ream two in the finished place, as far apart as the wheel "
        "allows, after the wheel is trued if it is to be trued.",
        f"Indicator on the wheel, base on the table, twist both ways: {length(read.value, units)} "
        "was read; no movement is wanted.",
    )
    correction = Correction(
        "wheel_joint",
        "Wheel screwed and pinned tight to the table",
        "Play of this joint counts one to one, looks exactly like backlash and no closing of the "
        "mesh cures it.",
        (("play to take out", sized(read.value, read.u, "as read")),),
        (),
        steps,
        ("wheel_joint",),
        60.0,
    )
    return Cure(correction, {"wheel_joint": Left(0.0, TIGHT)})


def coupling(facts: Facts, bench: Bench) -> Cure | None:
    """Coupling, key and grub screw without play; None when no play was read."""
    read = bench.figure("drive_play")
    if read is None or read.value < SEEN * read.u:
        return None
    pair = facts.pair
    at_r2 = pair.r2 / pair.ratio
    steps = (
        "Find which it is: hold the worm and rock the motor with a finger on each joint in turn. "
        "Grub screw, key, jaw insert and the motor's own shaft flat are the usual four.",
        "Grub screw: file a flat for it, or drill a dimple; two screws at 90°; thread lock. Key: "
        "make a new one to the wider of the two slots and ease it into the narrower.",
        "Better than both: a clamping coupling without play (bellows or slit) of a size that "
        "bears the motor's torque.",
        "Set motor and worm in line at the worm line as it is now, indicator on the worm shaft "
        "turning with the motor: a coupling out of line gives an error once per worm turn.",
    )
    correction = Correction(
        "coupling",
        "Coupling between motor and worm without play",
        "The motor's reversal is lost here before the worm moves at all.",
        (("play now, at the pitch radius", sized(read.value * at_r2, read.u * at_r2, "by ratio")),),
        (),
        steps,
        ("coupling",),
        45.0,
    )
    return Cure(correction, {"drive": Left(0.0, CLAMPED * at_r2)})
