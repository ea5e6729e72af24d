"""What the readings say so far, for the side of the entry box, and which to take next."""

from __future__ import annotations

from wormwright.app.findings import findings
from wormwright.web.desk import Desk
from wormwright.web.entry_page import doubts_as_data
from wormwright.web.live_folder import Snapshot
from wormwright.web.reckonings import FINDINGS
from wormwright.web.show import blocks_of
from wormwright.web.stages import document_of

Data = dict[str, object]
PAGE = "diagnose"
"""The pictures are those of this page: each is drawn once."""


def findings_panel(desk: Desk) -> Data:
    """The next most useful reading and the short of the diagnosis, as last reckoned."""
    stand = desk.standing(FINDINGS, patience_s=0)
    if stand.snapshot is None:
        return {"behind": True, "known": False}
    shown = stand.snapshot
    panel = shown.kept("findings", lambda _: _panel(desk, shown))
    return {**panel, "behind": not stand.current}


def _panel(desk: Desk, shown: Snapshot) -> Data:
    whole = document_of(PAGE, shown)
    found = findings(shown, whole)
    return {
        "known": True,
        "next": found.next,
        "doubts": doubts_as_data(found.doubts),
        "laid_out": blocks_of(desk, PAGE, whole, shown, found.short),
    }
