"""Gates of the operations: what must lie within which limits, how it is read, what if not."""

from __future__ import annotations

from collections.abc import Callable

from wormwright.job.operation import Gate
from wormwright.traveler.gates_depth import (
    axial_centring,
    drag,
    end_play_reread,
    final_depth,
    provisional,
)
from wormwright.traveler.gates_drive import motor_fitted, settings
from wormwright.traveler.gates_made import EXTRA, tick
from wormwright.traveler.gates_mount import chuck_dial, mount_base, tail_set
from wormwright.traveler.limits import (
    COUPLING_OFFSET,
    DRAG_RATIO,
    HALF_THOU,
    ONE_TENTH,
    Limits,
)

WORM_BEND = 0.010
"""Swing of a worm that is straight enough after its outside was turned, mm (common practice)."""


def gates_of(key: str, lim: Limits) -> tuple[Gate, ...]:
    """Gates of one operation; none for an operation that is only done."""
    build = _BUILD.get(key) or EXTRA.get(key)
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
        Gate(
            "worm_bend",
            "Swing in the middle of the thread, between centres",
            "length",
            None,
            WORM_BEND,
            "Indicator on a ground place or over a wire in the thread, one turn.",
            "Straighten it cold under a press, support at the ends, and read again.",
        ),
        tick(
            "edges_broken",
            "New edges of the thread broken, flanks untouched",
            "By the fingernail and a glass, both sides of the thread.",
            "Stone the edge; a razor edge scrapes bronze.",
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
        back_to="final_depth",
    )
    return (rock, *drag(lim, "warm"))


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
            back_to="final_depth",
        ),
        *drag(lim, ""),
    )


def _proof_axis(lim: Limits) -> tuple[Gate, ...]:
    return (
        Gate(
            "error_part",
            "Error at the part",
            "length",
            None,
            lim.error,
            "The figure of `wormwright prove` at the radius of the duty.",
            "The biggest part of its budget is the next correction: take it, and prove again.",
        ),
        Gate(
            "first_again",
            "First target, last reading less first",
            "angle",
            None,
            lim.drift,
            "As the first reading of the test, from the same side.",
            "It moved during the test: warm it up longer or look for what is loose, test again.",
        ),
        tick(
            "verdict_met",
            "Every demand of the duty met",
            "The verdict of `wormwright prove`.",
            "Cannot be told: read what the verdict names. Not met: the biggest part comes next.",
        ),
    )


def _recheck(lim: Limits) -> tuple[Gate, ...]:  # noqa: ARG001  (the answer holds the limits)
    return (
        tick(
            "still_good",
            "Still good",
            "The answer of `wormwright keep`.",
            "Adjust by what the answer names, prove the rock again, then check again.",
        ),
    )


_BUILD: dict[str, Callable[[Limits], tuple[Gate, ...]]] = {
    "table_bearing": _table_bearing,
    "wheel_joint": _wheel_joint,
    "worm_journals": _worm_journals,
    "worm_relief": _worm_relief,
    "worm_end_play": _worm_end_play,
    "bushings_in": provisional,
    "setting_move": provisional,
    "centre_shim": provisional,
    "end_play_reread": end_play_reread,
    "axial_centring": axial_centring,
    "final_depth": final_depth,
    "coupling": _coupling,
    "warm_recheck": _warm_recheck,
    "proof_rock": _proof_rock,
    "mount_base": mount_base,
    "chuck_dial": chuck_dial,
    "tail_set": tail_set,
    "proof_axis": _proof_axis,
    "recheck": _recheck,
    "motor_fitted": motor_fitted,
    "settings": settings,
}
