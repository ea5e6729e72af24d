"""Where targets stand in the turn of the worm, and targets that are not blind to it."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

BLIND = 0.9
"""A mean phase vector longer than this: the targets see hardly more than one place of the worm."""


def worm_phase(table: ArrayLike, *, ratio: float) -> Array:
    """Angle of the worm within its turn at each table angle.

    Source: definition. Formula: (ratio * table) mod 2 pi.
    Inputs: table angles [rad]; ratio, worm turns a table turn. Outputs: [rad], 0 to 2 pi.
    Valid for: ratio >= 1. Raises: ValueError below.

    >>> worm_phase([0.0, math.pi / 4], ratio=72).round(9).tolist()
    [0.0, 0.0]
    """
    if not ratio >= 1:
        raise ValueError(f"worm phase: expected a ratio of 1 or more, got {ratio}")
    turned = np.mod(ratio * np.asarray(table, float), 2 * math.pi)
    result: Array = np.where(np.isclose(turned, 2 * math.pi), 0.0, turned)
    return result


def phase_blindness(table: ArrayLike, *, ratio: float, order: int = 1) -> float:
    """How far a set of targets sees only one place of a wave of the worm: 0 none, 1 fully blind.

    Source: derived: length of the mean of exp(i order phase) over the targets.
    Formula: |mean exp(i order ratio table)|.
    Inputs: table angles [rad]; ratio; order, waves a worm turn. Outputs: 0 to 1.
    Valid for: ratio >= 1, order >= 1. Raises: ValueError outside.

    >>> even = np.radians(np.arange(0, 360, 45))
    >>> phase_blindness(even, ratio=72), round(phase_blindness(even, ratio=90), 12)
    (1.0, 0.0)
    """
    if order < 1:
        raise ValueError(f"phase blindness: expected an order of 1 or more, got {order}")
    phases = order * worm_phase(table, ratio=ratio)
    return float(abs(np.exp(1j * phases).mean()))


def planned_targets(
    *, ratio: float, count: int = 8, travel: float = 2 * math.pi, seed: int = 1
) -> Array:
    """Targets spread over the travel, each moved by its own part of a worm turn.

    Source: ISO 230-2: P_i = (i - 1) p + r_i with random r_i over one period of the periodic error
        (recalled); here the parts of a turn are evenly spread and shuffled, so that few targets
        too meet the worm all round. The first target stays at zero.
    Formula: P_i = i travel/count + period * u_i, u a shuffle of 0, 1/count, 2/count, ...
    Inputs: ratio; count of targets; travel [rad]; seed of the shuffle.
    Outputs: target angles, rising [rad], shape (count,).
    Valid for: count at least that of `fewest_targets`, spacing above one worm turn.
    Raises: ValueError outside, or when no shuffle keeps both waves of the worm in sight.

    >>> targets = planned_targets(ratio=72)
    >>> phase_blindness(targets, ratio=72) < 0.1
    True
    """
    from wormwright.core.positioning import fewest_targets  # noqa: PLC0415  (late: costs start-up)

    least = fewest_targets(travel_deg=math.degrees(travel))
    period = 2 * math.pi / ratio
    if count < least or travel / count <= period:
        raise ValueError(
            f"targets: expected {least} or more, spaced wider than one worm turn of "
            f"{math.degrees(period):.3g} degrees; got {count} over {math.degrees(travel):.4g}"
        )
    pick = np.random.default_rng(seed)
    even = np.arange(count) * (travel / count)
    wholes = np.round(even / period) * period  # whole worm turns, so that the parts are the phases
    parts = np.concatenate([[0.0], pick.permutation(np.arange(1, count) / count)])
    result: Array = wholes + parts * period
    return np.minimum(result, travel)
