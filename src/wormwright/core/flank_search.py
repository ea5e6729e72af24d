"""Where a moved worm first meets one side of the wheel: whole profile first, then across the face.

The caller keeps the batch small enough for the cache.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from wormwright.core.flank_meeting import Frame, Lines, Met, Near, turn_to_meet
from wormwright.core.flank_sharpen import sharpened
from wormwright.core.helicoid import Helicoid
from wormwright.core.profile_crest import profile_crest
from wormwright.core.wall_table import WallTable

Array = NDArray[np.float64]

BEYOND = 0.5
"""Share of a pitch beyond the path of contact in which edges are looked for."""


def first_contact(
    table: WallTable,
    worm: Helicoid,
    frame: Frame,
    phase: Array,
    *,
    radius: float,
    pitch: float,
) -> Met:
    """First contact on one side for every position and phase.

    Source: contact of rigid surfaces; the wheel must stand at least max(side * turn) off.
    Formula: max over teeth, heights and radii of side * (beta where the point meets the worm
        flank - wall angle - advance / r2).
    Inputs: frames of n positions, phase [mm], shape (n, m). Outputs: Met, shape (n, m).
    Valid for: moves small against the tooth. Raises: ValueError when no flank is met.
    """
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        lines = contact_lines(table, worm, frame, phase, radius=radius, pitch=pitch)
        met = sharpened(table, worm, frame, lines, radius=radius)
    if not np.all(np.isfinite(met.turn)):
        raise ValueError("the worm misses the wheel: no flank is met; check the place given")
    return met


def contact_lines(
    table: WallTable,
    worm: Helicoid,
    frame: Frame,
    phase: Array,
    *,
    radius: float,
    pitch: float,
) -> Lines:
    """Nearest place of every profile."""
    tooth = _teeth(table, phase + frame.foot[0][:, None], pitch)
    advance = phase[:, :, None, None] + tooth * pitch
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        turn, r = turn_to_meet(
            worm,
            frame.shaped(4),
            table.rho,
            table.heights,
            angle=table.angle,
            advance=advance[..., None],
            side=table.side,
            radius=radius,
            steps=2,
        )
        best, u = profile_crest(
            table.side * turn,
            r,
            tip=worm.tip,
            first=table.u[:, 0],
            step=table.step,
            behind=None if table.behind is None else table.behind[:, None, None, None],
        )
        if table.undercut:
            near = Near(table, worm, frame.shaped(4), advance[..., None], radius)
            met = near.met(u[..., None], np.broadcast_to(table.z, u.shape), steps=6)[0][..., 0]
            best = np.where(np.isfinite(best), met, -np.inf)
    return Lines(best, u, advance)


def _teeth(table: WallTable, phase: Array, pitch: float) -> Array:
    """Numbers of the teeth that can touch, by position, phase, tooth and height."""
    used = table.has_flank | ~np.any(table.has_flank, axis=1, keepdims=True)
    low = np.min(np.where(used, table.phase, np.inf), axis=1)
    high = np.max(np.where(used, table.phase, -np.inf), axis=1)
    count = math.ceil(float((high - low).max()) / pitch + 2 * BEYOND)
    start = np.ceil((low - phase[..., None]) / pitch - BEYOND)
    result: Array = start[:, :, None, :] + np.arange(count)[:, None]
    return result
