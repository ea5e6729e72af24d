"""The stages that have a page: one row each, in the order of the job.

A page is the stage's own report. A stage that is built adds its row here and has a page, a link in
every head and a place in the interface; nothing else needs to know it.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from wormwright.app.folder import Folder
from wormwright.job.blocks import Doubts, Paragraph
from wormwright.job.result import StageRefusal
from wormwright.packet import Document
from wormwright.web.live_folder import Snapshot
from wormwright.web.reckonings import FINDINGS, PLAN


@dataclass(frozen=True, slots=True)
class StagePage:
    """A stage: its one name, the question it answers, and the document that answers it.

    `tool` is the template of what can be done on the page besides reading it, `extra` what that
    template needs. `needs` names the long reckoning that the document stands on, if any: the page
    waits for it without holding anybody up.
    """

    key: str
    question: str
    document: Callable[[Folder], Document]
    tool: str = ""
    extra: Callable[[Folder], Mapping[str, object]] | None = None
    needs: str = ""


def _choice(folder: Folder) -> Document:
    from wormwright.app.choose import choice_document  # noqa: PLC0415

    return choice_document(folder)


def _sheet(folder: Folder) -> Document:
    from wormwright.app.measure import sheet_document  # noqa: PLC0415  (late: costs start-up)

    return sheet_document(folder)


def _diagnosis(folder: Folder) -> Document:
    from wormwright.app.diagnose import diagnosis_document  # noqa: PLC0415

    return diagnosis_document(folder)


def _remedy(folder: Folder) -> Document:
    from wormwright.app.correct import remedy_document  # noqa: PLC0415

    return remedy_document(folder, full=True)


def _mounting(folder: Folder) -> Document:
    from wormwright.app.mount import mounting_document  # noqa: PLC0415

    return mounting_document(folder)


def _proof(folder: Folder) -> Document:
    from wormwright.app.prove import proof_document  # noqa: PLC0415

    return proof_document(folder)


def _commission(folder: Folder) -> Document:
    from wormwright.app.commission import commission_document  # noqa: PLC0415

    return commission_document(folder)


def _kinds(folder: Folder) -> Mapping[str, object]:
    from wormwright.web.kind_chooser import kind_groups  # noqa: PLC0415

    return {"groups": kind_groups(folder)}


def _plans(folder: Folder) -> Mapping[str, object]:
    from wormwright.web.plan_page import plan_page  # noqa: PLC0415

    return plan_page(folder)


def _recheck(folder: Folder) -> Document:
    from wormwright.app.recheck import recheck_document  # noqa: PLC0415

    return recheck_document(folder)


STAGES: tuple[StagePage, ...] = (
    StagePage("choose", "Which drive suits the work, before it is bought?", _choice),
    StagePage(
        "measure", "What is read, what is missing, what looks wrong?", _sheet, "measure", _kinds
    ),
    StagePage("diagnose", "Where does the lost motion come from?", _diagnosis, needs=FINDINGS),
    StagePage(
        "correct", "What to make, and will it be enough?", _remedy, "correct", _plans, needs=PLAN
    ),
    StagePage("mount", "How does it stand on the machine, and what to pack?", _mounting),
    StagePage("commission", "What is typed into the control, what will the motor do?", _commission),
    StagePage("prove", "Is the finished axis as good as it must be?", _proof),
    StagePage("keep", "Is it still as good as it was?", _recheck, needs=PLAN),
)


def document_of(key: str, snapshot: Snapshot) -> Document:
    """The document of that stage's page, made once; what is missing, while it cannot answer."""
    stage = next(s for s in STAGES if s.key == key)

    def made(folder: Folder) -> Document:
        try:
            return stage.document(folder)
        except StageRefusal as refusal:
            return _not_yet(stage, refusal)

    return snapshot.kept(f"stage {key}", made)


def _not_yet(stage: StagePage, refusal: StageRefusal) -> Document:
    words = "The readings are not enough for an honest answer yet. What is missing:"
    return Document(stage.key, "", False, (Paragraph(words, strong=True), Doubts(refusal.doubts)))
