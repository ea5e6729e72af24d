"""What it takes to cut a material: the two figures of Kienzle's law and how far tables differ."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from wormwright.handbook.rows import rows


@dataclass(frozen=True, slots=True)
class CutMaterial:
    """k_c1.1 in N/mm², m_c, and the share by which the force may be out."""

    name: str
    stands_for: str
    k11: float
    mc: float
    spread: float
    source: str


@cache
def cutting_materials() -> tuple[CutMaterial, ...]:
    """Every material of the cutting table."""
    return tuple(
        CutMaterial(
            r["name"],
            r["stands_for"],
            float(r["k11_n_mm2"]),
            float(r["mc"]),
            float(r["spread"]),
            r["source"],
        )
        for r in rows("cutting")
    )


def cutting_material(name: str) -> CutMaterial:
    """The row of that name.

    Raises: ValueError that lists the known names.
    """
    for row in cutting_materials():
        if row.name == name:
            return row
    known = ", ".join(row.name for row in cutting_materials())
    raise ValueError(f"material to cut {name!r}: expected one of {known}")
