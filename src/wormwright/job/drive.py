"""A drive that could turn the table, as its maker or the machinist gives it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from wormwright.job.given import Given, refuse_unless_positive
from wormwright.job.rotary import Motor

Family = Literal[
    "toothed belt",
    "toothed belt, two stages",
    "strain wave",
    "worm",
    "worm, two starts",
    "cycloidal",
    "planetary",
]


@dataclass(frozen=True, slots=True)
class Drive:
    """One candidate: reduction and motor. Core units; a figure with its range where one was given.

    `doubt` is the share by which plain figures of stiffness and lost motion, and the loss of
    efficiency, may be out. `motor_drag` is torque at the motor shaft, `table_drag` at the table.
    `lead_angle` and `friction` tell whether a worm can be driven backwards. `have` marks the drive
    that stands on the bench already, `brake` one that can hold without power. Cost and hours are
    ranges in the machinist's own currency.
    """

    name: str
    family: Family
    ratio: Fraction
    motor: Motor
    stiffness: Given
    lost_motion: Given
    efficiency: Given
    doubt: float = 0.10
    motor_drag: float = 0.0
    table_drag: float = 0.0
    input_limit: float | None = None
    torque_limit: float | None = None
    moment_limit: float | None = None
    lead_angle: float | None = None
    friction: Given | None = None
    have: bool = False
    brake: bool = False
    cost: Given | None = None
    hours: Given | None = None

    def __post_init__(self) -> None:
        """Refuse a drive that cannot be."""
        if self.ratio <= 0:
            raise ValueError(f"drive {self.name}: the ratio must be above zero")
        if not 0 < self.efficiency.low <= self.efficiency.high <= 1:
            raise ValueError(f"drive {self.name}: efficiency must be above 0 and at most 1")
        if self.stiffness.low <= 0 or self.lost_motion.low < 0:
            raise ValueError(f"drive {self.name}: stiffness above zero, lost motion zero or more")
        if not 0 <= self.doubt < 1:
            raise ValueError(f"drive {self.name}: doubt must be 0 to below 100 %")
        refuse_unless_positive(
            f"drive {self.name}",
            input_limit=self.input_limit,
            torque_limit=self.torque_limit,
            moment_limit=self.moment_limit,
            lead_angle=self.lead_angle,
            motor_holding_torque=self.motor.torque_hold_nmm,
        )
        if self.motor.torque_hold_nmm is None or self.motor.pulses_per_turn is None:
            raise ValueError(
                f"drive {self.name}: give the motor's holding torque and its pulses per turn"
            )
