"""Which smaller bearing takes the place of the old one, so that an eccentric wall fits between."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.eccentric import Walls, least_wall, walls_of_bushing
from wormwright.handbook.bearings import Bearing, bearings_with
from wormwright.job.result import Doubt
from wormwright.job.rotary import BearingRow, Units
from wormwright.job.sheet import KINDS
from wormwright.stages.correct.bearings import STATIC_SAFETY, borne_by
from wormwright.stages.correct.facts import (
    PLAIN,
    EndBearing,
    Facts,
    Side,
    bore_of,
    outside_of,
    width_of,
)
from wormwright.stages.correct.wording import length

STEP_DOUBT = 2 * (KINDS["shaft_step"].noise or 0.03)
"""What a caliper can be wrong by on a shaft step, mm."""

BUSH_WALL = 3.0
"""Wall of the bronze bush that is bonded into an eccentric bushing for a plain worm shaft, mm."""


@dataclass(frozen=True, slots=True)
class Swap:
    """What goes into the bushing at one end. `row` None is a bronze bush, bonded in and reamed."""

    side: Side
    housing: float
    row: Bearing | BearingRow | None
    bore: float
    seat: float
    width: float
    walls: Walls
    static_safety: float | None
    doubts: tuple[Doubt, ...]

    @property
    def name(self) -> str:
        """What to buy, or the bronze bush to make."""
        if self.row:
            return self.row.designation
        return f"bronze bush {self.bore:.0f} x {self.seat:.0f} x {self.width:.0f} mm"


class NoRoomError(ValueError):
    """No bearing and wall fit; the text says why."""


def swap_at(facts: Facts, side: Side, *, throw: float, bushings: int = 1) -> Swap:
    """Choose the bearing at one end for a throw, or raise `NoRoomError` with the reason.

    `bushings` is how many walls lie between bearing and housing (two when nested).
    """
    end = facts.ends[0 if side == "A" else 1]
    housing = end.housing
    if housing is None:
        raise NoRoomError(
            f"end {side}: neither the housing bore nor the bearing outside has been read"
        )
    if end.kind == PLAIN:
        units = facts.job.units
        return _plain(end, side, housing, throw=throw, bushings=bushings, units=units)
    return _rolling(facts, end, side, housing, throw=throw, bushings=bushings)


def _plain(
    end: EndBearing, side: Side, housing: float, *, throw: float, bushings: int, units: Units
) -> Swap:
    journal = end.seat.value if end.seat else end.bore
    if journal is None:
        raise NoRoomError(f"end {side}: the journal of the plain bush has not been read")
    bush = float(math.ceil(journal + 2 * BUSH_WALL - 0.1))
    walls = _walls(housing, bush, throw)
    limit = bushings * least_wall(outside=housing)
    if walls is None or walls.thin < limit:
        raise NoRoomError(_thin(side, f"a bronze bush of {bush:.0f} mm", walls, limit, units))
    width = end.width or 1.2 * journal
    return Swap(side, housing, None, journal, bush, width, walls, None, ())


def _rolling(
    facts: Facts, end: EndBearing, side: Side, housing: float, *, throw: float, bushings: int
) -> Swap:
    if end.bore is None:
        raise NoRoomError(f"end {side}: the bearing bore is not known (marking or bore)")
    bore, units = end.bore, facts.job.units
    own = [b for b in facts.job.bearings if abs(b.bore_mm - bore) < 0.01]
    below = min(end.outside or housing, housing)
    own = [b for b in own if b.outside_mm < below]
    book = bearings_with(bore=bore, outside_below=below) if end.kind == "deep groove" else ()
    rows: list[Bearing | BearingRow] = [*own, *book]
    rows.sort(key=lambda b: -outside_of(b))
    if not rows:
        raise NoRoomError(
            f"end {side}: no smaller bearing of bore {length(bore, units)} is known for kind "
            f"{end.kind or 'unknown'}; enter one of your own under [[bearing]] in job.toml"
        )
    limit = bushings * least_wall(outside=housing)
    why = ""
    for row in rows:
        walls = _walls(housing, outside_of(row), throw)
        if walls is None or walls.thin < limit:
            why = _thin(side, row.designation, walls, limit, units)
            continue
        borne = borne_by(facts, row)
        safety = borne.safety[0] if borne else None
        if safety is not None and safety < STATIC_SAFETY:
            why = (
                f"end {side}: {row.designation} bears the worm thrust of {facts.thrust:.0f} N with "
                f"a static safety of only {safety:.1f}"
            )
            continue
        doubts = (
            *_abutment(end, row, side, units),
            *_unknown_rating(row, safety, side),
            *_passing(facts, housing, side),
        )
        seat = outside_of(row)
        return Swap(side, housing, row, bore, seat, width_of(row), walls, safety, doubts)
    raise NoRoomError(why)


def _walls(housing: float, inner: float, throw: float) -> Walls | None:
    if inner >= housing:
        return None
    return walls_of_bushing(outside=housing, bore=inner, throw=throw)


def _thin(side: Side, name: str, walls: Walls | None, limit: float, units: Units) -> str:
    if walls is None:
        return f"end {side}: {name} leaves no wall in the housing bore"
    left = length(max(walls.thin, 0.0), units, to=0.01)
    return (
        f"end {side}: with {name} the thin wall is {left}, at least "
        f"{length(limit, units, to=0.01)} is needed"
    )


def _unknown_rating(
    row: Bearing | BearingRow, safety: float | None, side: Side
) -> tuple[Doubt, ...]:
    if safety is not None:
        return ()
    return (
        Doubt(
            "ask",
            "static rating",
            f"End {side}: the static rating of {row.designation} is not known.",
            "The whole cutting torque hangs on it as thrust.",
            "Add static_n to its row in job.toml.",
        ),
    )


def _passing(facts: Facts, housing: float, side: Side) -> tuple[Doubt, ...]:
    """Ask how the worm goes in when it does not pass the housing bore."""
    tip, units = facts.pair.worm_od, facts.job.units
    if tip is None or tip.value < housing:
        return ()
    return (
        Doubt(
            "ask",
            "E-39",
            f"End {side}: the worm of {length(tip.value, units, to=0.01)} does not pass the "
            f"housing bore of {length(housing, units, to=0.01)}.",
            "Off centre by the throw it has less room on one side of the housing as well.",
            "Look how the worm goes in, and that it clears the housing on the wheel's far side.",
        ),
    )


def _abutment(
    end: EndBearing, row: Bearing | BearingRow, side: Side, units: Units
) -> tuple[Doubt, ...]:
    """Warn when the shaft step would touch more than the inner ring, or none of it."""
    bore, outside = bore_of(row), outside_of(row)
    land = bore + 0.33 * (outside - bore)
    least = bore + 2 * (row.fillet_min if isinstance(row, Bearing) else 0.3)
    if end.step is None or least - STEP_DOUBT <= end.step <= land + STEP_DOUBT:
        return ()
    high = end.step > land
    return (
        Doubt(
            "ask",
            "abutment",
            f"End {side}: the shaft step of {length(end.step, units, to=0.01)} does not suit "
            f"{row.designation}, which wants {length(least, units, to=0.01)} to "
            f"{length(land, units, to=0.01)}.",
            "A step too high rubs cage or shield, one too low does not carry the thrust.",
            "Turn the step down or put a ring between." if high else "Put a ring on the step.",
        ),
    )
