"""Where a moved worm first meets one side of the wheel: whole profile first, then across the face.

The caller bounds the number of positions, and with it the memory.
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


AT_ONCE, TEETH = 100_000, 4
"""Places of worm, phase, tooth and wall worked at once, to fit the cache; usual number of teeth."""


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
    rows = max(1, AT_ONCE // (phase.shape[1] * TEETH * table.rho.size))
    parts = [np.arange(k, min(k + rows, len(phase))) for k in range(0, len(phase), rows)]
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        looked = [
            contact_lines(table, worm, frame.at(part), phase[part], radius=radius, pitch=pitch)
            for part in parts
        ]
        lines = Lines(*(np.concatenate(column) for column in zip(*looked, strict=True)))
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
