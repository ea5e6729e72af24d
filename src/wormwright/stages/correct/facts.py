"""What the bench sheet says about the unit, gathered once for all corrections."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.bench import Bench, Figure
from wormwright.bench.warm import duty_states
from wormwright.core.thermal import Rises
from wormwright.handbook.bearings import (
    Bearing,
    Rating,
    bearing,
    bearings_of_size,
    least_rating,
    read_marking,
)
from wormwright.job.findings import Diagnosis
from wormwright.job.pair import WormPair
from wormwright.job.rotary import BearingRow, Job
from wormwright.job.sheet import KINDS

Side = Literal["A", "B"]
SIDES: tuple[Side, Side] = ("A", "B")
BALLS = ("deep groove", "angular contact pair")
PLAIN = "plain bush with thrust washer"


@dataclass(frozen=True, slots=True)
class Outline:
    """Diameters and screw holes of a shim ring, as far as they have been read [mm].

    `screws` is how many pass through the ring, on `circle`, each through a hole of `hole`.
    """

    inside: float | None = None
    outside: float | None = None
    screws: int | None = None
    circle: float | None = None
    hole: float | None = None


@dataclass(frozen=True, slots=True)
class BlockPacking:
    """Packing under a bolted worm block, as far as it has been read [mm].

    `bolts` pass through one piece, spaced `along` and `across` about its middle.
    """

    way: str | None = None
    thickness: float | None = None
    pieces: int | None = None
    length: float | None = None
    width: float | None = None
    bolts: int | None = None
    along: float | None = None
    across: float | None = None
    hole: float | None = None


@dataclass(frozen=True, slots=True)
class EndBearing:
    """The worm bearing at one end: what it is and its sizes, as far as they are known [mm].

    `group` is the radial clearance group that is marked on it, CN where none is.
    """

    kind: str | None
    row: Bearing | BearingRow | None
    bore: float | None
    outside: float | None
    width: float | None
    static: float | None
    housing_bore: Figure | None
    seat: Figure | None
    step: float | None
    group: str = "CN"

    @property
    def housing(self) -> float | None:
        """Bore of the housing as read, else the outside of the bearing that sits in it, mm."""
        return self.housing_bore.value if self.housing_bore else self.outside


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything the corrections need that is not in the diagnosis."""

    job: Job
    pair: WormPair
    diagnosis: Diagnosis
    adjusting: str | None
    adjuster_throw: Figure | None
    adjuster_arm: Figure | None
    ends: tuple[EndBearing, EndBearing]
    span: float | None
    worm_length: float | None
    table_bearing: str | None
    table_arrangement: str | None
    worm_arrangement: str | None
    table_shim: Figure | None
    worm_shim: Figure | None
    end_play: Figure | None
    end_play_force: float | None
    table_axial: Figure | None
    table_axial_force: float | None
    table_radial: Figure | None
    worm_float: tuple[Figure | None, Figure | None]
    tip_clearance: Figure | None
    rock_u: float
    outlines: dict[str, Outline]
    warm_states: tuple[Rises, ...]
    block: BlockPacking

    @property
    def bearing_kind(self) -> str | None:
        """The kind of both worm bearings, or None when unknown or unlike."""
        kinds = {end.kind for end in self.ends if end.kind}
        return kinds.pop() if len(kinds) == 1 else None

    @property
    def centre_distance(self) -> float:
        """Centre distance as read, or nominal from the pair, mm."""
        read = self.pair.centre_distance
        return read.value if read else self.pair.r1 + self.pair.r2

    @property
    def thrust(self) -> float:
        """Force along the worm at the torque the axis must resist, N."""
        return self.job.duty.torque_resist_nmm / self.pair.r2


def facts_of(job: Job, bench: Bench, diagnosis: Diagnosis) -> Facts:
    """Gather the facts from the live readings."""
    pair = diagnosis.pair
    rock = next((r for r in bench.of("rock") if r.number("pin_radius")), None)
    radius = rock.number("pin_radius") if rock else None
    noise = KINDS["rock"].noise or 0.0025
    span = bench.figure("bearing_span")
    length = bench.figure("worm_length")
    return Facts(
        job=job,
        pair=pair,
        diagnosis=diagnosis,
        adjusting=bench.word("adjusting"),
        adjuster_throw=bench.figure("adjuster_throw"),
        adjuster_arm=bench.figure("adjuster_arm"),
        ends=(_end(job, bench, "A"), _end(job, bench, "B")),
        span=span.value if span else None,
        worm_length=length.value if length else None,
        table_bearing=bench.word("table_bearing_kind"),
        table_arrangement=bench.word("table_shim_arrangement"),
        worm_arrangement=bench.word("worm_shim_arrangement"),
        table_shim=bench.figure("table_shim"),
        worm_shim=bench.figure("worm_shim"),
        end_play=bench.figure("worm_end_play"),
        end_play_force=_force(bench, "worm_end_play"),
        table_axial=bench.figure("table_axial_play"),
        table_axial_force=_force(bench, "table_axial_play"),
        table_radial=bench.figure("table_radial_play"),
        worm_float=(bench.figure("worm_float", "A"), bench.figure("worm_float", "B")),
        tip_clearance=bench.figure("tip_clearance") or _tip_from_sizes(pair),
        rock_u=noise * pair.r2 / (radius or pair.r2),
        outlines={what: _outline(bench, what) for what in ("table", "worm", "wheel")},
        warm_states=duty_states(bench),
        block=_block(bench),
    )


def _outline(bench: Bench, what: str) -> Outline:
    screws = bench.of(f"{what}_shim_screws")
    last = screws[-1] if screws else None
    inside, outside = (bench.figure(f"{what}_shim_{side}") for side in ("inside", "outside"))
    return Outline(
        inside=inside.value if inside else None,
        outside=outside.value if outside else None,
        screws=round(last.value) if last and last.value is not None else None,
        circle=last.number("circle") if last else None,
        hole=last.number("hole") if last else None,
    )


def _block(bench: Bench) -> BlockPacking:
    thickness, bolts = bench.of("block_shim"), bench.of("block_shim_bolts")
    last = bolts[-1] if bolts else None
    pieces = thickness[-1].number("pieces") if thickness else None
    sizes = {k: bench.figure(f"block_shim{k}") for k in ("", "_length", "_width")}
    return BlockPacking(
        way=bench.word("block_shim_way"),
        thickness=sizes[""].value if sizes[""] else None,
        pieces=round(pieces) if pieces is not None else None,
        length=sizes["_length"].value if sizes["_length"] else None,
        width=sizes["_width"].value if sizes["_width"] else None,
        bolts=round(last.value) if last and last.value is not None else None,
        along=last.number("along") if last else None,
        across=last.number("across") if last else None,
        hole=last.number("hole") if last else None,
    )


def _force(bench: Bench, kind: str) -> float | None:
    forces = [f for r in bench.of(kind) if (f := r.number("force"))]
    return forces[-1] if forces else None


def _tip_from_sizes(pair: WormPair) -> Figure | None:
    """Clearance of the worm crest from the wheel root out of caliper sizes, with its doubt."""
    a, tip, root = pair.centre_distance, pair.worm_od, pair.wheel_root
    if a is None or tip is None or root is None:
        return None
    u = (a.u**2 + (tip.u / 2) ** 2 + (root.u / 2) ** 2) ** 0.5
    return Figure(a.value - tip.value / 2 - root.value / 2, u, 1, float("inf"), ())


def _end(job: Job, bench: Bench, side: Side) -> EndBearing:
    marking = bench.word("bearing_marking", side)
    kind = bench.word("bearing_kind", side)
    sizes = {k: bench.figure(f"bearing_{k}", side) for k in ("bore", "outside", "width")}
    row = _row_of(job, marking, sizes)
    step = bench.figure("shaft_step", side)

    def size(key: str, of_row: float | None) -> float | None:
        read = sizes[key]
        return of_row if of_row is not None else (read.value if read else None)

    return EndBearing(
        kind=kind,
        row=row,
        bore=size("bore", bore_of(row) if row else None),
        outside=size("outside", outside_of(row) if row else None),
        width=size("width", width_of(row) if row else None),
        static=static_of(row) if row else None,
        housing_bore=bench.figure("housing_bore", side),
        seat=bench.figure("shaft_seat", side),
        step=step.value if step else None,
        group=_group(row, marking),
    )


def _group(row: Bearing | BearingRow | None, marking: str | None) -> str:
    if not isinstance(row, Bearing) or not marking:
        return "CN"
    try:
        return read_marking(marking).group
    except ValueError:  # taken by its sizes: the marking does not say
        return "CN"


def _row_of(
    job: Job, marking: str | None, sizes: dict[str, Figure | None]
) -> Bearing | BearingRow | None:
    if marking:
        own = [b for b in job.bearings if b.designation.lower() == marking.strip().lower()]
        if own:
            return own[0]
        try:
            return bearing(marking)
        except ValueError:
            pass
    bore, outside, width = sizes["bore"], sizes["outside"], sizes["width"]
    if bore and outside and width:
        found = bearings_of_size(bore=bore.value, outside=outside.value, width=width.value)
        return found[0] if found else None
    return None


def bore_of(row: Bearing | BearingRow) -> float:
    """Bore of a handbook or an own row, mm."""
    return row.bore if isinstance(row, Bearing) else row.bore_mm


def outside_of(row: Bearing | BearingRow) -> float:
    """Outside diameter of a handbook or an own row, mm."""
    return row.outside if isinstance(row, Bearing) else row.outside_mm


def width_of(row: Bearing | BearingRow) -> float:
    """Width of a handbook or an own row, mm."""
    return row.width if isinstance(row, Bearing) else row.width_mm


def static_of(row: Bearing | BearingRow) -> float | None:
    """Static rating, N: the least of the makers for a handbook row."""
    if isinstance(row, BearingRow):
        return row.static_n
    return least_rating(row.designation).static


def rating_of(row: Bearing | BearingRow) -> Rating | None:
    """The least rating of a handbook row that also gives f0; None for an own row."""
    return least_rating(row.designation) if isinstance(row, Bearing) else None
