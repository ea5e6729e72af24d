"""The eccentric bushing pair as parts to make, and how it is made and set."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from wormwright.core.eccentric import JawPacking, slot_sweep, three_jaw_packing, walls_of_bushing
from wormwright.core.eccentric_turning import four_jaw_tir
from wormwright.core.fit import shaft_for_measured_bore
from wormwright.handbook.bearings import Bearing
from wormwright.handbook.fits import deviations
from wormwright.job.parts import EccentricBushing, Limits
from wormwright.job.rotary import Units
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.fits import cold_closing
from wormwright.stages.correct.matching import matching_step
from wormwright.stages.correct.swap import Swap
from wormwright.stages.correct.wording import length, turn, with_tolerance

FIT_CLEARANCE = 0.008
"""Most clearance of a bushing sized to its measured bore, mm on diameter."""

FIT_LEAST = 0.002
RUNNING_LEAST, RUNNING_MOST = 0.012, 0.030
"""Running clearance of a plain bush on its journal, mm (common practice)."""

WORTH_TURNING = 0.002
"""A change of the bearing seat below this is lost in its tolerance, mm."""

THROW_TOLERANCE = 0.005
PLACED = 0.01
"""Last digit of where the wheel stands along its axis and of packing that an indicator corrects."""

INNER_BUSHING = "the inner bushing"
SCREW = 4.0
SLOT_WIDTH = 4.5
FLANGE_THICKNESS = 5.0
SHOULDER = 2.0
EXTRA = math.radians(8)
BRIDGE = 5.0
"""Metal left between two slots of a flange, mm."""


@dataclass(frozen=True, slots=True)
class Turned:
    """Throw of the pair, the angle to put it in at and the rotations it may need, rad."""

    throw: float
    start: float
    low: float
    high: float


def bushing_part(facts: Facts, swap: Swap, turned: Turned) -> EccentricBushing:
    """One bushing with all its sizes."""
    housing = swap.housing
    circle = round(housing + 12.0, 1)
    old_width = facts.ends[0 if swap.side == "A" else 1].width or 0.0
    body = max(old_width, swap.width + SHOULDER)
    slots = slots_for(turned, circle)
    return EccentricBushing(
        side=swap.side,
        outside=_outside(facts, swap),
        bore=_bore(facts, swap),
        throw=turned.throw,
        throw_tolerance=THROW_TOLERANCE,
        length=round(body, 2),
        flange_outside=round(circle + SLOT_WIDTH + 8.0, 1),
        flange_thickness=FLANGE_THICKNESS,
        bearing_depth=round(FLANGE_THICKNESS + swap.width, 2),
        shoulder_bore=_shoulder(swap),
        wall_thin=round(swap.walls.thin, 3),
        wall_thick=round(swap.walls.thick, 3),
        mark_angle=0.0,
        start_angle=turned.start,
        work_range=slots.work_range,
        slot_circle=circle,
        slot_width=SLOT_WIDTH,
        slot_sweep=slots.sweep,
        slot_count=slots.count,
        material="steel",
        bearing=swap.name,
    )


@dataclass(frozen=True, slots=True)
class Slots:
    """Slots of a flange: how many, their sweep and the rotations they let it make, rad."""

    count: int
    sweep: float
    work_range: tuple[float, float]


def slots_for(turned: Turned, circle: float) -> Slots:
    """Three slots if they leave metal for the rotations wanted, else two; else what two allow."""
    wanted = (turned.low, turned.high)
    ends = SCREW / circle
    for count in (3, 2):
        most = 2 * math.pi / count - (SLOT_WIDTH + BRIDGE) / (circle / 2)
        if wanted[1] - wanted[0] + ends <= most:
            break
    else:
        half = (most - ends) / 2
        low = min(max(turned.low, turned.start - half), turned.high - 2 * half)
        wanted = (low, low + 2 * half)
    sweep = slot_sweep(work_range=wanted, screw=SCREW, slot_circle=circle, slots=count)
    return Slots(count, sweep, wanted)


def nested_parts(
    facts: Facts, swap: Swap, inner: Turned, outer: Turned
) -> tuple[EccentricBushing, EccentricBushing]:
    """Inner and outer bushing of one end; the wall is shared evenly between them."""
    middle = round((swap.housing + swap.seat) / 2, 1)
    carrier = bushing_part(facts, swap, outer)
    walls = walls_of_bushing(outside=middle, bore=swap.seat, throw=inner.throw)
    h5, h6 = deviations("h5", middle), deviations("H6", middle)
    within = bushing_part(facts, replace(swap, housing=middle, walls=walls), inner)
    within = replace(within, outside=Limits(middle, h5.upper, h5.lower, "h5, lapped to the outer"))
    walls = walls_of_bushing(outside=swap.housing, bore=middle, throw=outer.throw)
    body = within.length
    carrier = replace(
        carrier,
        bore=Limits(middle, h6.upper, h6.lower + 0.0, "H6"),
        slot_circle=within.flange_outside + 8.0,
        flange_outside=within.flange_outside + 20.5,
        length=round(body + SHOULDER, 2),
        bearing_depth=round(body, 2),
        shoulder_bore=round(middle - 3.0, 1),
        wall_thin=round(walls.thin, 3),
        wall_thick=round(walls.thick, 3),
        bearing=INNER_BUSHING,
    )
    return within, carrier


def _outside(facts: Facts, swap: Swap) -> Limits:
    """Outside sized to the measured bore, at most 8 µm clear; by trial if in doubt."""
    read = facts.ends[0 if swap.side == "A" else 1].housing_bore
    if read is None:
        h5 = deviations("h5", swap.housing)
        return Limits(swap.housing, h5.upper, h5.lower, "h5, split clamp: bore not measured")
    size = round(read.value, 3)
    try:
        d = shaft_for_measured_bore(bore=size, bore_u=read.u, least=FIT_LEAST, most=FIT_CLEARANCE)
    except ValueError:
        return Limits(size, -FIT_LEAST, -FIT_CLEARANCE, "to the measured bore, fitted by trial")
    upper, lower = round(d.upper, 4), round(d.lower, 4)
    return Limits(size, upper, lower, "to the measured bore, 2 to 8 µm clearance")


def _bore(facts: Facts, swap: Swap) -> Limits:
    if swap.row is None:
        h7 = deviations("H7", swap.seat)
        return Limits(swap.seat, h7.upper, h7.lower + 0.0, "H7: bronze bush bonded in")
    js6 = deviations("JS6", swap.seat)
    closes = math.ceil(cold_closing(facts, swap, least=FIT_LEAST) * 1000) / 1000
    if closes >= WORTH_TURNING:
        upper, lower = js6.upper + closes, js6.lower + closes
        words = f"larger by {length(closes, facts.job.units)}, which the cold housing takes off"
        return Limits(swap.seat, upper, lower, words)
    return Limits(swap.seat, js6.upper, js6.lower, "JS6: the outer ring must slide for preload")


def _shoulder(swap: Swap) -> float:
    """Bore behind the seat: carries the outer ring or the bush, clears what turns."""
    if swap.row is None:
        return round(swap.bore + 1.0, 1)  # the journal passes through
    fillet = swap.row.fillet_min if isinstance(swap.row, Bearing) else 0.3
    clear = swap.bore + 0.5 * (swap.seat - swap.bore)
    return round(max(swap.seat - 7.0 * fillet, clear), 1)


def making_steps(facts: Facts, swaps: tuple[Swap, Swap], turned: Turned) -> tuple[str, ...]:
    """How the pair is turned, in order."""
    units, e = facts.job.units, turned.throw
    radius = min(s.housing for s in swaps) / 2 + 1.5
    packing = three_jaw_packing(offset=e, work_radius=radius)
    seat = swaps[0]
    lines = [
        "Turn both outsides, flanges and faces first, each outside to ITS measured bore: at most "
        f"{length(FIT_CLEARANCE, units)} clearance. A looser one moves the depth when it is "
        "clamped: split the clamp then.",
        f"Four-jaw: set over by {length(e, units)}, that is TIR "
        f"{with_tolerance(four_jaw_tir(e), 2 * THROW_TOLERANCE, units)} at TWO places "
        "along the outside, high point at the same mark; bore both bushings at this "
        "one setting if you can.",
        f"Three-jaw for roughing only: packing {_packing(packing, units)} on stock of about "
        f"Ø{length(2 * radius, units, to=0.1)}. Indicate, then next packing = this one + 1.5 x "
        f"({length(e, units)} less half the TIR seen). Published packing sums differ by a fifth; "
        "the indicator decides, and the four-jaw does the fit.",
        "Mark the rim of each flange where the wall is thinnest: the bore lies that way. One pop "
        "mark on A, two on B.",
    ]
    if seat.row is not None:
        lines.append(
            "Bearing seats: a push by the thumb, no press fit in a thin uneven wall. Corner "
            "radius at the shoulder below the bearing's own fillet."
        )
    else:
        lines.append(
            "Bronze bushes: bond them in with the bore undersize, then ream or bore both to "
            f"{length(RUNNING_LEAST, units)} to {length(RUNNING_MOST, units)} over the journal, in "
            "one line, with the pair in the housing. Keep the thrust washers."
        )
    lines.append(
        "Thrust path: outer ring to shoulder to flange to housing face; the cover takes the other "
        "way. A radial screw is no thrust stop."
    )
    lines.append(
        "Keep the screw holes off the thin side. Check that the flange clears the casting."
    )
    return tuple(lines)


def _packing(packing: JawPacking, units: Units) -> str:
    """Packing for both ways the jaws may touch, or one figure where they cannot be told apart."""
    narrow, wide = (length(p, units, to=PLACED) for p in (packing.line_jaws, packing.flat_jaws))
    if narrow == wide:
        return f"{narrow}, narrow jaws or wide"
    return f"{narrow} (narrow jaws) to {wide} (wide flat jaws)"


def way_of(turned: Turned) -> str:
    """The end of the table axis toward which the throw stands."""
    return "table top" if turned.start >= 0 else "table base"


def setting_steps(
    facts: Facts, turned: Turned, units: Units, *, wheel_shift: float, skew: float
) -> tuple[tuple[str, str], ...]:
    """How the pair is put in and set, each step with its operation; the traveler adds gates."""
    spot = facts.diagnosis.tight_spot.angle
    where = f"table at {turn(spot.value)}" if spot else "find the tight spot first, by rocking"
    way = way_of(turned)
    centre = (
        f"Shift the wheel {length(wheel_shift, units, to=PLACED)} toward the {way} with "
        "shims, then centre it "
        "by blue at that bushing angle, before the final depth."
        if wheel_shift > 0
        else "Look at the wheel with blue at that bushing angle: central, both flanks alike."
    )
    return (
        (
            "bushings_in",
            f"Put both in with the mark {turn(abs(turned.start))} from the wheel toward the {way}: "
            "both the SAME way in space, so opposite as seen from their own faces.",
        ),
        (
            "bushings_in",
            "Turn them by the setting spanners, both ends together; the last of it by the setting "
            "keys, which stay in until the locked reading is good.",
        ),
        ("bushings_in", matching_step(facts, throw=turned.throw, angle=turned.start, skew=skew)),
        ("axial_centring", centre),
        (
            "final_depth",
            f"Final depth at the tight spot ({where}), worm turned once to its own tightest angle.",
        ),
        (
            "final_depth",
            "Push the bushing along the closing line while the clamp is tightened; only the LOCKED "
            "reading counts.",
        ),
        (
            "coupling",
            "Cover, seal, dial and motor mount now stand off by the throw vector: give them "
            f"clearance of {length(turned.throw, units)}; set the coupling to the NEW worm line.",
        ),
    )
