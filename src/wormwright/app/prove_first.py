"""Prove: with what to measure, and how to close the circle, before anything is read."""

from __future__ import annotations

from wormwright.app.folder import Folder
from wormwright.app.problems import document
from wormwright.bench import Bench, pair_in_hand
from wormwright.packet import Document
from wormwright.stages.prove import closure_plan_blocks, means_blocks
from wormwright.traveler import live_readings


def means_document(folder: Folder) -> Document:
    """What each means of measuring the angle can prove for this duty."""
    return document("Means of measuring", folder, means_blocks(folder.job))


def closure_plan_document(folder: Folder, faces: int) -> Document:
    """The re-settings of an artefact of that many faces, and what they buy.

    Raises:
        ValueError: an artefact that cannot be closed round the turn.
    """
    live = live_readings(folder.readings, folder.sign_offs)
    pair = pair_in_hand(Bench(folder.job, live))
    blocks = closure_plan_blocks(faces, pair.ratio if pair else None)
    return document("Plan of the closure", folder, blocks)
