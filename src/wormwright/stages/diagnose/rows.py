"""Readings as rows of the fit: what each one sees of the unknowns, all brought to r2 in mm."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

from wormwright.bench import Bench, noise
from wormwright.core.lost_motion import (
    held_worm_locks,
    table_play_share,
    table_play_share_of_couple,
    worm_float_share,
)
from wormwright.job.pair import WormPair
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.sheet import ROCKS
from wormwright.stages.diagnose.ranges import COMPLIANCE, WEAR

WARMER = 5.0
"""Rocks taken more than this much warmer than the coldest ones are not of one series, K."""

FIELD_STIFFNESS = 50.0
"""Stiffness of the field of a 200-step motor, torque per rad over its holding torque."""

BENT = 0.1
"""How far the straight branches taken for a loop may be off, as a share of the springing."""

ONE_END_SPREAD = 0.3
"""How far the float of the bearing not read may differ from the one read, as a share of it."""


@dataclass(frozen=True, slots=True)
class Row:
    """One row: reading(s) `seqs`, value and u in mm at r2, and what it sees.

    `sees` holds plain coefficients by unknown, `table_share` and `worm_share` the factors on
    share times play, `pin` the pin set-up whose radius scales the row.
    """

    kind: str
    seqs: tuple[int, ...]
    value: float
    u: float
    sees: dict[str, float]
    table_share: float = 0.0
    worm_share: float = 0.0
    pin: tuple[float, float] | None = None
    table_angle: float | None = None
    worm_angle: float | None = None
    temperature: float | None = None
    held: str = ""
    torque: float = 0.0

    @property
    def is_rock(self) -> bool:
        """Whether it is a rock of the table."""
        return self.kind in ROCKS


@dataclass(slots=True)
class Rows:
    """All rows of a sheet with the doubts met while making them; `warm` rocks are kept apart."""

    rows: list[Row] = field(default_factory=list)
    warm: list[Row] = field(default_factory=list)
    doubts: list[Doubt] = field(default_factory=list)
    span_assumed: bool = False


def bearing_span(bench: Bench, pair: WormPair) -> tuple[float, bool]:
    """Span between the worm bearings, mm, and whether it had to be assumed."""
    read = bench.figure("bearing_span")
    return (read.value, False) if read else (2.5 * pair.worm_d1, True)


def worm_share_of(bench: Bench, pair: WormPair) -> float:
    """Frictionless lost motion at r2 per mm of worm float, for this worm and span."""
    span, _ = bearing_span(bench, pair)
    return worm_float_share(
        tan_pressure=pair.t, tan_lead=pair.g, worm_radius=pair.r1, bearing_span=span
    )


def axial_share(pair: WormPair) -> float:
    """Share of the table's axial play that a rock shows: none while the held worm locks."""
    locked = held_worm_locks(tan_lead=pair.g, pressure_angle=pair.pressure_angle)
    return 0.0 if locked else 0.5


def rows_of(bench: Bench, pair: WormPair) -> Rows:
    """Every reading that says something about lost motion, as rows."""
    out = Rows()
    out.span_assumed = bearing_span(bench, pair)[1]
    rocks = [
        row
        for reading in (*bench.of("rock"), *bench.of("rock_pins"))
        if (row := _rock_row(reading, bench, pair))
    ]
    out.rows, out.warm = _by_temperature(rocks)
    if out.warm:
        out.doubts.append(_warm_doubt(out))
    found = (
        _direct(bench, "worm_end_play", "end_play", 1.0),
        _float_row(bench),
        _direct(bench, "table_radial_play", "table_radial", 1.0),
        _direct(bench, "table_axial_play", "table_axial", 1.0),
        _direct(bench, "drive_play", "drive", pair.r2 / pair.ratio),
        _joint_row(bench, pair),
        *_loop_rows(bench, pair),
    )
    out.rows.extend(row for row in found if row)
    return out


def _by_temperature(rocks: list[Row]) -> tuple[list[Row], list[Row]]:
    """Rocks of one temperature, and those taken warmer than `WARMER` above the coldest."""
    known = [r.temperature for r in rocks if r.temperature is not None]
    limit = min(known) + WARMER if known else math.inf
    warm = [r for r in rocks if r.temperature is not None and r.temperature > limit]
    return [r for r in rocks if r not in warm], warm


def _warm_doubt(rows: Rows) -> Doubt:
    warmest = max(r.temperature or 0.0 for r in rows.warm)
    coldest = min(r.temperature for r in rows.rows if r.temperature is not None)
    return Doubt(
        "warn",
        "D-4",
        f"{len(rows.warm)} rock{'s were' if len(rows.warm) > 1 else ' was'} taken "
        f"{warmest - coldest:.0f} K warmer than the coldest.",
        f"Beyond {WARMER:.0f} K growth by heat would pass for play or take it away.",
        "Nothing, if it was meant as the warm re-check: the warm rocks are compared with the cold "
        "ones and left out of the fit.",
        tuple(s for r in rows.warm for s in r.seqs),
    )


def _direct(bench: Bench, kind: str, unknown: str, to_r2: float) -> Row | None:
    read = bench.figure(kind)
    if read is None:
        return None
    return Row(kind, read.seqs, read.value * to_r2, read.u * to_r2, {unknown: 1.0})


def _joint_row(bench: Bench, pair: WormPair) -> Row | None:
    readings = [r for r in bench.of("wheel_joint_play") if r.number("radius")]
    if not readings:
        return None
    scale = pair.r2 / (readings[-1].number("radius") or pair.r2)
    return _direct(bench, "wheel_joint_play", "wheel_joint", scale)


def _float_row(bench: Bench) -> Row | None:
    ends = [f for s in ("A", "B") if (f := bench.figure("worm_float", s))]
    if not ends:
        return None
    value = sum(f.value for f in ends) / len(ends)
    u = math.hypot(*(f.u for f in ends)) / len(ends)
    if len(ends) == 1:
        u = math.hypot(u, ONE_END_SPREAD * value)
    seqs = tuple(s for f in ends for s in f.seqs)
    return Row("worm_float", seqs, value, u, {"worm_float": 1.0})


def _loop_rows(bench: Bench, pair: WormPair) -> Iterator[Row]:
    """The springing that each rock loop shows, mm at r2 for each N there."""
    if not bench.of("rock_loop"):
        return
    from wormwright.bench.loops import (  # noqa: PLC0415  (loads only when read)
        loop_of,
        loops_by_place,
    )

    for readings in loops_by_place(bench).values():
        try:
            loop = loop_of(readings)
        except ValueError:  # told by the finding about the loop
            continue
        spring, u = loop.compliance * pair.r2**2, loop.compliance_u * pair.r2**2
        seqs = tuple(r.seq for r in readings)
        yield Row("rock_loop", seqs, spring, math.hypot(u, BENT * spring), {COMPLIANCE: 1.0})


def _rock_row(reading: Reading, bench: Bench, pair: WormPair) -> Row | None:
    radius, radius_u = reading.number("pin_radius"), reading.number("pin_radius_u")
    if reading.value is None or not radius:
        return None
    to_r2 = pair.r2 / radius
    phi = reading.table_angle
    psi = reading.worm_angle if reading.worm_angle is not None else pair.ratio * (phi or 0.0)
    held = reading.said("worm_held") or "at the worm"
    torque = abs(reading.number("torque") or 0.0)
    sees = rock_sees(pair, phi, psi, torque=torque, driven=held != "at the worm")
    if reading.said("sector") == "used":
        sees[WEAR] = 1.0
    spring = field_spring(bench, pair, torque) if held == "powered motor" else 0.0
    return Row(
        reading.kind,
        (reading.seq,),
        reading.value * to_r2,
        math.hypot(noise(reading) * to_r2, spring * pair.r2 / math.sqrt(3)),
        sees,
        table_share=_table_coefficient(reading, pair, radius),
        worm_share=worm_share_of(bench, pair),
        pin=(radius, radius_u or 0.0),
        table_angle=phi,
        worm_angle=reading.worm_angle,
        temperature=reading.number("housing_temperature"),
        held=held,
        torque=torque,
    )


def rock_sees(
    pair: WormPair, phi: float | None, psi: float, *, torque: float, driven: bool
) -> dict[str, float]:
    """What a rock at table angle phi and worm angle psi sees of each unknown, 1."""
    return {
        "mesh": 1.0,
        "end_play": 1.0,
        "wheel_joint": 1.0,
        "table_axial": axial_share(pair) * pair.g,
        "drive": 1.0 if driven else 0.0,
        "wheel_x": 2 * pair.t * math.cos(phi) if phi is not None else 0.0,
        "wheel_y": 2 * pair.t * math.sin(phi) if phi is not None else 0.0,
        "worm_x": 2 * pair.t * math.cos(psi),
        "worm_y": 2 * pair.t * math.sin(psi),
        COMPLIANCE: 2 * torque / pair.r2,
    }


def field_spring(bench: Bench, pair: WormPair, torque: float) -> float:
    """Most that the field of the powered motor gives to and fro, rad at the table.

    As if the worm let all of the torque through; a worm that holds lets none through.
    """
    hold = bench.job.motor.torque_hold_nmm
    return 2 * torque / (FIELD_STIFFNESS * hold * pair.ratio**2) if hold else 0.0


def _table_coefficient(reading: Reading, pair: WormPair, radius: float) -> float:
    if reading.kind == "rock_pins":
        return table_play_share_of_couple(pair.t)
    pin_angle = reading.number("pin_angle") or 0.0
    push_angle = reading.number("push_angle")
    share = table_play_share(
        push_radius=reading.number("push_radius") or radius,
        push_angle=pin_angle if push_angle is None else push_angle,
        pin_radius=radius,
        pin_angle=pin_angle,
        pitch_radius=pair.r2,
        tan_pressure=pair.t,
    )
    return share.one_pin
