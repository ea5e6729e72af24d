"""Waves of the error and their causes as report blocks."""

from __future__ import annotations

import math

import numpy as np

from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Plot, Table, Trace
from wormwright.job.proof import Proof
from wormwright.job.proof_harmonics import Harmonics, WaveCause, WaveFound
from wormwright.quantities import shown, shown_estimate


def harmonics_blocks(proof: Proof) -> tuple[Block, ...]:
    """What repeats with what, how large it is and what it comes from."""
    found = proof.harmonics
    if found is None:
        return ()
    blocks: list[Block] = [
        Heading("What the error comes from", 2),
        Paragraph(_headline(found), strong=True),
        _table(found),
    ]
    picture = _picture(found)
    return (*blocks, picture) if picture else tuple(blocks)


def _headline(found: Harmonics) -> str:
    out = [w for w in found.waves if w.stands_out and w.size is not None]
    if not out:
        return "No wave stands out of the scatter at these places."
    first = max(out, key=lambda w: w.size.value if w.size else 0.0)
    causes = "; or ".join(_cause(c) for c in first.causes)
    return f"The largest wave comes {first.label}{_of(first)}, ± {_size(first)}: {causes}."


def _of(wave: WaveFound) -> str:
    return " in the reversal" if wave.of_play else ""


def _size(wave: WaveFound) -> str:
    return "" if wave.size is None else shown(wave.size.value, "angle", u=wave.size.u)


def _cause(cause: WaveCause) -> str:
    words = f"{cause.words} {shown_estimate(cause.amount)}"
    return f"{words} ({cause.compared})" if cause.compared else words


def _table(found: Harmonics) -> Table:
    rows = []
    for number, wave in enumerate(found.waves, 1):
        crest = ""
        if wave.key.startswith("table") and wave.highest is not None and wave.stands_out:
            crest = f"{math.degrees(wave.highest):.0f}°"
        rows.append(
            (
                Cell(str(number)),
                Cell(f"{wave.label}{_of(wave)}"),
                Cell(estimate=wave.size) if wave.size else Cell("not told"),
                Cell(crest),
                Cell(_means(wave)),
            )
        )
    columns = ("no.", "wave", "amplitude (±)", "crest at", "what it comes from")
    rest = shown(found.rest.value, "angle", resolution=found.rest.value / 10)
    caption = (
        f"Waves in the error at {found.places} places, least squares; {rest} (one standard "
        "deviation) is left unexplained"
    )
    return Table(caption, columns, tuple(rows), key="waves")


def _means(wave: WaveFound) -> str:
    if wave.refusal:
        return wave.refusal
    if not wave.stands_out:
        return "no larger than scatter makes it"
    words = "; ".join(_cause(cause) for cause in wave.causes)
    if wave.alike:
        words += f"; at these places it looks the same as {', '.join(wave.alike)}"
    return words


def _picture(found: Harmonics) -> Plot | None:
    told = [(n, w.size) for n, w in enumerate(found.waves, 1) if w.size is not None]
    if len(told) < 2:
        return None
    return Plot(
        caption="Amplitudes of the waves, with 95 % intervals; numbers as in the table",
        says="Which wave carries most of the error.",
        x_name="number of the wave",
        x_dimension="count",
        y_name="amplitude",
        y_dimension="angle",
        traces=(
            Trace(
                "amplitude",
                np.array([float(n) for n, _ in told]),
                np.array([size.value for _, size in told]),
                "bars",
                np.array([(size.high - size.low) / 2 for _, size in told]),
            ),
        ),
    )
