"""A unit against a rebuild guide: row by row, with the doubt of the instruments that were used."""

from __future__ import annotations

import math
import statistics

from wormwright.bench import Bench, Figure, noise
from wormwright.core.sameness import Sameness, all_same, coarsest_u, inside_probability, sameness
from wormwright.job.guide import Compared, Guide, GuideRow, SamenessFound
from wormwright.job.result import Doubt
from wormwright.job.sheet import KINDS
from wormwright.quantities import shown
from wormwright.stages.keep.fingerprint import FINGERPRINT

P = 0.95
"""Chance behind both "same" and "not the same", for the whole unit."""


def compare(bench: Bench, guide: Guide) -> SamenessFound:
    """Every row of the guide against what was read of this unit.

    One compulsory row that is not the same settles it; all must be the same for "same". Each row
    is judged by the chance that the true size lies within the limits, so a coarse instrument ends
    in "cannot tell", never in a wrong answer.
    """
    deciding = sum(row.compulsory for row in guide.rows)
    rows = tuple(_row(bench, row, deciding) for row in guide.rows)
    answer = all_same(c.answer for c in rows if c.row.compulsory)
    return SamenessFound(
        guide, bench.job.rotary.unit_id, answer, rows, doubts=tuple(_doubts(guide, bench))
    )


def figure_of(bench: Bench, kind: str, station: str) -> Figure | None:
    """The pooled size that is compared, in core units; a length over threads as length of one."""
    mark = FINGERPRINT.get(kind)
    if mark is None or not mark.per:
        return bench.figure(kind, station or None)
    rows = [
        (r, share)
        for r in bench.of(kind, station or None)
        if r.value is not None and (share := r.number(mark.per))
    ]
    if not rows:
        return None
    values = [r.value / share for r, share in rows if r.value is not None]
    u = math.sqrt(math.fsum((noise(r) / share) ** 2 for r, share in rows)) / len(rows)
    return Figure(statistics.fmean(values), u, len(rows), math.inf, tuple(r.seq for r, _ in rows))


def _row(bench: Bench, row: GuideRow, deciding: int) -> Compared:
    label = KINDS[row.kind].label + (f", {row.station}" if row.station else "")
    mark = FINGERPRINT.get(row.kind)
    if mark and mark.per:
        label = f"{label}, one of them"
    if row.word:
        return _word(bench, row, label)
    figure = figure_of(bench, row.kind, row.station)
    if figure is None:
        return Compared(row, label, None, None, "", "cannot tell", None, _read_it(row))
    low = -math.inf if row.low is None else row.low
    high = math.inf if row.high is None else row.high
    chance = inside_probability(figure.value, u=figure.u, low=low, high=high, dof=figure.dof)
    answer = sameness(chance, sizes=deciding, p=P)
    do = _what_to_do(row, figure, answer)
    return Compared(row, label, figure.value, figure.u, "", answer, chance, do, figure.seqs)


def _word(bench: Bench, row: GuideRow, label: str) -> Compared:
    word = bench.word(row.kind, row.station or None)
    if word is None:
        return Compared(row, label, None, None, "", "cannot tell", None, _read_it(row))
    same = _plain(word) == _plain(row.word)
    answer: Sameness = "same" if same else "not the same"
    do = "" if same else "the guide was made for another kind: do not cut by it"
    seqs = tuple(r.seq for r in bench.of(row.kind, row.station or None) if r.word is not None)
    return Compared(row, label, None, None, word, answer, None, do, seqs)


def _plain(word: str) -> str:
    return " ".join(word.split()).casefold()


def _read_it(row: GuideRow) -> str:
    at = f" --station {row.station}" if row.station else ""
    return f"read it: wormwright measure DIR --read {row.kind} TEXT{at}"


def _what_to_do(row: GuideRow, figure: Figure, answer: Sameness) -> str:
    if answer == "same":
        return ""
    if answer == "not the same":
        return "outside the limits of the guide: use the parts reckoned for this unit, or none"
    if row.low is None or row.high is None or row.low == row.high:
        return "read it again"
    needed = coarsest_u(figure.value, low=row.low, high=row.high, p=P)
    if needed is None:
        return "it lies on the limit: no reading settles that; treat it as not the same"
    fine = shown(needed, row.dimension, resolution=10.0 ** math.floor(math.log10(needed)))
    return f"read it again to {fine} or finer (one standard deviation), then it can be told"


def _doubts(guide: Guide, bench: Bench) -> list[Doubt]:
    doubts = []
    if guide.limits_by == "proposed":
        doubts.append(
            Doubt(
                "warn",
                "E-35",
                "The limits of this guide are a proposal; its author has not set them.",
                "A proposal says how far units of one kind usually differ, not what these parts "
                "allow.",
                "Ask the author for a version with limits set, or use the parts reckoned for this "
                "unit.",
            )
        )
    if guide.made_up and not bench.job.made_up:
        doubts.append(
            Doubt(
                "refuse",
                "E-35",
                "The guide is made up: it was made from an example.",
                "No real unit was ever measured for it.",
                "Use a guide made from a finished unit.",
            )
        )
    return doubts
