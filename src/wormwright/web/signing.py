"""Signing off from a page or a program: once, and against the plan as it stands."""

from __future__ import annotations

from collections.abc import Mapping

from wormwright.app.correct import planned, remember_plan
from wormwright.app.sign import sign_off
from wormwright.app.taken import signed_before
from wormwright.job.result import StageRefusal
from wormwright.packet import Document
from wormwright.web.desk import Desk
from wormwright.web.live_folder import LiveFolder, Snapshot
from wormwright.web.reckonings import PLAN


def signed(
    desk: Desk, *, operation: str, initials: str, gates: Mapping[str, str], note: str, when: str
) -> Document | None:
    """The answer to a sign-off, or None if this very request has been answered before.

    Raises:
        Refused: it cannot be signed now, with the reason.
        QuantityError: a gate value is not a quantity.
        JobFolderError: the sign-off could not be written.
    """
    on = desk.waited(PLAN)
    with desk.lock:
        folder = desk.folder()
        if when and signed_before(folder, operation, initials, when):
            return None
        _know_the_plan(folder, on)
        return sign_off(folder, operation, initials=initials, gates=gates, note=note, when=when)


def _know_the_plan(folder: LiveFolder, on: Snapshot) -> None:
    """Hand over the plan that was made for the snapshot; it counts while nothing has changed."""
    try:
        remember_plan(folder, planned(on), on)
    except StageRefusal as refusal:
        remember_plan(folder, refusal, on)
