"""Write docs/reference/instruments.md from the handbook.

Run from anywhere: python scripts/make_instrument_docs.py
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

from wormwright.core.indicator import LARGEST_TILT, NEGLIGIBLE_TILT, movement_from_lever
from wormwright.handbook.instruments import Instrument, instruments
from wormwright.quantities import Dimension, shown

PAGE = Path(__file__).resolve().parent.parent / "docs" / "reference" / "instruments.md"
HEAD = """# Instruments

<!-- Made by scripts/make_instrument_docs.py from the handbook: change that, not this page. -->

Name the instrument with a reading (`--instrument "DI 0.01"`, the name or the short key in any case
of letters) and its class is counted: a coarse one widens the figure, and the part that repeats do
not average out stays in. A finer one than usual does not make the set-up finer, so it changes
nothing. Without a name the usual noise of the [reading kind](reading-kinds.md) counts. Your own
`--u` goes before both.

"""
DIALS = """## Dials

- A **continuous** dial counts on round the turn: 98 may be −2. Where a place reads nearly one turn
  above its neighbours, the checks ask which it was (E-4).
- A **balanced** dial counts both ways from its zero: a value one turn off is a lost turn (E-5).
- A **small hand** counts the turns: write it down, a lost turn is the commonest reading error.
- Plus is the plunger or stylus pushed in. The switch of a lever indicator turns that round, and
  some turn the needle the same way whichever side the stylus is pushed: push it once before you
  begin.
- An indicator is claimed to half a division at best, to a quarter where the needle is thin; digits
  beyond that are told (E-34). A movement beyond the travel of the named one is asked about (E-3).

"""
WORDS: dict[str, str] = {
    "length": "Lengths and movements",
    "angle": "Angles",
    "force": "Forces",
    "torque": "Torques",
    "temperature": "Temperatures",
}
MOVEMENTS = (0.02, 0.3, 0.8)
"""Movements in mm for which the doubt of one difference is printed."""


def main() -> None:
    PAGE.write_text(page(), encoding="utf-8", newline="\n")
    print(f"wrote {PAGE}")


def page() -> str:
    """The whole page."""
    known = {row.dimension: None for row in instruments()}
    return (
        HEAD + "".join(_classes(d) for d in known) + DIALS + _differences() + _stylus() + _sources()
    )


def table(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A table of the page."""
    lines = [head, ["---"] * len(head), *rows]
    return "".join(f"| {' | '.join(line)} |\n" for line in lines) + "\n"


def _classes(dimension: str) -> str:
    rows = [row for row in instruments() if row.dimension == dimension]
    if dimension == "length":
        return _lengths(rows)
    head = ("name", "key", "division", "misread by up to", "error, widest", "repeats within")
    cells = [(row.name, f"`{row.key}`", *(_shown(x, row) for x in _plain(row))) for row in rows]
    return f"## {WORDS[dimension]}\n\n{table(head, cells)}"


def _lengths(rows: Sequence[Instrument]) -> str:
    head = (
        "name",
        "key",
        "division, µm (thou)",
        "misread by up to, µm",
        "error over a tenth / half / one turn / all, µm",
        "repeats within, µm",
        "turning back, µm",
        "travel",
        "needle turn",
        "dial",
    )
    return f"## {WORDS['length']}\n\nErrors are whole widths, largest less smallest.\n\n" + table(
        head, [_length_cells(row) for row in rows]
    )


def _plain(row: Instrument) -> tuple[float, float, float, float]:
    return row.resolution, row.read_half_width, row.error_span, row.repeat_span


def _shown(value: float, row: Instrument) -> str:
    dimensions: dict[str, Dimension] = {"angle": "angle", "force": "force", "torque": "torque"}
    dimension = dimensions.get(row.dimension, "rise")
    return shown(value, dimension, resolution=value / 4)


def _um(value: float | None) -> str:
    return "" if value is None else f"{float(f'{value * 1000:.2g}'):g}"


def _length_cells(row: Instrument) -> tuple[str, ...]:
    spans = (row.error_span, row.half_turn_span, row.one_turn_span, row.range_span)
    whole = " / ".join(_um(x) for x in spans) if row.half_turn_span else _um(row.error_span)
    dial = row.dial + (", small hand" if row.counter else "")
    return (
        row.name,
        f"`{row.key}`",
        _both(row.resolution),
        _um(row.read_half_width),
        whole,
        _um(row.repeat_span),
        _um(row.retrace_span),
        "" if row.travel is None else f"{row.travel:g} mm",
        "" if row.turn is None else f"{row.turn:g} mm",
        dial,
    )


def _both(value: float) -> str:
    return f"{_um(value)} ({value / 0.0254:.2g})"


def _differences() -> str:
    dials = [row for row in instruments() if row.dimension == "length" and row.turn]
    head = ("key", *(f"to and fro by {moved:g} mm" for moved in MOVEMENTS))
    rows = [
        (
            f"`{row.key}`",
            *(
                _um(row.u_of_difference(turned_back=True, moved=moved))
                if row.travel and moved <= row.travel
                else "beyond its travel"
                for moved in MOVEMENTS
            ),
        )
        for row in dials
    ]
    return (
        "## What one to-and-fro reading is worth\n\n"
        "Standard uncertainty in µm of one movement read on both sides: two readings misread, the\n"
        "error over that way, repeats, turning back.\n\n" + table(head, rows)
    )


def _stylus() -> str:
    degrees = (0, 5, 10, 15, 20, 25, 30, 45, 60)
    factors = [(d, movement_from_lever(1.0, tilt=math.radians(d))) for d in degrees]
    rows = [(f"{d}°", f"{f:.3f}", f"{1 / f - 1:.1%}") for d, f in factors]
    least, most = (round(math.degrees(x)) for x in (NEGLIGIBLE_TILT, LARGEST_TILT))
    return (
        "## A stylus off square\n\n"
        "A lever indicator whose stylus stands off square shows too much: the movement is the\n"
        "reading times the cosine. Write the tilt with the reading (`stylus`). Up to "
        f"{least}° it is\nleft as read; to {most}° the value is multiplied and the text stays as "
        f"typed; beyond {most}° the\nreading is refused (E-8).\n\n"
        + table(("tilt", "movement / reading", "the dial shows too much by"), rows)
    )


def _sources() -> str:
    by_source: dict[str, list[str]] = {}
    for row in instruments():
        by_source.setdefault(row.source, []).append(f"`{row.key}`")
    lines = "".join(f"- {', '.join(keys)}: {source}.\n" for source, keys in by_source.items())
    return f"## Where the figures come from\n\n{lines}"


if __name__ == "__main__":
    main()
