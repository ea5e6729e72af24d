"""Baseline sheet, row 1: the shims in place, where they act, and the outline of new ones."""

from __future__ import annotations

from wormwright.job.kind import Condition, ReadingKind

SHIM_ARRANGEMENTS = (
    "cover on outer ring",
    "nut with inner spacer",
    "retainer on shim",
    "ring behind outer ring",
)
BLOCK_WAYS = ("thicker opens", "thicker closes", "no packing, it slides")
_EYE = "eye"
_CALIPER = "caliper, 0.02 mm / 0.001 in"


def _outline(
    key: str, label: str, do: str, set_up: str, *, usual: tuple[float, float], cannot: str
) -> ReadingKind:
    """One diameter of a shim ring."""
    return ReadingKind(
        key=key,
        row=1,
        label=label,
        dimension="length",
        do=do,
        set_up=set_up,
        instrument=_CALIPER,
        noise=0.03,
        low=5.0,
        high=500.0,
        usual_low=usual[0],
        usual_high=usual[1],
        tells="One diameter of the ring to make, so that there is a drawing of it.",
        cannot_tell=cannot,
        sensitivity="size only",
        minutes=2,
    )


def _screws(key: str, label: str, set_up: str) -> ReadingKind:
    """The screws that a shim ring has to let through."""
    return ReadingKind(
        key=key,
        row=1,
        label=label,
        dimension="count",
        do="Count the screws that pass through the ring, and write the circle their centres lie on "
        "and the hole that lets one through. Write 0 if they all pass inside or outside of it.",
        set_up=set_up,
        instrument="counting and caliper, 0.02 mm / 0.001 in",
        noise=None,
        low=0,
        high=24,
        usual_low=0,
        usual_high=12,
        tells="Where the holes of the ring to make lie, when the screws are evenly spaced.",
        cannot_tell="Uneven spacing: spot such holes through from the part above the ring.",
        sensitivity="size only",
        minutes=2,
        conditions=(
            Condition("circle", "circle of the screw centres", "length", low=5.0, high=500.0),
            Condition("hole", "clearance hole for one screw", "length", low=1.0, high=30.0),
        ),
    )


SHIMS = (
    ReadingKind(
        key="table_shim_arrangement",
        row=1,
        label="Table: where a shim acts",
        dimension="none",
        do="Find the part that sets the axial play of the table and pick the picture that fits.",
        set_up="Retainer off, or from the parts sheet.",
        instrument=_EYE,
        noise=None,
        low=None,
        high=None,
        usual_low=None,
        usual_high=None,
        tells="Whether a thicker shim tightens or loosens.",
        cannot_tell="How thick.",
        sensitivity="sign of shim thickness against axial play",
        minutes=5,
        choices=SHIM_ARRANGEMENTS,
    ),
    ReadingKind(
        key="worm_shim_arrangement",
        row=1,
        label="Worm: where a shim acts",
        dimension="none",
        do="Find the part that sets the end play of the worm and pick the picture that fits.",
        set_up="End cover off.",
        instrument=_EYE,
        noise=None,
        low=None,
        high=None,
        usual_low=None,
        usual_high=None,
        tells="Whether a thicker shim tightens or loosens.",
        cannot_tell="How thick.",
        sensitivity="sign of shim thickness against worm end play",
        minutes=5,
        choices=SHIM_ARRANGEMENTS,
    ),
    ReadingKind(
        key="table_shim",
        row=1,
        label="Table shim in place",
        dimension="length",
        do="Measure the shim (or spacer) that is in now; write 0 if there is none.",
        set_up="Micrometer, three places; stone the burrs off first.",
        instrument="micrometer, 0.01 mm / 0.0005 in",
        noise=0.003,
        low=0.0,
        high=30.0,
        usual_low=0.0,
        usual_high=3.0,
        tells="The thickness the new one starts from.",
        cannot_tell="Flatness.",
        sensitivity="new thickness = old ± (gap + wanted deflection)",
        minutes=3,
    ),
    ReadingKind(
        key="worm_shim",
        row=1,
        label="Worm shim in place",
        dimension="length",
        do="Measure the shim (or spacer) that is in now; write 0 if there is none.",
        set_up="Micrometer, three places; stone the burrs off first.",
        instrument="micrometer, 0.01 mm / 0.0005 in",
        noise=0.003,
        low=0.0,
        high=120.0,
        usual_low=0.0,
        usual_high=3.0,
        tells="The thickness the new one starts from.",
        cannot_tell="Flatness.",
        sensitivity="new thickness = old ± (gap + wanted deflection)",
        minutes=3,
    ),
    _outline(
        "table_shim_inside",
        "Table shim, inside diameter",
        "Measure the hole of the shim (or spacer) that is in now. If there is none, measure the "
        "spigot or the circle of screws that a ring there has to clear, and add 0.5 mm (0.02 in).",
        "Shim out, burrs off, two directions.",
        usual=(25.0, 150.0),
        cannot="Where screws pass through it: that is a reading of its own.",
    ),
    _outline(
        "table_shim_outside",
        "Table shim, outside diameter",
        "Measure over the shim (or spacer) that is in now. If there is none, measure the smaller "
        "of the two faces that the ring would lie between.",
        "Shim out, burrs off, two directions.",
        usual=(40.0, 220.0),
        cannot="Whether the faces are square to the axis.",
    ),
    _screws(
        "table_shim_screws",
        "Table shim, screws through it",
        "Shim out, or the retainer that lies on it.",
    ),
    _outline(
        "worm_shim_inside",
        "Worm shim, inside diameter",
        "Measure the hole of the shim (or spacer) that is in now. If there is none: under a cover, "
        "the spigot and 0.5 mm (0.02 in); between inner rings, the shaft and 0.1 mm (0.004 in); "
        "behind an outer ring, the least that clears cage and shield.",
        "End cover off, shim out, burrs off, two directions.",
        usual=(8.0, 70.0),
        cannot="Where screws pass through it: that is a reading of its own.",
    ),
    _outline(
        "worm_shim_outside",
        "Worm shim, outside diameter",
        "Measure over the shim (or spacer) that is in now. If there is none: under a cover, the "
        "cover's flange; between inner rings, the shoulder of the inner ring; behind an outer "
        "ring, the housing bore less 0.2 mm (0.008 in).",
        "End cover off, shim out, burrs off, two directions.",
        usual=(12.0, 110.0),
        cannot="Whether the faces are square to the axis.",
    ),
    _screws("worm_shim_screws", "Worm shim, screws through it", "End cover off."),
    _outline(
        "wheel_shim_inside",
        "Ring under the wheel, inside diameter",
        "Measure the hub, spigot or register of the wheel that a ring between the wheel and the "
        "face it stands on has to pass over, and add 0.2 mm (0.008 in); or the hole of the shim "
        "that is there.",
        "Wheel off, seat cleaned.",
        usual=(20.0, 120.0),
        cannot="Where screws pass through it: that is a reading of its own.",
    ),
    _outline(
        "wheel_shim_outside",
        "Ring under the wheel, outside diameter",
        "Measure the smaller of the two faces that the ring would lie between, or over the shim "
        "that is there. It must stay inside the roots of the teeth.",
        "Wheel off, seat cleaned.",
        usual=(30.0, 180.0),
        cannot="Whether the wheel, so shifted, clears the housing.",
    ),
    _screws("wheel_shim_screws", "Ring under the wheel, screws through it", "Wheel off."),
    ReadingKind(
        key="block_shim_way",
        row=1,
        label="Worm block: what packing under it does",
        dimension="none",
        do="Look which two faces the packing keeps apart: does more of it push the worm away from "
        "the wheel or toward it? A block that only slides in slots has none.",
        set_up="From outside, or block off.",
        instrument=_EYE,
        noise=None,
        low=None,
        high=None,
        usual_low=None,
        usual_high=None,
        tells="Whether thicker packing opens or closes the mesh.",
        cannot_tell="How thick.",
        sensitivity="sign of packing thickness against centre distance",
        minutes=3,
        choices=BLOCK_WAYS,
    ),
    ReadingKind(
        key="block_shim",
        row=1,
        label="Worm block: packing in place",
        dimension="length",
        do="Measure one piece of the packing that is in now; write 0 if there is none.",
        set_up="Micrometer, three places; stone the burrs off first.",
        instrument="micrometer, 0.01 mm / 0.0005 in",
        noise=0.003,
        low=0.0,
        high=30.0,
        usual_low=0.0,
        usual_high=3.0,
        tells="The thickness the new pieces start from.",
        cannot_tell="Flatness.",
        sensitivity="new thickness = old ± closing",
        minutes=4,
        conditions=(
            Condition("pieces", "pieces, each under its own feet", "count", low=1, high=4),
        ),
    ),
    _outline(
        "block_shim_length",
        "Worm block: length of one piece of packing",
        "Measure one piece, or the foot of the block that it would lie under.",
        "Block off, burrs off.",
        usual=(20.0, 150.0),
        cannot="Where the bolts pass: that is a reading of its own.",
    ),
    _outline(
        "block_shim_width",
        "Worm block: width of one piece of packing",
        "Measure one piece across, or the foot of the block that it would lie under.",
        "Block off, burrs off.",
        usual=(10.0, 100.0),
        cannot="Whether the faces are flat.",
    ),
    ReadingKind(
        key="block_shim_bolts",
        row=1,
        label="Worm block: bolts through one piece of packing",
        dimension="count",
        do="Count the bolts that pass through one piece: 1, 2 in a row or 4 at the corners, in the "
        "middle of the piece. Write their spacing along and across, and the hole.",
        set_up="Block off.",
        instrument="counting and caliper, 0.02 mm / 0.001 in",
        noise=None,
        low=1,
        high=4,
        usual_low=1,
        usual_high=4,
        tells="Where the holes of the packing lie.",
        cannot_tell="A pattern off the middle: spot such holes through from the block.",
        sensitivity="size only",
        minutes=3,
        conditions=(
            Condition("along", "spacing of the holes along", "length", low=1.0, high=500.0),
            Condition("across", "spacing of the holes across", "length", low=1.0, high=300.0),
            Condition("hole", "clearance hole for one bolt", "length", low=1.0, high=30.0),
        ),
    ),
)
