"""Shim material as sold: foil, inch stock and DIN 988 rings."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal

from wormwright.handbook.rows import rows

System = Literal["metric foil", "inch stock", "DIN 988 ring"]


@dataclass(frozen=True, slots=True)
class Shim:
    """One thickness in mm with its limit deviations; `sold_as` is what the packet says."""

    system: str
    thickness: float
    upper: float
    lower: float
    sold_as: str
    source: str


@dataclass(frozen=True, slots=True)
class RingSize:
    """A ring size of DIN 988, mm. Check the inside against the bearing's shield before use."""

    inside: float
    outside: float
    source: str


@cache
def shims(system: System) -> tuple[Shim, ...]:
    """Every thickness of one system, thinnest first."""
    found = tuple(
        Shim(
            r["system"],
            float(r["thickness_mm"]),
            float(r["upper_mm"]),
            float(r["lower_mm"]),
            r["sold_as"],
            r["source"],
        )
        for r in rows("shim_stock")
        if r["system"] == system
    )
    if not found:
        raise ValueError(
            f"shim system {system!r}: expected metric foil, inch stock or DIN 988 ring"
        )
    return found


SHEET_SHARE = 0.1
"""Limit deviation of a sheet that is in no list, as a share of its thickness (common practice)."""


@cache
def piece_limits(thickness: float) -> tuple[float, float]:
    """Upper and lower limit deviation of a sheet of that thickness as it is sold, mm.

    From the list that has the thickness (metric foil, inch stock), else `SHEET_SHARE` of it.
    Raises ValueError for a thickness not above zero.
    """
    if not thickness > 0:
        raise ValueError(f"a shim thickness must be above zero, got {thickness} mm")
    for row in (*shims("metric foil"), *shims("inch stock")):
        if abs(row.thickness - thickness) < 1e-4:
            return row.upper, row.lower
    return SHEET_SHARE * thickness, -SHEET_SHARE * thickness


@cache
def ring_sizes(outside: float | None = None) -> tuple[RingSize, ...]:
    """DIN 988 rings, all or those of one outside diameter (mm)."""
    return tuple(
        RingSize(float(r["inside_mm"]), float(r["outside_mm"]), r["source"])
        for r in rows("din988_rings")
        if outside is None or float(r["outside_mm"]) == outside
    )
