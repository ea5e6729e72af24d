"""Circle through points of a plane by least squares."""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


class Circle(NamedTuple):
    """Centre and radius."""

    x: float
    y: float
    radius: float


def _points(x: ArrayLike, y: ArrayLike) -> tuple[Array, Array]:
    px, py = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
    if px.ndim != 1 or px.shape != py.shape or len(px) < 3:
        raise ValueError(
            f"circle of {px.size} and {py.size} coordinates: expected 3 points or more"
        )
    centred = np.column_stack([px - px.mean(), py - py.mean()])
    spread = np.linalg.svd(centred, compute_uv=False)
    if not spread[-1] > 1e-9 * spread[0]:
        raise ValueError("points in one line: expected points spread round an arc")
    return px, py


def algebraic_circle(x: ArrayLike, y: ArrayLike) -> Circle:
    """Circle by the linear fit: a start for the true one, too small on short arcs.

    Source: Kåsa, IEEE Trans. Instrumentation and Measurement 25, 1976 (from memory).
    Formula: least squares of 2 a x + 2 b y + c = x² + y², R = sqrt(c + a² + b²).
    Inputs: x, y [mm, (n,)]. Outputs: Circle [mm].
    Valid for: three points or more, not in one line. Raises: ValueError outside.

    >>> [round(v, 6) + 0.0 for v in algebraic_circle([1, 0, -1, 0], [2, 3, 2, 1])]
    [0.0, 2.0, 1.0]
    """
    px, py = _points(x, y)
    mx, my = float(px.mean()), float(py.mean())
    dx, dy = px - mx, py - my
    design = np.column_stack([2 * dx, 2 * dy, np.ones_like(dx)])
    a, b, c = (float(v) for v in np.linalg.lstsq(design, dx**2 + dy**2, rcond=None)[0])
    return Circle(mx + a, my + b, math.sqrt(c + a * a + b * b))


def least_squares_circle(x: ArrayLike, y: ArrayLike) -> Circle:
    """Circle with the least sum of squared distances of the points from it.

    Source: Gander, Golub and Strebel, BIT 34, 1994 (Gauss-Newton from the algebraic circle).
    Formula: minimise sum (sqrt((x - a)² + (y - b)²) - R)².
    Inputs: x, y [mm, (n,)]. Outputs: Circle [mm].
    Valid for: points spread over an arc. Raises: ValueError outside, or when it does not settle.

    >>> [round(v, 6) + 0.0 for v in least_squares_circle([1, 0, -1, 0], [2, 3, 2, 1])]
    [0.0, 2.0, 1.0]
    """
    px, py = _points(x, y)
    a, b, radius = algebraic_circle(px, py)
    for _ in range(200):
        dx, dy = px - a, py - b
        distance = np.hypot(dx, dy)
        if not np.all(distance > 0):
            break
        design = np.column_stack([dx / distance, dy / distance, np.ones_like(dx)])
        step = np.linalg.lstsq(design, distance - radius, rcond=None)[0]
        a, b, radius = a + float(step[0]), b + float(step[1]), radius + float(step[2])
        if float(np.abs(step).max()) < 1e-12 * radius:
            return Circle(a, b, radius)
    raise ValueError("no circle settles through these points: expected points along an arc")
