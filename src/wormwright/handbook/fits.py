"""ISO 286 limits of a tolerance class at a size, from the tables."""

from __future__ import annotations

import re
from functools import cache

from wormwright.core.fit import Deviations, hole_deviations, shaft_deviations
from wormwright.handbook.rows import band_row, rows


def tolerance(grade: int, size: float) -> float:
    """Standard tolerance IT of a grade at a size, mm, from the table (never from the formula)."""
    of_grade = tuple(r for r in rows("iso286_tolerances") if r["grade"] == str(grade))
    if not of_grade:
        raise ValueError(f"IT{grade}: expected a grade from 1 to 12")
    return float(band_row(of_grade, size, f"IT{grade}", "over_mm", "to_mm")["tolerance_mm"])


def _from_table(name: str, size: float) -> Deviations:
    of_class = tuple(r for r in rows("iso286_j_limits") if r["tolerance_class"] == name)
    row = band_row(of_class, size, f"tolerance class {name}", "over_mm", "to_mm")
    return Deviations(upper=float(row["upper_mm"]), lower=float(row["lower_mm"]))


def _fundamental(letter: str, grade: int, size: float) -> float:
    if letter in ("h", "js") or (letter == "k" and not 4 <= grade <= 7):
        return 0.0
    of_letter = tuple(r for r in rows("iso286_fundamental") if r["letter"] == letter)
    return float(band_row(of_letter, size, f"deviation {letter}", "over_mm", "to_mm")["value_mm"])


def _delta(letter: str, grade: int, size: float) -> float:
    """IT of the grade less IT of the grade before: what ISO 286-1 adds to K to S holes."""
    limit = {"k": 8, "m": 8, "n": 8, "p": 7, "r": 7, "s": 7}.get(letter, 0)
    if not 3 < grade <= limit or size <= 3:
        return 0.0
    return tolerance(grade, size) - tolerance(grade - 1, size)


@cache
def deviations(tolerance_class: str, size: float) -> Deviations:
    """Limit deviations of a class such as `H7` (hole) or `js5` (shaft) at a size in mm.

    Classes d e f g h js k m n p r s, holes and shafts, grades as tabled; j and J by their own
    table.
    Raises ValueError for a class or size outside the tables, saying which.
    """
    parts = re.fullmatch(r"(js|JS|[a-z]|[A-Z])(\d{1,2})", tolerance_class.strip())
    if parts is None:
        raise ValueError(f"tolerance class {tolerance_class!r}: expected one such as H7, js5 or g6")
    letters, grade = parts[1], int(parts[2])
    if letters in ("j", "J"):
        return _from_table(parts[0], size)
    letter, is_hole = letters.lower(), letters.isupper()
    it = tolerance(grade, size)
    if is_hole and letter == "k" and grade <= 8:
        fundamental = _fundamental("k", 5, size)
    elif is_hole and letter == "n" and grade > 8 and size > 3:
        fundamental = 0.0  # N9 and coarser: ES = 0
    else:
        fundamental = _fundamental(letter, grade, size)
    if is_hole:
        delta = _delta(letter, grade, size)
        return hole_deviations(letters, it=it, shaft_fundamental=fundamental, delta=delta)
    return shaft_deviations(letters, it=it, fundamental=fundamental)
