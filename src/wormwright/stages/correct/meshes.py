"""The mesh of each wheel kind that is still possible: closed form, exact, and which one counts."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from wormwright.core.backlash import (
    ClosedFormMesh,
    Floats,
    MeshModel,
    sideways_for_false_depth,
    slope_of_opening,
)
from wormwright.core.impossible_pair import ImpossiblePairError
from wormwright.core.mesh_pair import PairSizes, mesh_of_pair
from wormwright.core.mesh_results import ExactMesh
from wormwright.core.mesh_table import MeshTable, TabledMesh, mesh_table
from wormwright.job.pair import WheelKind, WormPair
from wormwright.job.result import Doubt

LEAST_EXCESS = 0.01
"""Smallest radius excess of an oversize hob worth the name, as a share of the worm radius."""

GOOD = 0.001
"""The closed form is kept where the exact mesh is never farther off than this, mm at r2."""

HALVINGS = 24

PHASES = 4
"""Worm phases that the exact mesh looks at: the least of eight is met to 0.3 µm."""

SHIFTED = 0.3
"""A centre distance this much off the nominal, in modules, is a shifted wheel, not an opening."""

DEEP_ROOT = 0.6
"""A wheel root read farther than this under the worm crest, in modules, was no root."""

IN_WORDS: dict[WheelKind, str] = {
    "helical": "a plain helical wheel",
    "oversize-hob": "a wheel cut by an oversize hob",
    "hob-equal": "a wheel cut by a hob of the worm's size",
}
"""The wheel kinds in the words of the bench."""

DEEPEST, FARTHEST, ASIDE = 0.25, 0.6, (0.15, 0.35)
"""Most closing, most opening and least and most sideways shift worked out, in modules."""


@dataclass(frozen=True, slots=True)
class Reach:
    """Places at which the exact mesh is worked out [mm]: closing and opening, sideways."""

    da: tuple[float, ...]
    dz: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class KindMesh:
    """One wheel kind: its closed form, the exact mesh if there is one, else why not."""

    kind: WheelKind
    belief: float
    closed: ClosedFormMesh
    exact: ExactMesh | None
    refused: Doubt | None


@dataclass(frozen=True, slots=True)
class Meshes:
    """All kinds of one pair, and the tables that put their closed forms right."""

    pair: WormPair
    centre_distance: float
    kinds: tuple[KindMesh, ...]
    hobbed: MeshTable | None
    helical: MeshTable | None

    def of_rows(self, sin_face: Floats, excess: Floats) -> MeshModel:
        """The mesh of rows that each have their own face angle and hob excess."""
        closed = _closed(self.pair, self.centre_distance, sin_face, excess)
        return TabledMesh(closed, hobbed=_kept(self.hobbed), helical=_kept(self.helical))

    def named(self, kind: str) -> KindMesh:
        """One kind by its name."""
        return next(k for k in self.kinds if k.kind == kind)

    def of(self, kind: str) -> MeshModel:
        """The mesh of one kind, the oversize hob at its middle excess."""
        closed = self.named(kind).closed
        return TabledMesh(closed, hobbed=_kept(self.hobbed), helical=_kept(self.helical))

    def tabled(self, kind: str) -> MeshModel | None:
        """The exact mesh of one kind between its places, kept or not; None where there is none."""
        mesh = self.named(kind)
        table = self.helical if kind == "helical" else self.hobbed
        if mesh.exact is None or table is None:
            return None
        return TabledMesh(mesh.closed, hobbed=self.hobbed, helical=self.helical)

    def off(self, kind: str) -> float | None:
        """Most that the closed form of a kind was found off the exact mesh, mm; None unknown."""
        table = self.helical if kind == "helical" else self.hobbed
        return table.most if table is not None and self.named(kind).exact is not None else None

    def method(self, kind: str) -> str:
        """Which model gives the figures of that kind."""
        off = self.off(kind)
        if off is None:
            return "closed form"
        return "closed form, as good here" if off <= GOOD else "exact mesh"

    @property
    def used(self) -> str:
        """Which model gives the figures that stand on all kinds together."""
        ways = {self.method(k.kind) for k in self.kinds if k.belief > 0}
        return "exact mesh" if "exact mesh" in ways else min(ways)

    @property
    def doubts(self) -> tuple[Doubt, ...]:
        """Why a kind that is still possible has no exact mesh."""
        return tuple(dict.fromkeys(k.refused for k in self.kinds if k.refused))


def kinds_of(pair: WormPair) -> tuple[tuple[WheelKind, float, float], ...]:
    """Each wheel kind, mildest first, with its sine of half the face and hob excess [mm]."""
    excess = usual_excess(pair)
    return (
        ("helical", 0.0, 0.0),
        ("oversize-hob", pair.sin_face * pair.r1 / (pair.r1 + excess), excess),
        ("hob-equal", pair.sin_face, 0.0),
    )


def sideways_that_shuts(meshes: Meshes, kind: str, *, false_depth: float) -> float:
    """Sideways shift that shuts a mesh standing `false_depth` too far out, mm; may be infinite.

    The closed form gives it; where the exact mesh differs, halving between nothing and twice that.
    """
    mesh = meshes.named(kind)
    closed = mesh.closed
    start = sideways_for_false_depth(
        false_depth=false_depth,
        sin_face=float(np.asarray(closed.sin_face)),
        hob_excess=float(np.asarray(closed.hob_excess)),
    )
    low, high = 0.0, 2.0 * float(start)
    if meshes.method(kind) != "exact mesh" or not math.isfinite(high):
        return float(start)
    model = meshes.of(kind)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        shut = float(model.backlash_change(da=false_depth, dz=middle)) <= 0
        low, high = (low, middle) if shut else (middle, high)
    return (low + high) / 2


def usual_excess(pair: WormPair) -> float:
    """Middle of the believable radius excess of an oversize hob, mm."""
    return (LEAST_EXCESS * pair.r1 + most_excess(pair)) / 2


def most_excess(pair: WormPair) -> float:
    """Largest believable radius excess of an oversize hob, mm."""
    return max(pair.hob_excess_max, LEAST_EXCESS * pair.r1)


def reach_for(pair: WormPair, backlash: float) -> Reach:
    """Places between which a unit with that much backlash may stand, or be set."""
    m, step = pair.axial_module, 0.05
    slope = max(
        slope_of_opening(t=pair.t, g=pair.g, sin_face=pair.sin_face, hob_excess=0.0), pair.t
    )
    far, deep = backlash / slope, backlash / (2 * pair.t)
    far = min(max(step * math.ceil(far / step), 0.05 * m), FARTHEST * m)
    deep = min(max(step * math.ceil(deep / step), 0.05 * m), DEEPEST * m)
    least, most = (share * m for share in ASIDE)
    aside = min(max(far, least), most)
    return Reach((-deep, -deep / 2, 0.0, far / 2, far), (0.0, aside / 4, aside))


@lru_cache(maxsize=8)
def meshes_of(pair: WormPair, centre_distance: float, reach: Reach) -> Meshes:
    """Closed form and exact mesh of every kind that is still possible, and what lies between."""
    belief = dict(pair.kinds)
    kinds, exact = [], {}
    for kind, sine, excess in kinds_of(pair):
        closed = _closed(pair, centre_distance, sine, excess)
        found, refused = None, None
        if belief.get(kind, 0.0) > 0:
            found, refused = _exact_or_why(pair, kind, excess)
        exact[kind] = found
        kinds.append(KindMesh(kind, belief.get(kind, 0.0), closed, found, refused))
    da, dz = np.array(reach.da), np.array(reach.dz)
    if any(_is_undercut(mesh) for mesh in exact.values() if mesh is not None):
        da, dz = da[[0, 2, 4]], dz[[0, 2]]  # fewer places, for each costs ten times as much
    hobbed = _hobbed_table(pair, centre_distance, exact, da, dz)
    helical = _helical_table(pair, centre_distance, exact["helical"], da, dz)
    return Meshes(pair, centre_distance, tuple(kinds), hobbed, helical)


def _helical_table(
    pair: WormPair,
    centre_distance: float,
    plain: ExactMesh | None,
    da: np.ndarray[tuple[int], np.dtype[np.float64]],
    dz: np.ndarray[tuple[int], np.dtype[np.float64]],
) -> MeshTable | None:
    """The table of a plain helical wheel, for which sideways changes nothing."""
    if plain is None:
        return None
    closed = _closed(pair, centre_distance, 0.0, 0.0)
    try:
        middle = mesh_table([(plain, closed)], da=da, dz=np.zeros(1))
    except ValueError:
        return None
    return MeshTable(middle.excess, da, dz, np.repeat(middle.off, len(dz), axis=2))


def _hobbed_table(
    pair: WormPair,
    centre_distance: float,
    exact: dict[WheelKind, ExactMesh | None],
    da: np.ndarray[tuple[int], np.dtype[np.float64]],
    dz: np.ndarray[tuple[int], np.dtype[np.float64]],
) -> MeshTable | None:
    """The table over the hob excess: none, the middle one and the largest believable."""
    found = {0.0: exact["hob-equal"], usual_excess(pair): exact["oversize-hob"]}
    if exact["oversize-hob"] is not None:
        if found[0.0] is None:
            found[0.0] = _exact_or_why(pair, "hob-equal", 0.0)[0]
        if not _is_undercut(exact["oversize-hob"]):
            most = most_excess(pair)
            found[most] = _exact_or_why(pair, "oversize-hob", most)[0]
    meshes = []
    for excess, mesh in sorted(found.items()):
        sine = pair.sin_face * pair.r1 / (pair.r1 + excess)
        if mesh is not None:
            meshes.append((mesh, _closed(pair, centre_distance, sine, excess)))
    if not meshes:
        return None
    try:
        return mesh_table(meshes, da=da, dz=dz)
    except ValueError:
        return None


def _kept(table: MeshTable | None) -> MeshTable | None:
    """The table, unless the closed form alone is good."""
    return table if table is not None and table.most > GOOD else None


def _is_undercut(mesh: ExactMesh) -> bool:
    return any(side.undercut for side in mesh.mesh.sides.values())


def _closed(
    pair: WormPair, centre_distance: float, sin_face: Floats, excess: Floats
) -> ClosedFormMesh:
    lead = pair.g if pair.hand == "right" else -pair.g
    return ClosedFormMesh(pair.t, lead, pair.r1, centre_distance, sin_face, excess)


def _exact_or_why(
    pair: WormPair, kind: WheelKind, excess: float
) -> tuple[ExactMesh | None, Doubt | None]:
    """The exact mesh of a kind, or in words why there can be none."""
    try:
        return exact_mesh(sizes_of(pair, kind, excess)), None
    except ImpossiblePairError as why:
        return None, Doubt(
            "warn",
            "pair",
            f"No such pair can be: {why.got}. Expected: {why.expected}.",
            f"The exact mesh of {IN_WORDS[kind]} cannot be worked out; the closed form stands in.",
            f"{why.do[0].upper()}{why.do[1:]}.",
        )


@lru_cache(maxsize=32)
def exact_mesh(sizes: PairSizes) -> ExactMesh:
    """The exact mesh of a pair, kept; refused as `mesh_of_pair` does."""
    return ExactMesh(mesh_of_pair(sizes), phases=PHASES)


def cost_of_skew(pair: WormPair, kind: WheelKind, skew: float) -> float:
    """Backlash that a skew takes up on the exact mesh of that kind as cut, the worse way, mm."""
    excess = usual_excess(pair) if kind == "oversize-hob" else 0.0
    return _cost_of_skew(sizes_of(pair, kind, excess), skew)


@lru_cache(maxsize=32)
def _cost_of_skew(sizes: PairSizes, skew: float) -> float:
    change = exact_mesh(sizes).backlash_change(da=0.0, skew=np.array([skew, -skew]))
    return -float(np.min(np.asarray(change)))


def sizes_of(pair: WormPair, kind: WheelKind, excess: float) -> PairSizes:
    """The pair as the exact mesh takes it; sizes that were not read follow the usual ones."""
    m = pair.axial_module
    nominal = pair.r1 + pair.r2
    read = pair.centre_distance
    shift = 0.0
    if read is not None and abs(read.value - nominal) > max(SHIFTED * m, 3 * read.u):
        shift = (read.value - nominal) / m
    centre, tip = nominal + shift * m, pair.r1 + m
    root = pair.wheel_root.value / 2 if pair.wheel_root else None
    if root is not None and centre - root - tip > DEEP_ROOT * m:
        root = None
    return PairSizes(
        teeth=pair.teeth,
        starts=pair.starts,
        axial_module=m,
        axial_angle=pair.pressure_angle,
        worm_d1=pair.worm_d1,
        kind=kind,
        right_hand=pair.hand == "right",
        hob_excess=excess,
        shift=shift,
        throat=pair.throat.value / 2 if pair.throat else None,
        wheel_root=root,
        face=pair.bearing_face,
    )
