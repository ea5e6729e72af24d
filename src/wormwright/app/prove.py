"""Prove: hands the live, sound readings of the finished axis to the stage."""

from __future__ import annotations

from wormwright.app.folder import Folder
from wormwright.app.measure import Sound, sound
from wormwright.app.problems import document
from wormwright.job.blocks import Block
from wormwright.job.proof import Proof
from wormwright.job.result import StageRefusal
from wormwright.packet import Document
from wormwright.stages.prove import prove, report
from wormwright.traveler import live_readings


def proved(folder: Folder) -> tuple[Proof, Sound]:
    """What the readings of the finished axis show, and the readings it stands on.

    Raises:
        StageRefusal: nothing was read on the finished axis, or not enough for any topic.
    """
    live = sound(folder, live_readings(folder.readings, folder.sign_offs))
    try:
        return prove(folder.job, live.readings), live
    except StageRefusal as refusal:
        raise StageRefusal(refusal.stage, (*live.kept_out, *refusal.doubts)) from None


def proof_document(folder: Folder) -> Document:
    """Whether the finished axis is as good as it must be.

    Raises:
        StageRefusal: nothing was read on the finished axis, or not enough for any topic.
    """
    proof, live = proved(folder)
    blocks: tuple[Block, ...] = (*live.blocks(), *report(proof, folder.job))
    return document("Proof", folder, blocks)


def proof_if_read(folder: Folder) -> Proof | None:
    """The proof for the packet; None while nothing of it was read."""
    try:
        return proved(folder)[0]
    except StageRefusal:
        return None
