"""Gates of the operations: what must lie within which limits, how it is read, what if not."""

from __future__ import annotations

from collections.abc import Callable

from wormwright.job.operation import Gate
from wormwright.traveler.limits import (
    COUPLING_OFFSET,
    DRAG_RATIO,
    HALF_THOU,
    NEAR_TIGHT,
    ONE_TENTH,
    Limits,
    down,
    up,
)


def gates_of(key: str, lim: Limits) -> tuple[Gate, ...]:
    """Gates of one operation; none for an operation that is only done."""
    build = _BUILD.get(key)
    return build(lim) if build else ()


def _table_bearing(lim: Limits) -> tuple[Gate, ...]:
    tighter = "Thinner or thicker by what is left, as the shim arrangement says; sign this again."
    return (
        Gate(
            "table_axial_play",
            "Table axial play",
            "length",
            None,
            lim.table_play[0],
            "Push down and lift at the rim, indicator opposite; the larger of four places.",
            tighter,
        ),
        Gate(
            "table_radial_play",
            "Table radial play",
            "length",
            None,
            lim.table_play[1],
            "Push across, indicator opposite.",
            tighter,
        ),
        Gate(
            "table_drag_ratio",
            "Table drag, highest / median of a turn",
            "ratio",
            None,
            DRAG_RATIO,
            "Pull at a known radius every 30°, worm out.",
            "Retainer pulled down unevenly or a burr under it: loosen, stone, tighten in a star.",
        ),
    )


def _wheel_joint(_: Limits) -> tuple[Gate, ...]:
    return (
        Gate(
            "wheel_joint_play",
            "Movement between wheel and table",
            "length",
            None,
            ONE_TENTH,
            "Indicator on the wheel near its teeth, base on the table, twist both ways.",
            "Do not close the mesh on it: pin or bond the joint, then sign this again.",
        ),
    )


def _worm_journals(_: Limits) -> tuple[Gate, ...]:
    return tuple(
        Gate(
            f"worm_float_{end.lower()}",
            f"Worm float at end {end}",
            "length",
            None,
            HALF_THOU,
            "Pry gently toward the wheel, indicator beside the bearing.",
            "Change bearing or bush at that end, or bring its seat back to size.",
        )
        for end in ("A", "B")
    )


def _worm_relief(lim: Limits) -> tuple[Gate, ...]:
    if lim.relief is None:
        return ()
    low, high = lim.relief
    return (
        Gate(
            "worm_od",
            "Worm outside diameter",
            "length",
            low,
            high,
            "Micrometer over the crests, three places.",
            "Too large: take the rest off. Too small: ask for the plan again with this size.",
        ),
    )


def _worm_end_play(lim: Limits) -> tuple[Gate, ...]:
    return (
        Gate(
            "worm_end_play",
            "Worm end play",
            "length",
            None,
            lim.end_play,
            "Indicator on a ball in the centre hole, base on the housing; push and pull.",
            "Correct the shim by what is left and sign this again; the mesh waits.",
        ),
        Gate(
            "drag_rise",
            "Worm drag out of mesh, after / before the shim",
            "ratio",
            None,
            DRAG_RATIO,
            "Cord on a drum, after several turns both ways.",
            "Too much preload: ease the shim by a few hundredths of its gap, sign this again.",
        ),
    )


def _ends(lim: Limits, low: float | None, high: float | None) -> tuple[Gate, ...]:
    closing = tuple(
        Gate(
            f"closing_{end.lower()}",
            f"Closing at end {end}",
            "length",
            low,
            high,
            "Indicator on the worm shaft beside the bearing, zero at the factory line; toward "
            "the wheel counts plus.",
            "Turn or move both ends alike until it is inside; if it will not go, something "
            "touches: look at the crests.",
        )
        for end in ("A", "B")
    )
    apart = Gate(
        "ends_apart",
        "Ends A and B apart",
        "length",
        None,
        lim.ends_apart,
        "Difference of the two closings.",
        "The worm stands askew or one bushing is mirrored: match by indicator.",
    )
    return (*closing, apart)


def _provisional(lim: Limits) -> tuple[Gate, ...]:
    return _ends(lim, 0.0, down(lim.closing.value) if lim.closing else None)


def _end_play_reread(lim: Limits) -> tuple[Gate, ...]:
    return (
        Gate(
            "worm_end_play",
            "Worm end play",
            "length",
            None,
            lim.end_play,
            "Push and pull, then rocking the table; the larger.",
            "Back to operation 6 with a shim for this reading; closing the mesh now would hide "
            "the end play.",
        ),
    )


def _axial_centring(lim: Limits) -> tuple[Gate, ...]:
    share = Gate(
        "patch_share",
        "Blue patch, share of the face (0 to 1)",
        "ratio",
        0.5,
        1.0,
        "The smaller of the two flanks, at three places of the wheel.",
        "Move the wheel toward the marked edge's far side and blue again.",
    )
    if lim.sideways is None:
        return (share,)
    off = Gate(
        "patch_off_middle",
        "Worm off the throat middle, sideways",
        "length",
        -lim.sideways,
        lim.sideways,
        "From the two patches, or by the shim that makes them alike.",
        "Shim the wheel by this much and blue again before going deeper.",
    )
    return (share, off)


def _final_depth(lim: Limits) -> tuple[Gate, ...]:
    low, high = (lim.closing.low, lim.closing.high) if lim.closing else (None, None)
    ends = _ends(lim, up(low) if low and low > 0 else 0.0, down(high) if high else None)
    end_play = Gate(
        "worm_end_play",
        "Worm end play, locked",
        "length",
        None,
        lim.end_play,
        "Push and pull once more.",
        "Back to operations 6 and 7b.",
    )
    return (*_rock_locked(lim), *ends, end_play, *_drag(lim, ""), *_turned(lim))


def _rock_locked(lim: Limits) -> tuple[Gate, ...]:
    return (
        Gate(
            "from_tight_spot",
            "Table angle from the tight spot",
            "angle",
            -NEAR_TIGHT,
            NEAR_TIGHT,
            "Degree scale against the chalk mark.",
            "Turn to the tight spot: set at a loose place the mesh jams there.",
        ),
        Gate(
            "rock_locked",
            "Rock at the tight spot, locked",
            "angle",
            lim.play_min,
            lim.tight_high,
            "Mean of two opposite pins, worm held at the worm; arcmin = 3438 × movement / radius.",
            "Less: open a step. More: close a step. Lock and read again.",
        ),
        Gate(
            "rock_at_zero",
            "The same, drawn to zero torque",
            "angle",
            lim.play_min,
            None,
            "Straight line through the rocks at two torques.",
            "The flanks are shut or the worm is bottomed: open a step and find what touches.",
        ),
    )


def _turned(lim: Limits) -> tuple[Gate, ...]:
    if lim.turn is None:
        return ()
    return (
        Gate(
            "turned",
            "Bushings turned since 7a",
            "angle",
            -lim.turn,
            lim.turn,
            "Degree marks on the flange.",
            "Turned further than the sideways tolerance: repeat 7c, then this.",
        ),
    )


def _drag(lim: Limits, when: str) -> tuple[Gate, ...]:
    tail = f", {when}" if when else ""
    key = f"_{when}" if when else ""
    return (
        Gate(
            f"drag_ratio{key}",
            f"Drag in mesh{tail}, highest / median of a turn",
            "ratio",
            None,
            DRAG_RATIO,
            "Cord on a drum at the worm, every 30° of the table.",
            "It jams at one place: open a step there, or true the wheel (operation 3).",
        ),
        Gate(
            f"drag_peak{key}",
            f"Highest drag in mesh{tail}",
            "torque",
            None,
            lim.drag,
            "The same turn.",
            "Harder to turn than the duty allows: open a step, ease preload.",
        ),
    )


def _coupling(lim: Limits) -> tuple[Gate, ...]:
    offset = Gate(
        "coupling_offset",
        "Coupling offset (half the needle swing)",
        "length",
        None,
        COUPLING_OFFSET,
        "Indicator carried round by the worm on the motor hub.",
        "Shim or shift the motor; an offset coupling loads the worm once a turn.",
    )
    if lim.drive is None:
        return (offset,)
    play = Gate(
        "drive_play",
        "Play between motor shaft and worm",
        "angle",
        None,
        lim.drive,
        "Hold the worm, twist the motor shaft both ways.",
        "Grub screw not on its flat, key or coupling insert worn: mend and sign again.",
    )
    return (offset, play)


def _warm_recheck(lim: Limits) -> tuple[Gate, ...]:
    rock = Gate(
        "rock_warm",
        "Rock at the tight spot, warm",
        "angle",
        lim.seen,
        lim.allowed,
        "As in operation 8, straight from the run.",
        "Shut when warm: open a step at operation 8; loose: look for what moved.",
    )
    return (rock, *_drag(lim, "warm"))


def _proof_rock(lim: Limits) -> tuple[Gate, ...]:
    return (
        Gate(
            "rock_loosest",
            "Rock at the loosest place",
            "angle",
            None,
            lim.allowed,
            "Same pin, lever, torque and positions as in the baseline.",
            "Diagnose again with the new readings: the largest cause is the next correction.",
        ),
        Gate(
            "rock_tightest",
            "Rock at the tightest place",
            "angle",
            lim.play_min,
            None,
            "The smallest of the same round.",
            "Open a step at operation 8 and prove again.",
        ),
        *_drag(lim, ""),
    )


_BUILD: dict[str, Callable[[Limits], tuple[Gate, ...]]] = {
    "table_bearing": _table_bearing,
    "wheel_joint": _wheel_joint,
    "worm_journals": _worm_journals,
    "worm_relief": _worm_relief,
    "worm_end_play": _worm_end_play,
    "bushings_in": _provisional,
    "setting_move": _provisional,
    "end_play_reread": _end_play_reread,
    "axial_centring": _axial_centring,
    "final_depth": _final_depth,
    "coupling": _coupling,
    "warm_recheck": _warm_recheck,
    "proof_rock": _proof_rock,
}
