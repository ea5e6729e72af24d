"""The order of work as a graph: which operation comes before which, and why."""

from __future__ import annotations

import functools
import heapq
import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from graphlib import CycleError, TopologicalSorter

from wormwright.job.operation import Operation


@dataclass(frozen=True, slots=True)
class Before:
    """`first` comes before `then`, for the reason `why`.

    With `redo`, doing `first` again means that `then` must be done again.
    """

    first: str
    then: str
    why: str
    redo: bool = False


_NO_RETURN = "the unit as found can never be read again"
_ASSEMBLED = "dirt and burrs would be shimmed in"
_E14 = "end play left in would be taken up by the mesh and come back when the thrust reverses"
_MOVED = "the worm stands elsewhere now, and its end play with it"
_LOOSE = "a loose joint looks exactly like backlash and would be closed by the mesh"
_FLAT = "the height of the wheel hangs on it"
_DEPTH = "a worm off the throat shuts too early and loosens as the edges bed in"
_RUN = "it must be judged as it will run"
_AGREED = "what cannot be undone is said and agreed to first"
_CREST = "the crest would touch the wheel root and feel tight"
_BREATHES = "a table that moves hides the depth of the mesh"
_TRUED = "truing the wheel moves the tight spot"
_ANEW = "the bushing is made to the bore as it is"

PRECEDENCE: tuple[Before, ...] = (
    Before("baseline", "strip_wash", _NO_RETURN),
    Before("baseline", "warm_recheck", _NO_RETURN),
    Before("strip_wash", "table_bearing", _ASSEMBLED, redo=True),
    Before("strip_wash", "worm_journals", _ASSEMBLED, redo=True),
    Before("strip_wash", "worm_relief", _ASSEMBLED),
    Before("strip_wash", "worm_end_play", _ASSEMBLED, redo=True),
    Before("strip_wash", "wheel_joint", _ASSEMBLED, redo=True),
    Before("strip_wash", "before_cutting", "sizes are read on clean parts"),
    Before("strip_wash", "sleeve_bore", _ASSEMBLED),
    *(
        Before("before_cutting", cut, _AGREED)
        for cut in (
            "wheel_seat",
            "worm_journals",
            "worm_relief",
            "sleeve_bore",
            "next_bushing",
            "trial_pair",
            "bushings_made",
        )
    ),
    Before("table_bearing", "wheel_joint", "the wheel comes off with the table", redo=True),
    Before("wheel_joint", "wheel_seat", "a loose wheel cannot be trued"),
    Before("worm_journals", "worm_end_play", "new bearings bring new end play", redo=True),
    Before("worm_relief", "worm_end_play", "the worm must come out to be turned", redo=True),
    Before("sleeve_bore", "next_bushing", _ANEW, redo=True),
    Before("sleeve_bore", "trial_pair", "the worm line is bored anew", redo=True),
    Before("sleeve_bore", "bushings_made", _ANEW, redo=True),
    Before("next_bushing", "bushings_made", "the pair is checked as it goes in", redo=True),
    Before("trial_pair", "bushings_made", "the final pair is made to the trial", redo=True),
    Before("bushings_made", "bushings_in", "a pair that was not checked is not fitted", redo=True),
    *(
        Before(first, "trial_pair", why)
        for first, why in (
            ("worm_end_play", _E14),
            ("worm_relief", _CREST),
            ("table_bearing", _BREATHES),
            ("wheel_joint", _LOOSE),
            ("wheel_seat", _TRUED),
        )
    ),
    Before("worm_end_play", "bushings_in", _E14),
    Before("worm_end_play", "setting_move", _E14),
    Before("worm_end_play", "centre_shim", _E14),
    Before("worm_end_play", "end_play_reread", _MOVED, redo=True),
    Before("worm_end_play", "final_depth", _E14, redo=True),
    Before("worm_relief", "bushings_in", _CREST),
    Before("worm_relief", "setting_move", _CREST),
    Before("worm_relief", "centre_shim", _CREST),
    Before("table_bearing", "bushings_in", _BREATHES),
    Before("table_bearing", "setting_move", _BREATHES),
    Before("table_bearing", "centre_shim", _BREATHES),
    Before("wheel_joint", "bushings_in", _LOOSE),
    Before("wheel_joint", "setting_move", _LOOSE),
    Before("wheel_joint", "centre_shim", _LOOSE),
    Before("wheel_seat", "bushings_in", _TRUED),
    Before("wheel_seat", "setting_move", _TRUED),
    Before("wheel_seat", "centre_shim", _TRUED),
    Before("bushings_in", "end_play_reread", _MOVED, redo=True),
    Before("setting_move", "end_play_reread", _MOVED, redo=True),
    Before("centre_shim", "end_play_reread", _MOVED, redo=True),
    Before("end_play_reread", "axial_centring", _E14),
    Before("table_bearing", "axial_centring", _FLAT, redo=True),
    Before("wheel_seat", "axial_centring", _FLAT, redo=True),
    Before("bushings_in", "axial_centring", "the throw moves the worm sideways", redo=True),
    Before("setting_move", "axial_centring", "the setting moves the worm sideways", redo=True),
    Before("centre_shim", "axial_centring", "a shim can move the worm sideways", redo=True),
    Before("end_play_reread", "final_depth", _E14),
    Before("wheel_joint", "final_depth", _LOOSE, redo=True),
    Before("axial_centring", "final_depth", _DEPTH, redo=True),
    Before("final_depth", "coupling", "the worm line is only now where it stays", redo=True),
    Before("final_depth", "seal_grease", _RUN, redo=True),
    Before("coupling", "seal_grease", "the cover goes on last"),
    *(
        Before("baseline", first, _NO_RETURN)
        for first in ("coupling", "clamp_adjust", "bias_weight", "friction_brake", "adapter_true")
    ),
    Before("table_bearing", "clamp_adjust", "the lock bears on the table as it lies", redo=True),
    Before("final_depth", "clamp_adjust", "its spot check is of the mesh as set", redo=True),
    Before("clamp_adjust", "seal_grease", "the cover goes on last"),
    Before("seal_grease", "bed_in", "dry flanks must not run", redo=True),
    Before("final_depth", "bed_in", "flanks bed in where they will stay", redo=True),
    Before("bed_in", "bias_weight", "the flanks bed in with the table bare"),
    Before("bed_in", "friction_brake", "the flanks bed in with the table bare"),
    Before("bed_in", "warm_recheck", _RUN, redo=True),
    Before("bed_in", "proof_rock", _RUN, redo=True),
    Before("bias_weight", "proof_rock", _RUN, redo=True),
    Before("friction_brake", "proof_rock", _RUN, redo=True),
    Before("clamp_adjust", "proof_rock", "a lock that drags hides play", redo=True),
    Before("coupling", "proof_rock", _RUN),
    Before("table_bearing", "adapter_true", "a skim follows the bearing it was made on", redo=True),
    Before("wheel_seat", "adapter_true", "the wheel takes the table off its seat"),
    Before("proof_rock", "adapter_true", "a skim on an axis still to be altered is done twice"),
    Before("seal_grease", "warm_recheck", _RUN, redo=True),
    Before("final_depth", "warm_recheck", _RUN, redo=True),
    Before("final_depth", "proof_rock", _RUN, redo=True),
    Before("seal_grease", "proof_rock", _RUN, redo=True),
    Before("proof_rock", "proof_axis", "what the hand finds is mended before power", redo=True),
    Before("proof_axis", "recheck", "the proof is what it is held against"),
    Before("adapter_true", "proof_axis", "the test stands on the adapter", redo=True),
    Before("baseline", "mount_base", _NO_RETURN),
    Before("proof_rock", "mount_base", "a unit that must be opened again comes off the machine"),
    Before("strip_wash", "mount_base", "the unit comes off the machine for it", redo=True),
    Before("mount_base", "adapter_true", "the skim follows the axis as it is clamped", redo=True),
    Before("mount_base", "chuck_dial", "clamping can move the chuck's face", redo=True),
    Before("adapter_true", "chuck_dial", "the chuck sits on what was trued", redo=True),
    Before("mount_base", "tail_set", "the tail is set to the trammed head", redo=True),
    Before("chuck_dial", "tail_set", "the bar in the chuck is what the tail is set to"),
    Before("mount_base", "proof_axis", "it is proved as it stands for use", redo=True),
    Before("chuck_dial", "proof_axis", "it is proved as it stands for use"),
    Before("tail_set", "proof_axis", "it is proved as it stands for use"),
    Before("proof_rock", "motor_fitted", "a motor on the worm springs and hides play"),
    Before("final_depth", "motor_fitted", "the worm line is only now where it stays", redo=True),
    Before("coupling", "motor_fitted", "the plate follows the worm first", redo=True),
    Before("motor_fitted", "settings", "they are tried with the current as it stays", redo=True),
    Before("warm_recheck", "settings", "the largest speed hangs on the drag as it runs"),
    Before(
        "settings", "proof_axis", "positions are proved with the settings as they stay", redo=True
    ),
    Before("warm_recheck", "proof_rock", "a mesh that jams warm is opened before it is proved"),
)
"""All that must come before something else. Operations left out of a plan still hand on order."""


def _sorted_keys(
    direct: Mapping[str, Collection[str]], numbers: Mapping[str, tuple[int, str]]
) -> Iterable[str]:
    """Keys in topological order; among those that are free the lowest (number, key) goes first."""
    sorter = TopologicalSorter(direct)
    try:
        sorter.prepare()
    except CycleError as error:
        ring = " -> ".join(error.args[1])
        raise ValueError(f"order of work: these operations wait for each other: {ring}") from None
    keys = sorted(direct, key=lambda key: (numbers.get(key, (0, "")), key))
    place = {key: i for i, key in enumerate(keys)}
    free: list[int] = []
    while sorter.is_active():
        for key in sorter.get_ready():
            heapq.heappush(free, place[key])
        key = keys[heapq.heappop(free)]
        yield key
        sorter.done(key)


def ancestors(edges: Iterable[tuple[str, str]]) -> dict[str, frozenset[str]]:
    """For each operation everything that comes before it, directly or through others."""
    direct: dict[str, set[str]] = {}
    for first, then in edges:
        direct.setdefault(then, set()).add(first)
        direct.setdefault(first, set())
    found: dict[str, frozenset[str]] = {}
    for key in _sorted_keys(direct, {}):
        through = (found[parent] for parent in direct[key])
        found[key] = frozenset(direct[key]).union(*through)
    return found


BEFORE: Mapping[str, frozenset[str]] = ancestors((b.first, b.then) for b in PRECEDENCE)
UNDONE_BY: Mapping[str, frozenset[str]] = ancestors((b.first, b.then) for b in PRECEDENCE if b.redo)


def directly_before(key: str, wanted: Iterable[str]) -> tuple[str, ...]:
    """The operations among `wanted` that come last before `key`; the rest follow from them."""
    earlier = BEFORE.get(key, frozenset()) & frozenset(wanted)
    return tuple(sorted(a for a in earlier if not any(a in BEFORE.get(b, ()) for b in earlier)))


def why_before(first: str, then: str) -> str:
    """The reason why `first` comes before `then`, from the first stretch of the way."""
    for edge in PRECEDENCE:
        if (edge.first, edge.then) == (first, then):
            return edge.why
    for edge in PRECEDENCE:
        if edge.first == first and edge.then in BEFORE.get(then, ()):
            return edge.why
    return "what it sets would be disturbed again"


def in_order(operations: Iterable[Operation]) -> tuple[Operation, ...]:
    """Operations sorted so that each follows what it needs; ties go by number, then by key.

    The result depends only on the set of operations, not on the order they came in.
    Raises ValueError naming the ring when operations wait for each other.
    """
    by_key = {op.key: op for op in operations}
    direct = {key: [a for a in op.after if a in by_key] for key, op in by_key.items()}
    numbers = {key: _rank(op.number) for key, op in by_key.items()}
    return tuple(by_key[key] for key in _sorted_keys(direct, numbers))


@functools.cache
def _rank(number: str) -> tuple[int, str]:
    found = re.fullmatch(r"(\d+)([a-z]?)", number)
    if found is None:
        raise ValueError(f"operation number: expected digits and a letter, got {number!r}")
    return int(found[1]), found[2]
