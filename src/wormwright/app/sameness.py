"""Sameness: a guide made from a finished job, and a unit compared with it before metal is cut."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

from wormwright import __version__
from wormwright.app.correct import Planned, planned
from wormwright.app.folder import Folder
from wormwright.app.measure import sound
from wormwright.app.problems import document
from wormwright.app.refused import refused
from wormwright.app.sign import planned_operations, planned_parts
from wormwright.bench import Bench
from wormwright.job.blocks import Block, Cell, Doubts, Heading, Paragraph, PartDrawing, Steps, Table
from wormwright.job.guide import Guide, GuidePart, GuideStep, SamenessFound
from wormwright.job.parts import Part
from wormwright.job.result import StageRefusal
from wormwright.job.rotary import Units
from wormwright.packet import Document, Style
from wormwright.stages.correct.part_names import part_caption, part_name
from wormwright.stages.keep import compare, guide_blocks, make_guide, sameness_blocks
from wormwright.store.guide_file import guide_source, read_guide, seal_guide, write_guide
from wormwright.store.safe_write import replace_file
from wormwright.traveler import readings_as_found


def against_document(folder: Folder, guide_folder: Path, result: Path | None = None) -> Document:
    """Whether this unit is what the guide was made for, and the parts reckoned for this one.

    With `result` the answer is written to that file as well, to be sent to the guide's author.

    Raises:
        JobFolderError: the guide is none, or is not what its author sealed.
    """
    guide = read_guide(guide_folder)
    found = compare(_as_found(folder), guide)
    own, blocks = _own_parts(folder, guide)
    if result is not None:
        replace_file(result, _result(found, own).encode())
        blocks = (*blocks, Paragraph(f"Written for the author of the guide: {result}"))
    return document("Sameness", folder, (*sameness_blocks(found), *blocks))


def guide_from(folder: Folder, place: Path, *, title: str, version: str) -> Document:
    """Make a guide folder from this job: limits proposed, nothing private in it.

    Raises:
        StageRefusal: too little was read, or nothing can be planned.
        JobFolderError: the place is taken.
    """
    if not title.strip():
        raise refused(
            "keep --as-guide",
            expected="a title for the guide",
            got="none",
            do='say for which kind of unit: --title "150 mm table, 80:1"',
        )
    found = planned(folder)
    parts = planned_parts(found)
    units = folder.job.units
    guide = make_guide(
        _as_found(folder),
        title=title,
        version=version,
        plan=found.remedy.chosen.key if found.remedy.chosen else "",
        parts=tuple(_guide_part(part, units) for part in parts),
        steps=tuple(
            GuideStep(op.number, op.key, op.title) for op in planned_operations(folder, found)
        ),
    )
    written = write_guide(place, guide_source(guide, units), _papers(guide, parts, folder))
    return document("Rebuild guide", folder, _after_writing(written, place))


def sealed_document(place: Path) -> Document:
    """Seal a guide whose limits its author has set.

    Raises:
        JobFolderError: a fault in it, or changed content under an unchanged version.
    """
    guide = seal_guide(place)
    blocks = (*guide_blocks(guide), Paragraph(f"Sealed: {guide.named}", strong=True))
    return Document("Rebuild guide", guide.title, guide.made_up, blocks)


def _as_found(folder: Folder) -> Bench:
    """The sound readings of the unit as it was found."""
    kept = sound(folder, readings_as_found(folder.readings, folder.sign_offs))
    return Bench(folder.job, kept.readings)


def _guide_part(part: Part, units: Units) -> GuidePart:
    from wormwright.packet.part_sizes import part_rows  # noqa: PLC0415  (late: knows every part)

    sizes = tuple(
        (row[0].primary, " ".join(cell.line for cell in row[1:])) for row in part_rows(part, units)
    )
    return GuidePart(part_name(part), sizes)


def _papers(guide: Guide, parts: tuple[Part, ...], folder: Folder) -> dict[str, bytes]:
    """The guide to read and print, and the drawings of its parts."""
    from wormwright.packet.html import html_of  # noqa: PLC0415
    from wormwright.packet.laid_out import laid_out  # noqa: PLC0415
    from wormwright.packet.pdf import pdf_of  # noqa: PLC0415
    from wormwright.packet.pictures import Pictures  # noqa: PLC0415

    style = Style(units=folder.job.units, sheet=folder.job.sheet)
    drawings = tuple(PartDrawing(part_caption(part), part_name(part), part) for part in parts)
    head = Document(
        "Rebuild guide",
        guide.title,
        guide.made_up,
        (*guide_blocks(guide), Heading("Parts as drawn for the first unit"), *drawings),
        unit_id="first unit of the guide",
        job=guide.title,
    )
    pictures = Pictures(style, head)
    data = laid_out(head, style, pictures)
    papers = {"guide.pdf": pdf_of(data), "guide.html": html_of(data).encode()}
    for drawing in pictures.drawings:
        papers[f"drawings/{drawing.name}.pdf"] = drawing.pdf
        papers[f"drawings/{drawing.name}.dxf"] = drawing.dxf.encode()
    return papers


def _own_parts(folder: Folder, guide: Guide) -> tuple[tuple[GuidePart, ...], tuple[Block, ...]]:
    """The parts reckoned for this unit, and the blocks that set them beside the guide's."""
    heading = Heading("Parts reckoned for this unit", 2)
    try:
        found = _by_the_plan_of(folder, guide)
    except StageRefusal as refusal:
        why = Paragraph("The parts cannot be reckoned for this unit yet:")
        return (), (heading, why, Doubts(refusal.doubts))
    chosen = found.remedy.chosen
    if chosen is None:
        return (), (heading, Paragraph("No plan meets the duty of this unit; see correct."))
    units = folder.job.units
    own = tuple(_guide_part(part, units) for part in planned_parts(found))
    words = "the plan of the guide" if chosen.key == guide.plan else "not the plan of the guide"
    note = Paragraph(
        f"By its own readings this unit takes: {chosen.label} ({words}). Make these sizes, not "
        "those of the guide."
    )
    columns = ("part", "size", "in the guide", "for this unit", "the same")
    return own, (heading, note, Table("Guide and this unit", columns, _beside(guide, own)))


def _by_the_plan_of(folder: Folder, guide: Guide) -> Planned:
    """This unit planned with the guide's plan where it may be carried out, else with its own."""
    own = planned(folder)
    offered = {plan.key for plan in own.remedy.plans if plan.offered}
    if guide.plan not in offered:
        return own
    return planned(folder, replace(folder.job, plan=guide.plan))


def _beside(guide: Guide, own: tuple[GuidePart, ...]) -> tuple[tuple[Cell, ...], ...]:
    mine = {(part.name, label): size for part in own for label, size in part.sizes}
    its = {(part.name, label): size for part in guide.parts for label, size in part.sizes}
    rows = []
    for name, label in dict.fromkeys((*its, *mine)):
        there, here = its.get((name, label), "none"), mine.get((name, label), "none")
        same = "yes" if there == here else "NO"
        rows.append((Cell(name), Cell(label), Cell(there), Cell(here), Cell(same)))
    return tuple(rows)


def _after_writing(guide: Guide, place: Path) -> tuple[Block, ...]:
    return (
        Paragraph(f"The guide lies in {place}: {guide.named}.", strong=True),
        Steps(
            (
                f"Open {place / 'guide.toml'} and set the limits of every row to what the parts "
                "allow; what stands there now is a proposal.",
                'Set limits_by = "author" and a new version.',
                f"wormwright keep {place} --seal",
                "Give the whole folder away; whoever has such a unit types: "
                "wormwright keep DIR --against FOLDER",
            )
        ),
        *guide_blocks(guide),
    )


def _result(found: SamenessFound, own: tuple[GuidePart, ...]) -> str:
    """The answer as one file for the author of the guide: no names, no notes."""
    rows = [
        {
            "kind": c.row.kind,
            "station": c.row.station,
            "answer": c.answer,
            "value": c.value,
            "u": c.u,
            "word": c.word,
            "chance_within": c.chance,
        }
        for c in found.rows
    ]
    failed = found.first_failed
    answer = {
        "format": 1,
        "wormwright": __version__,
        "guide": {
            "title": found.guide.title,
            "version": found.guide.version,
            "seal": found.guide.seal,
        },
        "unit": found.unit_id,
        "answer": found.answer,
        "first_failed": None if failed is None else [failed.row.kind, failed.row.station],
        "rows": rows,
        "parts": {part.name: dict(part.sizes) for part in own},
    }
    return json.dumps(answer, ensure_ascii=False, indent=1) + "\n"
