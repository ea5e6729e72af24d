"""Traps in how a rock was taken: signs, surface, radius, stylus, torque, how the worm was held."""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable, Iterable

from wormwright.bench import TO_AND_FRO, Bench, noise
from wormwright.core.indicator import LARGEST_TILT, NEGLIGIBLE_TILT
from wormwright.job.reading import STYLUS_CORRECTED, Reading
from wormwright.job.result import Doubt
from wormwright.job.sheet import KINDS, ROCKS
from wormwright.quantities import shown
from wormwright.stages.measure.siblings import same_angle
from wormwright.stages.measure.wording import one_doubt, rows_words

NEAR = math.radians(20)
"""A second torque this near to a place of the map is there on purpose, rad."""


def rocks(bench: Bench) -> tuple[Reading, ...]:
    """Every rock on the sheet, in order of running number."""
    found = [r for kind in ROCKS for r in bench.of(kind)]
    return tuple(sorted(found, key=lambda r: r.seq))


def below_zero(reading: Reading) -> bool:
    """True for a play that comes out below zero by more than its noise."""
    value = reading.value
    return reading.kind in TO_AND_FRO and value is not None and value < -3 * noise(reading)


def reversed_pair(bench: Bench) -> tuple[Doubt, ...]:
    """E-4: the plus reading is not above the minus reading."""
    doubts = []
    for kind in sorted(TO_AND_FRO):
        rows = bench.of(kind)
        bad = tuple(r.seq for r in rows if below_zero(r))
        if not bad:
            continue
        label = KINDS[kind].label.lower()
        if len(bad) == len(rows):
            seen = f"Every {label} comes out below zero: the dial counts the other way."
            do = "Enter the series again with plus and minus changed over."
        else:
            seen = f"{rows_words(bad)} of the {label} {_has(bad)} plus and minus changed over."
            do = "Look at that row on the paper: which push gave which reading? Replace it."
        why = "The plus push must read above the minus push; a play is never below zero."
        doubts.append(Doubt("ask", "E-4", seen, why, do, bad))
    return tuple(doubts)


def wrong_surface(bench: Bench) -> tuple[Doubt, ...]:
    """E-6: the indicator stood on the lever, or on a surface that moves by itself."""
    lever = [r for r in rocks(bench) if r.said("surface") == "lever tip"]
    chuck = [r for r in rocks(bench) if r.said("surface") == "chuck body"]
    coupling = [r for r in rocks(bench) if r.said("surface") == "coupling"]
    wall = [r for r in rocks(bench) if r.said("surface") == "T-slot wall"]
    refused = one_doubt(
        "refuse",
        "E-6",
        lever,
        "on the tip of the lever",
        why="The bend of the lever is in the reading; it is no rock of the table.",
        do="Put the indicator on a pin in the table and read again.",
    ) + one_doubt(
        "refuse",
        "E-6",
        coupling,
        "on the coupling",
        why="The coupling shows the drive, divided by nothing; it is no rock of the table.",
        do="Put the indicator on a pin in the table and read again.",
    )
    rough = one_doubt(
        "warn",
        "E-6",
        wall,
        "on the wall of a T-slot",
        why="The wall is neither flat nor square to the radius; the touch point wanders.",
        do="Read on a pin in the T-slot, at a measured radius.",
    )
    return (
        refused
        + rough
        + one_doubt(
            "warn",
            "E-6",
            chuck,
            "on the chuck body",
            why="Movement of the chuck on its plate is in the reading.",
            do="Read on a pin in a T-slot of the table.",
        )
    )


def unknown_radius(bench: Bench) -> tuple[Doubt, ...]:
    """E-7: no radius, or one so rough that it carries into every figure."""
    unknown = [r for r in rocks(bench) if not r.number("pin_radius")]
    unknown += [r for r in bench.of("wheel_joint_play") if not r.number("radius")]
    refused = one_doubt(
        "refuse",
        "E-7",
        unknown,
        "without the radius it was read at",
        why="Without the radius a movement is no angle.",
        do="Measure from the table axis to the pin and replace the row.",
    )
    guessed = [
        (r, u / radius)
        for r in rocks(bench)
        if (radius := r.number("pin_radius")) and (u := r.number("pin_radius_u")) is not None
        if u / radius > 0.02
    ]
    unsaid = [
        r for r in rocks(bench) if r.number("pin_radius") and r.number("pin_radius_u") is None
    ]
    if guessed:
        share = max(share for _, share in guessed)
        refused += one_doubt(
            "warn",
            "E-7",
            [r for r, _ in guessed],
            f"at a radius known to ±{share:.1%} only",
            why=f"Every rock is wrong by the same {share:.1%}, and no repeat shows it.",
            do="Measure the radius: caliper to the pin from both sides of a centre plug, halved.",
        )
    return refused + one_doubt(
        "ask",
        "E-7",
        unsaid,
        "with no doubt stated for the radius",
        why=_one_mm_off(unsaid, bench),
        do="Say how well the radius is known (pin_radius_u).",
    )


def _one_mm_off(found: list[Reading], bench: Bench) -> str:
    share = max((1 / (r.number("pin_radius") or math.inf) for r in found), default=0.0)
    step = shown(1.0, "length", resolution=0.1, units=bench.job.units)
    return f"{step} off in the radius is {share:.1%} of the rock."


def tilted_stylus(bench: Bench) -> tuple[Doubt, ...]:
    """E-8: an indicator whose stylus stands off square reads too much."""
    tilted = [r for r in bench.readings if r.value is not None and r.number("stylus")]
    steep = [r for r in tilted if _tilt(r) > LARGEST_TILT]
    some = [r for r in tilted if NEGLIGIBLE_TILT < _tilt(r) <= LARGEST_TILT]
    corrected = [r for r in some if STYLUS_CORRECTED in r.flags]
    plain = [r for r in some if r not in corrected]
    too_much = max((1 / math.cos(_tilt(r)) - 1 for r in some), default=0.0)
    dial = f"The dial shows up to {too_much:.0%} too much"
    return (
        *one_doubt(
            "refuse",
            "E-8",
            steep,
            "with the stylus more than 30° off",
            why="The reading is more than 15% too large and the angle is not known well enough.",
            do="Set the stylus square to the movement and read again.",
        ),
        *one_doubt(
            "warn",
            "E-8",
            corrected,
            "with the stylus 15° to 30° off",
            why=f"{dial}: the value counts as the reading times the cosine of the tilt.",
            do="Nothing, if the tilt is right; set the stylus square next time.",
        ),
        *one_doubt(
            "warn",
            "E-8",
            plain,
            "with the stylus 15° to 30° off",
            why=f"{dial}.",
            do="Multiply by the cosine of the tilt, or set the stylus square and read again.",
        ),
    )


def _tilt(reading: Reading) -> float:
    return reading.number("stylus") or 0.0


def unlike_torque(bench: Bench) -> tuple[Doubt, ...]:
    """E-9: a torque not stated, or unlike the rest without a second reading at that place."""
    unsaid = [r for r in rocks(bench) if not r.number("torque")]
    doubts = one_doubt(
        "ask",
        "E-9",
        unsaid,
        "without the torque",
        why="Table and worm spring: at another torque the same table rocks by another amount.",
        do="State the torque (lever length times force) and replace the row.",
    )
    for kind in ROCKS:
        rows = [(r, torque) for r in bench.of(kind) if (torque := r.number("torque"))]
        if not rows:
            continue
        main = statistics.mode(round(math.log(abs(t)), 1) for _, t in rows)
        usual = [r for r, t in rows if abs(math.log(abs(t)) - main) <= math.log(1.2)]
        known = {r.seq for r in usual}
        odd = [r for r, _ in rows if r.seq not in known and not _paired(r, usual)]
        doubts += one_doubt(
            "warn",
            "E-9",
            odd,
            "at a torque more than 20% off the rest of the series",
            why="Its windup is another one: it cannot be set beside the others as it is.",
            do="Read the whole map at one torque; take a second torque at a place already read.",
        )
    return doubts


def _paired(reading: Reading, usual: list[Reading]) -> bool:
    """True when the main torque was read at the same place, so that the two make a pair."""
    phi = reading.table_angle
    return phi is not None and any(
        r.table_angle is not None and same_angle(phi, r.table_angle, within=NEAR) for r in usual
    )


def one_torque(bench: Bench) -> tuple[Doubt, ...]:
    """E-10: only one torque level, so windup cannot be told from play."""
    levels = [abs(t) for r in rocks(bench) if (t := r.number("torque"))]
    if not levels or max(levels) > 1.5 * min(levels):
        return ()
    return (
        Doubt(
            "warn",
            "E-10",
            "All rocks were taken at one torque.",
            "Table and worm spring a little; at one torque that counts as play.",
            "At one or two places rock again with a third of the torque.",
        ),
    )


def powered_motor(bench: Bench) -> tuple[Doubt, ...]:
    """E-42: the worm was held by the field of the motor, which springs."""
    loaded = (*rocks(bench), *bench.of("rock_loop"))
    held = [r for r in loaded if r.said("worm_held") == "powered motor"]
    teeth, hold = bench.figure("teeth"), bench.job.motor.torque_hold_nmm
    starts = bench.figure("starts")
    why = "The field of a motor gives like a spring: that counts as play."
    if teeth and hold and held:
        ratio = teeth.value / (starts.value if starts else 1.0)
        torque = max(abs(r.number("torque") or 0.0) for r in held)
        spring = 2 * torque / (50 * hold * ratio**2)
        why += f" Here about {shown(spring, 'angle', resolution=spring / 10)} at most."
    return one_doubt(
        "warn",
        "E-42",
        held,
        "with the worm held by the powered motor only",
        why=why,
        do="Hold the worm at the worm itself and rock again; the difference is the drive.",
    )


def lock_on(bench: Bench) -> tuple[Doubt, ...]:
    """E-43: the table lock was on, or nobody wrote whether it was."""
    locked = [r for r in _with_lock(bench) if r.said("lock") == "on"]
    unsaid = [r for r in rocks(bench) if r.said("lock") is None]
    return one_doubt(
        "refuse",
        "E-43",
        locked,
        "with the table lock on",
        why="The lock holds the table: it hides play and makes drag.",
        do="Take the lock off and read again.",
    ) + one_doubt(
        "warn",
        "E-43",
        unsaid,
        "without a word about the table lock",
        why="A lock that drags hides play.",
        do="Say whether the lock was off (lock).",
    )


def _with_lock(bench: Bench) -> Iterable[Reading]:
    kinds = [k for k, kind in KINDS.items() if any(c.key == "lock" for c in kind.conditions)]
    return (r for kind in kinds for r in bench.of(kind))


def _has(seqs: tuple[int, ...]) -> str:
    return "has" if len(seqs) == 1 else "have"


Trap = Callable[[Bench], tuple[Doubt, ...]]

ROCK_TRAPS: tuple[Trap, ...] = (
    reversed_pair,
    wrong_surface,
    unknown_radius,
    tilted_stylus,
    unlike_torque,
    one_torque,
    powered_motor,
    lock_on,
)
"""Traps in how a rock was taken."""
