"""Backlash round the turn, as found and as set: where it is tight, and what the runouts leave."""

from __future__ import annotations

import math

import numpy as np

from wormwright.core.backlash import ClosedFormMesh, MeshModel, backlash_round_the_turn
from wormwright.core.impossible_pair import ImpossiblePairError
from wormwright.core.round_the_wheel import (
    RoundTheWheel,
    Stand,
    TurnErrors,
    closing_to_least,
    round_the_wheel,
)
from wormwright.job.blocks import Block, Cell, Heading, Paragraph, PolarMap, Round, Table
from wormwright.job.corrections import WormPlace
from wormwright.job.pair import WheelKind, WormPair
from wormwright.job.rotary import Units
from wormwright.stages.correct.meshes import IN_WORDS, exact_mesh, kinds_of, sizes_of
from wormwright.stages.correct.unit import Array
from wormwright.stages.correct.wording import MICRON, length

WHERE = math.radians(5)
"""Half of a step of the map: nearer the tight spot is not told [rad]."""


def turn_blocks(stands: WormPlace, units: Units) -> list[Block]:
    """The map as found and as set; nothing where the runouts or the depth were not worked out."""
    if stands.tight is None or stands.to_set is None:
        return []
    kind = max(stands.pair.kinds, key=lambda row: row[1])[0]
    quick, exact = _meshes(stands.pair, kind)
    stand = Stand(da=stands.found)
    fits = stands.backlash - float(quick.backlash_change(da=stands.found))
    hand = stands.pair.hand == "right"
    found = round_the_wheel(
        quick,
        quick,
        stand=stand,
        errors=TurnErrors(wheel=stands.wheel, worm=stands.worm, right_hand=hand),
        radius=stands.pair.r2,
        backlash=fits,
    )
    errors = TurnErrors(wheel=stands.wheel_left, worm=stands.worm, right_hand=hand)
    try:
        closing, _ = closing_to_least(
            quick,
            quick,
            stand=stand,
            errors=errors,
            radius=stands.pair.r2,
            least=stands.to_set,
            backlash=fits,
        )
        after = round_the_wheel(
            quick,
            exact,
            stand=Stand(da=stands.found - closing),
            errors=errors,
            radius=stands.pair.r2,
            backlash=fits,
        )
    except ValueError:
        return []
    heading = Heading("Backlash round the turn", 2)
    words = _words(stands, kind, found, after, units)
    return [heading, Paragraph(words), _table(stands, after), _map(stands, found, after)]


def _meshes(pair: WormPair, kind: WheelKind) -> tuple[MeshModel, MeshModel]:
    """The closed form of the likeliest kind, and its exact mesh where the pair can be."""
    sine, excess = next((s, e) for name, s, e in kinds_of(pair) if name == kind)
    lead = pair.g if pair.hand == "right" else -pair.g
    closed = ClosedFormMesh(pair.t, lead, pair.r1, pair.r1 + pair.r2, sine, excess)
    try:
        return closed, exact_mesh(sizes_of(pair, kind, excess))
    except ImpossiblePairError:
        return closed, closed


def _words(
    stands: WormPlace, kind: WheelKind, found: RoundTheWheel, after: RoundTheWheel, units: Units
) -> str:
    apart = abs(math.remainder(after.tight_table - found.tight_table, 2 * math.pi))
    moved = "stays there" if apart < WHERE else f"is at {_degrees(after.tight_table)} after closing"
    if stands.wheel_left != stands.wheel:
        moved = "has to be looked for anew once the wheel is trued"
    return (
        f"The mesh is tightest at {_degrees(found.tight_table)} of table angle and {moved}. "
        f"However the depth is set, the mean play stays {length(after.above_least, units)} above "
        "the least: runout of wheel and worm cannot be closed away, only trued. Worked out for "
        f"{IN_WORDS[kind]}, by the closed form round the turn and the exact mesh at the tight "
        "spot. The wheel's wobble and its pitch errors were not read and are left out."
    )


def _degrees(angle: float) -> str:
    return f"{math.degrees(angle):.0f}°"


def _table(stands: WormPlace, after: RoundTheWheel) -> Table:
    wheel = math.hypot(*stands.wheel_left)
    worm = math.hypot(*stands.worm)
    law = backlash_round_the_turn(
        mean=after.average, t=stands.pair.t, wheel_eccentricity=wheel, worm_eccentricity=worm
    )
    figures = (
        ("least play, at the tight spot", after.tight),
        ("mean play, the smallest attainable", after.average),
        ("most play", float(after.most.max())),
        ("mean over least", after.above_least),
        ("mean over least, by 2 tan(pressure angle) times both runouts", float(law.swing) / 2),
    )
    rows = tuple(
        (Cell(what), Cell(number=size, dimension="length", resolution=MICRON))
        for what, size in figures
    )
    return Table("Backlash at the pitch circle, as set", ("what", "size"), rows, key="round")


def _map(stands: WormPlace, found: RoundTheWheel, after: RoundTheWheel) -> PolarMap:
    r2 = stands.pair.r2
    first, then = (
        [_closed(v) / r2 for v in (turn.mean, turn.least, turn.most)] for turn in (found, after)
    )
    stays = stands.wheel == stands.wheel_left
    return PolarMap(
        "Backlash of the mesh round the turn, as found and as set",
        np.append(found.table_angle, 2 * math.pi),
        first[0],
        first[1],
        first[2],
        np.array([]),
        np.array([]),
        stands.tight,
        what="backlash",
        band="range over a worm turn",
        after=Round("as set", then[0], then[1], then[2], after.tight_table if stays else None),
    )


def _closed(values: Array) -> Array:
    """Play is not below zero, and the last angle is the first."""
    play: Array = np.maximum(np.append(values, values[0]), 0.0)
    return play
