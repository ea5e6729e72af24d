"""What mounting found: how the axis stands, what to pack, what it leaves, what meets what."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.job.findings import Finding
from wormwright.job.parts import Part
from wormwright.job.parts_mount import Meeting
from wormwright.job.result import Doubt, Estimate

Way = Literal["elevation", "plan"]
Stands = Literal["within", "outside", "cannot tell"]


@dataclass(frozen=True, slots=True)
class Lean:
    """Lean of the axis one way: `over` is what it makes over `span` mm, `allowed` what it may.

    `lean` and `u` are for each mm. `bar` is the largest error of the bar itself, `sag` what was
    taken out for its weight, `travel_read` whether the bend of the travel was taken out.
    `after` is what packing or key move should leave over the same span.
    """

    way: Way
    lean: float
    u: float
    span: float
    over: Estimate
    allowed: float
    stands: Stands
    bar: Estimate
    sag: float
    travel_read: bool
    after: Estimate
    chance: float
    seqs: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class FootPack:
    """Packing of one foot: what is wanted, the pieces from stock, and what they add to."""

    foot: str
    wanted: Estimate
    pieces: tuple[float, ...]
    nominal: float


@dataclass(frozen=True, slots=True)
class Tram:
    """The axis against the travel: both leans, packing under the feet, the move at the key.

    `twist` is how far the feet rock, `strain` the largest lift of a loosened foot.
    """

    leans: tuple[Lean, ...]
    packing: tuple[FootPack, ...]
    twist: Estimate | None
    strain: Estimate | None
    key_move: Estimate | None
    key_distance: float | None

    def of(self, way: Way) -> Lean | None:
        """The lean of that way, or None."""
        return next((one for one in self.leans if one.way == way), None)


@dataclass(frozen=True, slots=True)
class Effect:
    """What a crooked axis leaves in the part, as it stands and after the set-up."""

    label: str
    now: Estimate
    after: Estimate


@dataclass(frozen=True, slots=True)
class Heights:
    """Centre heights; `high` is tail less head, `side` to machine plus, `words` the cure."""

    head: Estimate | None
    tail: Estimate | None
    high: Estimate | None
    side: Estimate | None
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Option:
    """One way to arrange the set-up: what it gains and what it costs.

    `swing` is the largest radius that turns clear of the table, `above` the room left over the
    work with the head up, `kept` the share of stiffness left, None where nothing is made softer.
    """

    key: str
    label: str
    does: bool
    swing: float
    above: float | None
    kept: float | None
    words: str


@dataclass(frozen=True, slots=True)
class Room:
    """Room on the machine: pairs with little room first, options, and what would have to change.

    `possible` is None while it cannot be told; `least` and `most` bound the riser in mm. `keep_off`
    is how far from which body the cut must keep while the tool is down.
    """

    meetings: tuple[Meeting, ...]
    options: tuple[Option, ...]
    least: float | None
    most: float | None
    possible: bool | None
    changes: tuple[str, ...]
    figures: tuple[tuple[str, float], ...]
    keep_off: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class JawTurn:
    """Ease jaw `back`, follow with jaw `follow`, until the work has gone `move`."""

    back: int
    follow: int
    move: Estimate


@dataclass(frozen=True, slots=True)
class Mounting:
    """What `mount` hands back."""

    tram: Tram | None
    effects: tuple[Effect, ...]
    heights: Heights | None
    room: Room | None
    findings: tuple[Finding, ...]
    jaws: tuple[JawTurn, ...]
    parts: tuple[Part, ...]
    not_measured: tuple[str, ...]
    doubts: tuple[Doubt, ...]
