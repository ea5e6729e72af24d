"""Packet: traveler, report, results and drawings of a job, written into its folder."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from datetime import date
from pathlib import Path

from wormwright.app.choose import card_of, choice_document
from wormwright.app.commission import commission_papers
from wormwright.app.correct import Planned, planned
from wormwright.app.folder import Folder
from wormwright.app.measure import sheet_of
from wormwright.app.mount import mounting_if_given
from wormwright.app.problems import document
from wormwright.app.prove import proof_if_read
from wormwright.app.prove_plan import planned_texts
from wormwright.app.sign import planned_operations, planned_parts, traveler_blocks
from wormwright.charts.second_process import ChartProcess
from wormwright.job.blocks import Block, Cell, ContributorBars, Doubts, Heading, Paragraph, Table
from wormwright.job.proof import Proof
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Job, Sheet, Units
from wormwright.packet import Document, Packet, Style, results_json, write_packet
from wormwright.stages.diagnose import diagnose
from wormwright.stages.diagnose import report as diagnosis_report
from wormwright.stages.mount import report as mounting_report
from wormwright.stages.prove import certificate, compensation_files
from wormwright.stages.prove import report as proof_report

PACKET = "packet"
_WHAT = {
    "traveler": "the order of work with boxes to tick, for the bench",
    "report": "what was found, what to make, what to expect",
    "results": "the results for other programs",
    "certificate": "figures, verdict, instruments and conditions of the finished axis, to sign",
    "setting-chart": "bushing angle against closing and sideways",
    "drawings": "dimensioned drawing of a part to make",
    "compensation": "error table and reversal value for the control, with their sign",
    "choice": "which drive suits the work, and on what that hangs",
    "purchase-card": "one page for the seller's bench",
    "commission": "what is typed into the control; sheet and test programmes beside it",
    "positioning-test": "the planned test: programme for the control, form for the readings",
}


def packet_document(
    folder: Folder, *, sheet: Sheet | None = None, units: Units | None = None
) -> Document:
    """Write the packet and say what lies where.

    Raises:
        StageRefusal: the readings are not enough even for a diagnosis.
    """
    style = Style(units=units or folder.job.units, sheet=sheet or folder.job.sheet)
    with ChartProcess() as charts:
        try:
            packet = _full(folder, planned(folder), style)
        except StageRefusal as refusal:
            packet = _without_plan(folder, refusal, style)
        papers, texts = _of_the_drive(folder, style)
        texts = (*packet.texts, *planned_texts(folder), *texts)
        packet = replace(packet, texts=texts, more=papers)
        written = write_packet(folder.path / PACKET, packet, style, charts)
    return _written(folder, written)


def _of_the_drive(
    folder: Folder, style: Style
) -> tuple[tuple[tuple[str, Document], ...], tuple[tuple[str, str], ...]]:
    """Papers and files about drive and control, as far as job.toml describes them."""
    papers: list[tuple[str, Document]] = []
    texts: tuple[tuple[str, str], ...] = ()
    job = replace(folder.job, units=style.units)
    if job.work and job.drives:
        papers.append(("choice", _dated(folder, choice_document(folder, job))))
        papers.append(("purchase-card", card_of(folder, job)))
    if job.control is not None:
        with suppress(StageRefusal):  # the page of the stage says what is missing
            document, texts = commission_papers(folder, job)
            papers.append(("commission", _dated(folder, document)))
    return tuple(papers), texts


def _full(folder: Folder, found: Planned, style: Style) -> Packet:
    from wormwright.stages.correct import report as remedy_report  # noqa: PLC0415

    job = replace(folder.job, units=style.units)
    operations = planned_operations(folder, found)
    remedy_blocks = remedy_report(found.remedy, job)
    proof, mounting = proof_if_read(folder), mounting_if_given(folder, job)
    blocks = (
        *found.sound.blocks(),
        *_unless_shown_again(diagnosis_report(found.diagnosis, job), remedy_blocks),
        *remedy_blocks,
        *(() if mounting is None else mounting_report(mounting, job)),
        *(() if proof is None else proof_report(proof, job)),
    )
    traveler = _headed("Traveler", folder, traveler_blocks(folder, found, style.units))
    return Packet(
        traveler=replace(traveler, bench=True),
        report=_headed("Report", folder, blocks),
        results=results_json(job, found.diagnosis, found.remedy, operations, proof),
        setting_chart=found.remedy.setting_chart,
        parts=(*planned_parts(found), *(mounting.parts if mounting else ())),
        certificate=_certificate(folder, proof, job),
        texts=_for_the_control(proof, job),
    )


def _for_the_control(proof: Proof | None, job: Job) -> tuple[tuple[str, str], ...]:
    """Error table and reversal value, where the proof offers them."""
    made = None if proof is None else proof.compensation
    return () if made is None else compensation_files(made, job.rotary.unit_id)


def _unless_shown_again(found: tuple[Block, ...], planned: tuple[Block, ...]) -> tuple[Block, ...]:
    """The diagnosis without its contributor chart where the plan draws it beside its prediction."""
    if not any(isinstance(block, ContributorBars) for block in planned):
        return found
    return tuple(block for block in found if not isinstance(block, ContributorBars))


def _without_plan(folder: Folder, refusal: StageRefusal, style: Style) -> Packet:
    """The packet while nothing can be planned: the diagnosis, and the baseline to complete it."""
    if refusal.stage == "diagnose":
        raise refusal
    job = replace(folder.job, units=style.units)
    diagnosis = diagnose(job, sheet_of(folder).usable)
    operations = planned_operations(folder, None)
    missing = (
        Heading("Nothing can be planned yet"),
        Paragraph("What stands in the way:"),
        Doubts(refusal.doubts),
    )
    traveler = _headed("Traveler", folder, traveler_blocks(folder, None, style.units))
    proof = proof_if_read(folder)
    proved = () if proof is None else proof_report(proof, job)
    return Packet(
        traveler=replace(traveler, bench=True),
        report=_headed("Report", folder, (*diagnosis_report(diagnosis, job), *missing, *proved)),
        results=results_json(job, diagnosis, None, operations, proof),
        certificate=_certificate(folder, proof, job),
    )


def _certificate(folder: Folder, proof: Proof | None, job: Job) -> Document | None:
    """The certificate of a finished axis that was judged."""
    blocks = () if proof is None else certificate(proof, job)
    return _headed("Certificate of test", folder, blocks) if blocks else None


def _headed(title: str, folder: Folder, blocks: tuple[Block, ...]) -> Document:
    """A document that goes on paper: with the marks of unit and job and the day it was made."""
    return _dated(folder, document(title, folder, blocks))


def _dated(folder: Folder, paper: Document) -> Document:
    job = folder.job
    return replace(
        paper,
        unit_id=job.rotary.unit_id,
        job=job.name,
        date_text=date.today().isoformat(),
    )


def _written(folder: Folder, paths: tuple[Path, ...]) -> Document:
    """What was written: each thing once, with the forms it comes in and what it is for."""
    place = folder.path / PACKET
    forms: dict[str, list[str]] = {}
    for path in paths:
        name = path.relative_to(place).with_suffix("").as_posix()
        forms.setdefault(name, []).append(path.suffix.lstrip("."))
    rows = tuple(
        (Cell(name), Cell(", ".join(kinds)), Cell(_WHAT.get(name.partition("/")[0], "")))
        for name, kinds in forms.items()
    )
    blocks: tuple[Block, ...] = (
        Paragraph(f"The packet lies in {place}.", strong=True),
        Table(f"{len(paths)} files", ("what", "forms", "for"), rows),
        Paragraph("It is made afresh each time and is safe to delete."),
    )
    return document("Packet", folder, blocks)
