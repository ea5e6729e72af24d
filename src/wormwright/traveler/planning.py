"""The operations that a chosen plan needs, in order, with their gates."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from wormwright.job.corrections import Remedy
from wormwright.job.operation import Operation
from wormwright.job.pair import WormPair
from wormwright.job.rotary import Job
from wormwright.quantities import shown
from wormwright.traveler.gates import gates_of
from wormwright.traveler.limits import limits
from wormwright.traveler.operations_apart import APART
from wormwright.traveler.operations_mesh import MESH
from wormwright.traveler.order import directly_before, in_order

ALL: Mapping[str, Operation] = MappingProxyType({op.key: op for op in (*APART, *MESH)})
"""Every operation there is, by key, without gates."""

_MESH_SET = ("wheel_joint", "end_play_reread", "axial_centring", "final_depth", "coupling")
NEEDS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "table_shim": ("table_bearing", "wheel_joint"),
        "worm_shim": ("worm_end_play",),
        "relief": ("worm_relief", "worm_end_play"),
        "bushings": ("bushings_in", *_MESH_SET),
        "setting": ("setting_move", *_MESH_SET),
    }
)
"""Correction key -> operations it needs, the first one being where it is carried out."""

OPENED = ("strip_wash", "seal_grease")
"""What is needed as soon as the unit is opened at all."""
SHIMMED = 0.01
"""Sideways move, mm, from which the wheel is shimmed before the first blue."""
ALWAYS = ("baseline", "warm_recheck", "proof_rock")


def plan_operations(
    job: Job,
    remedy: Remedy | None,
    *,
    pair: WormPair | None = None,
    span: float | None = None,
) -> tuple[Operation, ...]:
    """Operations of the chosen plan in the order of work.

    Without a chosen plan only the baseline can be ordered; with a plan that alters nothing, the
    baseline and the checks. `pair` and the bearing `span` (mm) sharpen the gates on end play and
    skew. Raises ValueError for a correction or operation key that is not known.
    """
    keys = operation_keys(remedy)
    shared = limits(job, remedy, pair=pair, span=span)
    chosen = remedy.chosen if remedy else None
    corrections = chosen.corrections if chosen else ()
    minutes = {NEEDS[c.key][0]: c.minutes for c in corrections}
    return in_order(
        replace(
            ALL[key],
            do=(*ALL[key].do, *_of_this_plan(key, job, remedy)),
            gates=gates_of(key, shared),
            after=directly_before(key, keys),
            minutes=max(ALL[key].minutes, minutes.get(key, 0.0)),
        )
        for key in keys
    )


def _of_this_plan(key: str, job: Job, remedy: Remedy | None) -> tuple[str, ...]:
    """What the strategy of the plan adds to an operation."""
    if remedy is None or remedy.picture is None:
        return ()
    if key == "bushings_in" and "trial" in remedy.strategy:
        return (
            "Trial pair: turn both to plus the angle until the mesh just drags at the tight spot, "
            "then the same to minus; the two angles give depth and sideways place of the final "
            "pair.",
        )
    sideways = remedy.picture.throw * math.sin(remedy.picture.chosen_angle)
    if key == "axial_centring" and "re-centred" in remedy.strategy and abs(sideways) >= SHIMMED:
        amount = shown(abs(sideways), "length", resolution=0.01, units=job.units)
        return (
            f"At the planned angle the worm stands {amount} sideways of the factory line: start "
            "with that much shim, moving the wheel to the side the worm went.",
        )
    return ()


def operation_keys(remedy: Remedy | None) -> frozenset[str]:
    """Keys of the operations that the chosen plan needs."""
    if remedy is None or remedy.chosen is None:
        return frozenset({"baseline"})
    keys = set(ALWAYS)
    for correction in remedy.chosen.corrections:
        if correction.key not in NEEDS:
            raise ValueError(
                f"order of work: expected a correction among {', '.join(NEEDS)}, "
                f"got {correction.key!r}"
            )
        keys.update(OPENED, NEEDS[correction.key], correction.operations)
    unknown = keys - set(ALL)
    if unknown:
        raise ValueError(
            f"order of work: expected operations among {', '.join(ALL)}, "
            f"got {', '.join(sorted(unknown))}"
        )
    return frozenset(keys)
