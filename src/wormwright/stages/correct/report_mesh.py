"""The mesh models side by side, and where the mesh shuts falsely, as blocks of the report."""

from __future__ import annotations

import math

from wormwright.job.blocks import Block, Cell, Paragraph, Table
from wormwright.job.corrections import FalseTight, MeshCompared, Remedy
from wormwright.job.rotary import Units
from wormwright.stages.correct.meshes import IN_WORDS
from wormwright.stages.correct.wording import MICRON, length, percent

TENTH = MICRON / 10


def mesh_table_of(remedy: Remedy) -> list[Block]:
    """What the planned move takes out of the mesh by each model; nothing without a move."""
    if not remedy.meshes:
        return []
    rows = tuple(_row(one) for one in remedy.meshes)
    return [Table(_CAPTION, _COLUMNS, rows, key="mesh models", one_unit=True), Paragraph(_NOTE)]


_CAPTION = (
    "Backlash that the planned move takes away, at the pitch circle, by each way of reckoning it"
)
_COLUMNS = ("wheel kind", "belief", "textbook", "closed form", "exact", "apart", "taken")
_NOTE = (
    "Textbook: twice the closing times the tangent of the pressure angle, blind to where the worm "
    "stands sideways. Closed form and exact mesh count the face, the hob and the sideways shift; "
    "apart is the most that these two differ wherever this unit may stand, and the closed form is "
    "kept only where that is a micron or less. Half of the play is taken as centres apart, half as "
    "a thin thread."
)


def _row(one: MeshCompared) -> tuple[Cell, ...]:
    return (
        Cell(IN_WORDS[one.kind]),
        Cell(percent(one.belief)),
        _size(one.textbook),
        _size(one.closed_form),
        _size(one.exact, MICRON, "cannot be"),
        _size(one.off, TENTH, "not known"),
        Cell(one.used),
    )


def _size(value: float | None, resolution: float = MICRON, none: str = "") -> Cell:
    if value is None:
        return Cell(none)
    return Cell(number=value, dimension="length", resolution=resolution)


def false_tight_words(remedy: Remedy, units: Units) -> list[Block]:
    """Where the mesh shuts by sideways shift, and what to feel for."""
    if not remedy.false_tight:
        return []
    lines = [_place(one, units) for one in remedy.false_tight]
    frees = {one.frees for one in remedy.false_tight}
    feel = " ".join(_FEEL[way] for way in (True, False) if way in frees)
    return [Paragraph(line) for line in (*lines, f"FALSE TIGHT is told by feel. {feel} {_ALWAYS}")]


_FEEL = {
    True: "Where it frees: turned on toward the wheel the mesh first comes FREE and drags again "
    "only at the true depth; a true fit only gets tighter.",
    False: "Where it does not free: it drags all the way to the true depth and beyond, so only the "
    "blue and the wheel tell.",
}
_ALWAYS = (
    "The drag comes at the edges of the face: blue marks the same end of both flanks, and the rock "
    "grows when the wheel is shifted along its axis. Never lock it there: the edges bed in and the "
    "play comes back."
)


def _place(one: FalseTight, units: Units) -> str:
    first, last = (f"{math.degrees(a):.0f}°" for a in (one.first, one.last))
    return (
        f"False tight on {IN_WORDS[one.kind]}, throw toward the {one.toward}: from {first} to "
        f"{last} from the wheel the mesh is shut by standing sideways; at {first} it is still "
        f"{length(max(one.short, 0.0), units)} short of its depth ({one.model}). Nearer to the "
        f"wheel it {'frees' if one.frees else 'does not free'}."
    )
