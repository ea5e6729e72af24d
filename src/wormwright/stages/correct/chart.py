"""The setting chart and the picture of the plane (sideways, closing)."""

from __future__ import annotations

import math

import numpy as np

from wormwright.core.backlash import MeshModel
from wormwright.core.eccentric import closing_and_sideways, indicator_change
from wormwright.job.corrections import ClosingPicture, SettingRow
from wormwright.job.result import Estimate
from wormwright.stages.correct.bushing import FIT_CLEARANCE
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.meshes import kinds_of
from wormwright.stages.correct.relief import crest_taken
from wormwright.stages.correct.strategy import Strategy, Wanted
from wormwright.stages.correct.unit import (
    Array,
    UnitRows,
    half_opened,
    opening_that_gives,
)

STEP = math.radians(5)
WHEEL_PLACE = 0.15
"""How well a wheel is usually placed along its axis, half-width, mm (common practice)."""

GRID = 81
TRUE_DEPTH = 0.010
"""Backlash that must still be there at the centre for a shut reading to be called false, mm."""


class TightSpotBacklash:
    """Backlash at the tight spot anywhere in the plane, one wheel kind at a time, mm at r2.

    Half of the play is taken as opening of the centres; the bushing prediction draws that share.
    """

    def __init__(self, facts: Facts, unit: UnitRows) -> None:
        self.unit = unit
        self.found = float(np.mean(unit.mesh - unit.swing))
        self.meshes: dict[str, tuple[MeshModel, float, float]] = {}
        for kind, _, _ in kinds_of(facts.pair):
            mesh, opened = unit.meshes.of(kind), half_opened(unit, kind)
            self.meshes[kind] = (mesh, opened, float(mesh.backlash_change(da=opened)))

    def at(self, kind: str, closing: Array, off_centre: Array) -> Array:
        """Backlash after that closing, that far off the throat centre; below zero is shut."""
        mesh, opened, before = self.meshes[kind]
        after = np.asarray(mesh.backlash_change(da=opened - closing, dz=off_centre))
        result: Array = self.found + after - before
        return result

    def room(self, kind: str, closing: float) -> float:
        """Closing that is missing until the mesh shuts with the worm centred, mm."""
        mesh, opened, before = self.meshes[kind]
        wanted = np.array([before - self.found])
        shut = opened - float(opening_that_gives(mesh, wanted, np.zeros(1))[0])
        return shut - closing


def setting_chart(
    facts: Facts,
    backlash: TightSpotBacklash,
    strategy: Strategy,
    wanted: Wanted,
    *,
    relief: float,
) -> tuple[SettingRow, ...]:
    """Rows on both sides of the circle, every five degrees and at the planned angle.

    `relief` is what turning the worm down adds to the crest clearance, mm.
    """
    turned = strategy.turned
    widest = max(abs(turned.low), abs(turned.high), abs(turned.start)) + STEP
    count = min(math.ceil(widest / STEP), 18)
    angles = sorted({*(STEP * k for k in range(-count, count + 1)), turned.start, -turned.start})
    tip = facts.tip_clearance
    closing, sideways = (
        np.asarray(x) for x in closing_and_sideways(throw=turned.throw, angle=np.array(angles))
    )
    taken = crest_taken(backlash.unit, closing=closing, aside=sideways - strategy.throat)
    rooms = [None if tip is None else tip.value + relief - float(t) for t in taken]
    return tuple(
        _row(backlash, strategy, wanted, angle, room=room)
        for angle, room in zip(angles, rooms, strict=True)
    )


def _row(
    backlash: TightSpotBacklash,
    strategy: Strategy,
    wanted: Wanted,
    angle: float,
    *,
    room: float | None,
) -> SettingRow:
    turned = strategy.turned
    shift = strategy.throat
    closing, sideways = (float(x) for x in closing_and_sideways(throw=turned.throw, angle=angle))
    here, off = np.array([closing]), np.array([sideways - shift])
    shown: dict[str, float] = {k: float(backlash.at(k, here, off)[0]) for k in backlash.meshes}
    centred = float(backlash.at(wanted.judged, here, np.zeros(1))[0])
    reading = float(indicator_change(throw=turned.throw, start=turned.start, end=angle))
    return SettingRow(
        angle=angle,
        closing=closing,
        sideways=sideways,
        backlash_hob_equal=shown["hob-equal"],
        backlash_oversize=shown["oversize-hob"],
        backlash_helical=shown["helical"],
        tip_clearance=room,
        indicator_a=reading,
        indicator_b=reading,
        false_tight=shown[wanted.judged] <= 0.0 < centred - TRUE_DEPTH,
    )


def closing_picture(
    facts: Facts,
    backlash: TightSpotBacklash,
    strategy: Strategy,
    wanted: Wanted,
    *,
    least_room: float,
) -> ClosingPicture:
    """Circle, contours of backlash by wheel kind, tip limit, wanted box and fit clearance."""
    throw = strategy.turned.throw
    reach = 1.75 * max(throw, wanted.closing.high, 0.05)
    axis = np.linspace(-reach, reach, GRID)
    sideways, closing = np.meshgrid(axis, axis)
    shift = strategy.throat
    contours = tuple(
        (kind, backlash.at(kind, closing, sideways - shift)) for kind in backlash.meshes
    )
    u = WHEEL_PLACE / math.sqrt(3)
    tip = facts.tip_clearance
    return ClosingPicture(
        throw=throw,
        closing=wanted.closing,
        sideways_to_throat=Estimate(
            shift, u, shift - WHEEL_PLACE, shift + WHEEL_PLACE, "length", "as usually placed"
        ),
        sideways_tolerance=tuple((k, s) for k, s in wanted.tolerance if math.isfinite(s)),
        tip_limit_closing=tip.value - least_room if tip else None,
        fit_clearance=FIT_CLEARANCE,
        grid_sideways=sideways,
        grid_closing=closing,
        contours=contours,
        chosen_angle=strategy.turned.start,
    )
