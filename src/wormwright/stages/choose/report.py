"""The choose stage as report blocks."""

from __future__ import annotations

from wormwright.job.blocks import (
    Block,
    Cautions,
    Cell,
    Doubts,
    DriveChart,
    Heading,
    Paragraph,
    Table,
)
from wormwright.job.choice import Change, Choice, Need, Side
from wormwright.job.drive_charts import (
    StackedError,
    StackedRow,
    TorqueCurve,
    TorqueCurves,
    TorquePoint,
)
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job, Units
from wormwright.quantities import shown, shown_estimate

TITLE = "Which drive suits the work"
CAUTIONS = (
    "Self-locking is never a brake: vibration lowers friction and a worm then creeps or runs; an "
    "unbalanced or hanging load needs a brake or a clamp that holds by itself.",
    "A powered motor holds only while it has power: with the power gone a belt or strain wave "
    "table turns freely.",
    "Weigh what you buy before you lift it; above 25 kg use a hoist or a second person.",
)


def report(choice: Choice, job: Job) -> tuple[Block, ...]:
    """Everything: verdict, needs, figures side by side, pictures, and what it hangs on."""
    blocks: list[Block] = [Heading(TITLE), Paragraph(_verdict(choice), strong=True)]
    blocks += [Paragraph(line) for line in choice.reasons]
    blocks += [_needs(choice, job.units), Cautions(CAUTIONS)]
    blocks.append(_remarks_of_drives(choice))
    blocks += _hangs_on(choice, job.units)
    blocks += [Heading("Side by side", 2), _figures(choice), *_pictures(choice)]
    blocks += [Heading("What the work asks for", 2), _loads(choice), *_remarks(choice)]
    if choice.doubts:
        blocks += [Heading("Before you buy", 2), Doubts(choice.doubts)]
    if job.hour_cost is None and any(side.cost for side in choice.sides):
        blocks.append(Paragraph("Hours are not in the costs: give what an hour costs in [cost]."))
    return tuple(blocks)


def _verdict(choice: Choice) -> str:
    listed = " or ".join(choice.chosen)
    if choice.word == "keep what you have":
        return f"Keep what you have: {listed} meets every need."
    if choice.word == "take this one":
        return f"Take {listed}."
    if choice.word == "any of these":
        return f"{listed}: each meets every need, and nothing entered tells them apart."
    if choice.word == "none of these":
        return "None of these drives meets every need."
    return (
        f"No verdict yet: {listed} may or may not meet every need; the entered ranges are too wide."
    )


def _remarks_of_drives(choice: Choice) -> Table:
    rows = tuple(
        (Cell(side.drive.name), Cell(line)) for side in choice.sides for line in side.words
    )
    return Table("What to know of each", ("drive", "remark"), rows, key="remarks")


def _needs(choice: Choice, units: Units) -> Table:
    """One row a need, one column a drive: met or not, in words."""
    keys = list(
        dict.fromkeys((n.work, n.key, n.label) for side in choice.sides for n in side.needs)
    )
    rows = []
    for work, key, label in keys:
        of = [_need_of(side, work, key) for side in choice.sides]
        limit = next(need for need in of if need is not None)
        rows.append(
            (
                Cell(f"{work}: {label}"),
                Cell(_limit(limit, of, units)),
                *(_status(need, units) for need in of),
            )
        )
    names = tuple(side.drive.name for side in choice.sides)
    return Table("Needs, met or not", ("need", "limit", *names), tuple(rows), key="needs")


def _need_of(side: Side, work: str, key: str) -> Need | None:
    return next((n for n in side.needs if (n.work, n.key) == (work, key)), None)


def _limit(need: Need, of: list[Need | None], units: Units) -> str:
    if need.key == "power off":
        return "a brake"
    limits = {(n.limit.low, n.limit.high) for n in of if n is not None}
    way = "at most" if need.at_most else "at least"
    if len(limits) > 1:
        return f"{way} what it gives"
    return f"{way} {shown(need.limit.value, need.limit.dimension, units=units)}"


def _status(need: Need | None, units: Units) -> Cell:
    if need is None:
        return Cell("not asked")
    word = {"met": "met", "not met": "NOT MET", "cannot tell": "cannot tell"}[need.status]
    strong = need.status != "met"
    if need.key == "power off":
        return Cell(f"{word}: {'fitted' if need.got.value else 'none'}", strong=strong)
    got = shown_estimate(need.got, units=units)
    if need.key in ("hold", "torque"):
        got += f" of {shown(need.limit.low, need.limit.dimension, units=units)}"
    return Cell(f"{word}: {got}", strong=strong)


def _figures(choice: Choice) -> Table:
    keys = list(dict.fromkeys((f.key, f.label) for side in choice.sides for f in side.figures))
    rows: list[tuple[Cell, ...]] = []
    for key, label in keys:
        found = [_figure(side, key) for side in choice.sides]
        rows.append((Cell(label), *(_cell(estimate) for estimate in found)))
    rows.append((Cell("driven backwards"), *(Cell(s.back_driving) for s in choice.sides)))
    if any(side.cost for side in choice.sides):
        rows.append((Cell("cost with its hours"), *(_cost(side.cost) for side in choice.sides)))
    names = tuple(side.drive.name for side in choice.sides)
    return Table("The drives side by side", ("", *names), tuple(rows), key="drives")


def _figure(side: Side, key: str) -> Estimate | None:
    return next((f.estimate for f in side.figures if f.key == key), None)


def _cell(estimate: Estimate | None) -> Cell:
    return Cell("not entered") if estimate is None else Cell(estimate=estimate)


def _cost(cost: Estimate | None) -> Cell:
    if cost is None:
        return Cell("not entered")
    if cost.low == cost.high:
        return Cell(f"{cost.value:.0f}")
    return Cell(f"{cost.low:.0f} to {cost.high:.0f}")


def _loads(choice: Choice) -> Table:
    rows = tuple(
        (Cell(load.cut.name), Cell(figure.label), Cell(estimate=figure.estimate))
        for load in choice.loads
        for figure in load.figures
    )
    return Table("Loads of the work", ("work", "what", "size"), rows, key="loads")


def _remarks(choice: Choice) -> list[Block]:
    return [
        Paragraph(f"{load.cut.name}: {'; '.join(load.words)}.")
        for load in choice.loads
        if load.words
    ]


def _hangs_on(choice: Choice, units: Units) -> list[Block]:
    blocks: list[Block] = [Heading("What the verdict hangs on", 2)]
    if choice.flips:
        first = choice.flips[0]
        by = "any change at all" if first.share < 5e-3 else f"a change of {first.share:.0%}"
        blocks.append(
            Paragraph(f"The figure that decides is the {first.what}: {by} changes the verdict.")
        )
        rows = tuple((*_change(change, units), Cell(change.then)) for change in choice.flips)
        columns = ("figure", "now", "changes at", "by", "then")
        blocks.append(Table("Smallest changes that flip it", columns, rows, key="flips"))
    else:
        blocks.append(Paragraph("No single figure, changed up to fourfold, changes this verdict."))
    ways = [way for way in choice.ways if way.changes]
    if ways:
        blocks.append(_ways_table(choice, units))
    for way in choice.ways:
        if not way.changes:
            blocks.append(
                Paragraph(
                    f"{way.drive}: no change of one need alone would do; it misses "
                    f"{'; '.join(way.unmet)}."
                )
            )
    return blocks


def _ways_table(choice: Choice, units: Units) -> Table:
    rows = tuple(
        (Cell(way.drive), *_change(change, units)) for way in choice.ways for change in way.changes
    )
    columns = ("drive", "need", "now", "would do at", "by")
    return Table("What would let the others meet every need", columns, rows, key="ways")


def _change(change: Change, units: Units) -> tuple[Cell, ...]:
    sign = "+" if change.upward else "−"
    share = "the least" if change.share < 5e-3 else f"{sign}{change.share:.0%}"
    return (
        Cell(change.what),
        Cell(_number(change.now, change, units)),
        Cell(_number(change.turns_at, change, units), strong=True),
        Cell(share),
    )


def _number(value: float, change: Change, units: Units) -> str:
    if change.dimension == "none":
        return f"{value:.0f}"
    return shown(value, change.dimension, units=units)


def _pictures(choice: Choice) -> list[Block]:
    blocks: list[Block] = []
    curves = tuple(TorqueCurve(s.drive.name, s.curve) for s in choice.sides if s.curve)
    points = tuple(
        TorquePoint(load.cut.name, load.cut.speed or 0.0, load.torque.high) for load in choice.loads
    )
    if curves:
        caption = "Torque that each drive gives over its speed, and what the work asks for"
        blocks.append(DriveChart(caption, TorqueCurves(curves, points)))
    rows = tuple(
        StackedRow(f"{part.work}, {side.drive.name}", part.parts, part.error, part.allowed)
        for load in choice.loads
        for side in choice.sides
        for part in side.errors
        if part.work == load.cut.name and part.allowed is not None
    )
    if rows:
        blocks.append(DriveChart("Error at the radius, by cause", StackedError(rows)))
    return blocks
