"""What meets what on the machine: blocks that stand, bodies that turn, the sweep of the tool.

Frame of a set-up: X along the axis from the front of the chuck seat outward, Y sideways from the
axis, Z up from the machine table; mm. The axis lies at y = 0 and height `axis`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

Span = tuple[float, float]


def _spans(name: str, **spans: Span) -> None:
    for letter, (low, high) in spans.items():
        if not low < high:
            raise ValueError(f"{name}: {letter} runs from {low} to {high}; expected low below high")


@dataclass(frozen=True, slots=True)
class Block:
    """A body that stands: its spans along X, Y and Z, mm."""

    name: str
    x: Span
    y: Span
    z: Span

    def __post_init__(self) -> None:
        """Refuse a block without a size."""
        _spans(self.name, X=self.x, Y=self.y, Z=self.z)


@dataclass(frozen=True, slots=True)
class Turning:
    """A body that turns about the axis: its span along X and its radius, mm."""

    name: str
    x: Span
    radius: float

    def __post_init__(self) -> None:
        """Refuse a body without a size."""
        _spans(self.name, X=self.x)
        if not self.radius > 0:
            raise ValueError(f"{self.name}: radius must be above zero, got {self.radius}")


@dataclass(frozen=True, slots=True)
class Sweep:
    """A round piece of the tool or head: its radius, the places of its middle, its heights, mm.

    `x` and `y` are where its middle goes (equal ends: it stays); `z` where it stands meanwhile.
    """

    name: str
    x: Span
    y: Span
    z: Span
    radius: float

    def __post_init__(self) -> None:
        """Refuse a piece without a size."""
        _spans(self.name, Z=self.z)
        if self.x[0] > self.x[1] or self.y[0] > self.y[1] or not self.radius > 0:
            raise ValueError(f"{self.name}: places {self.x}, {self.y}, radius {self.radius}")


@dataclass(frozen=True, slots=True)
class Room:
    """Room between two bodies, mm: below zero they run into each other.

    `lift` is how far the second, or the tool, must go up to be just clear where it now is.
    """

    first: str
    second: str
    room: float
    lift: float


def _gap(one: Span, other: Span) -> float:
    """Distance of two spans; below zero by as much as they overlap."""
    return max(one[0], other[0]) - min(one[1], other[1])


def _to_rectangle(y: Span, z: Span, *, axis: float) -> tuple[float, float]:
    """How far a rectangle of the section lies from the axis, sideways and up or down."""
    return max(y[0], -y[1], 0.0), max(z[0] - axis, axis - z[1], 0.0)


def _apart(*ways: float) -> float:
    """Distance of two bodies that are apart in some of the ways; the least overlap if in none."""
    outside = [way for way in ways if way > 0]
    return math.hypot(*outside) if outside else max(ways)


def _radial(dy: float, dz: float, y: Span, z: Span, *, axis: float, radius: float) -> float:
    """Rim of a disc to a rectangle; below zero by the radius too large, or the axis within it."""
    distance = math.hypot(dy, dz)
    if distance > 0:
        return distance - radius
    within = min(-y[0], y[1], axis - z[0], z[1] - axis)
    return -radius - within


def room_block_to_turning(block: Block, turning: Turning, *, axis: float) -> Room:
    """Room between what stands and what turns.

    Source: geometry of a box and a cylinder lying along X.
    Formula: section: distance of the rectangle from the axis less r; X: distance of the spans;
        clear in both, the hypotenuse. lift = z_top + sqrt(r^2 - dy^2) - axis.
    Inputs: block, turning, height of the axis [mm]. Outputs: Room.
    Valid for: any. Raises: nothing.

    >>> rest = Block("table", (-500, 500), (-200, 200), (-50, 0))
    >>> room_block_to_turning(rest, Turning("work", (0, 100), 60.0), axis=100.0).room
    40.0
    """
    dy, dz = _to_rectangle(block.y, block.z, axis=axis)
    section = _radial(dy, dz, block.y, block.z, axis=axis, radius=turning.radius)
    room = _apart(section, _gap(block.x, turning.x))
    rise = math.sqrt(max(turning.radius**2 - dy**2, 0.0))
    return Room(block.name, turning.name, room, block.z[1] + rise - axis)


def room_sweep_to_block(sweep: Sweep, block: Block) -> Room:
    """Room between a piece of the tool on its way and what stands.

    Source: geometry of an upright cylinder moved over a rectangle of places, and a box.
    Formula: plan: distance of the two rectangles less r; Z: distance of the spans; clear in both,
        the hypotenuse. lift = top of the block - foot of the piece.
    Inputs: sweep, block. Outputs: Room. Valid for: any. Raises: nothing.

    >>> nut = Sweep("nut", (0, 50), (0, 0), (120, 160), 20.0)
    >>> room_sweep_to_block(nut, Block("body", (-90, -30), (-60, 60), (0, 130))).room
    10.0
    """
    dx, dy = max(_gap(sweep.x, block.x), 0.0), max(_gap(sweep.y, block.y), 0.0)
    plan = math.hypot(dx, dy) - sweep.radius
    room = _apart(plan, _gap(sweep.z, block.z))
    return Room(block.name, sweep.name, room, block.z[1] - sweep.z[0])


def room_sweep_to_turning(sweep: Sweep, turning: Turning, *, axis: float) -> Room:
    """Room between a piece of the tool on its way and what turns.

    Source: geometry: at the X where the piece is widest over the body its section is a rectangle,
        half as wide again as s = sqrt(r^2 - dx^2) to both sides, dx its distance in X.
    Formula: dx >= r: dx - r in X; else the section as for a block, y widened by s.
    Inputs: sweep, turning, height of the axis [mm]. Outputs: Room; its room is a distance in the
        section when they meet in X. Valid for: any. Raises: nothing.

    >>> mill = Sweep("cutter", (0, 80), (0, 0), (150, 190), 3.0)
    >>> room_sweep_to_turning(mill, Turning("work", (0, 90), 40.0), axis=100.0).room
    10.0
    """
    dx = max(_gap(sweep.x, turning.x), 0.0)
    half = math.sqrt(max(sweep.radius**2 - dx**2, 0.0))
    y = (sweep.y[0] - half, sweep.y[1] + half)
    dy, dz = _to_rectangle(y, sweep.z, axis=axis)
    section = _radial(dy, dz, y, sweep.z, axis=axis, radius=turning.radius)
    room = _apart(section, dx - sweep.radius)
    rise = math.sqrt(max(turning.radius**2 - dy**2, 0.0))
    return Room(turning.name, sweep.name, room, axis + rise - sweep.z[0])


def all_rooms(
    *, blocks: Sequence[Block], turning: Sequence[Turning], sweeps: Sequence[Sweep], axis: float
) -> tuple[Room, ...]:
    """Room of every pair of which one moves, the least first.

    Source: the three rooms above. Formula: as there. Inputs: bodies, height of the axis [mm].
    Outputs: Rooms. Valid for: any number. Raises: nothing.

    >>> all_rooms(blocks=[], turning=[], sweeps=[], axis=100.0)
    ()
    """
    found = [room_block_to_turning(b, t, axis=axis) for b, t in product(blocks, turning)]
    found += [room_sweep_to_block(s, b) for s, b in product(sweeps, blocks)]
    found += [room_sweep_to_turning(s, t, axis=axis) for s, t in product(sweeps, turning)]
    return tuple(sorted(found, key=lambda r: (r.room, r.first, r.second)))
