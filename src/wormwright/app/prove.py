"""Prove: hands the live, sound readings of the finished axis to the stage."""

from __future__ import annotations

from wormwright.app.folder import Folder
from wormwright.app.measure import Sound, sound
from wormwright.app.problems import document
from wormwright.job.blocks import Block
from wormwright.job.findings import Diagnosis
from wormwright.job.proof import Proof
from wormwright.job.reading import Reading
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Job
from wormwright.job.sheet import PROOF_KINDS
from wormwright.packet import Document
from wormwright.stages.diagnose import diagnose
from wormwright.stages.prove import certificate, prove, report
from wormwright.traveler import live_readings, readings_as_found


def proved(folder: Folder) -> tuple[Proof, Sound]:
    """What the readings of the finished axis show, and the readings it stands on.

    Raises:
        StageRefusal: nothing was read on the finished axis, or not enough for any topic.
    """
    live = sound(folder, live_readings(folder.readings, folder.sign_offs))
    before = sound(folder, readings_as_found(folder.readings, folder.sign_offs)).readings
    try:
        return _proved(folder.job, live.readings, before), live
    except StageRefusal as refusal:
        raise StageRefusal(refusal.stage, (*live.kept_out, *refusal.doubts)) from None


def _proved(job: Job, live: tuple[Reading, ...], before: tuple[Reading, ...]) -> Proof:
    """The proof; the diagnosis of the unit stands in once the work on it has been read."""
    diagnosis = _diagnosis(job, live) if _finished(live, before) else None
    return prove(job, live, diagnosis=diagnosis, before=before)


def _finished(live: tuple[Reading, ...], before: tuple[Reading, ...]) -> bool:
    """Whether anything was read of the finished axis: under power, or again after the work."""
    old = {r.seq for r in before}
    return any(r.seq not in old or r.kind in PROOF_KINDS for r in live)


def _diagnosis(job: Job, live: tuple[Reading, ...]) -> Diagnosis | None:
    try:
        return diagnose(job, live)
    except StageRefusal:
        return None


def proof_document(folder: Folder) -> Document:
    """Whether the finished axis is as good as it must be.

    Raises:
        StageRefusal: nothing was read on the finished axis, or not enough for any topic.
    """
    proof, live = proved(folder)
    blocks: tuple[Block, ...] = (*live.blocks(), *report(proof, folder.job))
    return document("Proof", folder, blocks)


def certificate_document(folder: Folder) -> Document:
    """The certificate of the finished axis.

    Raises:
        StageRefusal: nothing was read on the finished axis, or not enough for any topic.
    """
    return document("Certificate of test", folder, certificate(proved(folder)[0], folder.job))


def proof_if_read(folder: Folder) -> Proof | None:
    """The proof for the packet; None while nothing of it was read."""
    live = live_readings(folder.readings, folder.sign_offs)
    if not _finished(live, readings_as_found(folder.readings, folder.sign_offs)):
        return None
    try:
        return proved(folder)[0]
    except StageRefusal:
        return None
