"""Words in the column beside the views: headings, and lines that wrap to its width."""

from __future__ import annotations

from collections.abc import Sequence

from wormwright.drawings.canvas import Pen, Point
from wormwright.drawings.lettering import wrapped

_HEADING, _HEIGHT, _PITCH, _BETWEEN = 2.8, 2.3, 4.0, 2.6


def write_column(
    pen: Pen, at: Point, width: float, groups: Sequence[tuple[str, Sequence[str]]]
) -> float:
    """Groups of (heading, lines) downward from `at`; the height that the next would start at."""
    x, y = at
    for heading, lines in groups:
        if heading:
            pen.text(heading, (x, y), _HEADING, bold=True)
            y -= 1.2 * _PITCH
        for line in lines:
            for words in wrapped(line, width, _HEIGHT):
                pen.text(words, (x, y), _HEIGHT)
                y -= _PITCH
        y -= _BETWEEN
    return y
