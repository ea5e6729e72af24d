"""Tools and materials gathered over the plan: stock, shims, bearings, oil, blue, indicators."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wormwright.handbook.bearings import bearing
from wormwright.handbook.instruments import Instrument, instruments
from wormwright.job.blocks import Block, Cell, Heading, Table
from wormwright.job.operation import Gate, Operation
from wormwright.job.parts import EccentricBushing, Part, ShimRing, WormRelief
from wormwright.job.rotary import Job, Units
from wormwright.quantities import shown
from wormwright.traveler.lubricants import what_to_fill

CLEAN_UP = 3.0
"""Bar over the finished diameter, so that it cleans up, mm (common practice)."""
FACE_AND_PART = 6.0
"""Bar for facing both ends of a piece and parting it off, mm (common practice)."""
GRIP = 30.0
"""Bar that stays in the chuck, once for each bar, mm (common practice)."""
LAP = 0.1
"""Sheet over the finished thickness of a shim that is ground or lapped, mm (common practice)."""
STOCK_STEP = {"mm": 5.0, "in": 6.35}
"""Steps in which round bar is sold, mm: 5 mm, and a quarter of an inch."""
SOLD_TO = {"mm": 1.0, "in": 0.254}
"""Last digit of a bar size, mm: 1 mm, and a hundredth of an inch."""
SHARE_OF_LIMIT = 4.0
"""An indicator's standard uncertainty goes this many times into the limit it must tell."""


@dataclass(frozen=True, slots=True)
class Item:
    """One line of the list: what, in which size, how many or how much, and what for."""

    what: str
    size: str
    amount: str
    use: str


def tools_and_materials(
    operations: Sequence[Operation], *, job: Job, parts: Sequence[Part]
) -> tuple[Block, ...]:
    """What to buy or find before the work is begun, then which tool is wanted where."""
    items = (*stock(parts, job.units), *bearings_to_buy(parts, job), *supplies(operations, job))
    blocks: list[Block] = [Heading("Tools and materials")]
    if items:
        rows = tuple((Cell(i.what), Cell(i.size), Cell(i.amount), Cell(i.use)) for i in items)
        columns = ("what", "size", "how much", "for")
        blocks.append(Table("To buy or find", columns, rows, "materials"))
    classes = tuple(
        (Cell(name), Cell(use)) for name, use in indicator_classes(operations, job.units)
    )
    if classes:
        heads = ("indicator, or finer", "for these gates")
        blocks.append(Table("Indicators by what they must tell", heads, classes, "indicators"))
    tools = tuple((Cell(tool), Cell(where)) for tool, where in tools_by_operation(operations))
    blocks.append(Table("Tools, and the operations they are for", ("tool", "no."), tools, "tools"))
    return tuple(blocks)


def stock(parts: Sequence[Part], units: Units) -> tuple[Item, ...]:
    """Bar and sheet for the parts; a part of another kind is taken from its drawing."""
    items = [*_bars([p for p in parts if isinstance(p, EccentricBushing)], units)]
    for part in parts:
        if isinstance(part, ShimRing):
            items.append(_shim(part, units))
        elif not isinstance(part, (EccentricBushing, WormRelief)):
            count = str(getattr(part, "quantity", 1))
            items.append(Item(_material(part), "see its drawing", count, _name(part)))
    return tuple(items)


def _bars(bushings: Sequence[EccentricBushing], units: Units) -> tuple[Item, ...]:
    """One bar for all bushings that come from the same size and material."""
    step = STOCK_STEP[units]
    sizes: dict[tuple[str, float], list[EccentricBushing]] = {}
    for part in bushings:
        bar = step * math.ceil(round((part.flange_outside + CLEAN_UP) / step, 6))
        sizes.setdefault((part.material, bar), []).append(part)
    return tuple(
        Item(
            f"round bar, {material}",
            f"Ø{shown(bar, 'length', resolution=SOLD_TO[units], units=units)}",
            f"{shown(_bar_length(made), 'length', resolution=1.0, units=units)} long",
            f"eccentric bushings {', '.join(dict.fromkeys(p.side for p in made))}",
        )
        for (material, bar), made in sizes.items()
    )


def _bar_length(made: Sequence[EccentricBushing]) -> float:
    pieces = sum(p.quantity * (p.flange_thickness + p.length + FACE_AND_PART) for p in made)
    return math.ceil(GRIP + pieces)


def _shim(part: ShimRing, units: Units) -> Item:
    if part.stack:
        pieces = " + ".join(shown(t, "length", resolution=0.001, units=units) for t in part.stack)
        return Item("shim stock", pieces, str(part.quantity), part.name)
    sheet = shown(part.thickness.size + LAP, "length", resolution=0.01, units=units)
    side = shown(part.outside.size, "length", resolution=1.0, units=units)
    return Item(
        f"sheet or bar, {part.material}",
        f"at least {sheet} thick, {side} across",
        str(part.quantity),
        part.name,
    )


def _material(part: Part) -> str:
    return str(getattr(part, "material", "") or getattr(part, "sleeve_material", ""))


def _name(part: Part) -> str:
    return str(getattr(part, "name", "")) or _spaced(type(part).__name__)


def _spaced(name: str) -> str:
    return "".join(f" {c.lower()}" if c.isupper() else c for c in name).strip()


def bearings_to_buy(parts: Sequence[Part], job: Job) -> tuple[Item, ...]:
    """Bearings and bushes by designation, with their sizes where the handbook or the job has them.

    The seat of an outer bushing holds another bushing, not something to buy.
    """
    count: dict[str, int] = {}
    for part in parts:
        if isinstance(part, EccentricBushing) and not part.bearing.startswith("the "):
            count[part.bearing] = count.get(part.bearing, 0) + part.quantity
    return tuple(
        Item("bearing or bush", _with_size(name, job), str(number), "worm, in the bushings")
        for name, number in count.items()
    )


def _with_size(name: str, job: Job) -> str:
    own = next((b for b in job.bearings if b.designation == name), None)
    if own is not None:
        return f"{name} ({own.bore_mm:g} x {own.outside_mm:g} x {own.width_mm:g} mm)"
    try:
        row = bearing(name)
    except ValueError:
        return name
    return f"{name} ({row.bore:g} x {row.outside:g} x {row.width:g} mm)"


def supplies(operations: Sequence[Operation], job: Job) -> tuple[Item, ...]:
    """What is used up: oil or grease, blue, shim stock for trials."""
    keys = {op.key for op in operations}
    items = []
    if "seal_grease" in keys:
        items.append(Item("oil or grease", what_to_fill(job), "one filling", "operation 9"))
    if "axial_centring" in keys:
        items.append(Item("marking blue", "one tube, thin brush", "1", "operation 7c"))
        items.append(Item("shim stock, assorted", _assorted(job), "1 set", "operation 7c"))
    if "strip_wash" in keys:
        items.append(Item("wash, rags, bags and tags", "", "", "operation 1"))
    return tuple(items)


def _assorted(job: Job) -> str:
    if not job.shim_stock_mm:
        return "from the thinnest foil up"
    low, high = min(job.shim_stock_mm), max(job.shim_stock_mm)
    ends = (shown(t, "length", resolution=0.001, units=job.units) for t in (low, high))
    return " to ".join(ends) + " (at hand)"


def indicator_classes(operations: Sequence[Operation], units: Units) -> tuple[tuple[str, str], ...]:
    """The coarsest class of indicator that can tell each length gate, with the gates it is for.

    A limit is told when the class's standard uncertainty for one difference of two readings goes
    into it four times; where none does, the finest is named and repeats must do the rest.
    """
    found: dict[str, list[str]] = {}
    for op in operations:
        for gate in op.gates:
            if gate.dimension != "length" or gate.high is None or _otherwise(gate):
                continue
            band = gate.high - gate.low if gate.low is not None else gate.high
            found.setdefault(class_for(band, units), []).append(f"{op.number} {gate.key}")
    order = sorted(found, key=_fineness)
    return tuple((name, ", ".join(dict.fromkeys(found[name]))) for name in order)


def _otherwise(gate: Gate) -> bool:
    """Whether the gate is read with something else than an indicator."""
    how = gate.how.casefold()
    return any(word in how for word in ("micrometer", "bore", "calliper", "feeler"))


def _fineness(name: str) -> float:
    """Coarse classes first; the mean of several readings last."""
    row = next((i for i in instruments() if i.name == name), None)
    return -_u(row) if row else 0.0


def class_for(band: float, units: Units) -> str:
    """The coarsest indicator class of the unit system whose uncertainty suits a band, mm."""
    usable = sorted(_indicators(units), key=lambda i: -_u(i))
    good = next((i for i in usable if _u(i) <= band / SHARE_OF_LIMIT), None)
    return good.name if good else f"{usable[-1].name}, mean of several readings"


def _u(row: Instrument) -> float:
    return row.u_of_difference(turned_back=True)


def _indicators(units: Units) -> tuple[Instrument, ...]:
    kinds = ("dial indicator", "lever indicator")
    return tuple(
        row
        for row in instruments()
        if row.name.startswith(kinds) and row.name.endswith(f" {units}")
    )


def tools_by_operation(operations: Sequence[Operation]) -> tuple[tuple[str, str], ...]:
    """Each tool once, with the numbers of the operations that want it."""
    found: dict[str, list[str]] = {}
    for op in operations:
        for tool in op.tools:
            found.setdefault(tool, []).append(op.number)
    return tuple((tool, ", ".join(dict.fromkeys(where))) for tool, where in sorted(found.items()))
