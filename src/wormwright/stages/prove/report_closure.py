"""Closing the circle as report blocks."""

from __future__ import annotations

import numpy as np

from wormwright.core.closure_plan import designs, folded_wave
from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Plot, Steps, Table, Trace
from wormwright.job.proof import Proof
from wormwright.job.proof_closure import ClosureProof
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.quantities import shown, shown_estimate

MOST_ROWS = 36
"""A longer table of angles is left to the results file."""
MOST_POINTS = 72
"""More positions than this are drawn as lines."""
DEGREE = np.pi / 180


def closure_blocks(proof: Proof, job: Job) -> tuple[Block, ...]:
    """Errors of table and artefact with their doubt, or nothing when no circle was closed."""
    found = proof.closure
    if found is None:
        return ()
    allowed = job.duty.error_mm / job.duty.radius_mm
    blocks: list[Block] = [
        Heading("Circle closure", 2),
        Paragraph(_verdict(found, allowed), strong=True),
        Paragraph(_how(found)),
        _plot(found, allowed),
    ]
    if len(found.angles) <= MOST_ROWS:
        blocks.append(_table(found))
    if np.isfinite(found.residuals).any() and found.degrees_of_freedom > 0:
        blocks.append(_rest(found))
    blocks.append(Paragraph(_blind(found)))
    return tuple(blocks)


def _verdict(found: ClosureProof, allowed: float) -> str:
    low, high = (f"{a / DEGREE:.6g}°" for a in found.span_at)
    return (
        f"From {low} to {high} the table errs by {shown_estimate(found.span)} in all; either way "
        f"{shown(allowed, 'angle', resolution=allowed / 20)} are allowed at the work."
    )


def _how(found: ClosureProof) -> str:
    n, k = len(found.angles), len(found.first_faces)
    firsts = ", ".join(str(f) for f in found.first_faces)
    u = shown(2 * found.reading_u, "angle", resolution=found.reading_u / 5)
    words = (
        f"An artefact of {n} faces in {k} set-ups, face {firsts} in line at 0. One reading is good "
        f"to ± {u} (two standard uncertainties"
        + (", from its own scatter" if found.widened else ", as stated")
        + "). Table and artefact are told apart without knowing either; both are counted from "
        "their mean."
    )
    if found.chance is None:
        words += " No reading was left over to check them: one more set-up would."
    elif not found.widened:
        chance = min(found.chance, 0.99)
        words += f" The faces close within their doubt (more scatter by chance: {chance:.0%})."
    return words


def _blind(found: ClosureProof) -> str:
    n = len(found.angles)
    step = f"{360 / n:.6g}°"
    words = "What this cannot see: reversal, scatter of single positions, and errors that repeat "
    words += f"within {step}."
    if found.hidden_wave == 0:
        return f"{words} The error of the worm repeats so and is wholly unseen: sweep a worm turn."
    if found.hidden_wave is not None:
        words += f" The error of the worm shows here as if it had {found.hidden_wave} waves a turn."
    return words


def _table(found: ClosureProof) -> Table:
    rows = tuple(
        (
            Cell(f"{angle / DEGREE:.6g}°"),
            Cell(estimate=table),
            Cell(str(face + 1)),
            Cell(estimate=artefact),
        )
        for face, (angle, table, artefact) in enumerate(
            zip(found.angles, found.table, found.artefact, strict=True)
        )
    )
    columns = ("table angle", "table stands beyond it by", "face", "face of the artefact")
    return Table("Errors from their mean, plus the way table angle rises", columns, rows)


def _plot(found: ClosureProof, allowed: float) -> Plot:
    far = max(abs(e.high) for e in (*found.table, *found.artefact))
    limits = (("allowed", allowed), ("", -allowed)) if allowed < 3 * far else ()
    return Plot(
        "Errors of table and artefact, closed round the turn",
        "Error of the table at each position and of the face of the artefact of that number, with "
        "their 95 % intervals.",
        "table angle, or place of the face",
        "angle",
        "error from the mean",
        "angle",
        (
            _trace("table", found, found.table),
            _trace("artefact", found, found.artefact),
        ),
        limits=limits,
    )


def _trace(label: str, found: ClosureProof, estimates: tuple[Estimate, ...]) -> Trace:
    """Points with their intervals; a fine closure as lines, the band about the table alone."""
    values = np.array([e.value for e in estimates])
    half = np.array([e.high - e.value for e in estimates])
    of_table = estimates is found.table
    if len(values) <= MOST_POINTS:
        return Trace(label, found.angles, values, "dots" if of_table else "crosses", half)
    if of_table:
        return Trace(label, found.angles, values, "line", half)
    return Trace(label, found.angles, values, "dashed")


def _rest(found: ClosureProof) -> Plot:
    read = np.isfinite(found.residuals)
    at = np.broadcast_to(found.angles[:, None], read.shape)
    u = found.reading_u
    return Plot(
        "What the closure leaves of each reading",
        "Residual of every reading over the table angle; sound ones stay within three of their "
        "standard uncertainties.",
        "table angle",
        "angle",
        "residual",
        "angle",
        (Trace("residuals", at[read], found.residuals[read], "dots"),),
        limits=(("3 u", 3 * u), ("", -3 * u)),
    )


def closure_plan_blocks(faces: int, ratio: float | None) -> tuple[Block, ...]:
    """Which re-settings, how many, what they buy, and what no number of them shows."""
    rows = tuple(
        (
            Cell(str(len(d.shifts))),
            Cell(_faces_of(d.shifts)),
            Cell(str(d.readings)),
            Cell(f"{d.factor:.2f} u"),
            Cell(str(d.degrees_of_freedom)),
        )
        for d in designs(faces)
    )
    columns = (
        "set-ups",
        "face in line at 0",
        "readings",
        "doubt of each angle",
        "readings to spare",
    )
    return (
        Heading("Closing the circle: what to read", 2),
        Paragraph(
            "u is the doubt of one face read once. Below 1 u a closure tells an angle better than "
            "a known artefact read once would; without a reading to spare nothing checks it."
        ),
        Table(f"The best re-settings of an artefact of {faces} faces", columns, rows),
        Steps(
            (
                "Number the faces in the order in which they come in line as table angle rises.",
                "Seat the artefact near the middle, the stated face in line at table angle 0.",
                f"Step through 0 to 360° by {360 / faces:.6g}°, always from the same side, and "
                "read each face; 360° is position 0 once more and shows the drift.",
                "Re-seat it with the next face of the row in line at 0, and read the turn again.",
                "Enter each turn as one series: `wormwright measure DIR --series closure_sweep "
                f'--at "{_angles(faces)} deg" --with faces={faces} --with setup=1 '
                '--with first_face=1 --with swept="75 mm"`.',
            )
        ),
        Paragraph(_plan_blind(faces, ratio)),
    )


def _angles(faces: int) -> str:
    each = [f"{360 / faces * i:.6g}" for i in range(faces + 1)]
    return ", ".join(each if faces <= 6 else (*each[:2], "...", each[-1]))


def _faces_of(shifts: tuple[int, ...]) -> str:
    if len(shifts) > 8 and shifts == tuple(range(len(shifts))):
        return f"each face once, 1 to {len(shifts)}"
    return ", ".join(str(s + 1) for s in shifts)


def _plan_blind(faces: int, ratio: float | None) -> str:
    words = (
        f"Re-settings that are all multiples of one step above 1 that divides {faces} leave waves "
        f"mixed and are refused. No closure sees reversal or what repeats within "
        f"{360 / faces:.6g}°."
    )
    if ratio is None:
        return words
    wave = folded_wave(round(ratio), faces)
    if wave == 0:
        return f"{words} With {ratio:.6g} to 1 the error of the worm is wholly unseen: sweep it."
    return f"{words} With {ratio:.6g} to 1 the error of the worm shows as {wave} waves a turn."
