"""Jobs about drives for tests: the made-up example, and changes of it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from wormwright.job.choice import Side
from wormwright.job.drive import Drive
from wormwright.job.given import Given
from wormwright.job.rotary import Job
from wormwright.job.work import Task
from wormwright.store import JobFolder

EXAMPLE = Path(__file__).resolve().parent.parent / "examples" / "drive-choice"


def example() -> Job:
    """The job of the example."""
    return JobFolder.open(EXAMPLE).job


def with_task(job: Job, name: str, **changes: object) -> Job:
    """The job with one of its works changed."""

    def changed(task: Task) -> Task:
        return replace(task, **changes) if task.name == name else task  # type: ignore[arg-type]

    return replace(job, work=tuple(changed(task) for task in job.work))


def with_drive(job: Job, name: str, change: Callable[[Drive], Drive]) -> Job:
    """The job with one of its drives changed."""
    return replace(job, drives=tuple(change(d) if d.name == name else d for d in job.drives))


def plain(value: float) -> Given:
    """A figure without a range."""
    return Given.plain(value)


def figure(side: Side, key: str) -> float:
    """One figure of a drive, by its key."""
    return next(f.estimate.value for f in side.figures if f.key == key)
