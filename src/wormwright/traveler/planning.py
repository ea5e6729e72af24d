"""The operations that a chosen plan needs, in order, with their gates."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from types import MappingProxyType

from wormwright.job.corrections import Correction, Remedy
from wormwright.job.operation import Bound, Gate, Operation, SignOff, Watch
from wormwright.job.pair import WormPair
from wormwright.job.rotary import Job
from wormwright.traveler.branches import asked_for
from wormwright.traveler.gates import gates_of
from wormwright.traveler.gates_depth import DEPTH_MOVE
from wormwright.traveler.gates_made import OWN_SIZES_MEASURED, agreed, spot_check
from wormwright.traveler.limits import Limits, limits
from wormwright.traveler.needs import (
    ALWAYS,
    CLOSED,
    DEPTH_MOVES,
    MAKING,
    NEEDS,
    OPENED,
    OWN_SIZES,
    SPLIT,
    mount_keys,
)
from wormwright.traveler.operations_after import AFTER
from wormwright.traveler.operations_apart import APART
from wormwright.traveler.operations_drive import DRIVE
from wormwright.traveler.operations_made import MADE
from wormwright.traveler.operations_mesh import MESH
from wormwright.traveler.operations_mount import MOUNT
from wormwright.traveler.operations_proof import PROOF
from wormwright.traveler.order import directly_before, in_order
from wormwright.traveler.plan_words import cautions_of, in_fixed_order, steps_of

ALL: Mapping[str, Operation] = MappingProxyType(
    {op.key: op for op in in_order((*APART, *MADE, *MESH, *MOUNT, *AFTER, *DRIVE, *PROOF))}
)
"""Every operation there is, by key, without gates."""


def plan_operations(
    job: Job,
    remedy: Remedy | None,
    *,
    pair: WormPair | None = None,
    span: float | None = None,
    sign_offs: Iterable[SignOff] = (),
) -> tuple[Operation, ...]:
    """Operations of the chosen plan in the order of work.

    Without a chosen plan only the baseline can be ordered; with a plan that alters nothing, the
    baseline and the checks. `pair` and the bearing `span` (mm) sharpen the gates on end play and
    skew. What a failed gate among `sign_offs` asks for is added, such as the remake of a spoiled
    bushing. Raises ValueError for a correction or operation key that is not known.
    """
    shared = limits(job, remedy, pair=pair, span=span)
    rows = tuple(sign_offs)
    keys = operation_keys(remedy) | _driven(job, remedy)
    if remedy is not None and remedy.chosen is not None:
        keys |= mount_keys(job)
    while True:
        operations = _planned(job, remedy, keys, shared)
        more = frozenset(asked_for(operations, rows)) & frozenset(ALL)
        if more <= keys:
            return operations
        keys |= more


def _driven(job: Job, remedy: Remedy | None) -> frozenset[str]:
    """Motor and settings, once a plan is chosen and job.toml describes the control."""
    if remedy is None or remedy.chosen is None or job.control is None:
        return frozenset()
    return frozenset(op.key for op in DRIVE)


def _planned(
    job: Job, remedy: Remedy | None, keys: frozenset[str], shared: Limits
) -> tuple[Operation, ...]:
    corrections = _corrections(remedy)
    minutes = _minutes(corrections, keys)
    found = []
    for key in keys:
        op = ALL[key]
        longer = max(1.0, minutes.get(key, 0.0) / op.minutes)
        found.append(
            replace(
                op,
                cautions=(*op.cautions, *cautions_of(op, remedy)),
                do=(*op.do, *steps_of(op, job, remedy, keys)),
                gates=_gates(op, keys, shared, corrections),
                after=directly_before(key, keys),
                minutes=op.minutes * longer,
                machine_minutes=op.machine_minutes * longer,
                wants=_wants(op, corrections),
                bounds=_bounds(key, shared),
                watch=_watch(key, shared),
            )
        )
    return in_order(found)


def _corrections(remedy: Remedy | None) -> tuple[Correction, ...]:
    """Corrections of the chosen plan, in an order that does not hang on how they were listed."""
    return in_fixed_order(remedy.chosen.corrections) if remedy and remedy.chosen else ()


def _minutes(corrections: tuple[Correction, ...], keys: frozenset[str]) -> dict[str, float]:
    """Minutes of each correction at the operation where they are spent, counted once."""
    found: dict[str, float] = {}
    for correction in corrections:
        where, *held = MAKING.get(correction.key, (NEEDS[correction.key][0],))
        rest = sum(ALL[key].minutes for key in held if key in keys)
        found[where] = found.get(where, 0.0) + correction.minutes - rest
    return found


def _gates(
    op: Operation,
    keys: frozenset[str],
    shared: Limits,
    corrections: tuple[Correction, ...],
) -> tuple[Gate, ...]:
    gates = gates_of(op.key, shared)
    if op.key == "before_cutting":
        cut = (ALL[key] for key in ALL if key in keys and ALL[key].lasting and key not in REMAKES)
        own = any(c.key in OWN_SIZES for c in corrections)
        gates = (*((OWN_SIZES_MEASURED,) if own else ()), *(agreed(one) for one in cut))
    if op.spot_check:
        gates = (*gates, *spot_check(shared))
    move = next((key for key in DEPTH_MOVES if key in keys), "")
    return tuple(replace(g, back_to=move) if g.back_to == DEPTH_MOVE else g for g in gates)


REMAKES = frozenset({"sleeve_bore", "next_bushing"})
"""Operations that stand in no plan and appear after a failed gate."""


def _wants(op: Operation, corrections: tuple[Correction, ...]) -> tuple[str, ...]:
    """Compulsory readings: the operation's own, and what this plan cuts or closes by."""
    more: tuple[str, ...] = ()
    if op.key == "baseline" and any(_moves_worm(c) for c in corrections):
        more = SPLIT
    if op.key == "before_cutting":
        more = tuple(kind for c in corrections for kind in OWN_SIZES.get(c.key, ()))
    return tuple(dict.fromkeys((*op.wants, *more)))


def _moves_worm(correction: Correction) -> bool:
    return any(key in DEPTH_MOVES for key in NEEDS[correction.key])


def _bounds(key: str, shared: Limits) -> tuple[Bound, ...]:
    if key not in (*DEPTH_MOVES, "trial_pair", "final_depth"):
        return ()
    return (
        Bound(
            "worm_end_play",
            "E-14",
            shared.end_play,
            "the worm end play stands above its limit; closing the mesh would take it up, and it "
            "comes back when the thrust reverses",
            "Shim it first (operation 6) and read it anew.",
        ),
    )


def _watch(key: str, shared: Limits) -> tuple[Watch, ...]:
    if key == "worm_end_play":
        return (
            Watch(
                "drag_rise",
                "E-15",
                None,
                1.5,
                "the preload has put up the drag by more than half: feel for rough places, and "
                "read it again warm.",
            ),
        )
    if key == "final_depth" and shared.warm_closes > 0:
        return (
            Watch(
                "rock_locked",
                "E-22",
                shared.warm_closes + shared.seen,
                None,
                "by its materials the mesh closes on the way to working warmth by as much as the "
                "play that is left: open a step, or watch operation 10 closely.",
            ),
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
        if correction.key not in CLOSED:
            keys.update(OPENED)
        keys.update(NEEDS[correction.key], correction.operations)
        if correction.key == "bushings" and "trial" in remedy.strategy:
            keys.add("trial_pair")
    unknown = keys - set(ALL)
    if unknown:
        raise ValueError(
            f"order of work: expected operations among {', '.join(ALL)}, "
            f"got {', '.join(sorted(unknown))}"
        )
    if "bushings_made" in keys or any(ALL[key].lasting for key in keys):
        keys.update(("strip_wash", "before_cutting"))
    return frozenset(keys)
