"""Which readings still describe the unit: what each operation makes stale, and what is alive.

Order is by running number only; clocks play no part.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from wormwright.job.operation import Operation, SignOff
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS, PROOF_KINDS

Kills = tuple[tuple[str, str], ...]

_ROCK = ("rock", "rock_pins")
_WORM_END_PLAY = ("worm_end_play",)
_WORM_FLOAT = ("worm_float",)
_DRIVE = ("drive_play",)
_TABLE = ("table_radial_play", "table_axial_play")
_DRAG_IN_MESH = ("drag_in_mesh",)
_DRAG_ALONE = ("drag_out_of_mesh", "drag_table")
_DRAG = _DRAG_IN_MESH + _DRAG_ALONE
_TIPS = ("tip_clearance",)
_JOINT = ("wheel_joint_play",)
_DEPTH = ("centre_distance",)
_BEARING = ("bearing_kind", "bearing_marking", "bearing_bore", "bearing_outside", "bearing_width")
_CLOSING = _ROCK + _WORM_END_PLAY + _WORM_FLOAT + _DRIVE + _DRAG_IN_MESH + _TIPS + _DEPTH


_TRIAL = ("trial_angle",)


def kinds_of_rows(*rows: int) -> tuple[str, ...]:
    """Reading kinds that stand in these rows of the baseline sheet, in sheet order."""
    return tuple(key for key, kind in KINDS.items() if kind.row in rows)


def _every_station(*kinds: str, rows: tuple[int, ...] = ()) -> Kills:
    """What changes the rock changes what the finished axis was proved by as well."""
    proof = tuple(kind for kind in KINDS if kind in PROOF_KINDS) if "rock" in kinds else ()
    return tuple((kind, "") for kind in dict.fromkeys((*kinds, *kinds_of_rows(*rows), *proof)))


_FEEL = (10, 14, 17, 18)
"""Rows of what is felt or seen with the unit together: tilt, clamp shift, rock loop, blue."""
_MESH_FEEL = (17, 18, 26)
_ON_MACHINE = ("bar_line", "over_bar", "beside_bar", "foot_gap", "foot_lift")
_POWERED = (27, 28, 29, 30)
"""Rows of what is read with the control driving: positions, fine sweep, drift, closure."""
_SURFACES = (11, 12, 13)
"""Rows of face, register and chuck runout."""


MAKES_STALE: Mapping[str, Kills] = MappingProxyType(
    {
        "baseline": (),
        "strip_wash": _every_station(
            *_ROCK,
            *_WORM_END_PLAY,
            *_WORM_FLOAT,
            *_DRIVE,
            *_TABLE,
            *_JOINT,
            *_DRAG,
            *_TIPS,
            *_ON_MACHINE,
            rows=(3, 4, 15, 16, *_FEEL, 26),
        ),
        "before_cutting": (),
        "table_bearing": _every_station(
            *_ROCK,
            *_TABLE,
            *_JOINT,
            *_DRAG,
            "table_shim",
            *_TRIAL,
            "bar_line",
            "over_bar",
            "beside_bar",
            rows=(3, 15, 16, *_FEEL, *_SURFACES),
        ),
        "wheel_joint": _every_station(*_ROCK, *_JOINT, *_DRAG_IN_MESH, rows=(3,)),
        "wheel_seat": _every_station(
            *_ROCK,
            *_JOINT,
            *_DRAG_IN_MESH,
            *_TIPS,
            "wheel_throat",
            *_TRIAL,
            rows=(3, *_MESH_FEEL),
        ),
        "worm_journals": _every_station(
            *_ROCK,
            *_WORM_END_PLAY,
            *_WORM_FLOAT,
            *_DRIVE,
            *_DRAG_IN_MESH,
            *_DRAG_ALONE,
            *_BEARING,
            "shaft_seat",
            rows=(4, 17),
        ),
        "worm_relief": _every_station("worm_od", *_TIPS, *_WORM_END_PLAY, rows=(4,)),
        "worm_end_play": _every_station(
            *_ROCK,
            *_WORM_END_PLAY,
            *_WORM_FLOAT,
            *_DRIVE,
            *_DRAG_IN_MESH,
            "drag_out_of_mesh",
            "worm_shim",
            rows=(17, 18),
        ),
        "sleeve_bore": _every_station(
            *_CLOSING, "housing_bore", "bearing_span", *_TRIAL, rows=_MESH_FEEL
        ),
        "next_bushing": (),
        "trial_pair": _every_station(*_CLOSING, *_DRAG_ALONE, *_BEARING, rows=(4, *_MESH_FEEL)),
        "bushings_made": (),
        "bushings_in": _every_station(*_CLOSING, *_DRAG_ALONE, *_BEARING, rows=(4, *_MESH_FEEL)),
        "setting_move": _every_station(*_CLOSING, rows=_MESH_FEEL),
        "centre_shim": _every_station(*_CLOSING, rows=_MESH_FEEL),
        "end_play_reread": (),
        "axial_centring": _every_station(
            *_ROCK, *_DRAG_IN_MESH, *_TIPS, "table_axial_play", rows=_MESH_FEEL
        ),
        "final_depth": _every_station(*_CLOSING, rows=_MESH_FEEL),
        "coupling": _every_station(*_DRIVE, *_ROCK),
        "clamp_adjust": _every_station(*_ROCK, rows=(14,)),
        "seal_grease": _every_station(*_ROCK, *_DRAG, rows=(16, 26)),
        "bed_in": _every_station(*_ROCK, *_DRAG, rows=(16, 17, 18, 26)),
        "bias_weight": _every_station(*_DRAG_IN_MESH),
        "friction_brake": _every_station(*_DRAG_IN_MESH, "drag_table"),
        "warm_recheck": (),
        "proof_rock": (),
        "proof_axis": (),
        "recheck": (),
        "mount_base": _every_station(*_ROCK, *_ON_MACHINE),
        "adapter_true": _every_station(rows=_SURFACES),
        "chuck_dial": _every_station("bar_runout", "four_jaw"),
        "tail_set": (("over_bar", "tail"), ("beside_bar", "tail")),
        "motor_fitted": _every_station(*_DRIVE, rows=_POWERED),
        "settings": _every_station(rows=_POWERED),
    }
)
"""Operation key -> (reading kind, station) pairs it makes stale; station "" is every station."""

SPARED_BY_SPOT_CHECK: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {"coupling": _ROCK, "clamp_adjust": _ROCK, "seal_grease": _ROCK, "mount_base": _ROCK}
)
"""Operation key -> kinds that live on when its spot check repeats at both places."""
SPOT_VALUES = ("spot_tight_before", "spot_tight_after", "spot_far_before", "spot_far_after")
"""Gate keys of a spot check: two places, each read before and after the tightening."""

RETURNS_TO_PLAN = _TRIAL
"""Kinds read during the work that the plan is made again with."""


def stale_readings(
    readings: Iterable[Reading],
    sign_offs: Iterable[SignOff],
    operations: Iterable[Operation] | None = None,
) -> dict[int, str]:
    """Running number of each stale reading -> key of the operation that first made it stale.

    A reading is stale when an operation that moves what it measured was signed after it was
    taken, whatever the verdict: a failed gate has moved metal too. A row that supersedes another
    corrects what was written of the same reading, so it is as old as the row it corrects; a
    reading taken anew is a new row and lives. A sign-off of an operation that is not known here
    counts as a strip-down. A spot check that repeats at both places after a tightening spares the
    rock. `operations` may make more stale than the table, never less.
    """
    kills = dict(MAKES_STALE)
    for operation in operations or ():
        kills[operation.key] = kills.get(operation.key, ()) + operation.makes_stale
    rows = tuple(readings)
    taken = _when_taken(rows)
    ordered = sorted(sign_offs, key=lambda s: s.seq)
    stale: dict[int, str] = {}
    for reading in rows:
        for sign_off in ordered:
            hit = _hits(kills.get(sign_off.operation, MAKES_STALE["strip_wash"]), reading)
            if hit and not _spared(reading.kind, sign_off) and taken[reading.seq] < sign_off.seq:
                stale[reading.seq] = sign_off.operation
                break
    return stale


def live_readings(
    readings: Iterable[Reading],
    sign_offs: Iterable[SignOff],
    operations: Iterable[Operation] | None = None,
) -> tuple[Reading, ...]:
    """Readings that still describe the unit: not superseded and not stale, by running number."""
    rows = tuple(readings)
    gone = {r.supersedes for r in rows} | set(stale_readings(rows, sign_offs, operations))
    return tuple(sorted((r for r in rows if r.seq not in gone), key=lambda r: r.seq))


def readings_as_found(
    readings: Iterable[Reading], sign_offs: Iterable[SignOff]
) -> tuple[Reading, ...]:
    """Readings that describe the unit as it was before the first operation that altered it.

    The plan stands on these: it must not fall away because the work it asked for has begun. What a
    trial pair told is the one thing that comes back to it from the work.
    """
    rows, sign_offs = tuple(readings), tuple(sign_offs)
    altering = [s.seq for s in sign_offs if MAKES_STALE.get(s.operation) != ()]
    first = min(altering, default=None)
    taken = _when_taken(rows)
    superseded = {r.supersedes for r in rows}
    back = {r.seq for r in live_readings(rows, sign_offs) if r.kind in RETURNS_TO_PLAN}
    kept = (
        r
        for r in rows
        if r.seq in back
        or (
            r.kind not in RETURNS_TO_PLAN
            and r.seq not in superseded
            and (first is None or taken[r.seq] < first)
        )
    )
    return tuple(sorted(kept, key=lambda r: r.seq))


def _spared(kind: str, sign_off: SignOff) -> bool:
    """Whether a spot check that repeats keeps this kind alive through the tightening."""
    read = {key for key, _, _ in sign_off.gate_values}
    return (
        sign_off.verdict == "passed"
        and kind in SPARED_BY_SPOT_CHECK.get(sign_off.operation, ())
        and read.issuperset(SPOT_VALUES)
    )


def _hits(kills: Kills, reading: Reading) -> bool:
    return any(kind == reading.kind and station in ("", reading.station) for kind, station in kills)


def _when_taken(readings: tuple[Reading, ...]) -> dict[int, int]:
    """Running number -> running number of the row at the root of its chain of corrections."""
    taken: dict[int, int] = {}
    for reading in sorted(readings, key=lambda r: r.seq):
        earlier = reading.supersedes
        taken[reading.seq] = reading.seq if earlier is None else taken.get(earlier, earlier)
    return taken
