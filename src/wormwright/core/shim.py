"""Shims: what thickness a measured gap asks for, and the stack from stock that comes nearest."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain, combinations_with_replacement

TIGHTENS: dict[str, int] = {
    "cover on outer ring": -1,
    "nut with inner spacer": -1,
    "retainer on shim": -1,
    "ring behind outer ring": +1,
}
"""Which way the thickness must go to take up float: -1 thinner, +1 thicker.

- cover on outer ring: the shim lies under the flange of a cover whose spigot pushes the outer
  ring. Take shim out to preload.
- nut with inner spacer: the nut draws the inner rings together against a spacer. Shorten the
  spacer to preload.
- retainer on shim: the retainer that holds the table down is screwed on to the shim. More shim
  under it loosens.
- ring behind outer ring: a ring between the cover or the shoulder and the outer ring. A thicker
  ring preloads.
"""


def way_to_tighten(arrangement: str) -> int:
    """Sign of the thickness change that takes up float.

    Source: derived here from which face the shim keeps apart, see TIGHTENS.
    Formula: -1 thinner, +1 thicker.
    Inputs: arrangement, one of the keys of TIGHTENS. Outputs: -1 or +1.
    Valid for: those arrangements only.
    Raises: ValueError for any other: the wrong sign doubles the play instead of removing it.

    >>> way_to_tighten("cover on outer ring")
    -1
    """
    if arrangement not in TIGHTENS:
        raise ValueError(
            f"shim arrangement {arrangement!r}: expected one of {', '.join(TIGHTENS)}; look which "
            "two faces the shim keeps apart, no thickness is given without it"
        )
    return TIGHTENS[arrangement]


def shim_thickness_from_gap(
    *, in_place: float, gap: float, squeeze: float, arrangement: str
) -> float:
    """Thickness of shim (or spacer) that turns a measured float into the wanted setting.

    Source: derived here: the take-up is gap + squeeze, its sign follows the arrangement.
    Formula: t = t_in_place + sign * (gap + squeeze).
    Inputs: in_place, thickness now [mm], 0 if none; gap, float measured, corrected for the give
        under the reading force [mm]; squeeze, wanted deflection of both bearings together past
        zero float [mm], below zero for a float to be left; arrangement as in TIGHTENS.
    Outputs: thickness [mm].
    Valid for: gap not below zero; the answer not below zero.
    Raises: ValueError for an unknown arrangement, or when more would have to come out than is in.

    >>> shim_thickness_from_gap(
    ...     in_place=0.40, gap=0.060, squeeze=0.029, arrangement="cover on outer ring")
    0.311
    """
    if not (in_place >= 0 and gap >= 0):
        raise ValueError(f"shim in place {in_place} and gap {gap} mm must not be below zero")
    sign = way_to_tighten(arrangement)
    thickness = in_place + sign * (gap + squeeze)
    if thickness < -1e-12:
        raise ValueError(
            f"the shim would have to be {thickness:.3f} mm: {-thickness:.3f} mm more must come out "
            f"than the {in_place:.3f} mm in place; turn at least that much off the face that the "
            "shim lies against, then shim up to size"
        )
    return max(0.0, round(thickness, 12))


def float_after_shim(*, gap: float, change: float, arrangement: str) -> float:
    """Float left after the shim is changed; below zero is squeeze of the bearings.

    Source: the inverse of `shim_thickness_from_gap`.
    Formula: float = gap - sign * change.
    Inputs: gap, float now [mm]; change, new thickness less old [mm]; arrangement.
    Outputs: float [mm].
    Valid for: gap not below zero.
    Raises: ValueError for an unknown arrangement or a gap below zero.

    >>> left = float_after_shim(gap=0.060, change=-0.089, arrangement="cover on outer ring")
    >>> round(left, 3)
    -0.029
    """
    if gap < 0:
        raise ValueError(f"gap must not be below zero, got {gap}")
    return gap - way_to_tighten(arrangement) * change


@dataclass(frozen=True, slots=True)
class Piece:
    """A thickness of stock with its limit deviations, mm."""

    thickness: float
    upper: float = 0.0
    lower: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a piece that has no thickness left at its limits."""
        if not (self.thickness > 0 and self.lower <= self.upper):
            raise ValueError(f"shim piece {self.thickness} {self.upper}/{self.lower}: out of order")
        if self.thickness + self.lower <= 0:
            raise ValueError(f"shim piece {self.thickness} mm vanishes at its lower limit")


@dataclass(frozen=True, slots=True)
class Stack:
    """The stack chosen. `error` is nominal less target; `hits` says whether it is near enough.

    `low`..`high` is the worst case of the limits and of the seams, `u` the standard uncertainty.
    """

    pieces: tuple[Piece, ...]
    nominal: float
    error: float
    low: float
    high: float
    u: float
    hits: bool


def stack_of(
    pieces: Sequence[Piece], *, target: float, tolerance: float, seam: float = 0.0
) -> Stack:
    """A stack of given pieces with its band.

    Source: worst case of the limits; JCGM 100:2008, 4.3.7 for u (rectangular limits and seams).
    Formula: low = sum(h + lower), high = sum(h + upper) + (n - 1) seam,
        u = sqrt(sum(width^2) + (n - 1) seam^2) / sqrt(12).
    Inputs: pieces; target, tolerance on it, seam (burr and gap between two pieces) [mm].
    Outputs: Stack.
    Valid for: one piece or more.
    Raises: ValueError without pieces or with a negative tolerance or seam.

    >>> stack = stack_of([Piece(0.3, 0, -0.05), Piece(0.1, 0, -0.03)], target=0.4, tolerance=0.01)
    >>> round(stack.low, 3), round(stack.high, 3)
    (0.32, 0.4)
    """
    if not pieces or tolerance < 0 or seam < 0:
        raise ValueError("a stack needs a piece, and a tolerance and seam not below zero")
    nominal = sum(p.thickness for p in pieces)
    seams = (len(pieces) - 1) * seam
    error = nominal - target
    return Stack(
        pieces=tuple(pieces),
        nominal=nominal,
        error=error,
        low=sum(p.thickness + p.lower for p in pieces),
        high=sum(p.thickness + p.upper for p in pieces) + seams,
        u=math.sqrt(
            (sum((p.upper - p.lower) ** 2 for p in pieces) + (len(pieces) - 1) * seam**2) / 12
        ),
        hits=abs(error) <= tolerance + 1e-9,
    )


def best_stack(
    target: float,
    stock: Sequence[Piece],
    *,
    tolerance: float,
    most_pieces: int = 3,
    seam: float = 0.003,
) -> Stack:
    """The stack from stock with the fewest pieces within tolerance, else the nearest one.

    Source: derived here: every combination with repetition is tried.
    Formula: among stacks with |sum - target| <= tolerance the fewest pieces, then the least error;
        if there is none, the least error, then the fewest pieces.
    Inputs: target [mm]; stock; tolerance [mm]; most_pieces; seam between two pieces [mm]
        (2 to 3 micrometres a seam is common practice).
    Outputs: Stack; look at `hits`: when False the shim must be ground or turned.
    Valid for: target above zero, 1 to 4 pieces, up to 80 thicknesses for 3 pieces, 30 for 4.
    Raises: ValueError outside.

    >>> rings = [Piece(h, 0, -0.03) for h in (0.1, 0.15)] + [Piece(0.2, 0, -0.04)]
    >>> [p.thickness for p in best_stack(0.30, rings, tolerance=0.01).pieces]
    [0.1, 0.2]
    """
    if not (target > 0 and 1 <= most_pieces <= 4 and stock):
        raise ValueError(
            f"target {target} mm, {most_pieces} pieces, {len(stock)} in stock: expected "
            "a target above zero, 1 to 4 pieces and some stock"
        )
    if len(stock) > (80 if most_pieces <= 3 else 30):
        raise ValueError(
            f"{len(stock)} thicknesses are too many for {most_pieces} pieces; give the "
            "ones within reach of the target"
        )

    def rank(pieces: tuple[Piece, ...]) -> tuple[float, ...]:
        error = abs(round(sum(p.thickness for p in pieces) - target, 9))
        near = error <= tolerance + 1e-9
        return (0, len(pieces), error) if near else (1, error, len(pieces))

    counts = range(1, most_pieces + 1)
    tries = chain.from_iterable(combinations_with_replacement(stock, count) for count in counts)
    nearest = min(tries, key=rank)
    chosen = sorted(nearest, key=lambda p: p.thickness)
    return stack_of(chosen, target=target, tolerance=tolerance, seam=seam)
