"""Mount: hands the live, sound readings to the stage and its blocks to the reader."""

from __future__ import annotations

from wormwright.app.folder import Folder
from wormwright.app.measure import Sound, sound
from wormwright.app.problems import document
from wormwright.job.blocks import Block
from wormwright.job.mounting import Mounting
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Job
from wormwright.packet import Document
from wormwright.stages.mount import mount, report
from wormwright.traveler import live_readings


def mounted(folder: Folder, job: Job | None = None) -> tuple[Mounting, Sound]:
    """How the unit stands on the machine, and the readings that this stands on.

    Raises:
        StageRefusal: nothing was read on the machine and no set-up was given.
    """
    live = sound(folder, live_readings(folder.readings, folder.sign_offs))
    try:
        return mount(job or folder.job, live.readings), live
    except StageRefusal as refusal:
        raise StageRefusal(refusal.stage, (*live.kept_out, *refusal.doubts)) from None


def mounting_document(folder: Folder) -> Document:
    """How the axis stands on the machine, and what to pack, cut and make.

    Raises:
        StageRefusal: nothing was read on the machine and no set-up was given.
    """
    found, live = mounted(folder)
    blocks: tuple[Block, ...] = (*live.blocks(), *report(found, folder.job))
    return document("Mounting", folder, blocks)


def mounting_if_given(folder: Folder, job: Job) -> Mounting | None:
    """The mounting for the packet, in the units of `job`; None while there is nothing of it."""
    try:
        return mounted(folder, job)[0]
    except StageRefusal:
        return None
