"""The short of a diagnosis for the side of an entry box, and which reading to take next."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.app.diagnose import diagnosed
from wormwright.app.folder import Folder
from wormwright.app.measure import sheet_of
from wormwright.job.blocks import Block, ContributorBars, Paragraph, PolarMap
from wormwright.job.result import Doubt, StageRefusal
from wormwright.job.sheet import KINDS
from wormwright.packet import Document

PURPOSE = "diagnosis"


@dataclass(frozen=True, slots=True)
class NextUp:
    """A reading worth taking: its minutes and gain in words, and the kind it is entered under."""

    kind: str
    words: str
    tells: str


@dataclass(frozen=True, slots=True)
class Findings:
    """What the readings say so far. `doubts` say why that is nothing yet."""

    next: NextUp | None
    short: Document
    doubts: tuple[Doubt, ...] = ()


def findings(folder: Folder, document: Document) -> Findings:
    """The strong sentences and the pictures of the diagnosis `document`, and what to read next."""
    try:
        found = diagnosed(folder).diagnosis
    except StageRefusal as refusal:
        short = Document(document.title, document.subtitle, document.made_up, ())
        return Findings(_wanted(folder), short, refusal.doubts)
    offered = [b for b in document.blocks if _offers(b, found.next_reading)]
    shown = tuple(b for b in document.blocks if _counts(b) and b not in offered)
    best = found.next_readings[0] if found.next_readings else None
    words = offered[0].text if offered and isinstance(offered[0], Paragraph) else ""
    short = Document(document.title, document.subtitle, document.made_up, shown)
    return Findings(NextUp(best.kind, words, best.tells) if best else None, short)


def _counts(block: Block) -> bool:
    if isinstance(block, Paragraph):
        return block.strong
    return isinstance(block, ContributorBars | PolarMap)


def _offers(block: Block, reading: str) -> bool:
    """Whether this is the sentence that names the next reading."""
    return isinstance(block, Paragraph) and block.strong and bool(reading) and reading in block.text


def _wanted(folder: Folder) -> NextUp | None:
    """The first reading on the sheet that a diagnosis cannot do without."""
    missing = sheet_of(folder).purpose(PURPOSE).missing
    if not missing:
        return None
    kind = KINDS[missing[0]]
    words = f"Next on the sheet: {kind.label} ({kind.minutes:.0f} min); a diagnosis needs it."
    return NextUp(kind.key, words, kind.tells)
