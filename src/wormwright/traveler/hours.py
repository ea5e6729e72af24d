"""Hours of the plan: per operation and in all, with the time at the machine kept apart."""

from __future__ import annotations

from collections.abc import Sequence

from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Table
from wormwright.job.operation import Operation

QUARTER = 15
"""Minutes that an estimate of a job can be told apart by."""


def hours(operations: Sequence[Operation]) -> tuple[Block, ...]:
    """The hours as a table; the sums are of the minutes, not of what is printed."""
    bench = sum(op.minutes - op.machine_minutes for op in operations)
    machine = sum(op.machine_minutes for op in operations)
    rows = [
        _row(op.number, op.title, op.minutes - op.machine_minutes, op.machine_minutes)
        for op in operations
    ]
    rows.append(_row("", "in all", bench, machine))
    return (
        Heading("Hours"),
        Paragraph(
            "Estimates to a quarter of an hour, for one careful person with everything to hand; "
            "setting times of bonds and waiting for parts come on top."
        ),
        Table(
            "Hours at the bench and at the machine",
            ("no.", "operation", "bench", "machine", "both"),
            tuple(rows),
            "hours",
        ),
    )


def in_hours(minutes: float) -> str:
    """Minutes as hours, to the nearest quarter; nothing when there is none of it."""
    if minutes <= 0:
        return ""
    return f"{max(1, round(minutes / QUARTER)) * QUARTER / 60:g} h"


def _row(number: str, title: str, bench: float, machine: float) -> tuple[Cell, ...]:
    figures = (in_hours(bench), in_hours(machine), in_hours(bench + machine))
    return (Cell(number), Cell(title), *(Cell(figure) for figure in figures))
