"""How the columns of a printed table share the width of the paper."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from math import ceil, inf

from wormwright.packet.pictured import Grid
from wormwright.packet.wording import Shown

_LETTERINGS = (9.5, 8.5, 7.5, 7.0, 6.5)
"""Letter sizes to try, pt."""
_SMALL = 7.0
"""Letters below this are taken only where nothing else fits, pt."""
_PAPER = 178.0
"""Width of print on the narrower paper, mm."""
_EM = 0.36
"""An em, mm for each pt of its size, with a little to spare."""
_WIDTHS = {
    **dict.fromkeys("ijlI|'", 0.29),
    **dict.fromkeys(" .,:;!/-", 0.34),
    **dict.fromkeys("()[]frt", 0.40),
    **dict.fromkeys("mwMW%±+=<>", 0.90),
}
_OTHER_SIGN, _CAPITAL = 0.63, 0.70
"""Widths of letters, em, rounded up: read from the face itself."""
_BOLD = 1.12
"""How much wider bold letters are."""
_BIG = 1.65
_POWERS = (0.5, 1.0)
"""Spare width goes by the root of what a column lacks, or in proportion: whichever is lower."""
_GAP = 2.4
_LONGEST_WORD = 12.4
"""Longer words may be broken, em."""
_ROOMY = 0.6
_BROKEN = 1.25
"""How much longer a text gets where its lines end at words."""
_LINE, _ROW = 0.46, 1.5
"""Height of a line for each pt of its letters, and of the air and rule of a row, mm."""
_MANY_ROWS = 8
_MOST_PANELS = 3
_PANEL_GAP = 6.0
"""Between the panels of a table that is set side by side, mm."""


def side_by_side(grid: Grid) -> tuple[Grid, int]:
    """A long table of two narrow columns as panels side by side, and how many panels it has."""
    if len(grid.columns) != 2 or len(grid.rows) < _MANY_ROWS:
        return grid, 1
    for panels in range(_MOST_PANELS, 1, -1):
        high = ceil(len(grid.rows) / panels)
        folded = tuple(
            tuple(cell for row in grid.rows[i::high] for cell in row)
            + (Shown(""),) * (2 * (panels - len(grid.rows[i::high])))
            for i in range(high)
        )
        candidate = replace(grid, columns=grid.columns * panels, rows=folded)
        longest = [
            max(_BOLD * _longest_word(name), _usual(_whole(row[i], big=False) for row in grid.rows))
            for i, name in enumerate(grid.columns)
        ]
        width = _PAPER - _GAP * 2 * panels - _PANEL_GAP * (panels - 1)
        if panels * sum(longest) * _EM * _LETTERINGS[1] <= width:
            return candidate, panels
    return grid, 1


def _usual(widths: Iterable[float]) -> float:
    """The width that nine cells of ten keep to; the tenth may take a second line."""
    ordered = sorted(widths)
    return ordered[(9 * len(ordered) - 1) // 10]


def print_height(grid: Grid, widths: list[float], lettering: float) -> float:
    """About how high the rows of the table stand on paper, mm; 0 widths: each row one line."""
    lines = [
        max(
            ceil(_BROKEN * _whole(cell, big=False) / (width or inf))
            for cell, width in zip(row, widths, strict=True)
        )
        for row in grid.rows
    ]
    return sum(max(n, 1) * _LINE * lettering + _ROW for n in lines)


def panel_gaps(widths: list[float], lettering: float) -> list[float]:
    """The widths with room before the first column of every panel but the first."""
    gap = round(_PANEL_GAP / (_EM * lettering), 2)
    return [width + gap * (i > 0 and i % 2 == 0) for i, width in enumerate(widths)]


def column_widths(grid: Grid, *, big: bool) -> tuple[list[float], float]:
    """Shares of the width for each column (all 0: as wide as its words), and the letter size.

    Every column gets what its longest word or figure needs; what is left goes where the long
    lines are. Smaller letters, and units on a line of their own, are taken only where the table
    gets enough lower by it.
    """
    whole = [[_whole(row[i], big=big) for row in grid.rows] for i in range(len(grid.columns))]
    longest = [max(column, default=1.0) for column in whole]
    leasts = [(u, _least_widths(grid, big=big, unbroken=u)) for u in (True, False)]
    tries: list[tuple[float, float, list[float]]] = []
    for lettering in _LETTERINGS:
        if tries and lettering < _SMALL:
            break
        room = (_PAPER - _GAP * len(longest)) / (_EM * lettering)
        if not tries and len(longest) == 2 and sum(longest) < _ROOMY * room and _only_figures(grid):
            return [0.0, 0.0], lettering
        for unbroken, least in leasts:
            if sum(least) <= room or (lettering, unbroken) == (_LETTERINGS[-1], False):
                for power in _POWERS:
                    more = _shared(room - sum(least), longest, least, power)
                    widths = [a + b for a, b in zip(least, more, strict=True)]
                    tries.append((_lines(whole, widths) / lettering**1.5, -lettering, widths))
    _, negative, widths = min(tries)
    pad = _GAP / (_EM * -negative)
    return [round(width + pad, 2) for width in widths], -negative


def _lines(whole: list[list[float]], widths: list[float]) -> int:
    """Lines of print that the rows take."""
    rows = zip(*whole, strict=True)
    return sum(
        max(ceil(cell / width - 0.01) for cell, width in zip(row, widths, strict=True))
        for row in rows
    )


def _least_widths(grid: Grid, *, big: bool, unbroken: bool) -> list[float]:
    return [
        max(
            _BOLD * _longest_word(name),
            *(_least(row[i], big=big, unbroken=unbroken) for row in grid.rows),
            1.0,
        )
        for i, name in enumerate(grid.columns)
    ]


def _shared(spare: float, longest: list[float], least: list[float], power: float) -> list[float]:
    """What each column gets of the spare width, by a power of its wish."""
    wishes = [max(w - a, 0.0) for w, a in zip(longest, least, strict=True)]
    got = [0.0] * len(wishes)
    for _ in wishes:
        roots = [(w - g) ** power for w, g in zip(wishes, got, strict=True)]
        left = spare - sum(got)
        if left <= 0 or sum(roots) == 0:
            break
        got = [
            min(g + left * root / sum(roots), w)
            for g, root, w in zip(got, roots, wishes, strict=True)
        ]
    return got


def _only_figures(grid: Grid) -> bool:
    return all(cell.figure for row in grid.rows for cell in row)


def _least(cell: Shown, *, big: bool, unbroken: bool) -> float:
    """Width of the longest piece that must not be broken, em."""
    if not cell.figure:
        return _longest_word(cell.primary)
    number, _, unit = cell.primary.rpartition(" ")
    piece = cell.primary if unbroken or not number else max(number, unit, key=len)
    return max(_wide(piece) * (_BIG if big else 1.0) * _BOLD, _longest_word(cell.other))


def _whole(cell: Shown, *, big: bool) -> float:
    """Width of the cell in one line, em."""
    if not cell.figure:
        return _wide(cell.primary)
    other = _wide(f" ({cell.other})") if cell.other else 0.0
    return _wide(cell.primary) * (_BIG if big else 1.0) * _BOLD + other


def _longest_word(text: str) -> float:
    return min(max((_wide(word) for word in text.split()), default=1.0), _LONGEST_WORD)


@lru_cache(maxsize=4096)
def _wide(text: str) -> float:
    """Width of a line of plain letters, em."""
    return sum(_WIDTHS.get(sign) or (_CAPITAL if sign.isupper() else _OTHER_SIGN) for sign in text)
