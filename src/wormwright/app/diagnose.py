"""Diagnose: hands the live, sound readings to the stage and its blocks to the reader."""

from __future__ import annotations

from wormwright.app.folder import Folder
from wormwright.app.measure import sound
from wormwright.app.problems import document
from wormwright.job.result import StageRefusal
from wormwright.packet import Document
from wormwright.stages.diagnose import diagnose, report
from wormwright.traveler import live_readings


def diagnosis_document(folder: Folder) -> Document:
    """Where the lost motion of this rotary comes from.

    Raises:
        StageRefusal: the readings are not enough to answer honestly.
    """
    live = sound(folder, live_readings(folder.readings, folder.sign_offs))
    try:
        found = diagnose(folder.job, live.readings)
    except StageRefusal as refusal:
        raise StageRefusal(refusal.stage, (*live.kept_out, *refusal.doubts)) from None
    return document("Diagnosis", folder, (*live.blocks(), *report(found, folder.job)))
