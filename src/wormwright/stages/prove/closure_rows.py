"""Readings of a closure put in their places: which position, which face, which set-up."""

from __future__ import annotations

import math
import statistics
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import Bench, noise
from wormwright.core.small_angle import angle_of_swept_face
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.sheet_axis import CLOSURES
from wormwright.quantities import shown

Array = NDArray[np.float64]

OFF_PLACE = math.radians(0.2)
"""A table angle farther than this from every even position belongs to none, rad."""
DRIFTED = 3.0
"""The first position read again may differ by this many u of the difference."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Readings in place: y of shape (positions, set-ups), rad, nan where none; and their rows."""

    y: Array
    rows: NDArray[np.int64]
    shifts: tuple[int, ...]
    set_ups: tuple[int, ...]
    u: float

    @property
    def angles(self) -> Array:
        """Table angle of each position, rad."""
        return np.arange(len(self.y)) * 2 * math.pi / len(self.y)


def layout_of(bench: Bench) -> tuple[Layout | None, tuple[Doubt, ...]]:
    """The closure that the readings make up, or None, with what is wrong with them."""
    rows = [r for kind in CLOSURES for r in bench.of(kind) if r.value is not None]
    if not rows:
        return None, ()
    stopped = tuple(_stopped(rows))
    if stopped:
        return None, stopped
    faces = round(rows[0].number("faces") or 0)
    firsts = {_set_up(r): round(r.number("first_face") or 1) for r in rows}
    set_ups = tuple(sorted(firsts))
    y = np.full((faces, len(set_ups)), np.nan)
    seqs = np.zeros(y.shape, dtype=np.int64)
    doubts: list[Doubt] = []
    again: dict[int, Reading] = {}
    for r in sorted(rows, key=lambda r: r.seq):
        place, off = _place(r, faces)
        if abs(off) > OFF_PLACE:
            doubts.append(_off_place(r, faces))
            continue
        k = set_ups.index(_set_up(r))
        if place == 0 and seqs[0, k] and _comes_round(r):
            again[k] = r
            continue
        if seqs[place, k]:
            doubts.append(_twice(int(seqs[place, k]), r))
        y[place, k], seqs[place, k] = _angle(r)[0], r.seq
    u = math.sqrt(statistics.fmean(_angle(r)[1] ** 2 for r in rows))
    shifts = tuple((firsts[s] - 1) % faces for s in set_ups)
    layout = Layout(y, seqs, shifts, set_ups, u)
    doubts += _drifts(layout, again) + _missing(layout)
    return layout, tuple(doubts)


def _set_up(reading: Reading) -> int:
    return round(reading.number("setup") or 0)


def _angle(reading: Reading) -> tuple[float, float]:
    """The face's angle and its u, rad, whichever way it was read."""
    value, u = reading.value or 0.0, noise(reading)
    length = reading.number("swept")
    if length is None:
        return value, u
    found = angle_of_swept_face(change=value, length=length, reading_u=u / math.sqrt(2))
    return found.value, found.u


def _place(reading: Reading, faces: int) -> tuple[int, float]:
    """Position in which a reading was taken, and by how much its table angle is off it, rad."""
    step = 2 * math.pi / faces
    angle = reading.table_angle or 0.0
    nearest = round(angle / step)
    return nearest % faces, angle - nearest * step


def _comes_round(reading: Reading) -> bool:
    """Whether the first position was read again at the end of the turn."""
    return abs(abs(reading.table_angle or 0.0) - 2 * math.pi) < OFF_PLACE


def _stopped(rows: Sequence[Reading]) -> Iterator[Doubt]:
    """What makes the readings no one closure."""
    faces = Counter(round(r.number("faces") or 0) for r in rows)
    kinds = Counter(r.kind for r in rows)
    if len(faces) > 1 or len(kinds) > 1:
        what = " and ".join(f"{n} faces" for n in sorted(faces)) if len(faces) > 1 else "two means"
        yield _refused(
            "C-1",
            f"The closure speaks of {what}.",
            "One closure is one artefact, read one way.",
            "Replace the rows that belong to another artefact, or supersede them.",
            [r for r in rows if round(r.number("faces") or 0) != faces.most_common(1)[0][0]],
        )
        return
    sides = Counter(side for r in rows if (side := r.said("approach")))
    if len(sides) > 1:
        fewer = sides.most_common()[-1][0]
        yield _refused(
            "C-2",
            f"{sides[fewer]} of {len(rows)} faces were reached {fewer}, the others not.",
            "The reversal of the axis would pass for an error of position.",
            f"Read them again, all from one side; or correct the approach of rows reached {fewer}.",
            [r for r in rows if r.said("approach") == fewer],
        )
    for number in sorted({_set_up(r) for r in rows}):
        own = [r for r in rows if _set_up(r) == number]
        firsts = Counter(round(r.number("first_face") or 1) for r in own)
        if len(firsts) > 1:
            named = " and ".join(str(f) for f in sorted(firsts))
            yield _refused(
                "C-3",
                f"Set-up {number} has face {named} in line at table angle 0.",
                "Within a set-up the artefact stays where it is; only the table turns.",
                "Say which face stood in line at 0, or give the rows a set-up of their own.",
                own,
            )
        most = round(own[0].number("faces") or 0)
        if max(firsts) > most:
            yield _refused(
                "C-3",
                f"Set-up {number} names face {max(firsts)} of an artefact of {most}.",
                "Faces are counted from 1 in the order in which they come in line.",
                "Correct first_face.",
                own,
            )


def _refused(code: str, seen: str, why: str, do: str, rows: Sequence[Reading]) -> Doubt:
    return Doubt("refuse", code, seen, why, do, tuple(sorted(r.seq for r in rows)))


def _off_place(reading: Reading, faces: int) -> Doubt:
    angle = math.degrees(reading.table_angle or 0.0)
    return Doubt(
        "ask",
        "C-4",
        f"Row {reading.seq} stands at {angle:.6g}°, at none of the {faces} even positions.",
        f"A closure steps from face to face, {360 / faces:.6g}° each; the row was left out.",
        "Correct the table angle, or the number of faces.",
        (reading.seq,),
    )


def _twice(first: int, reading: Reading) -> Doubt:
    angle = math.degrees(reading.table_angle or 0.0)
    return Doubt(
        "ask",
        "C-5",
        f"{angle:.6g}° of set-up {_set_up(reading)} stands twice (rows {first}, {reading.seq}).",
        "One of them belongs to another position or set-up; the later one was taken.",
        f"Look at the paper and correct one of them (`--replace {first}` or `--replace "
        f"{reading.seq}`).",
        (first, reading.seq),
    )


def _drifts(layout: Layout, again: dict[int, Reading]) -> list[Doubt]:
    doubts = []
    for k, last in sorted(again.items()):
        by = _angle(last)[0] - float(layout.y[0, k])
        if abs(by) <= DRIFTED * math.sqrt(2) * layout.u:
            continue
        words = shown(abs(by), "angle", u=math.sqrt(2) * layout.u)
        first = int(layout.rows[0, k])
        doubts.append(
            Doubt(
                "warn",
                "C-6",
                f"Position 0 of set-up {layout.set_ups[k]} read {words} differently at the end "
                f"(rows {first}, {last.seq}).",
                "Something drifted in that turn, and its errors carry the drift.",
                "Let it settle at one temperature and read that set-up again.",
                (first, last.seq),
            )
        )
    return doubts


def _missing(layout: Layout) -> list[Doubt]:
    places = np.argwhere(layout.rows == 0)
    if not len(places):
        return []
    named = [
        f"{math.degrees(layout.angles[i]):.6g}° of set-up {layout.set_ups[k]}"
        for i, k in places[:6]
    ]
    more = f" and {len(places) - 6} more" if len(places) > 6 else ""
    return [
        Doubt(
            "warn",
            "C-7",
            f"Not read: {', '.join(named)}{more}.",
            "The others carry the closure; the errors at those places are known less well.",
            "Read them if their doubt matters.",
        )
    ]
