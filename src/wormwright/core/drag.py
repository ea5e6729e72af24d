"""Drag at the worm taken apart: bearings and seals, table, mesh; and what the motor has over."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wormwright.core.friction import Interval


@dataclass(frozen=True, slots=True)
class Torque:
    """A torque with its standard uncertainty, N·mm."""

    value: float
    u: float

    def __post_init__(self) -> None:
        """Refuse a torque or doubt that is none."""
        if not (math.isfinite(self.value) and self.u >= 0):
            raise ValueError(f"torque {self.value} with u {self.u} N·mm: expected numbers")

    def minus(self, other: Torque) -> Torque:
        """Difference from another, read independently."""
        return Torque(self.value - other.value, math.hypot(self.u, other.u))


def table_drag_at_worm(table: Torque, *, ratio: float, efficiency: Interval) -> Torque:
    """Drag of the table alone as the worm feels it, through ratio and efficiency.

    Source: `friction.worm_torque`; the efficiency is known between two ends only, so T/(i eta) is
        taken as rectangular between its ends (JCGM 100:2008, 4.3.7).
    Formula: T/i times the middle of 1/eta; u² = (u_T/i · middle)² + (T/i · half width)²/3.
    Inputs: table, torque at the table with the worm out [N·mm]; ratio i; efficiency, interval [1].
    Outputs: Torque at the worm [N·mm].
    Valid for: 0 < eta <= 1, ratio above zero. Raises: ValueError outside.

    >>> part = table_drag_at_worm(Torque(900.0, 0.0), ratio=90, efficiency=Interval(0.4, 0.5))
    >>> round(part.value, 2), round(part.u, 2)
    (22.5, 1.44)
    """
    low, high = efficiency
    if not (0 < low <= high <= 1 and ratio > 0):
        raise ValueError(
            f"efficiency {low} to {high}, ratio {ratio}: expected 0 to 1 and above zero"
        )
    middle, half = (1 / low + 1 / high) / 2, (1 / low - 1 / high) / 2
    per_turn = table.value / ratio
    return Torque(
        per_turn * middle, math.hypot(table.u / ratio * middle, per_turn * half / math.sqrt(3))
    )


@dataclass(frozen=True, slots=True)
class DragParts:
    """Drag in mesh and what makes it, all at the worm, N·mm."""

    in_mesh: Torque
    bearings_and_seals: Torque
    table: Torque
    mesh: Torque

    @property
    def mesh_below_zero(self) -> bool:
        """The difference is below zero by more than its doubt: the readings do not belong together.

        Other grease, temperature or preload in the two series, or a wrong direction.
        """
        return self.mesh.value < -2 * self.mesh.u


def drag_parts(*, in_mesh: Torque, out_of_mesh: Torque, table: Torque) -> DragParts:
    """Drag of the mesh as what is left of the drag in mesh.

    Source: sum of the parts; same grease, temperature and preload in all series.
    Formula: mesh = in mesh - out of mesh - table at the worm; doubts add in squares.
    Inputs: in_mesh, out_of_mesh, table (by `table_drag_at_worm`), all at the worm [N·mm].
    Outputs: DragParts [N·mm].
    Valid for: no cutting load, lock off. Raises: ValueError for a torque below zero.

    >>> parts = drag_parts(in_mesh=Torque(250.0, 9.0), out_of_mesh=Torque(100.0, 8.0),
    ...                    table=Torque(30.0, 4.0))
    >>> parts.mesh.value, round(parts.mesh.u, 1)
    (120.0, 12.7)
    """
    for name, part in (("in mesh", in_mesh), ("out of mesh", out_of_mesh), ("table", table)):
        if part.value < 0:
            raise ValueError(f"drag {name}: expected a torque not below zero, got {part.value}")
    return DragParts(in_mesh, out_of_mesh, table, in_mesh.minus(out_of_mesh).minus(table))


def cold_drag(drag: float, *, cold_factor: Interval) -> Interval:
    """Drag at a cold start, from the drag as read.

    Source: common practice; grease stiffens, the factor is a belief between two ends.
    Formula: T times the ends of the factor.
    Inputs: drag [N·mm]; cold_factor, interval of at least 1 [1]. Outputs: Interval [N·mm].
    Valid for: factor 1 to 10. Raises: ValueError outside.

    >>> cold_drag(300.0, cold_factor=Interval(1.5, 3.0))
    Interval(low=450.0, high=900.0)
    """
    if not (1 <= cold_factor.low <= cold_factor.high <= 10 and drag >= 0):
        raise ValueError(
            f"drag {drag}, cold factor {cold_factor.low} to {cold_factor.high}: expected 1 to 10"
        )
    return Interval(drag * cold_factor.low, drag * cold_factor.high)


def motor_margin(
    *, motor_torque: float, peak_drag: float, cold_factor: Interval, load: float = 0.0
) -> Interval:
    """How many times the motor can turn the worm at the tight spot of a cold unit.

    Source: common practice asks for 2 or more at the peak, cold.
    Formula: T_motor / (T_peak · cold + T_load), at both ends of the cold factor.
    Inputs: motor_torque at the speed wanted, peak_drag as read, load at the worm [N·mm];
        cold_factor, interval [1].
    Outputs: Interval [1]; judge by the low end.
    Valid for: drag and load not both zero. Raises: ValueError outside.

    >>> margin = motor_margin(motor_torque=1200, peak_drag=200, cold_factor=Interval(1.5, 3.0))
    >>> margin
    Interval(low=2.0, high=4.0)
    """
    cold = cold_drag(peak_drag, cold_factor=cold_factor)
    if not (motor_torque > 0 and load >= 0 and cold.low + load > 0):
        raise ValueError(
            f"motor {motor_torque}, peak {peak_drag}, load {load} N·mm: expected above zero"
        )
    return Interval(motor_torque / (cold.high + load), motor_torque / (cold.low + load))
