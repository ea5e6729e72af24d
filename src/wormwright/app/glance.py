"""A job at a glance: what the list of jobs shows, without reckoning anything."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.app.folder import Folder
from wormwright.traveler import ALL, live_readings, stale_readings


@dataclass(frozen=True, slots=True)
class Glance:
    """Name and unit of a job, how far it has come, and how many questions stand open."""

    name: str
    unit: str
    made_up: bool
    read: int
    stale: int
    signed: int
    last_signed: str
    faults: int


def glance(folder: Folder) -> Glance:
    """The state of a job from its rows alone."""
    job, signed = folder.job, folder.sign_offs
    last = signed[-1] if signed else None
    name = f"{ALL[last.operation].title} ({last.verdict})" if last else ""
    return Glance(
        name=job.name,
        unit=job.rotary.marked,
        made_up=job.made_up,
        read=len(live_readings(folder.readings, signed)),
        stale=len(stale_readings(folder.readings, signed)),
        signed=len({s.operation for s in signed if s.verdict != "failed"}),
        last_signed=name,
        faults=len(folder.problems),
    )
