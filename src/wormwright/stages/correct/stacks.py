"""The stack of shim stock at hand that comes nearest to a thickness, as a labelled figure."""

from __future__ import annotations

from wormwright.bench.shim_pieces import nearest_pieces
from wormwright.core.shim import Stack
from wormwright.job.result import Estimate
from wormwright.stages.correct.facts import Facts


def nearest_stack(facts: Facts, thickness: float, *, tolerance: float) -> Stack | None:
    """The stack from the stock of the job that comes nearest; None where there is none."""
    return nearest_pieces(facts.job, thickness, tolerance=tolerance)


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
