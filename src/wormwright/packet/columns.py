"""How the columns of a printed table share the width of the paper."""

from __future__ import annotations

from math import ceil

from wormwright.packet.pictured import Grid
from wormwright.packet.wording import Shown

_LETTERINGS = (9.5, 8.5, 7.5, 7.0, 6.5)
"""Letter sizes to try, pt."""
_SMALL = 7.0
"""Letters below this are taken only where nothing else fits, pt."""
_PAPER = 178.0
"""Width of print on the narrower paper, mm."""
_LETTER = 0.205
"""Width of a letter, mm for each pt of its size (DejaVu Sans, mixed words)."""
_BOLD = 1.25
"""How much wider bold words and bold figures are."""
_BIG = 1.65
_GAP = 2.4
_LONGEST_WORD = 20
_ROOMY = 0.6


def column_widths(grid: Grid, *, big: bool) -> tuple[list[float], float]:
    """Shares of the width for each column (all 0: as wide as its words), and the letter size.

    Every column gets what its longest word or figure needs; what is left goes where the long
    lines are. Smaller letters, and units on a line of their own, are taken only where the table
    gets enough lower by it.
    """
    whole = [[_whole(row[i], big=big) for row in grid.rows] for i in range(len(grid.columns))]
    longest = [max(column, default=1.0) for column in whole]
    tries: list[tuple[float, float, list[float]]] = []
    for lettering in _LETTERINGS:
        if tries and lettering < _SMALL:
            break
        room = (_PAPER - _GAP * len(longest)) / (_LETTER * lettering)
        if not tries and len(longest) == 2 and sum(longest) < _ROOMY * room and _only_figures(grid):
            return [0.0, 0.0], lettering
        for unbroken in (True, False):
            least = _least_widths(grid, big=big, unbroken=unbroken)
            if sum(least) <= room or (lettering, unbroken) == (_LETTERINGS[-1], False):
                more = _shared(room - sum(least), longest, least)
                widths = [a + b for a, b in zip(least, more, strict=True)]
                tries.append((_lines(whole, widths) / lettering**1.5, -lettering, widths))
    _, negative, widths = min(tries)
    pad = _GAP / (_LETTER * -negative)
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


def _shared(spare: float, longest: list[float], least: list[float]) -> list[float]:
    """What each column gets of the spare width: by the root of its wish, so that rows stay low."""
    wishes = [max(w - a, 0.0) for w, a in zip(longest, least, strict=True)]
    got = [0.0] * len(wishes)
    for _ in wishes:
        roots = [(w - g) ** 0.5 for w, g in zip(wishes, got, strict=True)]
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
    """Letters of the longest piece that must not be broken."""
    if not cell.figure:
        return float(_longest_word(cell.primary))
    number, _, unit = cell.primary.rpartition(" ")
    piece = cell.primary if unbroken or not number else max(number, unit, key=len)
    return max(len(piece) * (_BIG if big else 1.0) * _BOLD, float(_longest_word(cell.other)))


def _whole(cell: Shown, *, big: bool) -> float:
    """Letters of the cell in one line."""
    if not cell.figure:
        return float(len(cell.primary))
    other = len(cell.other) + 3 if cell.other else 0
    return len(cell.primary) * (_BIG if big else 1.0) * _BOLD + other


def _longest_word(text: str) -> int:
    return min(max((len(word) for word in text.split()), default=1), _LONGEST_WORD)
