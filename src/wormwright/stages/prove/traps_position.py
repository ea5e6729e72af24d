"""Traps in the readings of a positioning test: slipped units, swapped sides, drift, few targets."""

from __future__ import annotations

import math
import statistics
from collections.abc import Mapping, Sequence

from wormwright.core.positioning import fewest_targets
from wormwright.core.worm_phase import BLIND, phase_blindness
from wormwright.job.result import Doubt
from wormwright.quantities import shown
from wormwright.stages.prove.deviations import BELIEVABLE, Deviation

SLIPS = (
    (60.0, "arcmin and arcsec, or degrees and arcmin"),
    (3600.0, "degrees and arcsec"),
    (10.0, "a slipped decimal point"),
)
"""Factors that a wrong unit of angle or a lost decimal place makes."""
NEAR = 1.35
"""A ratio within this factor of a slip is taken for it."""
SURE = 8.0
"""A reading further from its siblings than so many standard deviations is looked at."""
USUAL_RUNS = 5
ASK_AGAIN = "Look at the paper: replace the row, or replace it with the same text if it is right."


def slipped(rows: Sequence[Deviation]) -> tuple[Doubt, ...]:
    """P-4: rows of a slipped unit or sign, and rows far from the other runs; these rows go out."""
    doubts = [*_slipped_blocks(rows)]
    out = {seq for d in doubts for seq in d.rows}
    doubts += _off_siblings([r for r in rows if r.reading.seq not in out])
    return tuple(doubts)


def _slipped_blocks(rows: Sequence[Deviation]) -> list[Doubt]:
    """A whole run of one approach that swings by a slip more or less than the others."""
    blocks: dict[tuple[str, int], list[Deviation]] = {}
    for row in rows:
        blocks.setdefault((row.approach, row.run), []).append(row)
    swings = {key: _swing([r.x for r in part]) for key, part in blocks.items()}
    if len(swings) < 3 or min(len(part) for part in blocks.values()) < 4:
        return []
    usual = statistics.median(swings.values())
    doubts = []
    for key, swing in swings.items():
        told = _slip(swing / usual) if swing > 0 and usual > 0 else None
        part = [r for r in blocks[key] if not r.stood_by]
        if told and part:
            seen = f"Run {key[1]} {key[0]} swings {_times(swing / usual)} as far as the others."
            doubts.append(_ask("P-4", seen, f"That is what {told} would make of it.", part))
    return doubts


def _swing(x: Sequence[float]) -> float:
    """Half of a set lies within this of its middle; one reading that slipped does not count."""
    middle = statistics.median(x)
    return statistics.median(abs(v - middle) for v in x)


def _off_siblings(rows: Sequence[Deviation]) -> list[Doubt]:
    """Single readings that stand far from the same place in the other runs."""
    places: dict[tuple[int, str], list[Deviation]] = {}
    for row in rows:
        places.setdefault((round(row.target * 1e6), row.approach), []).append(row)
    rests = [abs(r.x - statistics.median(s.x for s in p)) for p in places.values() for r in p]
    scatter = max(1.48 * statistics.median(rests or [0.0]), 1e-7)
    doubts = []
    for part in places.values():
        for row in part if len(part) >= 3 else ():
            others = statistics.median(r.x for r in part if r is not row)
            if abs(row.x - others) < SURE * scatter or row.stood_by:
                continue
            doubts.append(_one_off(row, others, scatter))
    return doubts


def _one_off(row: Deviation, others: float, scatter: float) -> Doubt:
    told = None
    if abs(row.x + others) < SURE * scatter / 2:
        told = "a lost sign"
    elif others and row.x / others > 0:
        told = _slip(row.x / others)
    elif abs(row.x) > BELIEVABLE:
        told = "a wrong unit or a turn too many"
    why = f"That is what {told} would make of it." if told else "One such reading makes R and A."
    where = f"{_degrees(row.target)} {row.approach}, run {row.run}"
    seen = f"{where} reads {row.reading.raw}, the other runs {_angle(others, scatter)}."
    return _ask("P-4", seen, why, [row])


def _slip(ratio: float) -> str | None:
    size = max(ratio, 1 / ratio)
    return next((told for factor, told in SLIPS if 1 / NEAR < size / factor < NEAR), None)


def _times(ratio: float) -> str:
    return f"{ratio:.3g} times" if ratio >= 1 else f"1/{1 / ratio:.3g}"


def _ask(code: str, seen: str, why: str, rows: Sequence[Deviation]) -> Doubt:
    return Doubt("ask", code, seen, why, ASK_AGAIN, tuple(r.reading.seq for r in rows))


def swapped(rows: Sequence[Deviation]) -> tuple[Doubt, ...]:
    """P-5: forward and backward changed places at a target of one run; those rows go out."""
    pairs: dict[tuple[int, int], dict[str, Deviation]] = {}
    for row in rows:
        pairs.setdefault((round(row.target * 1e6), row.run), {})[row.approach] = row
    both = {key: p for key, p in pairs.items() if len(p) == 2}
    turns = {key: p["forward"].x - p["backward"].x for key, p in both.items()}
    if len(turns) < 4:
        return ()
    usual = statistics.median(turns.values())
    scatter = 1.48 * statistics.median(abs(t - usual) for t in turns.values())
    if abs(usual) < 4 * scatter:
        return ()
    middles: dict[int, list[float]] = {}
    for (target, _), p in both.items():
        middles.setdefault(target, []).append(_middle(p))
    doubts = []
    for key, turn in turns.items():
        asked = [both[key][way] for way in ("forward", "backward")]
        off = abs(_middle(both[key]) - statistics.median(middles[key[0]]))
        turned = abs(turn + usual) < abs(usual) / 2 and off < abs(usual) / 4
        if turned and not all(r.stood_by for r in asked):
            where = f"{_degrees(asked[0].target)}, run {key[1]}"
            seen = f"{where}: the two sides stand the other way round than everywhere else."
            why = "Forward and backward were mixed up, or the target was reached from one side."
            doubts.append(_ask("P-5", seen, why, asked))
    return tuple(doubts)


def _middle(pair: Mapping[str, Deviation]) -> float:
    """Mean of both sides, which is the same when they are mixed up."""
    return (pair["forward"].x + pair["backward"].x) / 2


def reversal_sign(mean_reversal: float, u: float, rows: tuple[int, ...]) -> tuple[Doubt, ...]:
    """P-6: coming forward the table stands further on, which no play can do."""
    if mean_reversal < 3 * u:
        return ()
    return (
        Doubt(
            "warn",
            "P-6",
            f"Coming forward the table stands {_angle(mean_reversal, u)} further on than coming "
            "backward.",
            "Play leaves a table behind on both sides, so it should be the other way round: the "
            "control takes up more than there is, or the words forward and backward, or plus and "
            "minus of the reading, are the wrong way round.",
            "Set the reversal in the control to zero and try one target from both sides.",
            rows,
        ),
    )


def drifted(drift: float, u: float, effect: float, rows: tuple[int, ...]) -> tuple[Doubt, ...]:
    """P-7: zero wandered by as much as what the test shows, or by a good part of it."""
    if drift <= 2 * u:
        return ()
    seen = f"The first position moved by {_angle(drift, u)} during the test"
    do = "Let stand and means settle, keep draught and sun away, read again with fewer pauses."
    if drift >= effect:
        seen += f", and all that the test shows is {_angle(effect, u)}."
        return (Doubt("refuse", "P-7", seen, "The figures show the drift.", do, rows),)
    if drift < effect / 3:
        return ()
    why = "Reversal, scatter and error carry it."
    return (Doubt("warn", "P-7", seen + ".", why, do, rows),)


def sparse(targets: Sequence[float], runs: int, ratio: float | None) -> tuple[Doubt, ...]:
    """P-8: fewer targets or runs than the standard asks for; P-9: all at one phase of the worm."""
    doubts = []
    travel = min(math.degrees(max(targets) - min(targets)) * len(targets) / (len(targets) - 1), 360)
    least = fewest_targets(travel_deg=travel)
    if len(targets) < least or runs < USUAL_RUNS:
        seen = f"{len(targets)} targets in {runs} runs; ISO 230-2 wants {least} and {USUAL_RUNS}."
        why = "The figures may not be quoted as figures of that standard."
        do = "Plan the test with `wormwright prove DIR --plan`."
        doubts.append(Doubt("warn", "P-8", seen, why, do))
    if ratio is not None and phase_blindness(targets, ratio=ratio) > BLIND:
        seen = f"At {ratio:g}:1 all {len(targets)} targets meet the worm at one place of its turn."
        why = "An error that repeats with the worm, however large, does not show."
        do = "Take targets moved by parts of a worm turn (`--plan`), and a fine sweep of one turn."
        doubts.append(Doubt("warn", "P-9", seen, why, do))
    return tuple(doubts)


def unnamed(rows: Sequence[Deviation]) -> tuple[Doubt, ...]:
    """P-10: nothing says what the angles were measured with, nor how well."""
    bare = [r for r in rows if r.reading.u is None and not r.reading.said("means")]
    if not bare:
        return ()
    seen = f"What {len(bare)} positions were measured with is not written."
    why = "The uncertainty of the test is then a guess: 3 arcsec a reading."
    do = "Write the means with each run (--with means=...), and its standard uncertainty (--u)."
    return (Doubt("warn", "P-10", seen, why, do, tuple(r.reading.seq for r in bare)),)


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.6g}°"


def _angle(angle: float, u: float) -> str:
    return shown(angle, "angle", u=u)
