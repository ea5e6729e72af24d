"""Gates of mounting: lean over the work, feet, keys, chuck, tail."""

from __future__ import annotations

from wormwright.job.operation import Gate
from wormwright.traveler.gates_made import tick
from wormwright.traveler.limits import HALF_THOU, Limits


def mount_base(lim: Limits) -> tuple[Gate, ...]:
    """The axis against the travel, the feet, the keys."""
    again = "Pack or move it by what is left, as `wormwright mount` says; clamp and read again."
    leans = tuple(
        Gate(
            f"lean_{key}",
            f"Lean of the axis, {words}, over {lim.lean_span}",
            "length",
            -lim.lean,
            lim.lean,
            f"Bar, {side}, at two places, mean of two readings half a turn apart at each.",
            again,
        )
        for key, words, side in (
            ("up", "up or down", "top"),
            ("side", "sideways", "side"),
        )
    )
    return (
        *leans,
        Gate(
            "foot_lift",
            "Largest lift of the unit when one bolt is loosened",
            "length",
            None,
            HALF_THOU,
            "Indicator above each foot in turn, the other bolts tight.",
            "Pack that foot by what it lifts; a strained housing moves the mesh.",
        ),
        tick(
            "keyed",
            "Keys against one wall of the slot, bolts tight, no washers or paper under a foot",
            "By eye, and by pulling at the unit.",
            "Set it down again on clean faces.",
        ),
    )


def chuck_dial(lim: Limits) -> tuple[Gate, ...]:
    """Swing of a bar near and far."""
    again = "Take it off, wipe faces and register, look for a chip; dial it in again."
    return tuple(
        Gate(
            f"bar_swing_{key}",
            f"Swing of the bar {where}",
            "length",
            None,
            share * lim.chuck_swing,
            "Whole swing in one turn, bar gripped as work is.",
            again,
        )
        for key, where, share in (("near", "near the jaws", 1.0), ("far", "100 mm out", 1.5))
    )


def tail_set(lim: Limits) -> tuple[Gate, ...]:
    """Tail against head, up and sideways."""
    return tuple(
        Gate(
            f"tail_{key}",
            f"Tail less head, {words}",
            "length",
            -lim.tail,
            lim.tail,
            how,
            again,
        )
        for key, words, how, again in (
            (
                "high",
                "height",
                "Over bars in both, half a turn apart, from one plate.",
                "Shim it by what is left, or grind what stands too high.",
            ),
            (
                "side",
                "sideways",
                "The same line of the bar from both sides, head and tail.",
                "Set it over by what is left.",
            ),
        )
    )
