"""Bar, plate and sheet that the parts of a plan are made from, in sizes as sold."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from wormwright.job.parts import (
    CentreShim,
    ChuckAdapter,
    EccentricBushing,
    JournalBush,
    MotorPlate,
    MountPlate,
    Part,
    SettingKey,
    SettingSpanner,
    SetUp,
    ShimRing,
    WheelSeat,
    WormRelief,
)
from wormwright.job.rotary import Units
from wormwright.quantities import shown

CLEAN_UP = 3.0
"""Bar over the finished diameter, so that it cleans up, mm (common practice)."""
FACE_AND_PART = 6.0
"""Bar for facing both ends of a piece and parting it off, mm (common practice)."""
GRIP = 30.0
"""Bar that stays in the chuck, once for each bar, mm (common practice)."""
LAP = 0.1
"""Sheet over the finished thickness of a shim that is ground or lapped, mm (common practice)."""
STOCK_STEP = {"mm": 5.0, "in": 6.35}
"""Steps in which round bar is sold, mm: 5 mm, and a quarter of an inch."""
SOLD_TO = {"mm": 1.0, "in": 0.254}
"""Last digit of a bar size, mm: 1 mm, and a hundredth of an inch."""


@dataclass(frozen=True, slots=True)
class Item:
    """One line of the list: what, in which size, how many or how much, and what for."""

    what: str
    size: str
    amount: str
    use: str


@dataclass(frozen=True, slots=True)
class Piece:
    """A turned piece as it is cut from the bar: finished diameter and length over all, mm."""

    material: str
    across: float
    long: float
    name: str
    quantity: int


def stock(parts: Sequence[Part], units: Units) -> tuple[Item, ...]:
    """Bar, plate and sheet for the parts.

    Turning down the worm that is there buys nothing, and the picture of the set-up is no part.
    """
    turned = [piece for part in parts for piece in _pieces(part)]
    bought = [part for part in parts if not isinstance(part, WormRelief | SetUp)]
    other = [part for part in bought if not _pieces(part)]
    keys = [part for part in parts if isinstance(part, SettingKey)]
    return (
        *_bars(turned, units),
        *(_flat(part, units) for part in other),
        *(_block(part, units) for part in keys),
    )


def _pieces(part: Part) -> tuple[Piece, ...]:
    """What is turned from round bar for a part; nothing for what is cut from plate or sheet."""
    match part:
        case EccentricBushing(side=side):
            long = part.flange_thickness + part.length
            name = f"eccentric bushing {side}"
            piece = Piece(part.material, part.flange_outside, long, name, part.quantity)
        case JournalBush(side=side):
            across = max(part.flange_outside, part.outside.size)
            long = part.flange_thickness + part.length
            piece = Piece(part.material, across, long, f"journal bush {side}", part.quantity)
        case WheelSeat():
            sleeve = "sleeve of the worm wheel"
            piece = Piece(part.sleeve_material, part.sleeve.size, part.hub_length, sleeve, 1)
        case ChuckAdapter():
            long = part.thickness + part.spigot_length + part.locating_length
            piece = Piece(part.material, part.outside, long, part.name, 1)
        case MotorPlate():
            piece = Piece(part.material, part.outside, part.thickness, "motor plate", 1)
        case SettingKey():
            across = max(part.head_outside, part.journal.size)
            long = part.head_length + part.journal_length + part.eccentric_length
            piece = Piece(part.material, across, long, "setting key", part.quantity)
        case _:
            return ()
    return (piece,)


def _bars(pieces: Sequence[Piece], units: Units) -> tuple[Item, ...]:
    """One bar for all pieces that come from the same size and material."""
    step = STOCK_STEP[units]
    sizes: dict[tuple[str, float], list[Piece]] = {}
    for piece in pieces:
        bar = step * math.ceil(round((piece.across + CLEAN_UP) / step, 6))
        sizes.setdefault((piece.material, bar), []).append(piece)
    return tuple(
        Item(
            f"round bar, {material}",
            f"Ø{shown(bar, 'length', resolution=SOLD_TO[units], units=units)}",
            f"{shown(_bar_length(made), 'length', resolution=1.0, units=units)} long",
            ", ".join(dict.fromkeys(piece.name for piece in made)),
        )
        for (material, bar), made in sizes.items()
    )


def _bar_length(made: Sequence[Piece]) -> float:
    return math.ceil(GRIP + sum(p.quantity * (p.long + FACE_AND_PART) for p in made))


def _flat(part: Part, units: Units) -> Item:
    """Plate or sheet for what is not turned; a part of another kind is taken from its drawing."""
    if isinstance(part, ShimRing):
        across = shown(part.outside.size, "length", resolution=1.0, units=units)
        return _shim(part, f"{across} across", units)
    if isinstance(part, CentreShim):
        sides = (part.length, part.width)
        area = " x ".join(shown(side, "length", resolution=1.0, units=units) for side in sides)
        return _shim(part, area, units)
    if isinstance(part, SettingSpanner):
        long = part.reading_radius + part.head_outside / 2
        around = (part.plate_thickness, part.head_outside, long)
        return _plate(part, around, "setting spanner", units)
    if isinstance(part, MountPlate):
        return _plate(part, (part.thickness.size, part.width, part.length), part.name, units)
    count, material = (str(getattr(part, name, "")) for name in ("quantity", "material"))
    name = str(getattr(part, "name", "")) or "see its drawing"
    return Item(material or "stock", "see its drawing", count or "1", name)


def _plate(
    part: SettingSpanner | MountPlate, sides: tuple[float, float, float], name: str, units: Units
) -> Item:
    """Plate of that thickness, width and length; what cleans it up comes on top."""
    thick, wide, long = (shown(side, "length", resolution=1.0, units=units) for side in sides)
    size = f"{thick} thick, {wide} x {long}"
    return Item(f"plate, {part.material}", size, str(part.quantity), name)


def _block(part: SettingKey, units: Units) -> Item:
    """Flat bar for the block that a setting key turns in."""
    along, across = (shown(size, "length", resolution=1.0, units=units) for size in part.block)
    thick = shown(part.journal_length, "length", resolution=1.0, units=units)
    size = f"{along} x {across} x {thick}"
    return Item(f"flat bar, {part.material}", size, str(part.quantity), "block of the setting key")


def _shim(part: ShimRing | CentreShim, area: str, units: Units) -> Item:
    """The pieces of stock that make up the thickness, or the sheet that it is ground from."""
    if part.stack:
        pieces = " + ".join(shown(t, "length", resolution=0.001, units=units) for t in part.stack)
        return Item("shim stock", pieces, str(part.quantity), part.name)
    sheet = shown(part.thickness.size + LAP, "length", resolution=0.01, units=units)
    size = f"at least {sheet} thick, {area}"
    return Item(f"sheet or bar, {part.material}", size, str(part.quantity), part.name)
