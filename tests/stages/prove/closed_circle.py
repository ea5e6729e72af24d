"""A table and an artefact with known errors, read face by face as they would stand in a folder."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from wormwright.job.reading import Reading

ARCSEC = math.radians(1 / 3600)
SWEPT = 75.0


def closure_rows(
    table: Sequence[float],
    artefact: Sequence[float],
    firsts: Sequence[int],
    *,
    noise: NDArray[np.float64] | None = None,
    seq: int = 1,
    swept: bool = False,
) -> tuple[Reading, ...]:
    """Errors in arcsec; one set-up for each face that stood in line at 0, counted from 1."""
    n = len(table)
    rows: list[Reading] = []
    for k, first in enumerate(firsts):
        for i in range(n + 1):
            place = i % n
            y = table[place] + artefact[(place + first - 1) % n] + 40.0 * k
            if noise is not None:
                y += float(noise[i, k])
            conditions: dict[str, float | str] = {
                "faces": float(n),
                "setup": float(k + 1),
                "first_face": float(first),
                "approach": "forward",
            }
            value = y * ARCSEC
            if swept:
                value, conditions["swept"] = math.tan(value) * SWEPT, SWEPT
            rows.append(
                Reading(
                    seq=seq + len(rows),
                    kind="closure_sweep" if swept else "closure_angle",
                    raw=f"{y:g} arcsec",
                    value=value,
                    table_angle=i * 2 * math.pi / n,
                    conditions=conditions,
                )
            )
    return tuple(rows)
