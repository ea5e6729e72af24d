"""What the readings cannot tell apart: combinations of unknowns, named, each with its size."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from wormwright.job.findings import PLAYS, SHARES, VECTORS, Unseparated
from wormwright.job.pair import WormPair
from wormwright.quantities import shown, shown_estimate
from wormwright.stages.diagnose.fit import SHARED, Fit
from wormwright.stages.diagnose.ranges import (
    COMPLIANCE,
    KNOWN,
    LABELS,
    OTHER_LABELS,
    WEAR,
    UsualRange,
)
from wormwright.stages.diagnose.rows import Row, axial_share
from wormwright.stages.diagnose.turn import estimate_of

Array = NDArray[np.float64]

TAKES_PART = 0.15
"""Weight in a known combination, in units of the usual ranges, from which a cause is named."""

TRADES = 0.25
"""Correlation from which two causes are said to pay for each other."""

WORTH_SAYING = math.radians(3 / 3600)
"""Doubts below this are not worth a line, rad at the table."""


def unseparated_of(
    fit: Fit, rows: list[Row], ranges: dict[str, UsualRange], pair: WormPair
) -> tuple[Unseparated, ...]:
    """Groups of causes of which the readings fix fewer combinations than there are causes.

    The posterior covariance in units of the usual ranges is split into its principal directions.
    A direction that the readings fix ties the open causes in it into one group; an open cause in
    no group was not seen at all.
    """
    names = _asked(fit, ranges, pair)
    scaled = np.column_stack([fit.of(n) / ranges[n].sd for n in names])
    covariance: Array = np.atleast_2d(np.cov(scaled, rowvar=False))
    variances, directions = np.linalg.eigh(covariance)
    open_ = [i for i in range(len(names)) if covariance[i, i] > KNOWN**2]
    fixed = directions[:, variances < KNOWN**2]
    at_table = _at_table(fit, rows, pair)
    out = [
        _told([names[i] for i in g], covariance[np.ix_(g, g)], fit, at_table)
        if len(g) > 1
        else _alone(names[g[0]], _partner(g[0], names, covariance), fit, at_table)
        for g in _groups(open_, fixed)
    ]
    told: dict[tuple[str, ...], Unseparated] = {}
    for one in sorted((u for u in out if u.size > WORTH_SAYING), key=lambda u: -u.size):
        told.setdefault(one.causes, one)
    return tuple(told.values())


def _asked(fit: Fit, ranges: dict[str, UsualRange], pair: WormPair) -> list[str]:
    """Unknowns that count at the table and belong to the fit."""
    counted = [p for p in PLAYS if p != "table_axial" or axial_share(pair) > 0]
    more = [n for n in fit.names if n in OTHER_LABELS and n in ranges]
    return [*counted, *more]


def _groups(open_: list[int], fixed: Array) -> list[list[int]]:
    """Open unknowns that share a fixed direction, joined; the rest each by itself."""
    groups = [{i} for i in open_]
    for column in fixed.T:
        tied = {i for i in open_ if abs(column[i]) > TAKES_PART}
        joined = [g for g in groups if g & tied]
        if len(joined) > 1:
            groups = [g for g in groups if g not in joined] + [set().union(*joined)]
    return [sorted(g) for g in groups]


def _told(keys: list[str], covariance: Array, fit: Fit, at_table: dict[str, float]) -> Unseparated:
    parts = np.column_stack([fit.of(k) * at_table[k] for k in keys])
    spread, ways = np.linalg.eigh(np.atleast_2d(np.cov(parts, rowvar=False)))
    size = math.sqrt(max(float(spread[-1]), 0.0))
    in_range = np.linalg.eigh(covariance)[1][:, -1]
    direction = tuple((k, float(w)) for k, w in zip(keys, in_range, strict=True))
    causes = tuple(dict.fromkeys(_label(k) for k in keys))
    against = bool(np.ptp(np.sign(ways[:, -1])) > 1)
    return Unseparated(causes, direction, size, _words(causes, parts, against, size))


def _alone(key: str, against: str, fit: Fit, at_table: dict[str, float]) -> Unseparated:
    """One cause that no reading fixes, and the one that pays for it."""
    cause, size = _label(key), float(fit.of(key).std()) * at_table[key]
    doubt = f"± {shown(1.96 * size, 'angle', u=size)}"
    words = f"{cause}: no reading fixes it by itself; {doubt} at the table stands open, the usual "
    words += "range of the trade"
    if against:
        words += f"; the {against} is out by as much the other way"
    return Unseparated((cause,), ((key, 1.0),), size, words, against)


def _partner(i: int, names: list[str], covariance: Array) -> str:
    """The cause that reads less by what this one reads more; empty if none stands out."""
    sd = np.sqrt(np.diag(covariance))
    linked = covariance[i] / (sd[i] * sd)
    most = int(np.argmin(linked))
    return _label(names[most]) if linked[most] < -TRADES and names[most] in PLAYS else ""


def _label(key: str) -> str:
    return (LABELS.get(key) or OTHER_LABELS[key]).removesuffix(" (mean backlash)")


def _at_table(fit: Fit, rows: list[Row], pair: WormPair) -> dict[str, float]:
    """Lost motion at the table per unit of each unknown, rad: shares of plays at their mean."""
    torque = max((r.torque for r in rows), default=0.0)
    at_r2 = dict.fromkeys((*PLAYS, WEAR), 1.0)
    at_r2 |= dict.fromkeys(VECTORS, 2 * pair.t)
    at_r2 |= {"table_axial": axial_share(pair) * pair.g, COMPLIANCE: 2 * torque / pair.r2}
    for share, play in zip(SHARES, SHARED, strict=True):
        at_r2[play] = float(fit.posterior.of(share).mean())
    return {name: factor / pair.r2 for name, factor in at_r2.items()}


def _words(causes: tuple[str, ...], parts: Array, against: bool, size: float) -> str:
    doubt = f"± {shown(1.96 * size, 'angle', u=size)}"
    swap = "more of one with less of another reads just the same" if against else "they add up"
    summed = shown_estimate(estimate_of(parts.sum(axis=1), "angle", "sum"))
    return (
        f"{_and(causes)}: {swap}. The readings fix their sum ({summed}), but {doubt} of it may "
        "belong to one or another"
    )


def _and(labels: tuple[str, ...]) -> str:
    return f"{', '.join(labels[:-1])} and {labels[-1]}"
