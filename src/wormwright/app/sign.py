"""The traveler of a job, and signing its operations off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from wormwright.app.correct import Planned, planned
from wormwright.app.folder import Folder
from wormwright.app.problems import document
from wormwright.app.refused import Refused, nearest, refused
from wormwright.bench import Bench
from wormwright.job.blocks import Block, Cautions, Doubts, Paragraph, Steps
from wormwright.job.operation import Gate, Operation
from wormwright.job.parts import Part
from wormwright.job.result import Doubt, StageRefusal
from wormwright.job.rotary import Units
from wormwright.packet import Document
from wormwright.quantities import read
from wormwright.traveler import (
    ALL,
    Signing,
    SignOffError,
    overview,
    plan_operations,
    progress,
    report,
    sign,
    way_back,
    what_next,
)
from wormwright.traveler.restore import RESTORE


def planned_operations(folder: Folder, found: Planned | None) -> tuple[Operation, ...]:
    """The operations that the chosen plan and its failed gates need.

    Only the baseline while nothing is planned.
    """
    if found is None:
        return plan_operations(folder.job, None)
    span = Bench(folder.job, found.sound.readings).figure("bearing_span")
    return plan_operations(
        folder.job,
        found.remedy,
        pair=found.diagnosis.pair,
        span=None if span is None else span.value,
        sign_offs=folder.sign_offs,
    )


def planned_parts(found: Planned | None) -> tuple[Part, ...]:
    """The parts that the chosen plan makes."""
    chosen = found.remedy.chosen if found else None
    return tuple(p for c in chosen.corrections for p in c.parts) if chosen else ()


def traveler_blocks(folder: Folder, found: Planned | None, units: Units) -> tuple[Block, ...]:
    """The order of work with its state and gates, hours, materials, and the way back."""
    return report(
        planned_operations(folder, found),
        readings=folder.readings,
        sign_offs=folder.sign_offs,
        job=replace(folder.job, units=units),
        parts=planned_parts(found),
    )


def traveler_document(folder: Folder, *, full: bool = False) -> Document:
    """Where the work stands and the page of the operation to do now; with `full` every page.

    While nothing can be planned, the baseline and what stands in the way.
    """
    found, doubts = plan_or_doubts(folder)
    blocks: list[Block] = []
    if doubts:
        blocks.append(Paragraph("Nothing can be planned yet, so only the baseline is ordered."))
        blocks.append(Doubts(doubts))
    if full:
        blocks += traveler_blocks(folder, found, folder.job.units)
    else:
        blocks += overview(
            planned_operations(folder, found),
            readings=folder.readings,
            sign_offs=folder.sign_offs,
            job=folder.job,
        )
        blocks.append(
            Paragraph(
                "Every page, hours, tools and materials: "
                f"wormwright sign {folder.path} --full. The way back: --restore."
            )
        )
    return document("Traveler", folder, tuple(blocks))


def restore_document(folder: Folder) -> Document:
    """What to put back, and how, to have the unit as it was on the first day."""
    return document(RESTORE, folder, way_back(folder.readings, folder.sign_offs))


def plan_or_doubts(folder: Folder) -> tuple[Planned | None, tuple[Doubt, ...]]:
    """The plan, or what stands in its way."""
    try:
        return planned(folder), ()
    except StageRefusal as refusal:
        return None, refusal.doubts


def sign_off(
    folder: Folder,
    operation: str,
    *,
    initials: str,
    gates: Mapping[str, str],
    note: str,
    when: str = "",
) -> Document:
    """Judge an operation against its gates, write the sign-off down, and say what next.

    `when` is the moment of the sign-off; left empty, the store's clock gives it.

    Raises:
        Refused: it cannot be signed now, with the reason.
        QuantityError: a gate value is not a quantity.
        JobFolderError: the sign-off could not be written.
    """
    found, _ = plan_or_doubts(folder)
    operations = planned_operations(folder, found)
    if operation not in ALL:
        raise refused(
            f"sign {operation}",
            expected="the key of an operation",
            got=repr(operation),
            do=nearest(operation, [op.key for op in operations]),
        )
    if not initials.strip():
        raise refused(
            f"sign {operation}",
            expected="the initials of whoever did it",
            got="none",
            do="add --initials XY",
        )
    typed = _gates_typed(operation, operations, gates)
    values = {gate.key: _value(gate, text, folder) for gate, text in typed}
    try:
        signing = sign(
            operation,
            values,
            operations=operations,
            readings=folder.readings,
            sign_offs=folder.sign_offs,
            note=note,
        )
    except SignOffError as error:
        raise Refused(f"sign {operation}: {error} Nothing was written.") from None
    folder.append_sign_off(
        operation, initials=initials, verdict=signing.verdict, gates=typed, note=note, when=when
    )
    return document("Sign-off", folder, _answer(signing, folder, planned_operations(folder, found)))


def _gates_typed(
    operation: str, operations: tuple[Operation, ...], gates: Mapping[str, str]
) -> tuple[tuple[Gate, str], ...]:
    known = {gate.key: gate for op in operations if op.key == operation for gate in op.gates}
    for key in gates:
        if known and key not in known:
            raise refused(
                f"sign {operation} --gate {key}",
                expected=f"a gate of this operation: {', '.join(known)}",
                got=repr(key),
                do=nearest(key, known),
            )
    return tuple((known[key], text) for key, text in gates.items() if key in known)


def _value(gate: Gate, text: str, folder: Folder) -> float:
    """The gate value in its core unit; yes or no for a gate that is no quantity."""
    if gate.dimension == "none":
        word = text.strip().casefold()
        if word not in ("yes", "no"):
            raise refused(f"gate {gate.key}", expected="yes or no", got=repr(text), do=gate.how)
        return 1.0 if word == "yes" else 0.0
    return read(text, gate.dimension, field=f"gate {gate.key}", units=folder.job.units).value


def _answer(
    signing: Signing, folder: Folder, operations: tuple[Operation, ...]
) -> tuple[Block, ...]:
    """The verdict, what each failed gate asks for, and the operation that comes next."""
    op = ALL[signing.operation]
    named = f"{op.number} {op.title}"
    if signing.outside:
        outside = ", ".join(gate.label for gate in signing.outside)
        verdict = f"{named}: recorded as failed. Outside its limits: {outside}."
    else:
        verdict = f"{named}: signed off."
    steps = progress(operations, folder.readings, folder.sign_offs)
    again = any(s.state == "blocked" and s.operation.key == op.key and not s.on for s in steps)
    then = f"Mended, sign {op.number} again." if again else what_next(steps)
    blocks: list[Block] = [Paragraph(verdict, strong=True)]
    if signing.warnings:
        blocks.append(Cautions(signing.warnings))
    if signing.next_steps:
        blocks.append(Steps(signing.next_steps))
    return (*blocks, Paragraph(then))
