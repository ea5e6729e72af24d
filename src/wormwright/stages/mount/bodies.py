"""The set-up as bodies: unit, chuck, jaws, work and tail on the table, tool and head above."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from wormwright.core.envelope import Block, Room, Sweep, Turning, all_rooms
from wormwright.job.mount import Mount
from wormwright.job.parts_mount import Meeting, SetUp
from wormwright.job.rotary import Job, Machine

WIDE = 400.0
"""Half width of table and bridge as drawn, mm: wider than any set-up needs."""
TABLE_DEEP, BRIDGE_DEEP, HEAD_HIGH = 30.0, 60.0, 90.0
TABLE, BODY, RISER, TAIL, BRIDGE = "machine table", "body of the unit", "riser", "tail", "bridge"
CHUCK, JAWS, WORK = "chuck", "jaws", "work"
CUTTER, NUT, NOSE = "cutter", "collet nut", "spindle nose"
HEAD_UP, CUTTING = "head up", "cutting"
JOINED = frozenset(
    frozenset(pair)
    for pair in (
        (BODY, CHUCK),
        (RISER, CHUCK),
        (CHUCK, JAWS),
        (JAWS, WORK),
        (WORK, TAIL),
        (BODY, JAWS),
    )
)
"""Pairs that touch on purpose, or stand one behind the other on the axis."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """The sizes that the room on the machine needs, all known; mm."""

    mount: Mount
    machine: Machine
    centre_height: float
    work_radius: float
    work_length: float

    @property
    def axis(self) -> float:
        """Height of the axis over the table as it stands."""
        return self.mount.riser + self.centre_height

    @property
    def tool(self) -> float | None:
        """What stands out of the spindle nose; None where it was not said."""
        m = self.mount
        return None if m.cutter_out is None else m.cutter_out + (m.nut_length or 0.0)

    @property
    def cut_radius(self) -> float:
        """Smallest radius cut; without one the tool must come down to the axis."""
        return (self.mount.cut_diameter or 0.0) / 2

    @property
    def swing(self) -> float:
        """Radius of all that turns."""
        m = self.mount
        others = (size / 2 for size in (m.chuck_outside, m.jaw_swing) if size)
        return max(self.work_radius, *others, 0.0)

    @property
    def jaws_at(self) -> float:
        """Where the jaws end and the work begins, from the face of the unit."""
        return (self.mount.chuck_length or 0.0) + self.mount.jaw_out

    @property
    def work_end(self) -> float:
        """End of the work, from the face of the unit."""
        return self.jaws_at + self.work_length

    @property
    def tip_up(self) -> float | None:
        """Height of the cutter's tip with the head up; None where it is not known."""
        if self.machine.daylight is None or self.tool is None:
            return None
        return self.machine.daylight - self.tool


def sizes_of(job: Job) -> tuple[Sizes | None, tuple[str, ...]]:
    """What is known of the set-up, or what is missing in job.toml."""
    mount = job.mount
    wanted = ("centre_height", "work_diameter", "work_length")
    if mount is None:
        return None, ("the section [mount] in job.toml: unit, chuck, work and tool",)
    missing = tuple(f"`{key}` in [mount]" for key in wanted if getattr(mount, key) is None)
    if missing or not (mount.centre_height and mount.work_diameter and mount.work_length):
        return None, missing
    found = Sizes(
        mount, job.machine, mount.centre_height, mount.work_diameter / 2, mount.work_length
    )
    more = tuple(f"`{key}` in [machine]" for key in ("daylight",) if not job.machine.daylight)
    more += tuple(f"`{key}` in [mount]" for key in ("cutter_out",) if not mount.cutter_out)
    return found, more


def set_up(sizes: Sizes) -> SetUp:
    """Every body with what meets what."""
    blocks, turning = _blocks(sizes), _turning(sizes)
    up, cutting = _tool(sizes, sizes.tip_up, HEAD_UP), _cutting(sizes)
    rooms = all_rooms(blocks=blocks, turning=turning, sweeps=(*up, *cutting), axis=sizes.axis)
    standing = _under_bridge(sizes, blocks)
    meetings = tuple(m for m in (*map(_judge(sizes), rooms), *standing) if m is not None)
    return SetUp(
        name="set-up",
        axis=sizes.axis,
        blocks=blocks,
        turning=turning,
        sweeps=(*up, *cutting),
        meetings=tuple(sorted(meetings, key=lambda m: m.room - m.wanted)),
        riser=sizes.mount.riser,
        table_length=sizes.machine.table_length,
    )


def _blocks(s: Sizes) -> tuple[Block, ...]:
    m, long = s.mount, s.mount.body_length or 100.0
    half = (m.body_width or 2 * s.centre_height) / 2
    end = s.work_end + (m.tail_out or 0.0) + (m.tail_length or 0.0)
    found = [Block(TABLE, (-long - 60.0, end + 60.0), (-WIDE, WIDE), (-TABLE_DEEP, 0.0))]
    if m.riser > 0:
        found.append(Block(RISER, (-long, 0.0), (-half, half), (0.0, m.riser)))
    top = m.body_height or s.centre_height + half
    found.append(Block(BODY, (-long, 0.0), (-half, half), (m.riser, m.riser + top)))
    if m.tail_height is not None and m.tail_length:
        start = s.work_end + (m.tail_out or 0.0)
        lifted = max(s.axis - m.tail_height, 0.0)
        above = m.tail_top or m.tail_height + 15.0
        found.append(
            Block(TAIL, (start, start + m.tail_length), (-half, half), (0.0, lifted + above))
        )
    if s.machine.bridge is not None:
        z = (s.machine.bridge, s.machine.bridge + BRIDGE_DEEP)
        found.append(Block(BRIDGE, found[0].x, (-WIDE, WIDE), z))
    return tuple(found)


def _turning(s: Sizes) -> tuple[Turning, ...]:
    m, found = s.mount, []
    if m.chuck_outside and m.chuck_length:
        found.append(Turning(CHUCK, (0.0, m.chuck_length), m.chuck_outside / 2))
    if m.jaw_swing and m.jaw_out > 0:
        start = max((m.chuck_length or 0.0) - m.jaw_out, 0.0)
        found.append(Turning(JAWS, (start, s.jaws_at), m.jaw_swing / 2))
    found.append(Turning(WORK, (s.jaws_at, s.work_end), s.work_radius))
    return tuple(found)


def _tool(s: Sizes, tip: float | None, when: str) -> tuple[Sweep, ...]:
    """Cutter, nut and nose over the length of the work with the tip at a height."""
    m = s.mount
    if tip is None or not m.cutter_out:
        return ()
    half = (m.cutter_diameter or 6.0) / 2
    start = s.jaws_at + half + m.clear
    x = (start, max(s.work_end, start))
    pieces = [(CUTTER, 2 * half, tip, tip + m.cutter_out)]
    low = tip + m.cutter_out
    if m.nut_diameter and m.nut_length:
        pieces.append((NUT, m.nut_diameter, low, low + m.nut_length))
        low += m.nut_length
    if s.machine.nose_diameter:
        pieces.append((NOSE, s.machine.nose_diameter, low, low + HEAD_HIGH))
    return tuple(
        Sweep(f"{name}, {when}", x, (0.0, 0.0), (z0, z1), size / 2) for name, size, z0, z1 in pieces
    )


def _cutting(s: Sizes) -> tuple[Sweep, ...]:
    return _tool(s, s.axis + s.cut_radius, CUTTING)


def _judge(sizes: Sizes) -> Callable[[Room], Meeting | None]:
    """A judge of rooms: what is wanted between two bodies, None where they may touch."""

    def judged(room: Room) -> Meeting | None:
        first, second = room.first, room.second
        plain = frozenset((first.partition(",")[0], second.partition(",")[0]))
        if plain in JOINED or (BRIDGE in plain and second.partition(",")[2]):
            return None
        if plain == {CUTTER, WORK} and CUTTING in second:
            return None
        wanted = sizes.mount.retract if HEAD_UP in second else sizes.mount.clear
        return Meeting(first, second, room.room, wanted, state(room.room, wanted))

    return judged


def state(room: float, wanted: float) -> str:
    """What a room comes to, in a word or two."""
    if room < 0:
        return "meet"
    return "too near" if room < wanted - 1e-9 else "clear"


def _under_bridge(s: Sizes, blocks: tuple[Block, ...]) -> tuple[Meeting, ...]:
    """What stands must pass below the bridge."""
    if s.machine.bridge is None:
        return ()
    found = []
    for block in blocks:
        if block.name in (BODY, TAIL):
            room = s.machine.bridge - block.z[1]
            found.append(
                Meeting(block.name, BRIDGE, room, s.mount.clear, state(room, s.mount.clear))
            )
    return tuple(found)


def keeps_off(sizes: Sizes, built: SetUp) -> tuple[tuple[str, float], ...]:
    """How far from jaws, chuck, unit or tail the cut must keep while the tool is down, mm.

    For each of these the largest distance that any piece of the tool asks for, from the edge of
    the body to the edge of the cutter.
    """
    found: dict[str, float] = {}
    cutter = (sizes.mount.cutter_diameter or 6.0) / 2
    standing = {b.name: b.x for b in built.blocks} | {t.name: t.x for t in built.turning}
    pieces = {s.name: s for s in built.sweeps}
    for meeting in built.meetings:
        if meeting.state == "clear" or meeting.first not in ENDS or CUTTING not in meeting.second:
            continue
        away = pieces[meeting.second].radius + meeting.wanted - cutter
        edge = standing[meeting.first]
        if meeting.first != TAIL:
            away += edge[1] - sizes.jaws_at
        found[meeting.first] = max(found.get(meeting.first, 0.0), away)
    near = [name for name in (JAWS, CHUCK, BODY) if name in found]
    worst = max(near, key=lambda name: found[name], default=None)
    kept = [worst] if worst is not None else []
    return tuple((name, found[name]) for name in (*kept, *((TAIL,) if TAIL in found else ())))


ENDS = frozenset((JAWS, CHUCK, BODY, TAIL))
"""Bodies that the cut can keep away from; the work it cannot."""
