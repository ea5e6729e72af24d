"""Packing under a bolted worm block: its new thickness for the wanted closing, and its pieces."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.job.parts import CentreShim, Limits
from wormwright.job.result import Doubt, Estimate
from wormwright.job.rotary import Units
from wormwright.stages.correct.facts import BlockPacking, Facts
from wormwright.stages.correct.rings import (
    FOIL,
    LAPPED,
    MOST_STACKED,
    SHIM_TOLERANCE,
    THINNEST,
    to_shop,
    unread,
)
from wormwright.stages.correct.stacks import nearest_stack, stack_size
from wormwright.stages.correct.wording import length, made_to, with_tolerance

SLIDES = "no packing, it slides"
MATCH = 0.003
"""How far apart the pieces of one set may be: more tilts or skews the worm, mm."""

LEAST_EDGE = 1.0
"""Least metal between a bolt hole and an edge, mm."""

USUAL_PIECES = 2
"""One piece under each end of the block, where it was not written."""


@dataclass(frozen=True, slots=True)
class Packing:
    """Pieces to make with the sizes and steps of their correction."""

    parts: tuple[CentreShim, ...]
    sizes: tuple[tuple[str, Estimate], ...]
    steps: tuple[str, ...]
    doubts: tuple[Doubt, ...] = ()


def block_packing(facts: Facts, closing: float) -> Packing | None:
    """Packing that brings the worm nearer by the closing; None for a block that only slides."""
    block, units = facts.block, facts.job.units
    if block.way in (None, SLIDES):
        return None
    if block.thickness is None:
        doubt = unread("The packing under the worm block has not been read.", ["block_shim"])
        return Packing((), (), (_change(block, closing, units),), (doubt,))
    sign = -1.0 if block.way == "thicker opens" else 1.0
    new = to_shop(block.thickness + sign * closing, units)
    if new < THINNEST:
        return Packing((), (), (_faced(block, closing, units),))
    stack = nearest_stack(facts, new, tolerance=SHIM_TOLERANCE) if new <= MOST_STACKED else None
    sizes = (("packing, new thickness", made_to(new, SHIM_TOLERANCE, "old and closing")),)
    steps = (
        f"Packing {with_tolerance(new, SHIM_TOLERANCE, units)}, all pieces within "
        f"{length(MATCH, units)} of each other; {_change(block, closing, units)}",
        "Both ends get the same; a difference over the span skews the worm. Indicator on the worm "
        "at each end, toward the wheel: both must move alike.",
    )
    fault = _fault(block, units)
    pieces = tuple(p.thickness for p in stack.pieces) if stack and stack.hits else ()
    part = None if fault else _piece(block, new, closing, pieces)
    return Packing(
        (part,) if part else (),
        (*sizes, *stack_size(stack)),
        steps,
        (fault,) if fault else (),
    )


def _change(block: BlockPacking, closing: float, units: Units) -> str:
    way = "thinner" if block.way == "thicker opens" else "thicker"
    return f"{length(closing, units)} {way} than now brings the worm nearer by as much."


def _faced(block: BlockPacking, closing: float, units: Units) -> str:
    if closing - (block.thickness or 0.0) <= THINNEST:
        return "Leave the packing out altogether and read the rock again."
    rest = length(closing - (block.thickness or 0.0), units)
    return (
        f"Leave the packing out; the other {rest} come off the face of the block that it lay "
        "against, ground or milled square to the worm."
    )


def _piece(
    block: BlockPacking, thickness: float, closing: float, stack: tuple[float, ...]
) -> CentreShim:
    assert block.length is not None
    assert block.width is not None
    return CentreShim(
        name="packing under the worm block",
        purpose=f"brings the worm nearer to the wheel; {block.way} the mesh",
        length=round(block.length, 1),
        width=round(block.width, 1),
        thickness=Limits(thickness, SHIM_TOLERANCE, -SHIM_TOLERANCE, "" if stack else LAPPED),
        match=MATCH,
        change=-closing,
        holes=_holes(block),
        hole=round(block.hole or 0.0, 1),
        material=FOIL if stack else "steel",
        stack=stack,
        quantity=block.pieces or USUAL_PIECES,
    )


def _holes(block: BlockPacking) -> tuple[tuple[float, float], ...]:
    """Holes about the middle of the piece, from its corner."""
    x, y = (block.length or 0.0) / 2, (block.width or 0.0) / 2
    a, c = (block.along or 0.0) / 2, (block.across or 0.0) / 2
    if block.bolts == 1:
        places = [(x, y)]
    elif block.bolts == 2:
        places = [(x - a, y), (x + a, y)]
    else:
        places = [(x + i * a, y + j * c) for j in (-1, 1) for i in (-1, 1)]
    return tuple((round(px, 2), round(py, 2)) for px, py in places)


def _fault(block: BlockPacking, units: Units) -> Doubt | None:
    """What keeps the pieces from being drawn: a reading that is missing or cannot be."""
    wanted = {
        "block_shim_length": block.length,
        "block_shim_width": block.width,
        "block_shim_bolts": block.bolts,
    }
    missing = [key for key, got in wanted.items() if got is None]
    places = {"hole": block.hole}
    if block.bolts in (2, 4):
        places["along"] = block.along
    if block.bolts == 4:
        places["across"] = block.across
    unsaid = [f"`{key}`" for key, got in places.items() if got is None]
    if block.bolts is not None and unsaid:
        missing.append(f"`block_shim_bolts` with {' and '.join(unsaid)}")
    if missing:
        return unread("The outline of the packing under the worm block is not known.", missing)
    if block.bolts == 3:
        return unread("Three bolts have no place of their own.", ["block_shim_bolts"], again=True)
    reach = (block.hole or 0.0) / 2 + LEAST_EDGE
    sizes = (block.length or 0.0, block.width or 0.0)
    if any(
        not reach <= at <= size - reach
        for hole in _holes(block)
        for at, size in zip(hole, sizes, strict=True)
    ):
        seen = (
            f"A bolt hole of {length(block.hole or 0.0, units, to=0.1)} breaks out of a piece of "
            f"{length(sizes[0], units, to=0.1)} by {length(sizes[1], units, to=0.1)}."
        )
        return unread(seen, list(wanted), again=True)
    return None
