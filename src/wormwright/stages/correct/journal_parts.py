"""Plain bushes for the worm journals as parts to make: press fit, closing, oil groove."""

from __future__ import annotations

from wormwright.core.press_fit import Sleeve, bore_closing
from wormwright.handbook.fits import deviations
from wormwright.handbook.materials import material
from wormwright.job.parts import JournalBush, Limits
from wormwright.stages.correct.bushing import RUNNING_LEAST, RUNNING_MOST
from wormwright.stages.correct.facts import SIDES, EndBearing, Facts, Side

BUSH_FIT = "p6"
BUSH_METAL = "tin bronze"
POISSON = 0.33
CASTING_WALL = 2.0
"""Outside of the casting round a bush, as a multiple of the bore (common practice)."""
FINISHING_STOCK = 0.2
"""Left in the bore, on diameter, to finish both bushes in line, mm (common practice)."""
LEAST_WALL = 1.5
"""A thinner bush does not stay round when it is pressed in, mm (common practice)."""
LAND_SHARE, OIL_HOLE, GROOVE_DEPTH = 5.0, 3.0, 1.0
"""Of the length: land of the groove at each end. Oil hole and depth of the groove, mm, at most."""


def journal_parts(facts: Facts) -> tuple[JournalBush, ...]:
    """The bushes whose journal, housing bore and length have been read."""
    made = (_bush(facts, side, end) for side, end in zip(SIDES, facts.ends, strict=True))
    return tuple(bush for bush in made if bush is not None)


def closing_when_pressed(facts: Facts, end: EndBearing) -> float | None:
    """How far pressing closes the bore, mm; None for unread sizes or a housing of unknown metal."""
    if end.seat is None or end.housing_bore is None:
        return None
    try:
        casting = material(facts.job.rotary.housing_material)
    except ValueError:
        return None
    fit, seat = deviations(BUSH_FIT, end.housing_bore.value), end.housing_bore.value
    bush = Sleeve(end.seat.value, seat, material(BUSH_METAL).modulus, POISSON)
    housing = Sleeve(seat, CASTING_WALL * seat, casting.modulus, POISSON)
    return bore_closing(inner=bush, outer=housing, interference=(fit.upper + fit.lower) / 2)


def _bush(facts: Facts, side: Side, end: EndBearing) -> JournalBush | None:
    if end.seat is None or end.housing_bore is None or end.width is None:
        return None
    journal, seat, long = end.seat.value, end.housing_bore.value, end.width
    wall = (seat - journal) / 2
    if wall < LEAST_WALL:
        return None
    fit = deviations(BUSH_FIT, seat)
    closes = closing_when_pressed(facts, end)
    closes = fit.upper if closes is None else closes  # it cannot close by more than its press
    read = max(2 * end.seat.u, 0.001)
    hole = round(min(OIL_HOLE, long / LAND_SHARE), 1)
    return JournalBush(
        side=side,
        outside=Limits(round(seat, 3), fit.upper, fit.lower, BUSH_FIT),
        bore=Limits(round(journal, 3), RUNNING_MOST, RUNNING_LEAST, "over the journal"),
        bore_turned=round(journal + RUNNING_LEAST + closes - FINISHING_STOCK, 2),
        closes=closes,
        shaft=Limits(round(journal, 3), read, -read, "as measured"),
        length=long,
        flange_outside=0.0,
        flange_thickness=0.0,
        oil_hole=hole,
        oil_hole_at=round(long / 2, 2),
        groove_width=hole,
        groove_depth=round(min(GROOVE_DEPTH, 0.3 * wall), 1),
        groove_land=round(min(OIL_HOLE, long / LAND_SHARE), 1),
        material=BUSH_METAL,
        chamfer=round(min(1.0, long / 10), 1),
    )
