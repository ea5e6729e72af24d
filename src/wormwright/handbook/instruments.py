"""What a usual instrument can be trusted with."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from wormwright.handbook.rows import rows


@dataclass(frozen=True, slots=True)
class Instrument:
    """One class of instrument; figures in mm, rad, N, N·mm or K by `dimension`.

    `read_half_width` is how far a single reading can be misread; the spans are full widths
    (largest minus smallest error): over a short way, of repeats, and on turning back.
    """

    name: str
    dimension: str
    resolution: float
    read_half_width: float
    error_span: float
    repeat_span: float
    retrace_span: float
    source: str

    def u_of_difference(self, *, turned_back: bool) -> float:
        """Standard uncertainty of one difference of two readings over a short way.

        Each part is taken as rectangular: two readings misread by up to the half width, and the
        error spans. `turned_back` adds the retrace error: the second reading was approached from
        the other side, as in a rock.
        """
        reading = self.read_half_width * math.sqrt(2 / 3)
        spans = [self.error_span, self.repeat_span]
        if turned_back:
            spans.append(self.retrace_span)
        return math.hypot(reading, *(span / math.sqrt(12) for span in spans))


@cache
def instruments() -> tuple[Instrument, ...]:
    """Every instrument class of the handbook."""
    return tuple(
        Instrument(
            r["name"],
            r["dimension"],
            float(r["resolution"]),
            float(r["read_half_width"]),
            float(r["error_span"]),
            float(r["repeat_span"]),
            float(r["retrace_span"]),
            r["source"],
        )
        for r in rows("instruments")
    )


def instrument(name: str) -> Instrument:
    """The instrument class of that name."""
    for row in instruments():
        if row.name == name:
            return row
    known = ", ".join(row.name for row in instruments())
    raise ValueError(f"instrument {name!r}: expected one of {known}")
