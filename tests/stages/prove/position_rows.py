"""Readings of a positioning test made from deviations, as they would stand in a job folder."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike

from wormwright.job.reading import Reading

ARCSEC = math.radians(1 / 3600)


def position_rows(
    targets_deg: Sequence[float],
    forward: ArrayLike,
    backward: ArrayLike,
    *,
    first: int = 1,
    kind: str = "position_error",
) -> tuple[Reading, ...]:
    """Run by run, forward along the targets and back; deviations in arcsec, (targets, runs)."""
    up, down = np.asarray(forward, float), np.asarray(backward, float)
    rows: list[Reading] = []
    for run in range(up.shape[1]):
        places = list(range(len(targets_deg)))
        for way, deviations, order in (
            ("forward", up, places),
            ("backward", down, places[::-1]),
        ):
            rows += [
                Reading(
                    seq=first + len(rows) + n,
                    kind=kind,
                    raw=f"{deviations[i, run]:g} arcsec",
                    value=float(deviations[i, run]) * ARCSEC,
                    table_angle=math.radians(targets_deg[i]),
                    conditions={"approach": way, "run": float(run + 1), "means": "polygon"},
                )
                for n, i in enumerate(order)
            ]
    return tuple(rows)
