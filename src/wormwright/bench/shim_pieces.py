"""The stack of shim stock at hand that comes nearest to a thickness, as the pieces are sold."""

from __future__ import annotations

from wormwright.core.shim import Piece, Stack, best_stack
from wormwright.handbook.shim_stock import piece_limits, shims
from wormwright.job.rotary import Job

MOST_THICKNESSES = 80
"""So many thicknesses of stock are tried for three pieces."""

FEW_THICKNESSES = 30
"""So many for four."""


def nearest_pieces(job: Job, thickness: float, *, tolerance: float) -> Stack | None:
    """The stack from stock with the fewest pieces within tolerance, else the nearest; None: none.

    The stock is what job.toml lists, in either unit system, else what the trade sells in the job's
    own; each piece carries the limit deviations that it is sold with.
    """
    near = [p for p in _stock(job) if p.thickness <= thickness + tolerance]
    if not near or len(near) > MOST_THICKNESSES:
        return None
    best = best_stack(thickness, near, tolerance=tolerance)
    if best.hits or len(near) > FEW_THICKNESSES:
        return best
    return best_stack(thickness, near, tolerance=tolerance, most_pieces=4)


def _stock(job: Job) -> list[Piece]:
    if job.shim_stock_mm:
        return [Piece(t, *piece_limits(t)) for t in dict.fromkeys(job.shim_stock_mm)]
    system = shims("metric foil" if job.units == "mm" else "inch stock")
    return [Piece(s.thickness, s.upper, s.lower) for s in system]
