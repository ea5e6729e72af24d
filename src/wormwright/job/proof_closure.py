"""What closing the circle showed: errors of table and artefact apart, each with its doubt."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.job.result import Estimate

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ClosureProof:
    """Errors at even positions of the turn, from their mean, rad.

    `table` belongs to `angles`, `artefact` to the faces in their order; `residuals` has shape
    (positions, set-ups), nan where nothing was read. `reading_u` is the uncertainty of one reading
    that was used, `widened` says that the scatter of the readings was larger than stated.
    `first_faces` are those in line at table angle 0, counted from 1. `hidden_wave` is the wave of
    a turn as which the error of the worm shows: 0 not at all, None while the ratio is not known.
    """

    angles: Array
    table: tuple[Estimate, ...]
    artefact: tuple[Estimate, ...]
    residuals: Array
    first_faces: tuple[int, ...]
    span: Estimate
    span_at: tuple[float, float]
    reading_u: float
    widened: bool
    degrees_of_freedom: int
    chance: float | None
    missing: int
    hidden_wave: int | None
    rows: tuple[int, ...]
