"""Plain words of ISO 6983 that every programme here is made of: angles and remarks."""

from __future__ import annotations

import math


def degrees_text(angle: float, *, decimals: int = 3) -> str:
    """An angle in degrees, with a point even when it is whole: some controls read A1 as 0.001.

    >>> degrees_text(math.radians(90)), degrees_text(math.radians(-2.25))
    ('90.0', '-2.25')
    """
    text = f"{math.degrees(angle):.{decimals}f}".rstrip("0")
    text = f"{text}0" if text.endswith(".") else text
    return "0.0" if text == "-0.0" else text


def remark(text: str) -> str:
    """Text in brackets, of signs that may stand there: capitals, figures, blanks.

    >>> remark("Unit µ-1; 80:1")
    '(UNIT -1 80 1)'
    """
    kept = (c if c.isascii() and (c.isalnum() or c in " .-") else " " for c in text.upper())
    return f"({' '.join(''.join(kept).split())})"
