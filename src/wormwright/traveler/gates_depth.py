"""Gates of the depth of the mesh: provisional, centred, final; drag; room at the crest."""

from __future__ import annotations

from wormwright.job.operation import Gate
from wormwright.traveler.gates_made import CLEAN, tick
from wormwright.traveler.limits import DRAG_RATIO, NEAR_TIGHT, Limits, down, up

DEPTH_MOVE = "depth move"
"""Stands for whichever operation of the plan moves the worm; the plan puts its key in."""


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


def provisional(lim: Limits) -> tuple[Gate, ...]:
    """A step short of the planned closing, both ends alike."""
    return (CLEAN, *_ends(lim, 0.0, down(lim.closing.value) if lim.closing else None))


def end_play_reread(lim: Limits) -> tuple[Gate, ...]:
    """End play with the worm in its new place."""
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
            back_to="worm_end_play",
        ),
    )


def axial_centring(lim: Limits) -> tuple[Gate, ...]:
    """Where the blue stands on the face of the wheel."""
    share = Gate(
        "patch_share",
        "Blue patch, share of the face (0 to 1)",
        "ratio",
        0.5,
        1.0,
        "The smaller of the two flanks, at three places of the wheel.",
        "Move the wheel toward the marked edge's far side and blue again.",
    )
    alike = tick(
        "patch_alike",
        "Both flanks marked alike, not at opposite edges",
        "Hold the two flanks against the light; three places of the wheel.",
        "Opposite edges: the worm stands askew, no shift of the wheel cures it. Match the ends.",
        back_to=DEPTH_MOVE,
    )
    if lim.sideways is None:
        return (share, alike)
    off = Gate(
        "patch_off_middle",
        "Worm off the throat middle, sideways",
        "length",
        -lim.sideways,
        lim.sideways,
        "From the two patches, or by the shim that makes them alike.",
        "Shim the wheel by this much and blue again before going deeper.",
    )
    return (share, alike, off)


def final_depth(lim: Limits) -> tuple[Gate, ...]:
    """Depth at the tight spot, locked: play, ends, drag and room."""
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
        back_to="worm_end_play",
    )
    locking = Gate(
        "lock_shift",
        "Worm moved while it was locked, the larger of both ends",
        "length",
        None,
        lim.lock_shift,
        "The two indicators on the worm shaft, before the first screw and after the last.",
        "The lock moves the depth: push along the closing line while it is tightened, tighten by "
        "halves, or split the clamp; then set the depth again.",
    )
    return (
        *_rock_locked(lim),
        *((*ends, locking) if lim.sets_depth else ()),
        end_play,
        *drag(lim, ""),
        *_turned(lim),
        *_room(lim),
    )


def _room(lim: Limits) -> tuple[Gate, ...]:
    """A crest on the wheel root feels like a mesh without play, and rocks under load."""
    opened = "The worm is bottomed or nearly: open a step, and turn the crest down before closing."
    return (
        Gate(
            "tip_left",
            "Room left between worm crest and wheel root",
            "length",
            lim.tip,
            None,
            "Feeler or squeezed strip in the middle of the face, at the tight spot.",
            opened,
        ),
        tick(
            "crest_dull",
            "Worm crest not rubbed bright",
            "Look along the thread with a lamp after a full table turn.",
            opened,
        ),
    )


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
            back_to="axial_centring",
        ),
    )


def drag(lim: Limits, when: str) -> tuple[Gate, ...]:
    """Drag of a turn in mesh: even, and within what duty and motor allow."""
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
            back_to="final_depth" if when else "",
        ),
        Gate(
            f"drag_peak{key}",
            f"Highest drag in mesh{tail}",
            "torque",
            None,
            lim.drag,
            "The same turn.",
            "Harder to turn than the duty or the motor allows: open a step, ease preload.",
            back_to="final_depth" if when else "",
        ),
    )
