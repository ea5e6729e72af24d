"""What is made for mounting, and the set-up on the machine as it is drawn. Lengths mm."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.core.envelope import Block, Sweep, Turning
from wormwright.job.limits import Limits

Place = tuple[float, float]


@dataclass(frozen=True, slots=True)
class MountPlate:
    """A base plate or riser block, drawn from above, the chuck end to the right.

    Places are (along the axis, across it) from the corner 0, 0 at the rear right. The feet are
    screwed into holes tapped `foot_thread`; hold-down bolts pass `bolt_hole`, drawn out along the
    slots of the table by `bolt_stroke`, heads sunk `head_depth` in `bolt_head` (0: not sunk).
    `key_slot` is (width, depth, distance of its middle across) of the groove in the foot.
    """

    name: str
    purpose: str
    length: float
    width: float
    thickness: Limits
    foot_holes: tuple[Place, ...]
    foot_thread: str
    foot_drill: float
    bolt_holes: tuple[Place, ...]
    bolt_hole: float
    bolt_stroke: float
    bolt_head: float
    head_depth: float
    flat: float
    parallel: float
    bolts: str
    material: str
    key_slot: tuple[float, float, float] | None = None
    quantity: int = 1


@dataclass(frozen=True, slots=True)
class Meeting:
    """Two bodies of the set-up with too little room: `room` below zero when they meet."""

    first: str
    second: str
    room: float
    wanted: float
    state: str


@dataclass(frozen=True, slots=True)
class SetUp:
    """Unit, work, tail and tool on the machine, for the side and the end view to scale."""

    name: str
    axis: float
    blocks: tuple[Block, ...]
    turning: tuple[Turning, ...]
    sweeps: tuple[Sweep, ...]
    meetings: tuple[Meeting, ...]
    riser: float
    table_length: float | None = None
