"""What the planned move takes out of the mesh by textbook law, closed form and exact mesh."""

from __future__ import annotations

import numpy as np

from wormwright.job.corrections import MeshCompared
from wormwright.stages.correct.meshes import KindMesh, Meshes
from wormwright.stages.correct.unit import UnitRows, half_opened


def meshes_compared(unit: UnitRows, *, closing: float, aside: float) -> tuple[MeshCompared, ...]:
    """Each wheel kind that is still possible, from half of the play opened to the planned place.

    Half of the play is taken as opening of the centres, the rest as a thin thread.
    """
    kinds = (k for k in unit.meshes.kinds if k.belief > 0)
    return tuple(_compared(unit, k, closing=closing, aside=aside) for k in kinds)


def _compared(unit: UnitRows, mesh: KindMesh, *, closing: float, aside: float) -> MeshCompared:
    meshes: Meshes = unit.meshes
    opened = half_opened(unit, mesh.kind)
    da, dz = np.array([opened, opened - closing]), np.array([0.0, aside])
    closed, exact = (
        None if model is None else -float(np.diff(model.backlash_change(da=da, dz=dz))[0])
        for model in (mesh.closed, meshes.tabled(mesh.kind))
    )
    return MeshCompared(
        kind=mesh.kind,
        belief=mesh.belief,
        textbook=2 * unit.pair.t * closing,
        closed_form=closed if closed is not None else 0.0,
        exact=exact,
        off=meshes.off(mesh.kind),
        used=meshes.method(mesh.kind),
    )
