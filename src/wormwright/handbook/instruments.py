"""What a usual instrument can be trusted with."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache
from typing import Literal

from wormwright.handbook.rows import number, rows

Dial = Literal["continuous", "balanced", "digital", ""]
_DIALS: dict[str, Dial] = {
    "continuous": "continuous",
    "balanced": "balanced",
    "digital": "digital",
    "": "",
}


@dataclass(frozen=True, slots=True)
class Instrument:
    """One class of instrument; figures in mm, rad, N, N·mm or K by `dimension`.

    A reading may name it by `name` or by the short `key`. `read_half_width` is how far a single
    reading can be misread; the spans are full widths (largest minus smallest error): over a short
    way (a tenth of a needle turn), half a turn, one turn and the whole travel, of repeats, and on
    turning back. `turn` is the travel of one needle turn; a continuous dial counts on round the
    turn, so that 98 may be -2; a balanced one counts both ways from its zero. `counter` says that a
    small hand counts the turns. None or "" where it does not apply.
    """

    name: str
    key: str
    dimension: str
    resolution: float
    read_half_width: float
    error_span: float
    half_turn_span: float | None
    one_turn_span: float | None
    range_span: float | None
    repeat_span: float
    retrace_span: float
    travel: float | None
    turn: float | None
    dial: Dial
    counter: bool
    source: str

    def span_over(self, moved: float) -> float:
        """Error span of a difference over that way, by the table row of the part of a turn."""
        if not (self.turn and self.half_turn_span and self.one_turn_span and self.range_span):
            return self.error_span
        part = abs(moved) / self.turn
        if part <= 0.1:
            return self.error_span
        if part <= 0.5:
            return self.half_turn_span
        return self.one_turn_span if part <= 1 else self.range_span

    def u_of_difference(self, *, turned_back: bool, moved: float = 0.0) -> float:
        """Standard uncertainty of one difference of two readings.

        Each part is taken as rectangular: two readings misread by up to the half width, and the
        error spans. `turned_back` adds the retrace error: the second reading was approached from
        the other side, as in a rock. `moved` is how far the needle went between the two.
        """
        reading = self.read_half_width * math.sqrt(2 / 3)
        spans = [self.span_over(moved), self.repeat_span]
        if turned_back:
            spans.append(self.retrace_span)
        return math.hypot(reading, *(span / math.sqrt(12) for span in spans))


@cache
def instruments() -> tuple[Instrument, ...]:
    """Every instrument class of the handbook."""
    return tuple(
        Instrument(
            name=r["name"],
            key=r["key"],
            dimension=r["dimension"],
            resolution=float(r["resolution"]),
            read_half_width=float(r["read_half_width"]),
            error_span=float(r["error_span"]),
            half_turn_span=number(r, "half_turn_span"),
            one_turn_span=number(r, "one_turn_span"),
            range_span=number(r, "range_span"),
            repeat_span=float(r["repeat_span"]),
            retrace_span=float(r["retrace_span"]),
            travel=number(r, "travel"),
            turn=number(r, "turn"),
            dial=_DIALS[r["dial"]],
            counter=r["counter"] == "yes",
            source=r["source"],
        )
        for r in rows("instruments")
    )


def instrument(name: str) -> Instrument:
    """The instrument class of that name or short key, in any case of letters."""
    wanted = name.strip().casefold()
    for row in instruments():
        if wanted in (row.name.casefold(), row.key.casefold()):
            return row
    known = ", ".join(row.name for row in instruments())
    raise ValueError(f"instrument {name!r}: expected one of {known}")
