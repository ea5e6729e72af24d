"""The base plate instead of loose washers, in one block with the riser; bolts and their margins."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.bench.tram import AllowedLean
from wormwright.core.base_plate import next_stock, parallelism, plate_thickness, slots_used
from wormwright.core.bolt import lift_margin, slip_margin
from wormwright.handbook.bolts import T_SLOT_SHARE, Bolt, bolt_for_slot, bolts
from wormwright.handbook.materials import material
from wormwright.job.findings import Figured, Finding
from wormwright.job.limits import Limits
from wormwright.job.mounting import Room
from wormwright.job.parts_mount import MountPlate, Place
from wormwright.job.result import Doubt, Estimate
from wormwright.job.rotary import Job
from wormwright.stages.mount.wording import length

STOCK_MM = (10.0, 12.0, 15.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 50.0, 60.0, 80.0, 100.0, 120.0)
STOCK_IN = tuple(
    25.4 * n for n in (0.375, 0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0)
)
JOINT_FRICTION = 0.15
"""Dry machined faces (common practice)."""
WANTED_MARGIN = 1.5
"""Times the side load before a joint may creep (common practice)."""
EDGE = 12.0
"""Metal round the outermost hole, mm."""
BEND_SHARE = 0.1
"""Share of the allowed lean that the plate may bend under the cut."""
TENON_DEPTH = 5.0
USUAL_FORCE, USUAL_WEIGHT = 150.0, 150.0
"""Side force of the cut and weight where they were not said, N (a small mill or router)."""
THICKNESS_BAND = 0.1
ENGAGED = 1.5
"""Thread engagement in aluminium, in diameters (common practice)."""


@dataclass(frozen=True, slots=True)
class Base:
    """The plate, what was looked at for it, and what is in doubt."""

    plate: MountPlate | None
    finding: Finding | None
    doubts: tuple[Doubt, ...]
    missing: tuple[str, ...]


def base_plate(job: Job, allowed: AllowedLean, room: Room | None) -> Base:
    """The plate under the unit from its feet, the slots of the table and the duty."""
    m, machine = job.mount, job.machine
    if m is None:
        return Base(None, None, (), ())
    wanted = {
        "mount": ("body_length", "body_width", "foot_along", "foot_across", "foot_hole"),
        "machine": ("slot_width", "slot_pitch"),
    }
    missing = tuple(
        f"`{key}` in [{section}]"
        for section, keys in wanted.items()
        for key in keys
        if getattr(m if section == "mount" else machine, key) is None
    )
    if missing:
        return Base(None, None, (), missing)
    laid = _laid_out(job, allowed, room)
    return Base(laid.plate, _finding(job, laid, allowed), _doubts(job, laid), ())


@dataclass(frozen=True, slots=True)
class _Laid:
    plate: MountPlate
    bolt: Bolt
    torque: float
    clamp: float
    slip: float
    lift: float
    least: float


def _laid_out(job: Job, allowed: AllowedLean, room: Room | None) -> _Laid:
    m, machine = job.mount, job.machine
    assert m is not None
    assert m.body_length is not None
    assert m.body_width is not None
    assert m.foot_along is not None
    assert m.foot_across is not None
    assert machine.slot_width is not None
    assert machine.slot_pitch is not None
    bolt = bolt_for_slot(machine.slot_width)
    along_slots = machine.slots_run == "along the axis"
    crossing = m.foot_across if along_slots else m.foot_along
    rows = machine.slot_pitch * slots_used(
        pitch=machine.slot_pitch, spacing=crossing + bolt.head + 2 * bolt.diameter
    )
    other = (m.foot_along if along_slots else m.foot_across) * 0.6
    span_x, span_y = (other, rows) if along_slots else (rows, other)
    long = max(m.body_length, span_x + 2 * (bolt.clear_hole / 2 + EDGE), m.foot_along + 2 * EDGE)
    wide = max(m.body_width, span_y + 2 * (bolt.clear_hole / 2 + EDGE), m.foot_across + 2 * EDGE)
    force = m.side_force or USUAL_FORCE
    least = plate_thickness(
        force=_foot_force(job, force),
        arm=(rows - crossing) / 2,
        width=long if along_slots else wide,
        lift=BEND_SHARE * allowed.lean * m.foot_along,
        modulus=material(m.plate_material).modulus,
    )
    screw = _foot_screw(m.foot_hole or 0.0)
    least = max(least, ENGAGED * screw.diameter + TENON_DEPTH)
    riser = max(room.least, 0.0) if room and room.least is not None and room.possible else 0.0
    thick = riser if riser >= least else next_stock(least, _stock(job))
    bolt_places = _square(long, wide, span_x, span_y)
    torque, clamp = T_SLOT_SHARE * bolt.torque, T_SLOT_SHARE * bolt.preload
    height = thick + (m.centre_height or 0.5 * m.body_width)
    reach = long / 2 + (m.chuck_length or 0.0) + m.jaw_out + (m.work_length or 0.0)
    slip = slip_margin(
        places=bolt_places,
        clamp=clamp,
        friction=JOINT_FRICTION,
        load=(0.0, force),
        at=(long / 2 + reach, wide / 2),
    )
    lift = lift_margin(clamp=clamp, bolts=4, moment=force * height, spacing=span_y)
    plate = MountPlate(
        name="riser and base plate in one" if riser >= least else "base plate",
        purpose="carries the unit on machined faces instead of washers and keeps it in line",
        length=round(long, 1),
        width=round(wide, 1),
        thickness=Limits(thick, THICKNESS_BAND, -THICKNESS_BAND),
        foot_holes=_square(long, wide, m.foot_along, m.foot_across),
        foot_thread=screw.thread,
        foot_drill=_tap_drill(screw),
        bolt_holes=bolt_places,
        bolt_hole=bolt.clear_hole,
        bolt_stroke=2 * bolt.diameter if along_slots else 0.0,
        bolt_head=bolt.head + 2.0 if thick > 2.2 * bolt.diameter else 0.0,
        head_depth=bolt.diameter if thick > 2.2 * bolt.diameter else 0.0,
        flat=parallelism(lean=allowed.lean, spacing=m.foot_along),
        parallel=parallelism(lean=allowed.lean, spacing=m.foot_along),
        bolts=f"4 x {bolt.thread} class 8.8 in tee-nuts, {torque / 1000:.0f} N·m",
        material=m.plate_material,
        key_slot=(machine.slot_width, TENON_DEPTH, _key_at(wide, rows, along_slots)),
    )
    return _Laid(plate, bolt, torque, clamp, slip, lift, least)


def _key_at(wide: float, rows: float, along_slots: bool) -> float:
    """The key groove lies over the slot of the rear row; across the axis in the middle."""
    return (wide - rows) / 2 if along_slots else wide / 2


def _square(long: float, wide: float, along: float, across: float) -> tuple[Place, ...]:
    """Four places about the middle of the plate, from its corner."""
    x, y = long / 2, wide / 2
    return tuple(
        (round(x + sx * along / 2, 2), round(y + sy * across / 2, 2))
        for sx, sy in ((-1, -1), (-1, 1), (1, -1), (1, 1))
    )


def _foot_force(job: Job, force: float) -> float:
    """What one foot presses down on the plate under the cut: tipping of the side force, weight."""
    m = job.mount
    assert m is not None
    height = m.centre_height or m.body_width or 100.0
    reach = (m.chuck_length or 0.0) + m.jaw_out + (m.work_length or 0.0)
    tipping = force * max(height / (m.foot_across or 1.0), reach / (m.foot_along or 1.0))
    return tipping + (m.weight or USUAL_WEIGHT) / 2


def _foot_screw(hole: float) -> Bolt:
    """The largest screw that goes through the holes of the feet."""
    fits = [b for b in bolts() if b.clear_hole <= hole + 0.3]
    return fits[-1] if fits else bolts()[0]


PITCHES = {"M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5, "M12": 1.75}
"""Coarse pitches of ISO 261 (from memory)."""


def _tap_drill(screw: Bolt) -> float:
    return round(screw.diameter - PITCHES[screw.thread], 2)


def _stock(job: Job) -> tuple[float, ...]:
    return STOCK_MM if job.units == "mm" else STOCK_IN


def _finding(job: Job, laid: _Laid, allowed: AllowedLean) -> Finding:
    plate, units = laid.plate, job.units
    figures = (
        _figure("least", "least thickness for the cut and the threads", laid.least, "beam", 0.05),
        _figure("thickness", "thickness", plate.thickness.size, "next stock or riser", 0.0),
        _figure("torque", "torque of the hold-down bolts", laid.torque, "70 % for a tee-slot", 0.1),
        _figure("clamp", "clamping force of each", laid.clamp, "bolt table", 0.25),
        _figure("slip", "side load before it creeps, times", laid.slip, "dry joint 0.15", 0.3),
        _figure("lift", "side load before it lifts, times", laid.lift, "statics", 0.25),
    )
    keyed = "along the slots" if job.machine.slots_run == "along the axis" else "in a cross slot"
    words = (
        f"Top and foot flat and parallel within {length(plate.parallel, units)} over the feet: a "
        f"third of the lean allowed ({allowed.why}).",
        f"{plate.bolts}; a key {keyed} takes the turning, the bolts only clamp.",
    )
    return Finding("base", "Base plate", figures, words)


_DIMENSIONS = {"torque": "torque", "clamp": "force", "slip": "ratio", "lift": "ratio"}


def _figure(key: str, label: str, value: float, method: str, share: float) -> Figured:
    half = 1.96 * share * value
    found = Estimate(
        value,
        share * value,
        max(value - half, 0.0),
        value + half,
        _DIMENSIONS.get(key, "length"),  # type: ignore[arg-type]
        method,
    )
    return Figured(key, label, found)


def _doubts(job: Job, laid: _Laid) -> tuple[Doubt, ...]:
    found = []
    if min(laid.slip, laid.lift) < WANTED_MARGIN:
        what = "creeps" if laid.slip <= laid.lift else "lifts"
        found.append(
            Doubt(
                "warn",
                "MT-6",
                f"The joint {what} at {min(laid.slip, laid.lift):.1f} times the side force of the "
                f"cut; {WANTED_MARGIN} is wanted.",
                "A unit that creeps on its plate loses its tram in the middle of a part.",
                "Bolts further apart, a key to a hard stop, a tail centre, or a lighter cut.",
            )
        )
    if job.mount is not None and job.mount.side_force is None:
        found.append(
            Doubt(
                "warn",
                "MT-7",
                f"The side force of the cut was not given: {USUAL_FORCE:.0f} N was taken.",
                "Plate, bolts and springing hang on it.",
                "Give `side_force` in [mount]: cutting power over surface speed, or what the "
                "cutter's maker states.",
            )
        )
    return tuple(found)


def tail_block(job: Job, plate: MountPlate | None, high: Estimate | None) -> MountPlate | None:
    """The block that brings the tail up to the axis on its plate; None where none is wanted.

    `high` is the tail less the head as read; without it the sizes of job.toml count.
    """
    m, machine = job.mount, job.machine
    if m is None or plate is None or not m.has_tail or not (m.tail_length and m.centre_height):
        return None
    assert m.tail_height is not None
    lower = m.centre_height - m.tail_height if high is None else -high.value
    height = plate.thickness.size + lower
    if height < 1.0 or machine.slot_pitch is None or machine.slot_width is None:
        return None
    bolt = bolt_for_slot(machine.slot_width)
    long, wide = m.tail_length, m.body_width or 80.0
    middle = [(long / 2, y) for y in (wide * 0.2, wide * 0.8)]
    return MountPlate(
        name="tail riser",
        purpose="brings the tail's centre up to the axis; finish it to the heights as read",
        length=long,
        width=wide,
        thickness=Limits(height, THICKNESS_BAND, 0.0),
        foot_holes=(),
        foot_thread="",
        foot_drill=0.0,
        bolt_holes=tuple((round(x, 2), round(y, 2)) for x, y in middle),
        bolt_hole=bolt.clear_hole,
        bolt_stroke=0.0,
        bolt_head=0.0,
        head_depth=0.0,
        flat=plate.flat,
        parallel=plate.parallel,
        bolts=f"2 x {bolt.thread}, as long as the tail asks",
        material=m.plate_material,
        key_slot=(machine.slot_width, TENON_DEPTH, wide / 2)
        if machine.slots_run == "along the axis" and height > 2 * TENON_DEPTH
        else None,
    )


def reach_of(job: Job) -> float:
    """Face of the unit to the end of the work, mm."""
    m = job.mount
    if m is None:
        return 0.0
    return math.fsum((m.chuck_length or 0.0, m.jaw_out, m.work_length or 0.0))
