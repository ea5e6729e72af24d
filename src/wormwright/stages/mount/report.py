"""The mount stage as report blocks: verdict first, then each topic."""

from __future__ import annotations

from wormwright.job.blocks import (
    Block,
    Cautions,
    Cell,
    Doubts,
    Heading,
    Paragraph,
    PartDrawing,
    Steps,
    Table,
)
from wormwright.job.findings import Finding
from wormwright.job.mounting import FootPack, Lean, Mounting, Room, Tram
from wormwright.job.parts import MountPlate, Part, SetUp
from wormwright.job.rotary import Job
from wormwright.stages.mount.bodies import CUTTING, ENDS
from wormwright.stages.mount.wording import length

TITLE = "The axis on the machine"
LIFT = (
    "A rotary with its chuck is heavy: lift it on with a hoist or a second person, set it where it "
    "cannot tip or roll.",
    "Power off and plug with you while hands are at chuck and worm; chuck key out before anything "
    "turns.",
)
WORDS = {"elevation": "Elevation (up and down)", "plan": "Plan (side to side)"}


def report(found: Mounting, job: Job) -> tuple[Block, ...]:
    """Everything that mounting found, most important first."""
    blocks: list[Block] = [Heading(TITLE), Paragraph(_verdict(found, job), strong=True)]
    if found.doubts:
        blocks.append(Doubts(found.doubts))
    if found.tram is not None:
        blocks += _tram(found.tram, job)
    if found.effects:
        blocks.append(_effects(found))
    if found.heights is not None:
        blocks += _heights(found)
    if found.room is not None:
        blocks += _room(found.room)
    for part in found.parts:
        blocks.append(PartDrawing(_caption(part), part_name(part), part))
    for finding in found.findings:
        blocks += _finding(finding)
    blocks += _jaws(found)
    if found.not_measured:
        blocks.append(Paragraph("Not known yet: " + "; ".join(found.not_measured) + "."))
    blocks.append(Cautions(LIFT))
    return tuple(blocks)


CAPTIONS = {
    "base": "Looked at for the plate",
    "chuck": "What to expect of it",
    "springing": "Give at the tool",
}


def part_name(part: Part) -> str:
    """The file name of a drawing of this stage."""
    return str(getattr(part, "name", "part"))


def _caption(part: Part) -> str:
    if isinstance(part, SetUp):
        return "The set-up from the side and from its end, to scale"
    if isinstance(part, MountPlate):
        return part.name[:1].upper() + part.name[1:]
    return part_name(part)


def _verdict(found: Mounting, job: Job) -> str:
    said = [_tram_verdict(found.tram, job)] if found.tram is not None else []
    if found.room is not None:
        said.append(_room_verdict(found.room))
    if not said:
        said.append("The axis was not read against the travel yet.")
    return " ".join(said)


def _tram_verdict(tram: Tram, job: Job) -> str:
    off = [one for one in tram.leans if one.stands == "outside"]
    open_ = [one for one in tram.leans if one.stands == "cannot tell"]
    missing = [w for w in ("elevation", "plan") if not any(one.way == w for one in tram.leans)]
    if off:
        return " ".join(
            f"{WORDS[one.way]}: the axis leans more than allowed; {_do(one, tram, job)}"
            for one in off
        )
    if open_:
        ways = " and ".join(one.way for one in open_)
        return f"The readings cannot tell whether {ways} is within what is allowed; read again."
    if missing:
        return f"The axis stands within what is allowed as far as read; {missing[0]} is not read."
    return "The axis stands within what is allowed both ways: leave it as it is."


def _do(one: Lean, tram: Tram, job: Job) -> str:
    if one.way == "plan":
        if tram.key_move is None:
            return "turn it at the key."
        way = "machine plus" if tram.key_move.value > 0 else "machine minus"
        size = length(abs(tram.key_move.value), job.units)
        return f"move the front at the key {size} to {way}."
    packed = [p for p in tram.packing if p.nominal > 0]
    if not packed:
        return "pack the feet."
    under = "; ".join(f"{length(p.nominal, job.units)} under {p.foot}" for p in packed)
    return f"pack {under}."


def _room_verdict(room: Room) -> str:
    if room.possible is False:
        return "The set-up does not go on this machine as described: see what would have to change."
    bad = [m for m in room.meetings if m.state != "clear"]
    if bad and all(m.first in ENDS and CUTTING in m.second for m in bad):
        return "Nothing meets as long as the cut keeps off jaws and tail as stated."
    if any(m.state == "meet" for m in bad):
        return "As it stands something runs into something: see the room on the machine."
    if bad:
        return "As it stands nothing meets, but room is short: see the room on the machine."
    return "Nothing meets on the machine as described."


def _tram(tram: Tram, job: Job) -> list[Block]:
    blocks: list[Block] = [Heading("The axis against the travel", 2)]
    if tram.leans:
        blocks.append(_lean_table(tram))
        blocks += [Paragraph(line) for line in _kept_apart(tram, job)]
    if any(p.pieces for p in tram.packing):
        blocks.append(_packing_table(tram))
    blocks.append(Steps(_steps(tram, job), ticks=True))
    return blocks


def _lean_table(tram: Tram) -> Table:
    span = tram.leans[0].span
    rows = tuple(
        (
            Cell(WORDS[one.way]),
            Cell(estimate=one.over),
            Cell(number=one.allowed, dimension="length", resolution=one.allowed / 20),
            Cell(one.stands, strong=True),
            Cell(estimate=one.after),
            Cell(f"{one.chance:.0%}" if 0.01 < one.chance < 0.99 else _sure(one.chance)),
            Cell(estimate=one.bar),
        )
        for one in tram.leans
    )
    return Table(
        f"Lean over {span:g} mm of work, plus: rises, or goes to machine plus, outward",
        ("way", "lean", "allowed", "stands", "after setting", "chance within", "bar's own error"),
        rows,
        key="lean",
    )


def _sure(chance: float) -> str:
    return "over 99 %" if chance > 0.5 else "under 1 %"


def _kept_apart(tram: Tram, job: Job) -> list[str]:
    lines = []
    for one in tram.leans:
        if one.sag > 0:
            sag = length(one.sag, job.units, to=1e-4)
            lines.append(f"Sag of the bar at its last place, taken out: {sag}.")
        if not one.travel_read:
            lines.append(
                f"{WORDS[one.way]}: the bend of the travel was not read and stays in the doubt."
            )
    if tram.twist is not None:
        rocks = abs(tram.twist.value) > 2 * tram.twist.u
        size = length(abs(tram.twist.value), job.units, to=0.005)
        lines.append(
            f"The unit rocks on its feet by {size}."
            if rocks
            else "The feet do not rock beyond what feelers show."
        )
    return lines


def _packing_table(tram: Tram) -> Table:
    return Table(
        "Packing under the feet, lean and rock together",
        ("foot", "wanted", "pieces from stock", "they add to"),
        tuple(_foot(p) for p in tram.packing),
        key="packing",
    )


def _foot(p: FootPack) -> tuple[Cell, ...]:
    if not p.pieces:
        return (Cell(p.foot), Cell(estimate=p.wanted), Cell("none"), Cell(""))
    pieces = " + ".join(f"{t:.4g} mm" for t in p.pieces)
    total = Cell(number=p.nominal, dimension="length", resolution=0.001, both=True, strong=True)
    return (Cell(p.foot), Cell(estimate=p.wanted), Cell(pieces), total)


def _steps(tram: Tram, job: Job) -> tuple[str, ...]:
    steps = ["Stone and wipe table and feet; a chip under a foot undoes all of this."]
    if any(p.pieces for p in tram.packing):
        steps.append(
            "Measure each stack with a micrometer, thin between thick: its size counts, not what "
            "is printed on it. Full pads round the bolt, never paper or foil folded."
        )
    if tram.key_move is not None:
        way = "machine plus" if tram.key_move.value > 0 else "machine minus"
        apart = length(tram.key_distance or 0.0, job.units, to=0.5)
        size = length(abs(tram.key_move.value), job.units)
        steps.append(
            f"Rear key or bolt as the pivot: move the unit {size} to {way} at {apart} from it, "
            "indicator on the body there."
        )
    steps += [
        "Tighten crosswise in three rounds, indicator on the bar; then loosen and retighten one "
        "bolt after the other: no foot may lift.",
        "Read bar, top and side, half a turn apart once more, as clamped; enter it anew.",
    ]
    return tuple(steps)


def _effects(found: Mounting) -> Table:
    rows = tuple(
        (Cell(e.label), Cell(estimate=e.now), Cell(estimate=e.after)) for e in found.effects
    )
    return Table("What it leaves in the part", ("effect", "as it stands", "as set"), rows, "effect")


def _heights(found: Mounting) -> list[Block]:
    h = found.heights
    assert h is not None
    figures = (
        ("centre height, head", h.head),
        ("centre height, tail", h.tail),
        ("tail less head", h.high),
        ("tail to machine plus", h.side),
    )
    rows = tuple((Cell(name), Cell(estimate=e, both=True)) for name, e in figures if e is not None)
    return [
        Heading("Centre heights", 2),
        Table("Heights over the datum read from", ("what", "size"), rows, key="heights"),
        *(Paragraph(line) for line in h.words),
    ]


def _room(room: Room) -> list[Block]:
    blocks: list[Block] = [Heading("Room on the machine", 2)]
    if room.changes:
        blocks.append(Steps(room.changes))
    blocks.append(
        Table(
            "Figures of the set-up as it stands",
            ("what", "size"),
            tuple((Cell(name), _size(value)) for name, value in room.figures),
            key="set-up",
        )
    )
    rows = tuple(
        (
            Cell(f"{m.first} and {m.second}"),
            _size(m.room, strong=m.state != "clear"),
            _size(m.wanted),
            Cell(m.state, strong=m.state != "clear"),
        )
        for m in room.meetings
    )
    columns = ("pair", "room", "wanted", "state")
    blocks.append(Table("Room between, below zero where they meet", columns, rows, key="room"))
    blocks.append(_options(room))
    return blocks


def _size(value: float, *, strong: bool = False) -> Cell:
    return Cell(number=value, dimension="length", resolution=0.1, strong=strong)


def _options(room: Room) -> Table:
    rows = tuple(
        (
            Cell(o.label),
            Cell("yes" if o.does else "no", strong=True),
            _size(o.swing),
            _size(o.above) if o.above is not None else Cell(""),
            Cell(o.words),
        )
        for o in room.options
    )
    columns = ("way", "goes", "largest radius", "room over the work", "cost and what is in the way")
    return Table("Ways to arrange it", columns, rows, key="ways")


def _finding(finding: Finding) -> list[Block]:
    rows = tuple((Cell(f.label), Cell(estimate=f.estimate)) for f in finding.figures)
    blocks: list[Block] = [Heading(finding.title, 2)]
    if rows:
        blocks.append(Table(CAPTIONS[finding.key], ("what", "size"), rows, key=finding.key))
    return [*blocks, *(Paragraph(word) for word in finding.words)]


def _jaws(found: Mounting) -> list[Block]:
    if not found.jaws:
        return []
    rows = tuple(
        (Cell(f"ease jaw {j.back}, follow with jaw {j.follow}"), Cell(estimate=j.move))
        for j in found.jaws
    )
    return [
        Heading("Dialling in the four jaws", 2),
        Table("How far the work must go", ("jaws", "move"), rows, key="jaws"),
        Paragraph(
            "One pair at a time, the needle over the jaw that follows; it shows the move itself, "
            "not twice of it. Tighten hard only when the whole swing is within a few hundredths, "
            "and read once more."
        ),
    ]
