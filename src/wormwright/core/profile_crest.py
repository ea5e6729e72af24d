"""Where, along one profile of the wheel, the worm is nearest: smooth crests and undercut corners.

`value` is what is to be most, sampled at even steps along its last axis; `r` the worm radius there.
"""

from __future__ import annotations

from itertools import combinations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

ABSENT = 1e9
"""Level of a branch that is not there and so limits nothing."""


def profile_crest(
    value: Array,
    r: Array,
    *,
    tip: float,
    first: Array | float,
    step: Array | float,
    beyond: Array | float = 0.0,
    behind: Array | None = None,
) -> tuple[Array, Array]:
    """Most of `value` along the last axis where the worm reaches (r <= tip), and where it is.

    Source: derived. Near undercut the wall is the farthest of several smooth branches, so `value`
        is the least of as many parabolas and may be most at the corner where two of them cross.
    Formula: vertex of the parabola through the best point and its neighbours, or, with `behind`,
        the highest among the vertices and crossings of the branches' parabolas.
    Inputs: value [any unit] and r [mm], last axis along the profile; u of the `first` point and
        the `step`; `beyond`, how many steps past the last point the profile may be followed to
        find where the worm begins to reach; `behind`, how far each branch stands above `value`
        (branches first), or None.
    Outputs: most of the value (-inf where the worm does not reach), and u of it.
    Valid for: three points or more. Raises: nothing.
    """
    count = value.shape[-1]
    reached = np.where((r <= tip) & np.isfinite(value), value, -np.inf)
    best = np.argmax(reached, axis=-1)[..., None]
    top = np.take_along_axis(reached, best, axis=-1)[..., 0]
    middle = np.clip(best, 1, count - 2)
    v0, v1, v2 = _three(value, middle)
    at_best = (best - middle)[..., 0]
    within, low = _end_of_reach(_three(r, middle), tip, beyond)
    high = np.maximum(low, 1.0)
    if behind is None:
        s = vertex(v0, v1, v2)
        s = np.clip(np.where(np.isnan(s), at_best, s), low, high)
        level = v1 + s * ((v2 - v0) / 2 + s * (v2 - 2 * v1 + v0) / 2)
    else:
        levels = tuple(
            v + b for v, b in zip((v0, v1, v2), _three(behind, middle[None]), strict=True)
        )
        s, level = _highest_of_least(levels, low)
        worse = ~((level >= top) & (level < ABSENT / 2))
        s, level = np.where(worse, at_best, s), np.where(worse, top, level)
    level = np.where(np.isfinite(level), level, top)
    reach = np.isfinite(top) | (within & np.isfinite(level))
    return np.where(reach, level, -np.inf), first + (middle[..., 0] + s) * step


def vertex(v0: Array, v1: Array, v2: Array) -> Array:
    """Where the parabola through three even points is highest, in steps from the middle one."""
    bend = v0 - 2 * v1 + v2
    steep = (v2 - v0) / 2
    uphill = np.where(steep == 0, 0.0, np.sign(steep) * np.inf)
    result: Array = np.where(bend < -1e-15, -steep / np.where(bend == 0, 1.0, bend), uphill)
    return result


def _three(array: Array, middle: NDArray[np.intp]) -> tuple[Array, Array, Array]:
    """The values at the middle place of the last axis and at its neighbours."""
    shape = np.broadcast_shapes(array.shape[:-1], middle.shape[:-1])
    array = np.broadcast_to(array, (*shape, array.shape[-1]))
    spot = np.broadcast_to(middle, (*shape, 1))
    a, b, c = (np.take_along_axis(array, spot + k, axis=-1)[..., 0] for k in (-1, 0, 1))
    return a, b, c


def _end_of_reach(
    r: tuple[Array, Array, Array], tip: float, beyond: Array | float
) -> tuple[NDArray[np.bool_], Array]:
    """Least step from the middle, r falling to the tip there, and whether it lies within reach."""
    r0, r1, r2 = r
    fall, bend = (r2 - r0) / 2, (r2 - 2 * r1 + r0) / 2
    least = (tip - r1) / fall
    for _ in range(2):
        least = (tip - r1 - bend * least * least) / fall
    least = np.where(np.isfinite(least), least, -1.0)
    return least <= 1.0 + beyond, np.clip(least, -1.0, 1.0 + beyond)


def _highest_of_least(levels: tuple[Array, ...], low: Array) -> tuple[Array, Array]:
    """Highest point of the least of several parabolas between `low` and 1, and its level."""
    c0, c1, c2 = levels
    # a branch that ends between two places is drawn on straight to the farther one
    c0, c2 = np.where(np.isfinite(c0), c0, 2 * c1 - c2), np.where(np.isfinite(c2), c2, 2 * c1 - c0)
    there = np.isfinite(c0 + c1 + c2)
    a = np.where(there, c1, ABSENT)
    b, d = (np.where(there, p, 0.0) for p in ((c2 - c0) / 2, (c2 - 2 * c1 + c0) / 2))
    places = [np.where(d < 0, -b / (2 * d), low), low[None], np.ones_like(low)[None]]
    for i, j in combinations(range(len(a)), 2):
        places.append(_crossings(a[i] - a[j], b[i] - b[j], d[i] - d[j]))
    s = np.concatenate(places)
    s = np.clip(np.where(np.isnan(s), low, s), low, np.maximum(low, 1.0))
    level = np.full(s.shape, np.inf)
    for k in range(len(a)):
        level = np.minimum(level, a[k] + s * (b[k] + s * d[k]))
    best = np.argmax(level, axis=0)[None]
    at, highest = (np.take_along_axis(p, best, axis=0)[0] for p in (s, level))
    return at, highest


def _crossings(a: Array, b: Array, d: Array) -> Array:
    """Both roots of a + b s + d s²; not a number where there are none."""
    root = -(b + np.where(b < 0, -1.0, 1.0) * np.sqrt(b * b - 4 * a * d)) / 2
    return np.stack([a / root, root / d])
