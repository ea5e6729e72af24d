"""The plan of a positioning test as report blocks."""

from __future__ import annotations

import math

from wormwright.job.blocks import Block, Cautions, Cell, Heading, Paragraph, Steps, Table
from wormwright.job.iso_words import degrees_text
from wormwright.job.proof_plan import PlannedTest
from wormwright.job.sheet_proof import MEANS
from wormwright.stages.prove.plan import SWEEP_PLACES, SWEEP_TURNS

SUITS = {
    "square or block, swept": "90° apart and a few degrees about them; the rest by closure",
    "polygon": "its faces only; with the small arc of its reader about them",
    "arm and indicator": "a small arc: the sweep within a worm turn, reversal at a target",
    "sine bar": "up to 45°",
    "optical lever": "a small arc: reversal and scatter at a target, the sweep",
    "sensor table": "every target",
    "index table": "every target that its teeth meet, the rest with an arm and indicator",
    "other": "say in the note how its uncertainty was found",
}
"""Means of measuring -> which of the targets it can read."""


def plan_report(plan: PlannedTest) -> tuple[Block, ...]:
    """Targets, order, time, means, and what to do before and after."""
    return (
        Heading("Plan of the positioning test"),
        Paragraph(_headline(plan), strong=True),
        Cautions(
            (
                "The table turns by itself: nothing in the way for a whole turn both ways, nobody "
                "leans over it, chuck key out.",
            )
        ),
        _targets(plan),
        Paragraph(_phases(plan)),
        Heading("Order", 2),
        Steps(_order(plan)),
        Heading("What to measure with", 2),
        Table(
            "Means of measuring, and what each can read",
            ("means", "reads"),
            tuple((Cell(name), Cell(SUITS[name])) for name in MEANS),
        ),
    )


def _headline(plan: PlannedTest) -> str:
    hours = plan.minutes / 60
    time = f"{plan.minutes:.0f} min" if plan.minutes < 90 else f"{hours:.1f} h"
    return (
        f"{len(plan.targets)} targets, {plan.settings.runs} runs from each side, "
        f"{plan.readings} readings, about {time}."
    )


def _targets(plan: PlannedTest) -> Table:
    rows = []
    for number, angle in enumerate(plan.targets, 1):
        phase = math.degrees(float(angle)) * plan.ratio % 360
        rows.append(
            (Cell(str(number)), Cell(f"{degrees_text(float(angle))}°"), Cell(f"{phase:.0f}°"))
        )
    return Table("Targets", ("target", "table angle", "the worm stands at"), tuple(rows))


def _phases(plan: PlannedTest) -> str:
    even = plan.even_blindness
    if even > 0.5:
        blind = (
            f"{plan.settings.targets} even targets would meet the worm at nearly one place of its "
            "turn, and its error, however large, would not show."
        )
    else:
        blind = "Even targets would meet the worm at a few places of its turn only."
    return (
        f"{blind} These are moved by parts of a worm turn ({360 / plan.ratio:.4g}° of the table); "
        "0°, 90°, 180° and 270° are among them."
    )


def _order(plan: PlannedTest) -> tuple[str, ...]:
    chosen = plan.settings
    over = f"{degrees_text(plan.overrun)}°"
    lines = [
        "Warm the drive up as it will be used; compensation and lock as they will be used.",
        "Set the zero of the means and of the control once; do not touch either until the end.",
        "Read the first target coming forward. It is read again after every run: its wandering is "
        "the drift of the test.",
        f"Each run: from {over} below the first target up through all of them, {over} beyond the "
        f"last, and down again. {chosen.dwell:g} s of rest before each reading.",
        f"{chosen.runs} runs without a break.",
    ]
    if len(plan.sweep):
        lines.append(
            f"Then the sweep: {len(plan.sweep)} places in {SWEEP_TURNS} turns of the worm, "
            f"{SWEEP_PLACES} in each, up and down once."
        )
    return tuple(lines)
