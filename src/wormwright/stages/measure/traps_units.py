"""Traps in the writing of numbers: unit slips, and digits the instrument has not."""

from __future__ import annotations

import math
import re
import statistics

from wormwright.bench import Bench, named_instrument
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.sheet import KINDS
from wormwright.quantities import shown
from wormwright.stages.measure.siblings import Sibling, beside_siblings, comparable, series
from wormwright.stages.measure.traps_dial import (
    CERTAIN,
    dial_doubt,
    lost_dial_turn,
    sign_lost,
    slipped_series,
    turn_lost,
)

SLIPS = ((25.4, "inches taken for millimetres"), (10.0, "a slipped decimal point"))
"""Factors that a wrong unit or a lost decimal place makes."""
_NUMBER = re.compile(r"[-+−]?\d+(?:\.\d+)?|[-+−]?\.\d+")


def slips_and_turns(bench: Bench) -> tuple[Doubt, ...]:
    """E-3, E-5, E-4: values 25.4 or 10 times off, or one needle turn off, what they should be.

    By their siblings, or a whole series by anything such a rotary shows. A slipped unit is looked
    for first: a needle turn counts where no slip explains the value.
    """
    doubts: list[Doubt] = []
    for rows in series(bench):
        switch = _switched(rows)
        if switch:
            doubts.append(switch)
            continue
        every = beside_siblings(rows)
        turned = {s.reading.seq: d for s in every if (d := sign_lost(s))}
        doubts.extend(turned.values())
        siblings = [s for s in every if s.reading.seq not in turned]
        slipped = [d for s in siblings if (d := _slipped(s, bench))]
        doubts.extend(slipped or _out_of_class(rows, bench))
        doubts.extend(lost_dial_turn(s for s in siblings if not _slip_factor(s)))
    return tuple(doubts)


def beyond_travel(bench: Bench) -> tuple[Doubt, ...]:
    """E-3: a movement larger than the whole travel of the instrument that was named."""
    doubts = []
    for r in (r for group in series(bench) for r in group):
        named, kind = named_instrument(r), KINDS[r.kind]
        if named is None or named.travel is None or not (kind.swing or kind.signed):
            continue
        if abs(r.value or 0.0) <= named.travel:
            continue
        travel = shown(named.travel, "length", resolution=named.resolution, units=bench.job.units)
        doubts.append(
            Doubt(
                "ask",
                "E-3",
                f"Row {r.seq} reads {r.raw}, and the {named.name} travels {travel} in all.",
                "Unit, decimal point or instrument is not what is written.",
                "Look at the unit and at the instrument; replace the row, or replace it with the "
                "same reading if it is right.",
                (r.seq,),
            )
        )
    return tuple(doubts)


def too_many_digits(bench: Bench) -> tuple[Doubt, ...]:
    """E-34: a last digit far finer than instrument or kind can give."""
    rows = [r for group in series(bench) for r in group if _finer_than_gauge(r)]
    if not rows:
        return ()
    numbers = _listed(rows)
    return (
        Doubt(
            "warn",
            "E-34",
            f"{numbers} {_carry(rows)} more digits than the instrument can give.",
            "The extra digits carry nothing; results are rounded to what the readings hold.",
            "Write what the scale shows, to a quarter of its division at best.",
            tuple(r.seq for r in rows),
        ),
    )


def _carry(rows: list[Reading]) -> str:
    return "carries" if len(rows) == 1 else "carry"


def _listed(rows: list[Reading]) -> str:
    seqs = ", ".join(str(r.seq) for r in rows[:6]) + (" …" if len(rows) > 6 else "")
    return f"Row {seqs}" if len(rows) == 1 else f"Rows {seqs}"


def _switched(rows: tuple[Reading, ...]) -> Doubt | None:
    """A series that jumps by 25.4 or 10 from one row on."""
    if KINDS[rows[0].kind].signed:
        slip = slipped_series(rows, tuple(factor for factor, _ in SLIPS))
        return None if slip is None else _switch_doubt(rows[0], slip[0], slip[1])
    known = [(r, y) for r in rows if (y := comparable(r)) is not None and y > 0]
    for cut in range(2, len(known) - 1):
        before, after = [y for _, y in known[:cut]], [y for _, y in known[cut:]]
        if max(_spread(before), _spread(after)) > 4:
            continue
        jump = math.log(statistics.median(after) / statistics.median(before))
        for factor, _ in SLIPS:
            if abs(abs(jump) - math.log(factor)) < math.log(1.35):
                seqs = tuple(r.seq for r, _ in known[cut:])
                return _switch_doubt(rows[0], seqs, factor if jump > 0 else 1 / factor)
    return None


def _switch_doubt(first: Reading, seqs: tuple[int, ...], times: float) -> Doubt:
    factor = max(times, 1 / times)
    words = min(SLIPS, key=lambda slip: abs(slip[0] - factor))[1]
    return Doubt(
        "ask",
        "E-3",
        f"From row {seqs[0]} on the {KINDS[first.kind].label.lower()} reads about "
        f"{factor:g} times {'more' if times > 1 else 'less'} than before.",
        f"{words.capitalize()} would do that: the unit may have changed in the series.",
        "Look at the unit on the instrument and replace the rows that are wrong.",
        seqs,
    )


def _spread(values: list[float]) -> float:
    return max(values) / min(values)


def _slip_factor(s: Sibling) -> tuple[float, str] | None:
    """The slip that would explain the value, or None when it is in line or fits no slip."""
    if abs(s.value - s.expected) < CERTAIN * s.scatter:
        return None
    if KINDS[s.reading.kind].signed:
        return _signed_slip(s)
    if s.expected <= 0 or s.value <= 0:
        return None
    ratio = s.value / s.expected
    for factor, words in SLIPS:
        for slip in (factor, 1 / factor):
            if abs(math.log(ratio / slip)) < math.log(1.35):
                return slip, words
    return None


def _signed_slip(s: Sibling) -> tuple[float, str] | None:
    """The same about an arbitrary zero: a value that is hardly off zero has no ratio to it."""
    if abs(s.expected) < 3 * s.scatter:
        return None
    off, slip, words = min(
        (abs(s.value / slip - s.expected), slip, words)
        for factor, words in SLIPS
        for slip in (factor, 1 / factor)
    )
    return (slip, words) if off <= max(3 * s.scatter, 0.35 * abs(s.expected)) else None


def _slipped(s: Sibling, bench: Bench) -> Doubt | None:
    slip = _slip_factor(s)
    if slip is None:
        return None
    turn = turn_lost(s)
    if turn and (
        KINDS[s.reading.kind].signed or abs(s.value / slip[0] - s.expected) > 3 * s.scatter
    ):
        return dial_doubt(s, turn)
    or_turn = f" One lost turn of the needle ({turn[1]}) would do it too." if turn else ""
    r = s.reading
    wanted = shown(
        s.expected / s.scale,
        KINDS[r.kind].dimension,
        resolution=KINDS[r.kind].noise,
        units=bench.job.units,
    )
    times = f"{slip[0]:g} times" if slip[0] > 1 else f"a {1 / slip[0]:g}th of"
    return Doubt(
        "ask",
        "E-3",
        f"Row {r.seq} reads {r.raw} {'' if r.unit in r.raw else r.unit}".rstrip()
        + f", about {times} what its siblings say ({wanted}).",
        f"{slip[1].capitalize()} would do that.{or_turn}",
        "Look at the unit and the decimal point; replace the row, or replace it with the same "
        "reading if it is right.",
        (r.seq,),
    )


def _out_of_class(rows: tuple[Reading, ...], bench: Bench) -> tuple[Doubt, ...]:
    """A whole series far outside what such rotaries show, and inside it after a slip is undone."""
    kind = KINDS[rows[0].kind]
    values = [r.value for r in rows if r.value]
    if not values or kind.usual_low is None or kind.usual_high is None:
        return ()
    value = statistics.median(map(abs, values) if kind.signed else values)
    least = kind.usual_high / 10 if kind.signed else kind.usual_low
    for factor, words in SLIPS:
        high = value > 3 * kind.usual_high and least <= value / factor <= kind.usual_high
        low = (
            _is_a_size(kind.key)
            and value < kind.usual_low / 2
            and kind.usual_low <= value * factor <= kind.usual_high
        )
        if high or low:
            span = " to ".join(
                shown(x, kind.dimension, resolution=kind.noise, units=bench.job.units)
                for x in (kind.usual_low, kind.usual_high)
            )
            return (
                Doubt(
                    "ask",
                    "E-3",
                    f"{kind.label}: {_listed(list(rows)).lower()} far from the usual {span}.",
                    f"It would be usual if {words} were undone.",
                    "Look at the unit and the decimal point; replace the row, or replace it with "
                    "the same reading if it is right.",
                    tuple(r.seq for r in rows),
                ),
            )
    return ()


def _is_a_size(kind: str) -> bool:
    """True for sizes of parts, which are never small because the unit is good."""
    row = KINDS[kind]
    return row.dimension == "length" and row.row == 1 and (row.low or 0.0) > 0


def _finer_than_gauge(reading: Reading) -> bool:
    step = last_digit(reading)
    named = named_instrument(reading)
    usual = KINDS[reading.kind].noise or 0.0
    finest = named.read_half_width / 25 if named else usual / 200
    return step is not None and step < 0.99 * finest


def last_digit(reading: Reading) -> float | None:
    """What one step of the last decimal written is worth in the core unit; None if not clear."""
    found = _NUMBER.findall(reading.raw)
    if not found or reading.value is None or len(found) > 2 or "." not in "".join(found):
        return None
    numbers = [float(n.replace("−", "-")) for n in found]
    written = numbers[0] - (numbers[1] if len(numbers) == 2 else 0.0)
    if not written or not reading.value:
        return None
    places = max(len(n.split(".")[1]) if "." in n else 0 for n in found)
    return abs(reading.value / written) * 10.0**-places


UNIT_TRAPS = (slips_and_turns, beyond_travel, too_many_digits)
"""Traps in the writing of numbers."""
