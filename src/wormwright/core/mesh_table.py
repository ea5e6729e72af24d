"""The exact mesh at the places that matter, kept as what it lies off the closed forms.

The closed forms follow a move of the worm to some micrometres; what is left is small and even, so a
few exact places carry it over thousands of drawn units that each have their own hob excess.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from wormwright.core.backlash import ClosedFormMesh, Floats, MeshModel

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class MeshTable:
    """What an exact mesh lies off the closed forms: `off` [mm at r2], shape (excess, da, dz).

    `excess` are the hob excesses it was worked for, `da` and `dz` the places [mm]; dz >= 0 stands
    for both ways, because half a turn about the common perpendicular swaps them.
    """

    excess: Array
    da: Array
    dz: Array
    off: Array

    def __post_init__(self) -> None:
        """Refuse nodes that do not rise or do not fit the table."""
        nodes = (self.excess, self.da, self.dz)
        if self.off.shape != tuple(len(n) for n in nodes):
            raise ValueError(
                f"mesh table: expected shape {tuple(len(n) for n in nodes)}, got {self.off.shape}"
            )
        if any(np.any(np.diff(n) <= 0) for n in nodes) or self.dz[0] < 0:
            raise ValueError("mesh table: expected rising nodes, sideways from zero up")

    @property
    def most(self) -> float:
        """Most that the closed forms are off at any of its places [mm]."""
        return float(np.abs(self.off).max())

    def of_excess(self, excess: Floats) -> Array:
        """The table of each hob excess, between those it was worked for; shape (n, da, dz)."""
        at, share = _between(self.excess, np.atleast_1d(np.asarray(excess, dtype=np.float64)))
        above = np.minimum(at + 1, len(self.excess) - 1)
        share = share[:, None, None]
        result: Array = self.off[at] * (1 - share) + self.off[above] * share
        return result


def mesh_table(
    meshes: Sequence[tuple[MeshModel, ClosedFormMesh]], *, da: Array, dz: Array
) -> MeshTable:
    """Table of exact meshes against their closed forms.

    Source: definition. Formula: off = exact change - closed change at every node.
    Inputs: pairs of exact mesh and its closed form, rising in hob excess; nodes da and dz [mm].
    Outputs: MeshTable. Valid for: nodes within reach of the exact mesh.
    Raises: ValueError for nodes that do not rise, or where no flank is met.
    """
    at_da, at_dz = (grid.ravel() for grid in np.meshgrid(da, dz, indexing="ij"))
    off = [
        np.asarray(exact.backlash_change(da=at_da, dz=at_dz))
        - np.asarray(closed.backlash_change(da=at_da, dz=at_dz))
        for exact, closed in meshes
    ]
    excess = np.array([float(np.asarray(closed.hob_excess)) for _, closed in meshes])
    return MeshTable(excess, da, dz, np.stack(off).reshape(len(meshes), len(da), len(dz)))


class TabledMesh:
    """Closed forms put right by a table of the exact mesh, as a `MeshModel`.

    Source: derived. Formula: closed change + off, linear between the nodes of the table and held
        at its ends.
    Inputs: closed forms, one hob excess for all or one a row; tables of the hobbed and of the
        plain helical wheel (no face angle in the closed form), None where the closed form stands.
    Valid for: moves without skew and tilt inside the table; those are left to the closed form.
    """

    def __init__(
        self, closed: ClosedFormMesh, *, hobbed: MeshTable | None, helical: MeshTable | None
    ) -> None:
        """Lay out the table of each row."""
        self.closed = closed
        given = next((t for t in (hobbed, helical) if t is not None), None)
        sine = np.atleast_1d(np.asarray(closed.sin_face, dtype=np.float64))
        excess = np.broadcast_to(np.asarray(closed.hob_excess, dtype=np.float64), sine.shape)
        self._da, self._dz = (given.da, given.dz) if given else (np.zeros(1), np.zeros(1))
        size = (len(sine), len(self._da), len(self._dz))
        of_hobbed, of_helical = (
            np.broadcast_to(table.of_excess(excess) if table else np.zeros(1), size)
            for table in (hobbed, helical)
        )
        flat = np.where(sine[:, None, None] > 0, of_hobbed, of_helical)
        self._off: Array = np.ascontiguousarray(flat).reshape(len(sine), -1)
        self._none = given is None

    def backlash_change(
        self, *, da: Floats, dz: Floats = 0.0, skew: Floats = 0.0, tilt: Floats = 0.0
    ) -> Floats:
        """Change of backlash at r2 [mm] from the position where the pair fits."""
        change = self.closed.backlash_change(da=da, dz=dz, skew=skew, tilt=tilt)
        if self._none:
            return change
        off = self._at(np.asarray(da, dtype=np.float64), np.abs(np.asarray(dz, dtype=np.float64)))
        total = np.asarray(change) + off
        return float(total.ravel()[0]) if np.ndim(change) == 0 else total

    def _at(self, da: Array, dz: Array) -> Array:
        i, a = _between(self._da, da)
        j, b = _between(self._dz, dz)
        width = len(self._dz)
        up, right = (1 if len(nodes) > 1 else 0 for nodes in (self._da, self._dz))
        spot = i * width + j
        rows = np.arange(len(self._off)) if len(self._off) > 1 else np.zeros(1, dtype=np.intp)
        flat, first = self._off.ravel(), rows * self._off.shape[1]

        def of(step: int) -> Array:
            value: Array = flat[first + spot + step]
            return value

        low = of(0) * (1 - b) + of(right) * b
        high = of(up * width) * (1 - b) + of(up * width + right) * b
        result: Array = low * (1 - a) + high * a
        return result


def _between(nodes: Array, at: Array) -> tuple[NDArray[np.intp], Array]:
    """Number of the node below each value, and how far to the next; held at the ends."""
    if len(nodes) == 1:
        return np.zeros(np.shape(at), dtype=np.intp), np.zeros(np.shape(at))
    below = np.clip(np.searchsorted(nodes, at, side="right") - 1, 0, len(nodes) - 2)
    share = np.clip((at - nodes[below]) / (nodes[below + 1] - nodes[below]), 0.0, 1.0)
    return below, share
