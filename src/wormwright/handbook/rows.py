"""The CSV tables that ship inside the package, read once."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files

Row = dict[str, str]


@cache
def rows(table: str) -> tuple[Row, ...]:
    """All rows of one table, as text. `table` is the file name without `.csv`."""
    text = files("wormwright.handbook").joinpath("data", f"{table}.csv").read_text("utf-8")
    return tuple(csv.DictReader(text.splitlines()))


def number(row: Row, column: str) -> float | None:
    """A cell as a number; None where the source is silent."""
    return float(row[column]) if row[column] else None


def band_row(table: tuple[Row, ...], size: float, what: str, low: str, high: str) -> Row:
    """The row whose band holds `size`: over `low`, up to and with `high`."""
    for row in table:
        if float(row[low]) < size <= float(row[high]):
            return row
    if not table:
        raise ValueError(f"{what}: expected one the handbook has rows for, it has none")
    first, last = table[0][low], table[-1][high]
    raise ValueError(
        f"{what}: expected a size over {first} up to {last} mm, got {size:g} mm; "
        "take the figure from the standard and enter it by hand"
    )
