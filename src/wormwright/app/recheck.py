"""Re-check: the checks since the last work on the unit, and the setting chart to adjust by."""

from __future__ import annotations

from wormwright.app.correct import planned
from wormwright.app.folder import Folder
from wormwright.app.measure import Sound, sound
from wormwright.app.problems import document
from wormwright.bench import Bench
from wormwright.job.corrections import SettingRow
from wormwright.job.parts import EccentricBushing
from wormwright.job.recheck import Recheck
from wormwright.job.result import StageRefusal
from wormwright.packet import Document
from wormwright.stages.keep import recheck, recheck_blocks
from wormwright.traveler import live_readings


def recheck_document(folder: Folder) -> Document:
    """Is the finished axis still good, what has moved, what to adjust, when to look again.

    Raises:
        StageRefusal: no rock was read since the unit was last worked on.
    """
    found, live = rechecked(folder)
    return document("Re-check", folder, (*live.blocks(), *recheck_blocks(found)))


def rechecked(folder: Folder) -> tuple[Recheck, Sound]:
    """What the checks show, and the readings it stands on.

    Raises:
        StageRefusal: no rock was read since the unit was last worked on.
    """
    live = sound(folder, live_readings(folder.readings, folder.sign_offs))
    chart, angle = _setting(folder)
    try:
        return recheck(Bench(folder.job, live.readings), chart=chart, angle_now=angle), live
    except StageRefusal as refusal:
        raise StageRefusal(refusal.stage, (*live.kept_out, *refusal.doubts)) from None


def _setting(folder: Folder) -> tuple[tuple[SettingRow, ...], float | None]:
    """The setting chart, and the bushing angle as it was locked; nothing where none was locked."""
    turned = [
        value
        for signed in folder.sign_offs
        if signed.operation == "final_depth" and signed.verdict != "failed"
        for key, value, _ in signed.gate_values
        if key == "turned"
    ]
    if not turned:
        return (), None
    try:
        found = planned(folder)
    except StageRefusal:
        return (), None
    chosen = found.remedy.chosen
    parts = [p for c in chosen.corrections for p in c.parts] if chosen else []
    start = next((p.start_angle for p in parts if isinstance(p, EccentricBushing)), None)
    if start is None:
        return (), None
    return found.remedy.setting_chart, start + turned[-1]
