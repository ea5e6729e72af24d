"""Materials of worms, wheels, housings and bushings: expansion, stiffness, density."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from wormwright.handbook.rows import rows


@dataclass(frozen=True, slots=True)
class Material:
    """Expansion in 1/K at room temperature with the span of the sources, modulus in N/mm^2."""

    name: str
    expansion: float
    expansion_low: float
    expansion_high: float
    modulus: float
    density_kg_m3: float
    source: str


@cache
def materials() -> tuple[Material, ...]:
    """Every material of the handbook."""
    return tuple(
        Material(
            r["name"],
            float(r["expansion_per_k"]),
            float(r["expansion_low_per_k"]),
            float(r["expansion_high_per_k"]),
            float(r["modulus_n_mm2"]),
            float(r["density_kg_m3"]),
            r["source"],
        )
        for r in rows("materials")
    )


_USUAL_NAMES = {
    "steel": "mild steel",
    "cast iron": "grey iron",
    "gray iron": "grey iron",
    "iron": "grey iron",
    "aluminium": "aluminium 6061",
    "aluminum": "aluminium 6061",
    "cast aluminium": "cast aluminium 356",
    "cast aluminum": "cast aluminium 356",
    "cast al-si": "cast aluminium (AlSi9Cu3, ADC12)",
    "bronze": "tin bronze",
    "zamak": "zinc die casting (ZnAl4)",
    "zinc die casting": "zinc die casting (ZnAl4)",
    "acetal": "acetal (POM)",
    "delrin": "acetal (POM)",
}


def material(name: str) -> Material:
    """The material of that name; the shop's short names (steel, bronze, cast iron) are known."""
    key = name.strip().lower()
    wanted = _USUAL_NAMES.get(key, key)
    for row in materials():
        if row.name.lower() == wanted.lower():
            return row
    known = ", ".join(m.name for m in materials())
    raise ValueError(f"material {name!r}: expected one of {known}; take the nearest of its kind")
