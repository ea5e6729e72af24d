"""Traps of the dial: a lost needle turn, a dial that counts on past zero, a unit key pressed."""

from __future__ import annotations

import re
from collections.abc import Iterable

import numpy as np

from wormwright.bench import named_instrument, noise
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.sheet import KINDS
from wormwright.stages.measure.siblings import Array, Sibling, known_of, shape_of

CERTAIN = 5.0
"""A value this many scatters off its siblings is no chance."""
DIAL_TURNS = ((0.2, "0.2 mm"), (0.254, "0.010 in"), (1.0, "1 mm"), (2.54, "0.1 in"))
"""Travel of one needle turn of usual dial and test indicators, mm."""
EACH_SIDE = 3
"""Readings wanted before and after a change of unit within a series."""

_NUMBER = re.compile(r"[-+−]?\d*\.?\d+")


def lost_dial_turn(siblings: Iterable[Sibling]) -> tuple[Doubt, ...]:
    """E-5: off its siblings by one needle turn; E-4 where a dial may have counted past zero."""
    return tuple(dial_doubt(s, turn) for s in siblings if (turn := turn_lost(s)))


def sign_lost(s: Sibling) -> Doubt | None:
    """E-4: a place that is in line with its siblings once its sign is changed over."""
    if not KINDS[s.reading.kind].signed or abs(s.expected) < CERTAIN * s.scatter:
        return None
    if abs(s.value + s.expected) > 3 * s.scatter:
        return None
    return Doubt(
        "ask",
        "E-4",
        f"Row {s.reading.seq} reads {s.reading.raw}; with the other sign it is in line with its "
        "siblings.",
        "A sign gets lost in writing, and some lever indicators turn the needle the same way "
        "whichever side the stylus is pushed.",
        "Look which way the needle went, and replace the row; or replace it with the same reading "
        "if it is right.",
        (s.reading.seq,),
    )


def turn_lost(s: Sibling) -> tuple[float, str] | None:
    """The needle turn by which a reading is off, with its name, or None."""
    kind = KINDS[s.reading.kind]
    if kind.dimension != "length" or not (kind.swing or kind.signed):
        return None
    off = abs(s.value - s.expected)
    if off < CERTAIN * s.scatter or (s.expected <= 0 and not kind.signed):
        return None
    for turn, words in _turns(s.reading):
        room = max(4 * s.scatter / s.scale, 0.02)
        if room < 0.2 * turn and abs(off / s.scale - turn) < room:
            return turn, words
    return None


def _turns(reading: Reading) -> tuple[tuple[float, str], ...]:
    named = named_instrument(reading)
    if named is None or named.turn is None:
        return DIAL_TURNS
    return ((named.turn, next((w for t, w in DIAL_TURNS if t == named.turn), "one turn")),)


def dial_doubt(s: Sibling, turn: tuple[float, str]) -> Doubt:
    """The question about one reading that is off by one needle turn."""
    minus = _below_zero_instead(s, turn[0])
    if minus:
        return _counted_past_zero(s.reading, minus)
    more = "more" if s.value > s.expected else "less"
    return Doubt(
        "ask",
        "E-5",
        f"Row {s.reading.seq} is one needle turn ({turn[1]}) {more} than its siblings.",
        "A lost turn of the small hand is the commonest reading error.",
        "Read the small hand too and replace the row, or replace it with the same reading if it "
        "is right.",
        (s.reading.seq,),
    )


def _below_zero_instead(s: Sibling, turn: float) -> str:
    """What the row says if its continuous dial went below zero, in the units it was written in."""
    r = s.reading
    named = named_instrument(r)
    value = r.value or 0.0
    if not KINDS[r.kind].signed or not 0 < value < turn or (named and named.dial != "continuous"):
        return ""
    written = _NUMBER.search(r.raw)
    if written is None:
        return ""
    number = float(written[0].replace("−", "-"))
    places = len(written[0].partition(".")[2])
    return f"{number * (value - turn) / value:.{places}f}".replace("-", "−")


def _counted_past_zero(reading: Reading, minus: str) -> Doubt:
    written = _NUMBER.search(reading.raw)
    plus = written[0].lstrip("+") if written else reading.raw
    return Doubt(
        "ask",
        "E-4",
        f"Row {reading.seq} reads {reading.raw}: {minus} or +{plus}?",
        "A dial numbered on all round the turn shows that figure on either side of its zero; the "
        "other readings of the series stand just below it.",
        "Look which way the needle went, and replace the row with its sign written.",
        (reading.seq,),
    )


def slipped_series(
    rows: tuple[Reading, ...], factors: tuple[float, ...]
) -> tuple[tuple[int, ...], float] | None:
    """Rows from which on a series about a zero is `times` too large, with that number; or None.

    The series must then fit its shape four times better, and no single odd row may do as well.
    """
    known = known_of(rows)
    shape = shape_of(known) if known else None
    if shape is None or len(known) < 2 * EACH_SIDE:
        return None
    y = np.array([v for _, v in known])
    before = _rms(shape, y)
    if before < CERTAIN * float(np.mean([noise(r) for r, _ in known])):
        return None
    tries = [
        (_rms(shape, _undone(y, cut, times)), cut, times)
        for cut in range(EACH_SIDE, len(y) - EACH_SIDE + 1)
        for factor in factors
        for times in (factor, 1 / factor)
    ]
    after, cut, times = min(tries)
    without_one = min(_rms(np.delete(shape, i, 0), np.delete(y, i)) for i in range(len(y)))
    if after > before / 4 or without_one < 1.5 * after:
        return None
    return tuple(r.seq for r, _ in known[cut:]), times


def _undone(y: Array, cut: int, times: float) -> Array:
    """The series with the later rows divided by `times`."""
    mended = y.copy()
    mended[cut:] /= times
    return mended


def _rms(shape: Array, y: Array) -> float:
    rest = y - shape @ np.linalg.lstsq(shape, y, rcond=None)[0]
    return float(np.sqrt(rest @ rest / max(1, len(y) - shape.shape[1])))
