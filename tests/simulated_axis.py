"""A finished axis of our own making, read as a test reads it: known waves, play, noise, drift."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
ARCSEC = math.radians(1 / 3600)


@dataclass(frozen=True)
class SimulatedAxis:
    """Angles in rad, waves and noise in arcsec.

    `waves`: order a table turn -> (amplitude, phase in rad) of sin(order·angle + phase) in the
    mean of both sides; `play` the full play, `play_waves` its waves; `noise` of one reading;
    `drift` of zero from the first reading to the last of a test.
    """

    waves: Mapping[float, tuple[float, float]] = field(default_factory=dict)
    play: float = 0.0
    play_waves: Mapping[float, tuple[float, float]] = field(default_factory=dict)
    noise: float = 1.0
    drift: float = 0.0

    def mean(self, angle: ArrayLike) -> Array:
        """Error of the mean of both sides, arcsec."""
        return _sum(self.waves, angle)

    def play_at(self, angle: ArrayLike) -> Array:
        """Full play at an angle, arcsec."""
        return self.play + _sum(self.play_waves, angle)

    def truth(self, angle: ArrayLike) -> tuple[Array, Array]:
        """Errors without noise coming forward and backward: play leaves the table behind."""
        half = self.play_at(angle) / 2
        return self.mean(angle) - half, self.mean(angle) + half

    def test(self, targets: Array, runs: int, pick: np.random.Generator) -> tuple[Array, Array]:
        """Deviations forward and backward, (targets, runs), arcsec; drift runs with the reading."""
        n = len(targets)
        clean = self.truth(targets)
        noise = pick.normal(0.0, self.noise, (2, n, runs))
        order = np.arange(2 * n * runs, dtype=float).reshape(runs, 2, n)
        order[:, 1] = order[:, 1, ::-1]
        drift = self.drift * np.moveaxis(order, 0, -1) / max(order.size - 1, 1)
        up, down = (clean[way][:, None] + noise[way] + drift[way] for way in (0, 1))
        return up, down


def _sum(waves: Mapping[float, tuple[float, float]], angle: ArrayLike) -> Array:
    phi = np.asarray(angle, float)
    total: Array = np.zeros_like(phi)
    for order, (size, phase) in waves.items():
        total = total + size * np.sin(order * phi + phase)
    return total
