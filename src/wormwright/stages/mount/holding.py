"""Chuck and collet: runout to expect, the four jaws, grip and speed."""

from __future__ import annotations

import math
from collections.abc import Sequence

from wormwright.bench import Bench, noise
from wormwright.core.dialling import (
    collet_limit,
    jaw_moves,
    offset_at,
    offset_of_readings,
    wedge_of_tilt,
)
from wormwright.core.grip import grip_lost, grip_needed, speed_at_limit
from wormwright.core.turn_vector import TurnVector
from wormwright.handbook.collets import collet_limits
from wormwright.job.findings import Figured, Finding
from wormwright.job.mounting import JawTurn
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.mount.wording import about, length, size_about

FAST = 500.0
"""Above this speed a chuck on a rotary is warned of, rpm (common practice)."""
JAW_FRICTION, GRIP_SAFETY = 0.2, 2.5
"""Hard serrated jaws on turned work; common practice."""
SEAT = 0.4
"""Radius of the adapter's seat as a share of the chuck's outside."""


def chuck_finding(bench: Bench) -> tuple[Finding | None, tuple[Doubt, ...]]:
    """What the chuck will do at a distance, and what it may grip at which speed."""
    figures: list[Figured] = []
    words: list[str] = []
    doubts: list[Doubt] = []
    _runout_out_there(bench, figures, words)
    _collet(bench, figures, words)
    _grip(bench, figures, words, doubts)
    if not figures and not words:
        return None, tuple(doubts)
    words.append(
        "Face and register of the adapter are trued in place on the finished bearings first; a "
        "chuck is dialled in after that."
    )
    return Finding("chuck", "Chuck and collet", tuple(figures), tuple(words)), tuple(doubts)


def _planes(bench: Bench) -> list[tuple[float, TurnVector]]:
    """Offset of the bar at each distance it was read at, the nearest first."""
    rows = [r for r in bench.of("bar_runout") if _usable(r)]
    found = []
    for z in sorted({r.number("z") or 0.0 for r in rows}):
        here = [r for r in rows if (r.number("z") or 0.0) == z]
        if len({round((r.table_angle or 0.0) % (2 * math.pi), 3) for r in here}) >= 3:
            found.append((z, _offset(here)))
    return found


def _usable(row: Reading) -> bool:
    return row.value is not None and row.table_angle is not None


def _offset(rows: Sequence[Reading]) -> TurnVector:
    u = math.sqrt(math.fsum(noise(r) ** 2 for r in rows) / len(rows))
    return offset_of_readings(
        [r.table_angle or 0.0 for r in rows], [r.value or 0.0 for r in rows], reading_u=u
    )


def _runout_out_there(bench: Bench, figures: list[Figured], words: list[str]) -> None:
    planes = _planes(bench)
    mount, units = bench.job.mount, bench.job.units
    if len(planes) < 2:
        return
    (z1, near), (z2, far) = planes[0], planes[-1]
    out = (mount.work_length if mount else None) or z2
    for key, label, at in (("jaws", "runout at the jaws", 0.0), ("end", "runout at the end", out)):
        e = offset_at(near=near, far=far, near_at=z1, far_at=z2, at=at)
        figures.append(
            Figured(key, f"{label} (TIR)", size_about(e.swing, 2 * e.u, "two planes, as vectors"))
        )
    tilt = far.minus(near).times(1 / (z2 - z1))
    if tilt.stands_out and mount is not None and mount.chuck_outside:
        wedge = wedge_of_tilt(tilt=tilt, radius=SEAT * mount.chuck_outside)
        words.append(
            f"The work leans toward table mark {math.degrees(tilt.direction):.0f}°: re-seat the "
            f"chuck first; what stays is a wedge of {length(2 * wedge.size, units)} across the "
            "seat of the adapter, thick side under that mark."
        )


def _collet(bench: Bench, figures: list[Figured], words: list[str]) -> None:
    mount = bench.job.mount
    if mount is None or mount.hold != "collet" or mount.grip_diameter is None:
        return
    try:
        row = collet_limit(mount.grip_diameter, collet_limits())
    except ValueError as none:
        words.append(f"{none}.")
        return
    for key, label, limit in (
        ("class 1", "class 1 collet", row.class_1),
        ("class 2", "class 2 collet", row.class_2),
    ):
        at = length(row.distance, bench.job.units, to=1.0)
        figures.append(
            Figured(key, f"{label}, runout {at} out, at most (TIR)", _at_most(limit, "ISO 15488"))
        )
    words.append(
        "The classes are for the collet alone, on its nominal size; holder and spindle come on "
        "top. Normal collets are class 2. Lock the table for the torque of the nut: it would go "
        "through the worm."
    )


def _at_most(limit: float, method: str) -> Estimate:
    return Estimate(limit, 0.0, 0.0, limit, "length", method)


def _grip(bench: Bench, figures: list[Figured], words: list[str], doubts: list[Doubt]) -> None:
    mount = bench.job.mount
    if mount is None:
        return
    speed = mount.speed or 0.0
    if mount.chuck_speed is not None and speed > mount.chuck_speed:
        doubts.append(_too_fast(speed, mount.chuck_speed))
    elif speed > FAST:
        words.append(
            f"{speed:.0f} rpm is fast for a chuck on a rotary: guard shut, work balanced, stand "
            "out of its plane."
        )
    jaws = {"three-jaw": 3, "four-jaw": 4}.get(mount.hold)
    if jaws is None:
        return
    if mount.jaw_mass and mount.jaw_swing and speed:
        radius = 0.35 * mount.jaw_swing
        lost = grip_lost(jaws=jaws, jaw_mass=mount.jaw_mass, radius=radius, speed=speed)
        figures.append(Figured("lost", "grip lost at speed", _force(lost, "m r w²")))
        if mount.grip:
            top = speed_at_limit(jaws=jaws, jaw_mass=mount.jaw_mass, radius=radius, grip=mount.grip)
            words.append(
                f"At {top:.0f} rpm only a third of the grip is left (EN 1550, from memory); never "
                "above what is marked on the chuck."
            )
    if mount.side_force and mount.work_diameter and mount.grip_diameter:
        need = grip_needed(
            force=mount.side_force,
            cut_radius=mount.work_diameter / 2,
            grip_radius=mount.grip_diameter / 2,
            friction=JAW_FRICTION,
            safety=GRIP_SAFETY,
        )
        figures.append(
            Figured("need", "jaw forces together, wanted for the cut", _force(need, "friction 0.2"))
        )
        if mount.grip is not None and mount.grip < need:
            doubts.append(_weak())


def _force(value: float, method: str) -> Estimate:
    return Estimate(value, 0.2 * value, 0.6 * value, 1.4 * value, "force", method)


def _too_fast(speed: float, marked: float) -> Doubt:
    return Doubt(
        "refuse",
        "E-2",
        f"{speed:.0f} rpm is above the {marked:.0f} rpm marked on the chuck.",
        "An overspun chuck can burst.",
        "Turn slower, or take a chuck marked for it.",
    )


def _weak() -> Doubt:
    return Doubt(
        "warn",
        "MT-8",
        "The chuck grips less than the cut asks for.",
        "The work turns in the jaws and takes the tool with it.",
        "A stop or a flat for the jaws, a lighter cut, a larger grip, or a tail centre.",
    )


def four_jaw(bench: Bench) -> tuple[tuple[JawTurn, ...], tuple[Doubt, ...]]:
    """How far to move which jaw, from the live readings on the work."""
    rows = _last_turn([r for r in bench.of("four_jaw") if _usable(r)])
    if not rows:
        return (), ()
    seqs = tuple(r.seq for r in rows)
    if len({round((r.table_angle or 0.0) % (2 * math.pi), 3) for r in rows}) < 3:
        return (), (
            Doubt(
                "refuse",
                "E-31",
                "Four-jaw: fewer than three different table angles.",
                "Two angles cannot tell how far the work stands off.",
                "Read a third angle, best a quarter turn from the others.",
                seqs,
            ),
        )
    first = next((a for r in rows if (a := r.number("jaw_1")) is not None), 0.0)
    moves = jaw_moves(_offset(rows), first_jaw=first)
    return tuple(JawTurn(m.back, m.in_, about(m.move, m.u, "needle")) for m in moves), ()


def _last_turn(rows: Sequence[Reading]) -> list[Reading]:
    """The readings since the jaws were last moved: back from the newest to an angle met before."""
    found: list[Reading] = []
    seen: set[float] = set()
    for row in reversed(rows):
        angle = round((row.table_angle or 0.0) % (2 * math.pi), 2)
        if angle in seen:
            break
        seen.add(angle)
        found.append(row)
    return found[::-1]
