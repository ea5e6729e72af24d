"""The exact ratio from motor to table, and the pulses that follow from it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from wormwright.bench import Bench
from wormwright.core.steps import pulses_per_degree
from wormwright.job.result import Doubt, StageRefusal
from wormwright.job.rotary import Job


@dataclass(frozen=True, slots=True)
class Gearing:
    """`ratio` motor turns for a table turn, exact; `belt` motor turns for a worm turn."""

    ratio: Fraction
    belt: float
    pulses_per_turn: int
    said: str

    @property
    def per_degree(self) -> Fraction:
        """Pulses for one degree of the table."""
        return pulses_per_degree(pulses_per_turn=self.pulses_per_turn, ratio=self.ratio)

    @property
    def per_table_turn(self) -> Fraction:
        """Pulses for one turn of the table."""
        return self.pulses_per_turn * self.ratio

    @property
    def worm_ratio(self) -> float:
        """Worm turns for one table turn."""
        return float(self.ratio) / self.belt


def gearing_of(job: Job, bench: Bench) -> Gearing:
    """The ratio from the counted teeth and starts and the belt of [motor].

    Without readings it is that of the drive marked as the one on the bench.

    Raises:
        StageRefusal: teeth, starts or the pulses of the motor are not known.
    """
    missing = []
    worm = _worm(bench) or _owned(job)
    if worm is None:
        missing.append(
            Doubt(
                "refuse",
                "",
                "The ratio is not known: teeth and starts are not on the sheet.",
                "One tooth more or less is four degrees a turn at 90:1.",
                "Count the handle turns for one table turn; enter teeth and starts.",
            )
        )
    pulses = job.motor.pulses_per_turn
    if pulses is None:
        missing.append(
            Doubt(
                "refuse",
                "E-25",
                "The pulses of a motor turn are not known.",
                "Steps for a degree follow from them and the ratio, and from nothing else.",
                "Give pulses_per_turn in [motor]: full steps times the microsteps of the driver.",
            )
        )
    if worm is None or pulses is None:
        raise StageRefusal("commission", tuple(missing))
    ratio, said = worm
    belt = Fraction(1)
    if job.motor.belt is not None:
        at_motor, at_worm = job.motor.belt
        belt = Fraction(at_worm, at_motor)
        said += f", times {at_worm}/{at_motor} of the belt"
    return Gearing(ratio * belt, float(belt), pulses, said)


def _worm(bench: Bench) -> tuple[Fraction, str] | None:
    teeth, starts = bench.figure("teeth"), bench.figure("starts")
    if teeth is None or starts is None:
        return None
    z2, z1 = round(teeth.value), round(starts.value)
    return Fraction(z2, z1), f"{z2} teeth and {z1} start{'s' if z1 > 1 else ''}, as counted"


def _owned(job: Job) -> tuple[Fraction, str] | None:
    owned = next((drive for drive in job.drives if drive.have), None)
    return None if owned is None else (owned.ratio, f"{owned.name}, as entered")
