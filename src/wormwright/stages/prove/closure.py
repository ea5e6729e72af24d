"""Closing the circle: errors of table and artefact, and what the readings cannot tell."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import Bench, pair_in_hand
from wormwright.core.closure import (
    Closure,
    closure,
    common_step,
    factor_of_difference,
    uncertainty_factor,
)
from wormwright.core.closure_check import ClosureCheck, Outlier, closure_check
from wormwright.core.closure_plan import folded_wave
from wormwright.core.uncertainty import coverage_factor
from wormwright.job.proof_closure import ClosureProof
from wormwright.job.result import Doubt, Estimate
from wormwright.quantities import shown
from wormwright.stages.prove.closure_rows import Layout, layout_of

Array = NDArray[np.float64]

METHOD = "circle closure"
SLIPS = (
    (-1.0, "its sign is lost"),
    (60.0, "minutes were written for seconds"),
    (1 / 60, "seconds were written for minutes"),
    (25.4, "millimetres were written for inches"),
    (1 / 25.4, "inches were written for millimetres"),
    (10.0, "a point slipped by one place"),
    (0.1, "a point slipped by one place"),
)
"""Factor between what the others say and what was written, and what it looks like."""
LIKE = 0.1


def closure_of(bench: Bench) -> tuple[ClosureProof | None, tuple[Doubt, ...]]:
    """The closure, or None with what stands in its way."""
    layout, doubts = layout_of(bench)
    if layout is None:
        return None, doubts
    blind = _cannot_close(layout)
    if blind is not None:
        return None, (*doubts, blind)
    try:
        found = closure(layout.y, layout.shifts)
    except ValueError as lacking:
        return None, (*doubts, _cut_off(str(lacking), layout))
    check = closure_check(found, u=layout.u) if found.degrees_of_freedom > 0 else None
    if check is not None:
        doubts += _checked(check, found, layout)
    return _proof(bench, layout, found, check), doubts


def _cannot_close(layout: Layout) -> Doubt | None:
    """Re-settings that leave table and artefact mixed, with the one that would part them."""
    n, step = len(layout.y), common_step(len(layout.y), layout.shifts)
    if step == 1:
        return None
    rows = tuple(int(r) for r in np.sort(layout.rows[layout.rows > 0]))
    nullity = step + 1
    if step == n:
        seen = "The artefact stood with one face in line at table angle 0 in every set-up."
        why = "So nothing tells the table's errors from those of the artefact."
    else:
        waves = ", ".join(str(n // step * m) for m in range(1, step // 2 + 1))
        seen = f"The artefact was moved on by multiples of {step} faces of {n} only."
        why = (
            f"So the errors with {waves} waves a turn stay mixed between table and artefact "
            f"({nullity} combinations cannot be seen, two of them the free zeros)."
        )
    return Doubt("refuse", "C-8", seen, why, "Re-seat it one face on and read one more turn.", rows)


def _cut_off(why: str, layout: Layout) -> Doubt:
    said = why.removeprefix("closure: ")
    return Doubt(
        "refuse",
        "C-9",
        f"{said[:1].upper()}{said[1:]}.",
        "Without them part of the turn hangs on nothing.",
        "Read at least one face at each place named.",
        tuple(int(r) for r in np.sort(layout.rows[layout.rows > 0])),
    )


def _checked(check: ClosureCheck, found: Closure, layout: Layout) -> tuple[Doubt, ...]:
    doubts = [_stands_out(o, found, layout) for o in check.outliers[:3]]
    if not check.hangs_together and not check.outliers:
        seen = shown(found.sigma, "angle", u=found.sigma / math.sqrt(2 * found.degrees_of_freedom))
        stated = shown(layout.u, "angle", resolution=layout.u / 10)
        doubts.append(
            Doubt(
                "warn",
                "C-11",
                f"The faces do not close within their doubt: they scatter by {seen}, stated was "
                f"{stated}.",
                "Seating, drift or dirt counts for more than the indicator; the larger figure was "
                "used.",
                "Wipe the seats, let it settle, and read one set-up again to see which it is.",
            )
        )
    return tuple(doubts)


def _stands_out(one: Outlier, found: Closure, layout: Layout) -> Doubt:
    i, k = one.position, one.set_up
    others = float(layout.y[i, k] - found.residuals[i, k] / found.freedom[i, k])
    slip = _slip(float(layout.y[i, k]), others, layout.u)
    place = f"{math.degrees(layout.angles[i]):.6g}° of set-up {layout.set_ups[k]}"
    by = shown(abs(float(layout.y[i, k]) - others), "angle", u=layout.u)
    return Doubt(
        "ask",
        "C-10",
        f"{place} (row {layout.rows[i, k]}) stands {by} off what all the others make it"
        + (f": {slip}" if slip else "")
        + ".",
        "One such reading spoils the errors of its position and of its face.",
        f"Read it again (`--replace {layout.rows[i, k]}`).",
        (int(layout.rows[i, k]),),
    )


def _slip(written: float, others: float, u: float) -> str:
    """What the reading looks like, when it is that many times what the others make it."""
    if abs(others) < 3 * u:
        return ""
    for factor, words in SLIPS:
        if abs(written / (factor * others) - 1) < LIKE:
            return words
    return ""


def _proof(
    bench: Bench, layout: Layout, found: Closure, check: ClosureCheck | None
) -> ClosureProof:
    u = check.u if check else layout.u
    widened = check is not None and check.u > layout.u
    k = coverage_factor(0.95, dof=found.degrees_of_freedom) if widened else 1.96
    pair = pair_in_hand(bench)
    return ClosureProof(
        angles=layout.angles,
        table=_estimates(found.table, found.u_table * u, k),
        artefact=_estimates(found.artefact, found.u_artefact * u, k),
        residuals=found.residuals,
        first_faces=tuple(s + 1 for s in layout.shifts),
        span=_span(layout, found, u, k),
        span_at=(
            float(layout.angles[found.table.argmin()]),
            float(layout.angles[found.table.argmax()]),
        ),
        reading_u=u,
        widened=widened,
        degrees_of_freedom=found.degrees_of_freedom,
        chance=check.chance if check else None,
        missing=int((layout.rows == 0).sum()),
        hidden_wave=folded_wave(round(pair.ratio), len(layout.y)) if pair else None,
        rows=tuple(int(r) for r in np.sort(layout.rows[layout.rows > 0])),
    )


def _estimates(values: Array, u: Array, k: float) -> tuple[Estimate, ...]:
    return tuple(
        Estimate(float(v), float(s), float(v - k * s), float(v + k * s), "angle", METHOD)
        for v, s in zip(values, u, strict=True)
    )


def _span(layout: Layout, found: Closure, u: float, k: float) -> Estimate:
    """From the smallest to the largest error; readings missing there count by their doubt."""
    low, high = int(found.table.argmin()), int(found.table.argmax())
    whole = factor_of_difference(len(found.table), layout.shifts)[high - low]
    more = math.hypot(float(found.u_table[low]), float(found.u_table[high])) / math.sqrt(2)
    s = u * float(whole) * more / uncertainty_factor(len(found.table), layout.shifts)
    value = float(found.table[high] - found.table[low])
    return Estimate(value, s, max(0.0, value - k * s), value + k * s, "angle", METHOD)
