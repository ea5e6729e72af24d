"""Tools and materials gathered over the plan: stock, shims, bearings, oil, blue, indicators."""

from __future__ import annotations

from collections.abc import Sequence

from wormwright.handbook.bearings import bearing
from wormwright.handbook.instruments import Instrument, instruments
from wormwright.job.blocks import Block, Cell, Heading, Table
from wormwright.job.operation import Gate, Operation
from wormwright.job.parts import EccentricBushing, Part
from wormwright.job.rotary import Job, Units
from wormwright.quantities import shown
from wormwright.traveler.lubricants import what_to_fill
from wormwright.traveler.stock import Item, stock

SHARE_OF_LIMIT = 4.0
"""An indicator's standard uncertainty goes this many times into the limit it must tell."""


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
    """Whether the gate is read with something else than an indicator, or worked out."""
    how = gate.how.casefold()
    return any(word in how for word in ("micrometer", "bore", "calliper", "feeler", "wormwright"))


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
