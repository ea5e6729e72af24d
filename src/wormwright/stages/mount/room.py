"""Room on the machine: riser, options with their costs, and what would have to change."""

from __future__ import annotations

from dataclasses import dataclass, replace

from wormwright.core.beam import give_of_column, stiffness_kept
from wormwright.core.riser import RiserBand, largest_swing, riser_band
from wormwright.handbook.materials import material
from wormwright.job.mounting import Option, Room
from wormwright.job.parts_mount import Meeting, SetUp
from wormwright.job.rotary import Job
from wormwright.stages.mount.bodies import CUTTING, ENDS, Sizes, keeps_off, set_up
from wormwright.stages.mount.wording import length

JOINTS_STACKED = 3
"""From so many bolted joints on a stack is warned of."""
LARGE = 0.1
"""Heights of risers are given to this step, mm."""


def room_of(job: Job, sizes: Sizes) -> tuple[Room, SetUp]:
    """What meets what as it stands, the riser that does, and what to change if none does."""
    built = set_up(sizes)
    bounds = _bounds(sizes)
    band = bounds.band if bounds else None
    bad = tuple(m for m in built.meetings if m.state != "clear")
    possible = None if band is None else band.possible and not _travels(job, sizes)
    return (
        Room(
            meetings=_told(built.meetings),
            options=_options(job, sizes, bounds),
            least=band.least if band else None,
            most=band.most if band else None,
            possible=possible,
            changes=_changes(job, sizes, bounds, bad, built),
            figures=_figures(sizes),
            keep_off=keeps_off(sizes, built),
        ),
        built,
    )


MOST_TOLD = 12


def _told(meetings: tuple[Meeting, ...]) -> tuple[Meeting, ...]:
    """Every pair that meets or is too near, then the nearest of those that are clear."""
    bad = [m for m in meetings if m.state != "clear"]
    clear = [m for m in meetings if m.state == "clear"]
    return (*bad, *clear[: max(MOST_TOLD - len(bad), 3)])


def _over(s: Sizes) -> float:
    """Radius over which the tool passes with the head up: the work, and the jaws beside it."""
    return max(s.work_radius, (s.mount.jaw_swing or 0.0) / 2)


SWING, TAIL, REACH, TOOL, BRIDGE = "swing", "tail", "reach", "tool", "bridge"


@dataclass(frozen=True, slots=True)
class Bounds:
    """What holds the riser up and what holds it down: each height with its reason, mm."""

    up: tuple[tuple[str, float], ...]
    down: tuple[tuple[str, float], ...]

    @property
    def band(self) -> RiserBand:
        """Least and most riser."""
        return RiserBand(max(h for _, h in self.up), min(h for _, h in self.down))

    @property
    def held(self) -> tuple[str, str]:
        """The reason of the least, and of the most."""
        return max(self.up, key=lambda b: b[1])[0], min(self.down, key=lambda b: b[1])[0]

    @property
    def above_short(self) -> tuple[tuple[str, float], ...]:
        """Bounds from above that are too low for the least riser, and by how much."""
        least = self.band.least
        return tuple((why, least - h) for why, h in self.down if h < least - 1e-9)

    @property
    def below_short(self) -> tuple[tuple[str, float], ...]:
        """Bounds from below that are too high for the most riser; none if not even zero goes."""
        most = self.band.most
        if most < 0:
            return ()
        return tuple((why, h - most) for why, h in self.up if h > most + 1e-9)


def _bounds(s: Sizes) -> Bounds | None:
    if s.machine.daylight is None or s.tool is None:
        return None
    band = riser_band(
        swing=s.swing,
        under=s.mount.clear,
        centre_height=s.centre_height,
        daylight=s.machine.daylight,
        top=_over(s),
        tool=s.tool,
        retract=s.mount.retract,
    )
    up, down = [(SWING, band.least)], [(TOOL, band.most)]
    if s.mount.tail_height is not None:
        up.append((TAIL, s.mount.tail_height - s.centre_height))
    if s.machine.bridge is not None:
        above = max(s.mount.body_height or 0.0, s.centre_height + s.swing)
        down.append((BRIDGE, s.machine.bridge - s.mount.clear - above))
    if s.machine.z_travel is not None:
        lowest = s.machine.daylight - s.tool - s.machine.z_travel
        up.append((REACH, lowest - s.cut_radius - s.centre_height))
    return Bounds(tuple(up), tuple(down))


def _figures(s: Sizes) -> tuple[tuple[str, float], ...]:
    found = [("axis over the table", s.axis), ("swing over the table", s.axis - s.mount.clear)]
    if s.tip_up is not None and s.tool is not None:
        found.append(("tool below the spindle nose", s.tool))
        found.append(("room over the work, head up", s.tip_up - s.axis - s.work_radius))
        found.append(("travel of the head used", s.tip_up - s.axis - s.cut_radius))
    if s.mount.has_tail:
        found.append(("under the tail, to bring it to the axis", s.axis - _tail(s)))
        found.append(("face of the unit to the tail's centre", s.work_end))
    return tuple(found)


def _tail(s: Sizes) -> float:
    return s.mount.tail_height or 0.0


def _options(job: Job, s: Sizes, bounds: Bounds | None) -> tuple[Option, ...]:
    """As it stands, then what else could be done, each with what it costs."""
    found = [_option(job, s, "as it stands", "as it stands")]
    if bounds is None:
        return tuple(found)
    band = bounds.band
    if band.possible and not _inside(s, band):
        moved = replace(s, mount=replace(s.mount, riser=_riser_wanted(band), joints=1))
        label = f"riser of {length(_riser_wanted(band), job.units, to=LARGE)}, one block"
        found.append(_option(job, moved, "riser", label if band.most > 0 else "no riser at all"))
    if not band.possible:
        found += _if_short(job, s, bounds)
    return tuple(found)


def _inside(s: Sizes, band: RiserBand) -> bool:
    return band.least - 1e-9 <= s.mount.riser <= band.most + 1e-9


def _riser_wanted(band: RiserBand) -> float:
    """The lowest riser that does: each millimetre more costs daylight and stiffness."""
    return max(band.least, 0.0)


def _if_short(job: Job, s: Sizes, bounds: Bounds) -> list[Option]:
    """What gives the missing height: a shorter tool, or the head or bridge raised."""
    lifted = replace(s, mount=replace(s.mount, riser=bounds.band.least))
    found = []
    short = dict(bounds.above_short)
    less, out = short.get(TOOL, 0.0), s.mount.cutter_out or 0.0
    if set(short) == {TOOL} and out > less:
        label = f"tool {length(less, job.units, to=LARGE)} shorter"
        cut = replace(lifted, mount=replace(lifted.mount, cutter_out=out - less))
        found.append(_option(job, cut, "shorter tool", label))
    if s.machine.can_raise != "cannot" and s.machine.daylight is not None:
        found.append(_raised(job, s, lifted, bounds.band.short))
    return found


def _raised(job: Job, s: Sizes, lifted: Sizes, by: float) -> Option:
    machine = s.machine
    up = replace(
        machine,
        daylight=(machine.daylight or 0.0) + by,
        bridge=machine.bridge + by if machine.bridge is not None else None,
    )
    kept = None
    if machine.post is not None:
        kept = stiffness_kept(before=machine.post, after=machine.post + by)
    label = f"{machine.can_raise} by {length(by, job.units, to=LARGE)}"
    option = _option(job, replace(lifted, machine=up), "raise", label)
    return replace(option, kept=kept, words=_raised_words(option.words, kept))


def _raised_words(words: str, kept: float | None) -> str:
    lost = (
        "posts longer: stiffness lost cannot be told without `post`"
        if kept is None
        else f"the posts keep {kept:.0%} of their stiffness"
    )
    return f"{lost}; {words}" if words else lost


def _option(job: Job, s: Sizes, key: str, label: str) -> Option:
    built = set_up(s)
    bad = [m for m in built.meetings if m.state != "clear" and CUTTING not in m.second]
    bounds = _bounds(s)
    inside = bounds is None or _inside(s, bounds.band)
    above = None if s.tip_up is None else s.tip_up - s.axis - s.work_radius
    words = f"{bad[0].first} and {bad[0].second} {bad[0].state}" if bad else ""
    kept = None
    if s.mount.riser > 0:
        words = "; ".join(w for w in (words, _column_words(job, s)) if w)
    return Option(key, label, inside and not bad, s.axis - s.mount.clear, above, kept, words)


def _column_words(job: Job, s: Sizes) -> str:
    """What the riser itself gives under a side load at the axis."""
    m = s.mount
    if not (m.body_length and m.body_width):
        return ""
    give = give_of_column(
        height=m.riser,
        along=m.body_width,
        across=m.body_length,
        modulus=material(m.plate_material).modulus,
        over=s.centre_height,
    )
    said = length(give * 100.0, job.units, to=1e-5)
    return f"riser gives {said} for 100 N at the axis"


def _changes(
    job: Job, s: Sizes, bounds: Bounds | None, bad: tuple[Meeting, ...], built: SetUp
) -> tuple[str, ...]:
    """What would have to change, most useful first."""
    found: list[str] = []
    band = bounds.band if bounds else None
    if bounds is not None and band is not None and not band.possible:
        found += _impossible(job, s, bounds)
    elif band is not None and not _inside(s, band):
        low, high = (length(max(x, 0.0), job.units, to=LARGE) for x in (band.least, band.most))
        now = length(s.mount.riser, job.units, to=LARGE)
        found.append(f"Stand the unit on {low} to {high} instead of {now}.")
    found += _while_cutting(job, s, bad, built)
    found += _travels(job, s)
    if s.mount.joints >= JOINTS_STACKED:
        found.append(
            f"{s.mount.joints} bolted joints in a stack: each dry joint gives 1 to 5 µm for 1000 N "
            "and creeps; make one solid block of it."
        )
    return tuple(found)


HOLDS = {
    SWING: "work, chuck or jaws swing over the table",
    TAIL: "the tail's centre stands that high",
    REACH: "the head comes no lower",
    TOOL: "the tool must pass over the work",
    BRIDGE: "it must pass under the bridge",
}
GIVES = {
    SWING: "what turns {by} smaller in radius",
    TAIL: "a tail {by} lower",
    REACH: "{by} more travel of the head",
    TOOL: "the tool {by} shorter, cutter, nut and holder together",
    BRIDGE: "{by} more under the bridge",
}


def _impossible(job: Job, s: Sizes, bounds: Bounds) -> list[str]:
    """Why no riser does, then what would have to change, one way at a time."""
    up, down = bounds.held
    low = length(bounds.band.least, job.units, to=LARGE)
    most = length(abs(bounds.band.most), job.units, to=LARGE)
    leaves = f"which leaves {most}" if bounds.band.most >= 0 else f"and {most} are missing for that"
    lines = [
        f"No riser does: {HOLDS[up]}, which wants {low} under the unit; {HOLDS[down]}, {leaves}. "
        "One of these would have to change:"
    ]
    for way in (bounds.above_short, bounds.below_short):
        gives = [GIVES[why].format(by=length(by, job.units, to=LARGE)) for why, by in way]
        if gives:
            words = ", and ".join(gives)
            lines.append(words[:1].upper() + words[1:] + ".")
    if s.machine.can_raise != "cannot":
        short = length(bounds.band.short, job.units, to=LARGE)
        lines.append(f"{s.machine.can_raise.capitalize()} by {short}.")
    return [*lines, *_largest(job, s)]


def _largest(job: Job, s: Sizes) -> list[str]:
    """The largest work that goes under the head on the best riser."""
    assert s.machine.daylight is not None
    assert s.tool is not None
    try:
        most = largest_swing(
            daylight=s.machine.daylight,
            tool=s.tool,
            retract=s.mount.retract,
            under=s.mount.clear,
            lowest=s.centre_height,
        )
    except ValueError:
        return ["With this tool no work at all goes under the head."]
    size = length(2 * most, job.units, to=LARGE)
    return [f"At most Ø{size} can turn, work, chuck and jaws alike, on the best riser."]


def _while_cutting(job: Job, s: Sizes, bad: tuple[Meeting, ...], built: SetUp) -> list[str]:
    """Nut or nose against jaws and work while cutting: how far to stay away, or to reach out."""
    found = []
    for name, away in keeps_off(s, built):
        size = length(away, job.units, to=LARGE)
        what = "the jaws" if name != TAIL else "the tail"
        found.append(
            f"While cutting to Ø{length(2 * s.cut_radius, job.units, to=LARGE)}, keep the cutter "
            f"{size} from {what}, or take a longer one: its nut or the spindle nose would run into "
            f"the {name}."
        )
    for meeting in bad:
        if CUTTING in meeting.second and meeting.first not in ENDS:
            piece = meeting.second.partition(",")[0]
            need = length(meeting.wanted - meeting.room, job.units, to=LARGE)
            found.append(
                f"While cutting to Ø{length(2 * s.cut_radius, job.units, to=LARGE)}, the {piece} "
                f"lacks {need} over the {meeting.first}: cutter further out by as much."
            )
    return found


def on_plate(job: Job, s: Sizes, room: Room, thickness: float) -> Room:
    """The same room with one way more: the unit on its base plate."""
    if abs(s.mount.riser - thickness) < 1e-9:
        return room
    moved = replace(s, mount=replace(s.mount, riser=thickness, joints=1))
    label = f"on the base plate, {length(thickness, job.units, to=LARGE)}"
    return replace(room, options=(*room.options, _option(job, moved, "plate", label)))


def _travels(job: Job, s: Sizes) -> list[str]:
    found = []
    x = s.machine.x_travel
    if x is not None and x < s.work_length:
        less = length(s.work_length - x, job.units, to=LARGE)
        found.append(f"The travel along the axis is {less} shorter than the work.")
    table = s.machine.table_length
    m = s.mount
    whole = (m.body_length or 0.0) + s.work_end
    if m.has_tail:
        whole += (m.tail_out or 0.0) + (m.tail_length or 0.0)
    if table is not None and whole > table:
        over = length(whole - table, job.units, to=LARGE)
        found.append(f"Unit, work and tail are {over} longer than the table: shorten the work.")
    if m.tail_height is not None and s.axis < m.tail_height - 1e-9:
        lift = length(m.tail_height - s.axis, job.units, to=LARGE)
        found.append(f"The tail stands {lift} above the axis: raise the unit by as much.")
    return found
