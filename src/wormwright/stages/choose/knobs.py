"""Every entered figure that the verdict may hang on, each with how to change it alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from wormwright.job.drive import Drive
from wormwright.job.given import Given
from wormwright.job.rotary import Job
from wormwright.job.work import Task
from wormwright.quantities import Dimension

Set = Callable[[Job, float], Job]


@dataclass(frozen=True, slots=True)
class Knob:
    """One entered figure. `eases` says which way makes the needs easier: 1 up, -1 down, 0 neither.

    `drive` is the place of the drive that it belongs to, None for a need. `most` is as far as it
    may be turned up.
    """

    what: str
    now: float
    dimension: Dimension
    set: Set
    eases: int = 0
    drive: int | None = None
    most: float = float("inf")


def knobs_of(job: Job) -> tuple[Knob, ...]:
    """All of them: the needs first, then the figures of the drives."""
    found: list[Knob] = []
    for place, cut in enumerate(job.work):
        found += _of_cut(place, cut)
    if job.control is not None and job.control.pulse_limit is not None:
        found.append(Knob("pulse limit", job.control.pulse_limit, "frequency", _set_pulses, 1))
    for place, drive in enumerate(job.drives):
        found += _of_drive(place, drive)
    return tuple(found)


def _set_pulses(job: Job, value: float) -> Job:
    if job.control is None:
        raise ValueError("the job has no control whose pulse limit could change")
    return replace(job, control=replace(job.control, pulse_limit=value))


def _of_cut(place: int, cut: Task) -> Iterator[Knob]:
    def setter(**how: Callable[[float], object]) -> Set:
        def change(job: Job, value: float) -> Job:
            fresh = {name: make(value) for name, make in how.items()}
            work = list(job.work)
            work[place] = replace(work[place], **fresh)  # type: ignore[arg-type]  # one field
            return replace(job, work=tuple(work))

        return change

    if cut.error is not None:
        yield Knob(f"error of {cut.name}", cut.error, "length", setter(error=float), 1)
    yield Knob(f"radius of {cut.name}", cut.radius, "length", setter(radius=float), -1)
    if cut.force is not None:
        now = cut.force
        yield Knob(
            f"force of {cut.name}",
            now.value,
            "force",
            setter(force=lambda value: scaled(now, value)),
            -1,
        )
    if cut.speed is not None:
        yield Knob(f"speed of {cut.name}", cut.speed, "speed", setter(speed=float), -1)


def scaled(figure: Given, value: float) -> Given:
    """The figure brought to a value, its range with it."""
    if figure.value == 0:
        return Given.plain(value)
    share = value / figure.value
    return Given(value, min(value, figure.low * share), max(value, figure.high * share))


def _of_drive(place: int, drive: Drive) -> Iterator[Knob]:
    def put(change: Callable[[Drive, float], Drive]) -> Set:
        def on_job(job: Job, value: float) -> Job:
            drives = list(job.drives)
            drives[place] = change(drives[place], value)
            return replace(job, drives=tuple(drives))

        return on_job

    def knob(
        what: str,
        now: float,
        kind: Dimension,
        change: Callable[[Drive, float], Drive],
        most: float = float("inf"),
    ) -> Knob:
        return Knob(f"{what} of {drive.name}", now, kind, put(change), 0, place, most)

    yield knob(
        "stiffness",
        drive.stiffness.value,
        "stiffness",
        lambda d, x: replace(d, stiffness=scaled(d.stiffness, x)),
    )
    if drive.lost_motion.value:
        yield knob(
            "lost motion",
            drive.lost_motion.value,
            "angle",
            lambda d, x: replace(d, lost_motion=scaled(d.lost_motion, x)),
        )
    yield knob(
        "efficiency",
        drive.efficiency.value,
        "ratio",
        lambda d, x: replace(d, efficiency=scaled(d.efficiency, x)),
        most=0.999 / drive.efficiency.high,
    )
    if drive.motor.torque_hold_nmm:
        yield knob(
            "holding torque",
            drive.motor.torque_hold_nmm,
            "torque",
            lambda d, x: replace(d, motor=replace(d.motor, torque_hold_nmm=x)),
        )
    if drive.motor.useful_rpm:
        yield knob(
            "useful motor speed",
            drive.motor.useful_rpm,
            "speed",
            lambda d, x: replace(d, motor=replace(d.motor, useful_rpm=x)),
        )
    if drive.cost is not None and drive.cost.value:
        yield knob(
            "cost", drive.cost.value, "none", lambda d, x: replace(d, cost=scaled(_cost(d), x))
        )


def _cost(drive: Drive) -> Given:
    return drive.cost or Given.plain(0.0)
