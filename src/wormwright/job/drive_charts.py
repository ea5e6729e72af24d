"""What the charts about drives show: torque against speed, and errors stacked by cause."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.job.result import Estimate


@dataclass(frozen=True, slots=True)
class TorqueCurve:
    """What one drive gives: (table rpm, torque at the table N·mm)."""

    label: str
    points: tuple[tuple[float, float], ...]

    @property
    def still(self) -> float:
        """Torque at rest, N·mm."""
        return self.points[0][1] if self.points else 0.0

    @property
    def fastest(self) -> float:
        """Speed at which it has none left, or at which the figures end, rpm."""
        return self.points[-1][0] if self.points else 0.0


@dataclass(frozen=True, slots=True)
class TorquePoint:
    """What one work asks for: table rpm, torque at the table N·mm."""

    label: str
    rpm: float
    torque: float


@dataclass(frozen=True, slots=True)
class TorqueCurves:
    """Torque against speed of several drives, with the points that the work asks for."""

    curves: tuple[TorqueCurve, ...]
    points: tuple[TorquePoint, ...]


@dataclass(frozen=True, slots=True)
class StackedRow:
    """One error made of causes: (cause, mm) each, its whole with its range, and what is allowed."""

    label: str
    parts: tuple[tuple[str, float], ...]
    whole: Estimate
    allowed: float | None


@dataclass(frozen=True, slots=True)
class StackedError:
    """Errors at the work, stacked by cause."""

    rows: tuple[StackedRow, ...]
