"""Motor, coupling and home switch: what misalignment is left, and what a switch can promise."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.refused_input import above_zero, not_below_zero


def offset_after_move(*, closing: float, sideways: float, followed: float = 0.0) -> float:
    """Offset of the worm line from a motor that stayed, or that followed only in part.

    Source: geometry: the worm moved by (closing, sideways); the plate followed the closing.
    Formula: hypot(closing - followed, sideways).
    Inputs: closing and sideways of the worm, followed of the motor along the closing [mm].
    Outputs: offset between the two lines [mm]. Valid for: parallel lines; finite figures.
    Raises: ValueError outside.

    >>> round(offset_after_move(closing=0.17, sideways=0.07), 3)
    0.184
    """
    if not all(math.isfinite(x) for x in (closing, sideways, followed)):
        raise ValueError("offset: expected finite figures")
    return math.hypot(closing - followed, sideways)


def angle_error_of_offset(*, offset: float, arm: float, ratio: float) -> float:
    """Error at the table of a coupling whose halves are offset and drive by pins at an arm.

    Source: geometry of two parallel shafts offset by e, driven at an arm r: e/r each way, once a
        turn of the worm. Formula: e/(r i).
    Inputs: offset e, arm r of the driving faces [mm]; ratio i. Outputs: amplitude at the table
        [rad]. Valid for: jaws and pins; Oldham and bellows couplings carry an offset true.
    Raises: ValueError outside.

    >>> round(math.degrees(angle_error_of_offset(offset=0.2, arm=10, ratio=80)) * 3600)
    52
    """
    not_below_zero(offset=offset)
    above_zero(arm=arm, ratio=ratio)
    return offset / arm / ratio


@dataclass(frozen=True, slots=True)
class Register:
    """An eccentric register of a motor plate: throw mm, and the turn that makes a move, rad."""

    throw: float
    turn: float


def eccentric_register(*, closing: float, sideways: float, reserve: float = 0.0) -> Register:
    """Throw of a register that carries the motor where the worm went, and how far to turn it.

    Source: geometry of an eccentric ring set with its throw at a right angle to the closing before.
    Formula: throw e = hypot(closing, sideways) + reserve; turn = asin(closing/e).
    Inputs: closing, sideways, reserve [mm]. Outputs: Register.
    Valid for: a move above zero. Raises: ValueError outside.

    >>> ring = eccentric_register(closing=0.3, sideways=0.0, reserve=0.3)
    >>> round(ring.throw, 2), round(math.degrees(ring.turn), 1)
    (0.6, 30.0)
    """
    not_below_zero(closing=abs(closing), sideways=abs(sideways), reserve=reserve)
    throw = math.hypot(closing, sideways) + reserve
    above_zero(throw=throw)
    return Register(throw, math.asin(closing / throw))


def home_error(*, repeat: float, arm: float) -> float:
    """What a home switch that repeats to a distance leaves at the table.

    Source: geometry. Formula: repeat/arm. Inputs: repeat, whole spread of the trip point along its
        path; arm, its distance from the table axis [mm]. Outputs: [rad].
    Valid for: arm above zero. Raises: ValueError outside.

    >>> round(math.degrees(home_error(repeat=0.02, arm=70)) * 3600)
    59
    """
    not_below_zero(repeat=repeat)
    above_zero(arm=arm)
    return repeat / arm


def index_turns_home(*, error: float, ratio: float) -> bool:
    """Whether a home switch tells the right turn of a worm that has a mark of its own.

    Source: arithmetic: the mark comes once a worm turn; the switch must be out by less than half
    of it, kept to a quarter. Formula: error < 2 pi/(4 i).
    Inputs: error, whole spread at the table [rad]; ratio i. Outputs: True or False.
    Valid for: ratio above zero. Raises: ValueError outside.

    >>> index_turns_home(error=home_error(repeat=0.02, arm=70), ratio=90)
    True
    """
    not_below_zero(error=error)
    above_zero(ratio=ratio)
    return error < 2 * math.pi / (4 * ratio)
