"""Which readings still describe the unit: what each operation makes stale, and what is alive.

Order is by running number only; clocks play no part.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from wormwright.job.operation import Operation, SignOff
from wormwright.job.reading import Reading

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


def _every_station(*kinds: str) -> Kills:
    return tuple((kind, "") for kind in kinds)


MAKES_STALE: Mapping[str, Kills] = MappingProxyType(
    {
        "baseline": (),
        "strip_wash": _every_station(
            *_ROCK, *_WORM_END_PLAY, *_WORM_FLOAT, *_DRIVE, *_TABLE, *_JOINT, *_DRAG, *_TIPS
        ),
        "table_bearing": _every_station(*_ROCK, *_TABLE, *_JOINT, *_DRAG, "table_shim"),
        "wheel_joint": _every_station(*_ROCK, *_JOINT, *_DRAG_IN_MESH),
        "wheel_seat": _every_station(*_ROCK, *_JOINT, *_DRAG_IN_MESH, *_TIPS, "wheel_throat"),
        "worm_journals": _every_station(
            *_ROCK,
            *_WORM_END_PLAY,
            *_WORM_FLOAT,
            *_DRIVE,
            *_DRAG_IN_MESH,
            *_DRAG_ALONE,
            *_BEARING,
            "shaft_seat",
        ),
        "worm_relief": _every_station("worm_od", *_TIPS, *_WORM_END_PLAY),
        "worm_end_play": _every_station(
            *_ROCK,
            *_WORM_END_PLAY,
            *_WORM_FLOAT,
            *_DRIVE,
            *_DRAG_IN_MESH,
            "drag_out_of_mesh",
            "worm_shim",
        ),
        "bushings_in": _every_station(*_CLOSING, *_DRAG_ALONE, *_BEARING),
        "setting_move": _every_station(*_CLOSING),
        "end_play_reread": (),
        "axial_centring": _every_station(*_ROCK, *_DRAG_IN_MESH, *_TIPS, "table_axial_play"),
        "final_depth": _every_station(*_CLOSING),
        "coupling": _every_station(*_DRIVE),
        "seal_grease": _every_station(*_ROCK, *_DRAG),
        "warm_recheck": (),
        "proof_rock": (),
    }
)
"""Operation key -> (reading kind, station) pairs it makes stale; station "" is every station."""


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
    counts as a strip-down. `operations` may make more stale than the table, never less.
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
            if hit and taken[reading.seq] < sign_off.seq:
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

    The plan stands on these: it must not fall away because the work it asked for has begun.
    """
    rows = tuple(readings)
    altering = [s.seq for s in sign_offs if MAKES_STALE.get(s.operation) != ()]
    first = min(altering, default=None)
    taken = _when_taken(rows)
    superseded = {r.supersedes for r in rows}
    kept = (r for r in rows if r.seq not in superseded and (first is None or taken[r.seq] < first))
    return tuple(sorted(kept, key=lambda r: r.seq))


def _hits(kills: Kills, reading: Reading) -> bool:
    return any(kind == reading.kind and station in ("", reading.station) for kind, station in kills)


def _when_taken(readings: tuple[Reading, ...]) -> dict[int, int]:
    """Running number -> running number of the row at the root of its chain of corrections."""
    taken: dict[int, int] = {}
    for reading in sorted(readings, key=lambda r: r.seq):
        earlier = reading.supersedes
        taken[reading.seq] = reading.seq if earlier is None else taken.get(earlier, earlier)
    return taken
