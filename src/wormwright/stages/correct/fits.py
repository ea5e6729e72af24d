"""Fits as measured: rings on their seats, the bushing in its bore from cold to warm."""

from __future__ import annotations

from wormwright.bench import Figure
from wormwright.core.fit import Clearance, Deviations, clearance_of_fit
from wormwright.core.friction import Interval
from wormwright.core.press_fit import Sleeve, closing_share_of_uneven_wall
from wormwright.core.thermal import Rises, seat_loosening
from wormwright.handbook.bearings import ring_limits
from wormwright.handbook.fits import deviations
from wormwright.handbook.materials import material
from wormwright.job.result import Doubt, Estimate
from wormwright.stages.correct.facts import SIDES, EndBearing, Facts
from wormwright.stages.correct.swap import Swap
from wormwright.stages.correct.wording import length

SHAFT_GRADES = ("f6", "g5", "g6", "h5", "h6", "j5", "j6", "js5", "k5", "k6", "m5", "n5", "p6")
BORE_GRADES = ("F7", "G6", "G7", "H6", "H7", "J6", "J7", "JS6", "K6", "K7", "M6", "N6", "P6")

BUSHING_MATERIAL = "mild steel"
POISSON = 0.3
"""Poisson's ratio of bushing and housing; between 0.25 and 0.33 the closing hardly changes."""

BOSS = 2.0
"""Outside of the housing round a bore, in bores, where it has not been read (common practice)."""

PRESSED = 0.010
"""Interference for which the closing of a pressed bushing is told, mm on diameter."""


def nearest_grade(measured: float, nominal: float, grades: tuple[str, ...]) -> str:
    """The ISO 286 class whose middle lies nearest to a measured size."""

    def off(grade: str) -> float:
        d = deviations(grade, nominal)
        return abs(measured - nominal - (d.upper + d.lower) / 2)

    return min(grades, key=off)


def ring_fits(facts: Facts) -> tuple[tuple[str, Estimate], ...]:
    """Clearance of both rings on their measured seats, the tightest end of each."""
    inner = [(side, f) for side, end in _ends(facts) if (f := _inner(end)) is not None]
    outer = [(side, f) for side, end in _ends(facts) if (f := _outer(end)) is not None]
    lines = []
    for ring, found in (("inner ring on its seat", inner), ("outer ring in its bore", outer)):
        if found:
            side, (grade, clear) = min(found, key=lambda one: one[1][1].least)
            lines.append((f"clearance of the {ring}, end {side}, about {grade}", _band(clear)))
    return tuple(lines)


def _ends(facts: Facts) -> tuple[tuple[str, EndBearing], ...]:
    return tuple(zip(SIDES, facts.ends, strict=True))


def _inner(end: EndBearing) -> tuple[str, Clearance] | None:
    """Grade of the measured seat and the clearance of the inner ring on it; below zero is tight."""
    if end.seat is None or end.bore is None:
        return None
    ring = Deviations(*ring_limits("bore", end.bore))
    grade = nearest_grade(end.seat.value, end.bore, SHAFT_GRADES)
    return grade, clearance_of_fit(ring, _read(end.seat, end.bore))


def _outer(end: EndBearing) -> tuple[str, Clearance] | None:
    """The same of the outer ring in the measured housing bore."""
    if end.housing_bore is None or end.outside is None:
        return None
    ring = Deviations(*ring_limits("outside", end.outside))
    grade = nearest_grade(end.housing_bore.value, end.outside, BORE_GRADES)
    return grade, clearance_of_fit(_read(end.housing_bore, end.outside), ring)


def _read(figure: Figure, nominal: float) -> Deviations:
    """Deviations of a measured size with its doubt (k = 2)."""
    off, wide = figure.value - nominal, 2 * figure.u
    return Deviations(upper=off + wide, lower=off - wide)


def _band(clear: Clearance) -> Estimate:
    middle, width = (clear.least + clear.most) / 2, clear.most - clear.least
    return Estimate(middle, width / 12**0.5, clear.least, clear.most, "length", "ISO 286, ISO 492")


def fit_doubts(facts: Facts) -> tuple[Doubt, ...]:
    """Rings that creep on the shaft, or that stick in the housing so that no shim can act."""
    units, doubts = facts.job.units, []
    for side, end in _ends(facts):
        inner, outer = _inner(end), _outer(end)
        if inner is not None and inner[1].least > 0:
            doubts.append(
                Doubt(
                    "warn",
                    "ring creeps",
                    f"End {side}: the inner ring is at least {length(inner[1].least, units)} loose "
                    f"on its seat (about {inner[0]}).",
                    "It creeps round on the shaft, wears it and is end float and radial float.",
                    "Build the seat up, bush it, or bond the ring; then read the float again.",
                )
            )
        if outer is not None and outer[1].most < 0 and _slides_outside(facts):
            doubts.append(
                Doubt(
                    "ask",
                    "ring sticks",
                    f"End {side}: the outer ring is at least {length(-outer[1].most, units)} tight "
                    f"in its bore (about {outer[0]}).",
                    "A cover cannot push it along, so the shim does not act.",
                    "Ease the bore until the ring slides by hand.",
                )
            )
    return tuple(doubts)


def _slides_outside(facts: Facts) -> bool:
    return facts.worm_arrangement in ("cover on outer ring", "ring behind outer ring")


def closing_share(facts: Facts, swap: Swap) -> Interval | None:
    """How much the bore of a pressed bushing closes per mm of interference; None: no material."""
    try:
        housing = material(facts.job.rotary.housing_material)
    except ValueError:  # the warm mesh asks for the material
        return None
    steel = material(BUSHING_MATERIAL).modulus
    return closing_share_of_uneven_wall(
        least_wall=swap.walls.thin,
        most_wall=swap.walls.thick,
        inner=Sleeve(swap.seat, swap.housing, steel, POISSON),
        outer=Sleeve(swap.housing, BOSS * swap.housing, housing.modulus, POISSON),
    )


def loosening(facts: Facts, swap: Swap) -> Interval:
    """Change of the bushing's clearance in its bore, coldest to warmest, mm on diameter."""
    try:
        housing = material(facts.job.rotary.housing_material).expansion
    except ValueError:
        return Interval(0.0, 0.0)
    bushing = material(BUSHING_MATERIAL).expansion

    def change(state: Rises) -> float:
        return float(
            seat_loosening(
                diameter=swap.housing,
                housing_expansion=housing,
                ring_expansion=bushing,
                rise=state.housing,
            )
        )

    changes = [0.0, *(change(state) for state in facts.warm_states)]
    return Interval(min(changes), max(changes))


def cold_closing(facts: Facts, swap: Swap, *, least: float) -> float:
    """How much the bearing seat of a bushing closes in the coldest shop, mm on diameter.

    `least` is the least clearance of the bushing as fitted.
    """
    share = closing_share(facts, swap)
    tight = max(0.0, -(least + loosening(facts, swap).low))
    return share.high * tight if share else 0.0


def bushing_fits(
    facts: Facts, swaps: tuple[Swap, ...], *, least: float, most: float
) -> tuple[tuple[str, Estimate], ...]:
    """Clearance of the bushing over the duty's temperatures, and what pressing would close."""
    swap = min(swaps, key=lambda s: s.walls.thin)
    change, share = loosening(facts, swap), closing_share(facts, swap)
    low, high = least + change.low, most + change.high
    middle = (least + most) / 2
    clear = Estimate(middle, (high - low) / 12**0.5, low, high, "length", "ISO 286, expansion")
    lines = [("clearance of the bushing in its bore, coldest to warmest", clear)]
    if share is not None:
        ends = (share.low * PRESSED, share.high * PRESSED)
        closes = Estimate(
            sum(ends) / 2, (ends[1] - ends[0]) / 12**0.5, *ends, "length", "thick cylinders"
        )
        tight = length(PRESSED, facts.job.units)
        lines.append((f"bearing seat would close, if pressed {tight} tight", closes))
    return tuple(lines)
