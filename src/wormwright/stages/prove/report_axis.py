"""Runout and the axis of rotation as report blocks."""

from __future__ import annotations

import math

import numpy as np

from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Plot, Table, Trace
from wormwright.job.findings import Finding, Runout
from wormwright.job.proof import Proof
from wormwright.job.proof_axis import CircleTrace, Reversal
from wormwright.job.rotary import Job
from wormwright.quantities import shown, shown_estimate

MOST_PICTURES = 3
"""Round pictures in a report: those of the surfaces that run out most."""


def axis_blocks(proof: Proof, job: Job) -> tuple[Block, ...]:
    """Runout of the surfaces and motion of the axis, or nothing when neither was read."""
    found = proof.axis
    if found is None:
        return ()
    blocks: list[Block] = []
    if found.runouts:
        blocks += [
            Heading("Runout", 2),
            Paragraph(
                "Seen from the axis of rotation: how the surfaces stand on it, not how the axis "
                "stands on the machine. Offset is half of the swing; what to do names the amount "
                "and the table angle."
            ),
            _table(found.runouts),
            *(_circle(t) for t in _largest(found.traces)),
            *(block for f in found.findings for block in _finding(f)),
        ]
    if found.reversal is not None:
        blocks += _reversal(found.reversal, job)
    return tuple(blocks)


def _table(runouts: tuple[Runout, ...]) -> Table:
    rows = tuple(
        (
            Cell(r.surface),
            Cell(estimate=r.eccentricity),
            Cell(estimate=r.high_at) if r.high_at else Cell("none stands out"),
            Cell(estimate=r.slope) if r.slope else Cell(""),
            Cell(r.do),
        )
        for r in runouts
    )
    columns = ("surface", "offset or half swing", "toward", "lean", "what to do")
    return Table("Surfaces round the turn", columns, rows)


def _largest(traces: tuple[CircleTrace, ...]) -> tuple[CircleTrace, ...]:
    return tuple(sorted(traces, key=lambda t: -t.swing)[:MOST_PICTURES])


def _circle(trace: CircleTrace) -> Plot:
    traces = [Trace("least-squares circle", trace.fit_angles, trace.circle)]
    if not np.allclose(trace.circle, trace.with_lobes):
        traces.append(Trace("with its lobes", trace.fit_angles, trace.with_lobes, "dashed"))
    traces.append(Trace("readings", trace.angles, trace.readings, "dots"))
    return Plot(
        f"Round the turn: {trace.name}",
        "Readings less their mean, and the circle through them, much enlarged.",
        "table angle",
        "angle",
        "from the mean",
        "length",
        tuple(traces),
        polar=True,
    )


def _finding(finding: Finding) -> tuple[Block, ...]:
    words = tuple(Paragraph(text) for text in finding.words)
    if not finding.figures:
        return (Heading(finding.title, 3), *words)
    rows = tuple((Cell(f.label), Cell(estimate=f.estimate)) for f in finding.figures)
    table = Table("As seen from the axis of rotation", ("figure", "value"), rows)
    return (Heading(finding.title, 3), table, *words)


def _reversal(found: Reversal, job: Job) -> list[Block]:
    rows = [
        (
            Cell("axis, repeats every turn (synchronous), peak to valley"),
            Cell(estimate=found.synchronous),
        ),
        (Cell("form of the ball or bar, peak to valley"), Cell(estimate=found.form)),
    ]
    if found.asynchronous is not None:
        rows.append(
            (
                Cell(f"does not repeat, largest range of {found.turns} turns (asynchronous)"),
                Cell(number=found.asynchronous, dimension="length", resolution=found.u),
            )
        )
    return [
        Heading("Axis of rotation", 2),
        Paragraph(_axis_words(found, job), strong=True),
        Table("Radial motion, offset of the ball taken out", ("figure", "value"), tuple(rows)),
        _axis_plot(found),
        Paragraph(
            "How the ball stood (mean and once a turn) is taken out: a radial motion of once a "
            "turn cannot be told from it, nor any axial motion."
        ),
    ]


def _axis_words(found: Reversal, job: Job) -> str:
    size = shown_estimate(found.synchronous, units=job.units)
    if not found.proven:
        u = shown(2 * found.u, "length", resolution=found.u, units=job.units)
        return (
            f"No motion of the axis stands out of the noise of ± {u} at each place; the swing of "
            f"{size} is what such noise gives."
        )
    lobes = ", ".join(str(k) for k in found.lobes)
    each = f" It comes {lobes} times a turn." if lobes else ""
    return (
        f"The axis wanders by {size} every turn, apart from the form of the ball.{each} Round work "
        "turned on it comes out with this form; nothing but the table bearing cures it."
    )


def _axis_plot(found: Reversal) -> Plot:
    round_again = np.append(found.angles, found.angles[0] + 2 * math.pi)
    axis = np.append(found.axis, found.axis[0])
    return Plot(
        "Axis and ball told apart",
        "Motion of the axis with its 95 % interval, and the form of the ball, much enlarged.",
        "table angle",
        "angle",
        "radial",
        "length",
        (
            Trace("axis", round_again, axis, "line", np.full(len(axis), 1.96 * found.u)),
            Trace("ball", found.angles, found.part, "crosses"),
        ),
        polar=True,
    )
