"""Readings of a positioning test made from deviations, as they would stand in a job folder."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wormwright.job.reading import Reading

ARCSEC = math.radians(1 / 3600)


def position_rows(
    targets_deg: Sequence[float],
    forward: Sequence[Sequence[float]],
    backward: Sequence[Sequence[float]],
    *,
    first: int = 1,
    kind: str = "position_error",
) -> tuple[Reading, ...]:
    """Run by run, forward along the targets and back; deviations in arcsec, (targets, runs)."""
    rows: list[Reading] = []
    for run in range(len(forward[0])):
        places = list(range(len(targets_deg)))
        for way, deviations, order in (
            ("forward", forward, places),
            ("backward", backward, places[::-1]),
        ):
            rows += [
                Reading(
                    seq=first + len(rows) + n,
                    kind=kind,
                    raw=f"{deviations[i][run]:g} arcsec",
                    value=deviations[i][run] * ARCSEC,
                    table_angle=math.radians(targets_deg[i]),
                    conditions={"approach": way, "run": float(run + 1), "means": "polygon"},
                )
                for n, i in enumerate(order)
            ]
    return tuple(rows)
