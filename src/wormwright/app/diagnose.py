"""Diagnose: hands the live, sound readings to the stage and its blocks to the reader."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from wormwright.app.folder import Folder
from wormwright.app.measure import Sound, sound
from wormwright.app.problems import document
from wormwright.app.remembered import Remembered
from wormwright.job.findings import Diagnosis
from wormwright.job.reading import Reading
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Job
from wormwright.packet import Document
from wormwright.stages.diagnose import diagnose, report
from wormwright.traveler import live_readings

Reckon = Callable[[Job, tuple[Reading, ...]], Diagnosis]


@dataclass(frozen=True, slots=True)
class Diagnosed:
    """The readings a diagnosis stands on, and what they say."""

    sound: Sound
    diagnosis: Diagnosis


_LAST: Remembered[Diagnosed] = Remembered()


def diagnosed(folder: Folder) -> Diagnosed:
    """Where the lost motion of the unit comes from, as it now is.

    Raises:
        StageRefusal: the readings are not enough to answer honestly.
    """
    known = _LAST.get(folder, _made_from(folder))
    if known is None:
        of = _made_from(folder)
        known = diagnosis_on(folder.job, as_it_is(folder))
        _LAST.keep(folder, of, known)
    return known


def remember_diagnosis(folder: Folder, made: Diagnosed | StageRefusal) -> None:
    """Take a diagnosis of this folder as it stands that was made elsewhere."""
    _LAST.keep(folder, _made_from(folder), made)


def _made_from(folder: Folder) -> tuple[object, ...]:
    return (folder.job, folder.readings, folder.sign_offs)


def as_it_is(folder: Folder) -> Sound:
    """The readings that a diagnosis stands on."""
    return sound(folder, live_readings(folder.readings, folder.sign_offs))


def diagnosis_on(job: Job, live: Sound, reckon: Reckon = diagnose) -> Diagnosed:
    """The diagnosis on these readings; `reckon` is the stage itself unless it is done elsewhere.

    Raises:
        StageRefusal: the readings are not enough to answer honestly.
    """
    try:
        return Diagnosed(live, reckon(job, live.readings))
    except StageRefusal as refusal:
        raise StageRefusal(refusal.stage, (*live.kept_out, *refusal.doubts)) from None


def diagnosis_document(folder: Folder) -> Document:
    """Where the lost motion of this rotary comes from.

    Raises:
        StageRefusal: the readings are not enough to answer honestly.
    """
    found = diagnosed(folder)
    blocks = (*found.sound.blocks(), *report(found.diagnosis, folder.job))
    return document("Diagnosis", folder, blocks)
