"""The stack of shim stock at hand that comes nearest to a thickness, as the pieces are sold."""

from __future__ import annotations

from wormwright.core.shim import Piece, Stack, best_stack
from wormwright.handbook.shim_stock import piece_limits, shims
from wormwright.job.result import Estimate
from wormwright.stages.correct.facts import Facts

MOST_THICKNESSES = 80
"""So many thicknesses of stock are tried for three pieces."""

FEW_THICKNESSES = 30
"""So many for four."""


def nearest_stack(facts: Facts, thickness: float, *, tolerance: float) -> Stack | None:
    """The stack from stock with the fewest pieces within tolerance, else the nearest; None: none.

    The stock is what job.toml lists, in either unit system, else what the trade sells in the job's
    own; each piece carries the limit deviations that it is sold with.
    """
    near = [p for p in _stock(facts) if p.thickness <= thickness + tolerance]
    if not near or len(near) > MOST_THICKNESSES:
        return None
    best = best_stack(thickness, near, tolerance=tolerance)
    if best.hits or len(near) > FEW_THICKNESSES:
        return best
    return best_stack(thickness, near, tolerance=tolerance, most_pieces=4)


def _stock(facts: Facts) -> list[Piece]:
    if facts.job.shim_stock_mm:
        return [Piece(t, *piece_limits(t)) for t in dict.fromkeys(facts.job.shim_stock_mm)]
    system = shims("metric foil" if facts.job.units == "mm" else "inch stock")
    return [Piece(s.thickness, s.upper, s.lower) for s in system]


def stack_size(stack: Stack | None) -> tuple[tuple[str, Estimate], ...]:
    """The stack as a labelled figure: what its pieces, as sold, can add to."""
    if stack is None:
        return ()
    count = len(stack.pieces)
    pieces = "1 piece" if count == 1 else f"{count} pieces"
    label = f"from stock, {pieces} as sold" if stack.hits else f"nearest from stock, {pieces}"
    band = Estimate(
        stack.nominal, stack.u, stack.low, stack.high, "length", "limit deviations, seams"
    )
    return ((label, band),)
