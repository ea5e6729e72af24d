"""One unit of a fleet, reckoned in a process of its own: what its line on the wall says."""

from __future__ import annotations

import hashlib
from pathlib import Path

from wormwright import __version__
from wormwright.app.folder import Folder
from wormwright.app.measure import sound
from wormwright.bench import Bench
from wormwright.job.fleet import FleetRow, State
from wormwright.job.reading import Reading
from wormwright.job.result import StageRefusal
from wormwright.stages.diagnose import diagnose
from wormwright.stages.keep import recheck
from wormwright.store.fault import JobFolderError
from wormwright.store.folder import JobFolder
from wormwright.store.job_file import JOB
from wormwright.store.reading_rows import READINGS
from wormwright.store.signoff_rows import SIGN_OFFS
from wormwright.traveler import live_readings

PROVED = frozenset({"proof_rock"})
"""Operations that end the work on a unit."""


def stamp_of(place: Path) -> str:
    """Hash of the files of a job and of the version that reckons them."""
    digest = hashlib.sha256(__version__.encode())
    for name in (JOB, READINGS, SIGN_OFFS):
        file = place / name
        digest.update(file.read_bytes() if file.exists() else b"\0")
        digest.update(b"\0")
    return digest.hexdigest()


def fleet_row(place: Path) -> FleetRow:
    """The line of the job in that folder; a job that cannot be used says why, and stops nothing."""
    stamp = stamp_of(place)
    try:
        folder = JobFolder.open(place)
    except (JobFolderError, OSError) as wrong:
        why = str(wrong).splitlines()[0]
        return FleetRow(place.name, stamp, place.name, "", False, "unusable", why=why)
    return _row(folder, place, stamp)


def _row(folder: Folder, place: Path, stamp: str) -> FleetRow:
    job = folder.job
    found = sound(folder, live_readings(folder.readings, folder.sign_offs))
    tight, tight_u, why = _tight(folder, found.readings)
    questions = len({r for d in found.kept_out for r in d.rows}) + len(folder.problems)
    row = FleetRow(
        folder=place.name,
        stamp=stamp,
        name=job.name,
        unit=job.rotary.unit_id,
        made_up=job.made_up,
        state="not read",
        tight=tight,
        tight_u=tight_u,
        questions=questions,
        signed=len({s.operation for s in folder.sign_offs if s.verdict != "failed"}),
        why=why,
    )
    try:
        checked = recheck(Bench(job, found.readings))
    except StageRefusal:
        return row
    ahead, last = checked.ahead, checked.checks[-1]
    return FleetRow(
        **{
            **row.plain(),
            "state": _state(folder, checked.answer),
            "loosest": checked.loosest.value,
            "loosest_u": checked.loosest.u,
            "hours": last.hours,
            "last_check": last.day,
            "next_check": "" if ahead is None else _when(ahead.next_day, ahead.next_check),
        }
    )


def _when(day: str, hours: float) -> str:
    return day or f"{hours:.0f} h"


def _state(folder: Folder, answer: State) -> State:
    """What the check says, unless work on the unit was begun and not proved."""
    signed = [s.operation for s in folder.sign_offs if s.verdict != "failed"]
    if signed and signed != ["baseline"] and not PROVED & set(signed):
        return "being worked on"
    return answer


def _tight(folder: Folder, readings: tuple[Reading, ...]) -> tuple[float | None, float | None, str]:
    """The tight spot and its doubt, or why it is not known."""
    try:
        found = diagnose(folder.job, readings)
    except StageRefusal as refusal:
        return None, None, refusal.doubts[0].seen if refusal.doubts else ""
    spot = found.tight_spot.angle
    if spot is None:
        return None, None, "the tight spot lies within the noise"
    return spot.value, spot.u, ""
