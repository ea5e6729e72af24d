"""The motor plate that follows the worm after closing, and the coupling for what is left."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.coupling import eccentric_register, offset_after_move
from wormwright.handbook.drives import couplings, frame
from wormwright.handbook.fits import deviations
from wormwright.job.commissioning import CouplingFit
from wormwright.job.control import PlateSizes
from wormwright.job.parts import Limits, MotorPlate

RESERVE = 0.30
"""Travel beyond the move, for what motor and housing are out by themselves, mm (practice)."""
OFFSET_LEFT = 0.05
"""Half the needle swing that alignment by indicator leaves at most, mm (common practice)."""
REGISTER_DEPTH = 3.0
SHOULDER = 4.0


@dataclass(frozen=True, slots=True)
class Moved:
    """Where the worm goes from where the motor stands, mm: closing and sideways."""

    closing: float
    sideways: float


UNMOVED = Moved(0.0, 0.0)


def motor_plate(sizes: PlateSizes, moved: Moved) -> MotorPlate:
    """The plate with its seats, slots or throw."""
    seat = frame(sizes.frame)
    slack = round(math.hypot(moved.closing, moved.sideways) + RESERVE, 2)
    ring = eccentric_register(closing=moved.closing, sideways=moved.sideways, reserve=RESERVE)
    slotted = sizes.style == "slotted"
    register = (
        Limits(sizes.register + 2 * slack, 0.1, 0.0, "clear all round")
        if slotted
        else _hole("H7", sizes.register)
    )
    return MotorPlate(
        style=sizes.style,
        frame=sizes.frame,
        outside=sizes.outside,
        thickness=sizes.thickness,
        pilot=_hole("H8", seat.pilot),
        pilot_depth=seat.pilot_depth + 0.5,
        pitch=seat.pitch,
        motor_hole=seat.hole,
        motor_thread=seat.thread,
        register=register,
        register_depth=REGISTER_DEPTH,
        through=min(seat.pilot, register.size) - SHOULDER,
        circle=sizes.circle,
        holes=sizes.holes,
        hole=sizes.hole,
        travel=slack,
        throw=0.0 if slotted else ring.throw,
        turn=0.0 if slotted else ring.turn,
        standoff=sizes.standoff,
        shaft=sizes.shaft,
        worm_shaft=sizes.worm_shaft,
        coupling=sizes.coupling,
        offset_left=OFFSET_LEFT,
        material=sizes.material,
    )


def _hole(tolerance_class: str, size: float) -> Limits:
    limits = deviations(tolerance_class, size)
    return Limits(size, limits.upper, limits.lower, tolerance_class)


def coupling_fits(moved: Moved) -> tuple[CouplingFit, ...]:
    """Every kind of coupling twice: with the motor aligned anew, and with the motor left alone."""
    stayed = offset_after_move(closing=moved.closing, sideways=moved.sideways)
    return tuple(
        CouplingFit(row.kind, row.offset, left, row.offset >= left, row.play, row.carries_true)
        for left in dict.fromkeys((OFFSET_LEFT, max(stayed, OFFSET_LEFT)))
        for row in couplings()
    )
