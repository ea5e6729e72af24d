"""The kinds of readings in groups by what they are about, each with how far it has been read."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from wormwright.app.folder import Folder
from wormwright.app.measure import sheet_of
from wormwright.job.kind import ReadingKind
from wormwright.job.sheet import KINDS, PROOF_KINDS
from wormwright.job.sheet_drag import DRAG
from wormwright.job.sheet_housing import HOUSING
from wormwright.job.sheet_identity import IDENTITY
from wormwright.job.sheet_load import LOAD
from wormwright.job.sheet_play import PLAY
from wormwright.job.sheet_shims import SHIMS
from wormwright.job.sheet_table import TABLE
from wormwright.job.sheet_trial import TRIAL
from wormwright.job.sheet_wheel import WHEEL

GROUPS: tuple[tuple[str, Iterable[ReadingKind]], ...] = (
    ("Worm and wheel: what they are", IDENTITY),
    ("Worm bearings and housing", HOUSING),
    ("Shims and packing", SHIMS),
    ("Wheel and hub", WHEEL),
    ("Plays and rocks", PLAY),
    ("Table: tilt and runout", TABLE),
    ("Drag and feel", DRAG),
    ("Under load, and on locking", LOAD),
    ("Trial settings", TRIAL),
    ("On the finished axis", tuple(k for k in KINDS.values() if k.key in PROOF_KINDS)),
)
OTHERS = "Others"


@dataclass(frozen=True, slots=True)
class KindOffered:
    """One kind to choose, and how far it has been read."""

    key: str
    row: int
    label: str
    state: str


@dataclass(frozen=True, slots=True)
class KindGroup:
    """Kinds that are about one thing."""

    label: str
    kinds: tuple[KindOffered, ...]


def kind_groups(folder: Folder) -> tuple[KindGroup, ...]:
    """Every kind once, in groups; one that no group knows stands among the others."""
    states = {line.kind: line.state for line in sheet_of(folder).lines}
    left = dict(KINDS)
    groups = []
    for label, kinds in GROUPS:
        mine = [left.pop(kind.key) for kind in kinds if kind.key in left]
        groups.append(_group(label, mine, states))
    groups.append(_group(OTHERS, list(left.values()), states))
    return tuple(group for group in groups if group.kinds)


def _group(label: str, kinds: list[ReadingKind], states: Mapping[str, str]) -> KindGroup:
    offered = (
        KindOffered(k.key, k.row, k.label, states.get(k.key, ""))
        for k in sorted(kinds, key=lambda kind: kind.row)
    )
    return KindGroup(label, tuple(offered))
