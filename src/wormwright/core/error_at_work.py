"""The error of an axis as a feature of the work feels it: added parts, random parts, and both."""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from wormwright.core.distributions import (
    arcsine_of_normal,
    rectangular_of_normal,
    triangular_of_normal,
)

Array = NDArray[np.float64]

Shape = Literal["added", "normal", "rectangular", "triangular", "arcsine"]
"""How a part counts: added in full, or random with that shape."""

DRAWS = 16_384
"""Draws behind the covered half-width: it holds its second digit."""
_NOTHING = 1e-300
_PER_SIZE: dict[str, float] = {
    "normal": 1.0,
    "rectangular": 1 / math.sqrt(3),
    "triangular": 1 / math.sqrt(6),
    "arcsine": 1 / math.sqrt(2),
}


class ErrorPart(NamedTuple):
    """One part of the error, in one unit at the work, with the standard uncertainty of its size.

    `size` is half of the full swing; of a normal part it is one standard deviation.
    """

    name: str
    size: float
    u: float
    shape: Shape


class PartRow(NamedTuple):
    """What a part does: to the whole (`share` of it) and to the doubt of it (`doubt_share`)."""

    part: ErrorPart
    share: float
    doubt_share: float


@dataclass(frozen=True, slots=True)
class ErrorAtWork:
    """Error either side of the mean that the work feels: half-width, its doubt, and the parts.

    `added` are the parts that add up, `random_u` the root of the sum of squares of the random
    standard deviations, `covered` the half-width that holds the wanted share of the random sum.
    """

    added: float
    random_u: float
    covered: float
    u: float
    rows: tuple[PartRow, ...]

    @property
    def half_width(self) -> float:
        """All of it: the added parts and what covers the random ones."""
        return self.added + self.covered

    @property
    def expanded(self) -> float:
        """Twice the random standard deviation, beside the added parts (k = 2)."""
        return self.added + 2 * self.random_u

    @property
    def biggest(self) -> PartRow:
        """The part that makes most of the error."""
        return max(self.rows, key=lambda row: row.share)

    @property
    def most_doubtful(self) -> PartRow:
        """The part whose size makes most of the doubt."""
        return max(self.rows, key=lambda row: row.doubt_share)


def error_at_work(parts: Sequence[ErrorPart], *, p: float = 0.95, seed: int = 1) -> ErrorAtWork:
    """The error that a feature of the work feels from all its parts.

    Source: JCGM 100:2008, 5.1.2 (sum of variances), F.2.4.5 (known parts added when they are not
        corrected), 5.1.3 note 2 (sensitivity by a step of u); JCGM 101:2008, 7 (coverage).
    Formula: sum of the added sizes + q, q the half-width about the mean that holds a share p of
        the sum of the random shapes; u² = sum over the sizes of {[f(x + u) - f(x - u)]/2}².
    Inputs: parts [one unit at the work]; p [1]; seed of the draws.
    Outputs: ErrorAtWork [same unit]. Valid for: independent parts, sizes not negative, 0 < p < 1.
    Raises: ValueError for no parts, a negative size or doubt, or p outside.

    >>> wheel = ErrorPart("wheel", 0.02, 0.001, "added")
    >>> work = error_at_work([wheel, ErrorPart("reversal", 0.03, 0.0, "rectangular")])
    >>> round(work.half_width, 3), work.biggest.part.name
    (0.049, 'reversal')
    """
    _check(parts, p)
    sizes = np.array([part.size for part in parts])
    added = np.array([part.shape == "added" for part in parts])
    shapes = _shapes(tuple(part.shape for part in parts if part.shape != "added"), seed)

    def covered(of: Array) -> float:
        return _covered(of[~added] @ shapes, p) if len(shapes) else 0.0

    variances = (np.array([_PER_SIZE.get(part.shape, 0.0) for part in parts]) * sizes) ** 2
    random_u, inside = math.sqrt(variances.sum()), covered(sizes)
    makes = np.where(added, sizes, inside * variances / max(random_u**2, _NOTHING))
    doubts = np.array([part.u for part in parts])  # an added part is felt one to one
    for i in np.flatnonzero(~added):
        step = np.zeros(len(parts))
        step[i] = doubts[i]
        doubts[i] = (covered(sizes + step) - covered(np.maximum(sizes - step, 0.0))) / 2
    u = float(np.linalg.norm(doubts))
    share = makes / max(float(makes.sum()), _NOTHING)
    doubt = (doubts / max(u, _NOTHING)) ** 2
    rows = zip(parts, share.tolist(), doubt.tolist(), strict=True)
    return ErrorAtWork(
        float(sizes[added].sum()), random_u, inside, u, tuple(PartRow(*row) for row in rows)
    )


def _check(parts: Sequence[ErrorPart], p: float) -> None:
    if not parts or not 0 < p < 1:
        raise ValueError(f"error at the work: expected one part or more and 0 < p < 1, got p {p}")
    for part in parts:
        if not (0 <= part.size < math.inf and 0 <= part.u < math.inf):
            raise ValueError(
                f"error at the work, {part.name}: expected a size and a doubt of zero or more, "
                f"got {part.size} and {part.u}"
            )


@functools.lru_cache(maxsize=16)
def _shapes(shapes: tuple[Shape, ...], seed: int) -> Array:
    """Draws of each random shape at size 1, (parts, DRAWS); the same for every size."""
    z = np.random.Generator(np.random.SFC64(seed)).standard_normal((len(shapes), DRAWS))
    make: dict[str, Callable[..., Array]] = {
        "rectangular": rectangular_of_normal,
        "triangular": triangular_of_normal,
        "arcsine": arcsine_of_normal,
    }
    for i, shape in enumerate(shapes):
        if shape in make:
            z[i] = make[shape](z[i], low=-1.0, high=1.0)
    z.flags.writeable = False
    return z


def _covered(draws: Array, p: float) -> float:
    """Half-width about the mean that holds a share p of draws that are symmetrical about zero."""
    at = math.ceil(p * len(draws)) - 1
    return float(np.partition(np.abs(draws), at)[at])


def wave_between(*, amplitude: float, order: float, apart: float) -> float:
    """Most by which a wave of the position error differs between two places.

    Source: difference of two sines (derived here). Formula: 2 a |sin(n D/2)| at the worst phase.
    Inputs: amplitude a [any]; order n, waves per table turn [1]; apart D, angle between [rad].
    Outputs: difference either way [as a]. Valid for: a >= 0. Raises: ValueError for a negative a.

    >>> round(wave_between(amplitude=10.0, order=1, apart=math.pi), 6)  # opposite sides: double
    20.0
    >>> round(wave_between(amplitude=10.0, order=90, apart=math.tau / 45), 6)  # two worm turns
    0.0
    """
    if amplitude < 0:
        raise ValueError(f"wave: expected an amplitude of zero or more, got {amplitude}")
    return 2 * amplitude * abs(math.sin(order * apart / 2))


def wave_between_any(*, amplitude: float, order: float, count: int) -> float:
    """Most by which a wave differs between any two of evenly divided places.

    Source: as `wave_between`, over all distances of a division. Formula: 2 a max |sin(n k pi/N)|,
        k = 1 .. N - 1. Inputs: amplitude a [any], order n [1], count N of places.
    Outputs: difference either way [as a]. Valid for: N >= 2. Raises: ValueError for fewer.

    >>> round(wave_between_any(amplitude=10.0, order=1, count=3), 3)
    17.321
    """
    if count < 2:
        raise ValueError(f"divided places: expected 2 or more, got {count}")
    steps = range(1, count)
    return max(
        wave_between(amplitude=amplitude, order=order, apart=math.tau * k / count) for k in steps
    )


def flat_half_width(*, radius: float, count: int) -> float:
    """Half the width of a flat of a regular bar whose corners lie on a circle.

    Source: geometry. Formula: r sin(pi/N). An angle error tips the flat about its middle, so its
    edge is out by this half-width times the angle.
    Inputs: radius of the corners [mm], count of flats. Outputs: half-width [mm].
    Valid for: N >= 2. Raises: ValueError for fewer, or a radius not above zero.

    >>> flat_half_width(radius=20.0, count=6)
    9.999999999999998
    """
    if count < 2 or not radius > 0:
        raise ValueError(f"flats: expected a radius and 2 flats or more, got {radius}, {count}")
    return radius * math.sin(math.pi / count)
