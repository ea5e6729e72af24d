"""The baseline sheet: every reading kind by its key, and the least set of readings by purpose."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from wormwright.job.kind import ReadingKind
from wormwright.job.sheet_axis import PROOF_AXIS
from wormwright.job.sheet_drag import DRAG
from wormwright.job.sheet_housing import HOUSING
from wormwright.job.sheet_identity import IDENTITY
from wormwright.job.sheet_keep import KEEP
from wormwright.job.sheet_load import LOAD
from wormwright.job.sheet_mount import MOUNT
from wormwright.job.sheet_play import PLAY
from wormwright.job.sheet_proof import PROOF_POSITION
from wormwright.job.sheet_shims import SHIMS
from wormwright.job.sheet_table import RUNOUTS, TABLE
from wormwright.job.sheet_trial import TRIAL
from wormwright.job.sheet_wheel import WHEEL

_BASELINE = (*IDENTITY, *HOUSING, *SHIMS, *WHEEL, *PLAY, *TABLE, *DRAG, *LOAD, *TRIAL)
_MOUNT = (*MOUNT,)
_PROOF = (*PROOF_POSITION, *PROOF_AXIS, *KEEP)

KINDS: Mapping[str, ReadingKind] = MappingProxyType(
    {kind.key: kind for kind in sorted((*_BASELINE, *_MOUNT, *_PROOF), key=lambda k: k.row)}
)
"""Every reading kind, in sheet order: baseline sheet, mounting, proof of the finished axis."""

PROOF_KINDS = frozenset(kind.key for kind in _PROOF)
"""The kinds that are read on the finished axis only; the baseline sheet does not ask for them."""

MOUNT_KINDS = frozenset(kind.key for kind in _MOUNT)
"""The kinds that are read on the machine only; the baseline sheet does not ask for them."""

LATER_KINDS = MOUNT_KINDS | PROOF_KINDS
"""The kinds that are read on the finished unit only."""

ROCKS = ("rock", "rock_pins")
"""The kinds that are a rock of the table."""

SERIES = (*ROCKS, *RUNOUTS, "drag_in_mesh", "rock_loop")
"""The kinds read at many places or loads, where one mean of all rows says little."""


@dataclass(frozen=True, slots=True)
class Want:
    """One line of a purpose set: any of `kinds`, `count` readings of it.

    With `positions` the count is of different table angles. `only_for` limits the line to units
    that adjust in one of those ways.
    """

    kinds: tuple[str, ...]
    count: int = 1
    positions: bool = False
    only_for: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PurposeSet:
    """The least readings that answer one question."""

    key: str
    question: str
    wants: tuple[Want, ...]


def _wants(*kinds: str, only_for: tuple[str, ...] = ()) -> tuple[Want, ...]:
    return tuple(Want((kind,), only_for=only_for) for kind in kinds)


PURPOSES: tuple[PurposeSet, ...] = (
    PurposeSet(
        "purchase",
        "Is it normal, to be mended at home, or to be sent back?",
        (
            Want(ROCKS, 4, positions=True),
            Want(("worm_end_play",)),
            Want(("face_runout",), 8, positions=True),
        ),
    ),
    PurposeSet(
        "proof",
        "Is it as good as it must be, as far as hand readings show?",
        (
            Want(ROCKS, 12, positions=True),
            Want(("clamp_shift",), 3),
            Want(("rock_loop",), 12),
            Want(("register_runout",), 8, positions=True),
        ),
    ),
    PurposeSet(
        "yearly",
        "Is it still as good as it was?",
        (
            Want(ROCKS, 12, positions=True),
            Want(("worm_end_play",)),
            Want(("table_axial_play",)),
            Want(("clamp_shift",), 3),
            Want(("drag_in_mesh",), 4, positions=True),
        ),
    ),
    PurposeSet(
        "diagnosis",
        "Where does the lost motion come from?",
        (
            Want(("teeth",)),
            Want(("thread_length", "centre_distance")),
            Want(ROCKS, 8, positions=True),
            *_wants(
                "worm_end_play",
                "worm_float",
                "drive_play",
                "table_radial_play",
                "table_axial_play",
                "wheel_joint_play",
            ),
        ),
    ),
    PurposeSet(
        "design",
        "What do I make, and will it be enough?",
        (
            *_wants("teeth", "starts", "hand", "thread_length", "worm_od"),
            Want(("wheel_throat", "wheel_od")),
            *_wants("wheel_face", "wheel_kind", "centre_distance", "adjusting", "temperature"),
            Want(ROCKS, 8, positions=True),
            *_wants("worm_end_play", "worm_float"),
            Want(("drag_in_mesh",), 4, positions=True),
            Want(("tip_clearance", "wheel_root")),
            Want(("blue_mark",)),
            *_wants("worm_shim_arrangement", "worm_shim", "worm_shim_inside", "worm_shim_outside"),
            *_wants(
                "bearing_kind",
                "bearing_bore",
                "bearing_outside",
                "bearing_width",
                "shaft_seat",
                "housing_bore",
                "bearing_span",
                only_for=("fixed bores", "split housing"),
            ),
            *_wants("adjuster_throw", only_for=("factory eccentric",)),
            *_wants("adjuster_arm", only_for=("pivot box",)),
            *_wants("block_shim_way", only_for=("bolted block",)),
        ),
    ),
)
"""Least sets by purpose, the shortest first."""
