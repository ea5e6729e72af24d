"""The positioning test as report blocks."""

from __future__ import annotations

import math

import numpy as np

from wormwright.core.positioning import (
    positioning,
    share_within_two_s,
    sigma_interval,
    vdi_figures,
)
from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Plot, Table, Trace
from wormwright.job.proof import Proof
from wormwright.job.proof_position import PositionTest
from wormwright.job.result import Estimate
from wormwright.quantities import shown

ARCSEC = math.radians(1 / 3600)


def positioning_blocks(proof: Proof) -> tuple[Block, ...]:
    """Figures, picture and spread of the positioning test, or nothing when it was not read."""
    test = proof.positioning
    if test is None:
        return ()
    return (
        Heading("Positioning test", 2),
        Paragraph(_headline(test), strong=True),
        Paragraph(_what(test)),
        _figures(test),
        Paragraph(_few_runs(test)),
        _picture(test),
        Heading("The same readings by other conventions", 3),
        _older(test),
    )


def _headline(test: PositionTest) -> str:
    a, b, r = (_value(test.of(key)) for key in ("accuracy", "reversal", "repeatability"))
    return f"A {a}, with a reversal B of up to {b} and a repeatability R of {r}, both ways."


def _what(test: PositionTest) -> str:
    means = f", measured with {' and '.join(test.means)}" if test.means else ""
    u = shown(2 * test.u_reading, "angle", u=2 * test.u_reading)
    drift = "The first position was not read again: drift is not known."
    if test.drift is not None:
        drift = f"The first position wandered by {_value(test.drift)} meanwhile."
    return (
        f"{len(test.targets)} targets, {test.runs} runs from each side{means}; a reading is known "
        f"to ± {u} (k = 2). {drift} A deviation is measured less commanded, plus the way the table "
        "angle rises."
    )


def _figures(test: PositionTest) -> Table:
    rows = tuple(
        (
            Cell(f.label),
            _cell(f.estimate, f.estimate.value, strong=True),
            _cell(f.estimate, f.estimate.low),
            _cell(f.estimate, f.estimate.high),
        )
        for f in test.figures
    )
    columns = ("figure", "as ISO 230-2 defines it", "many runs: from", "to (95 %)")
    caption = "Figures of ISO 230-2, at the table"
    return Table(caption, columns, rows, key="position-figures", one_unit=True)


def _cell(estimate: Estimate, value: float, *, strong: bool = False) -> Cell:
    """A figure to the digit that its doubt leaves."""
    digit = 10.0 ** math.floor(math.log10(max(_doubt(estimate), ARCSEC / 10)))
    return Cell(number=value, dimension="angle", resolution=digit, strong=strong)


def _value(estimate: Estimate) -> str:
    return shown(estimate.value, "angle", u=_doubt(estimate))


def _doubt(estimate: Estimate) -> float:
    return max(estimate.u, (estimate.high - estimate.low) / 4)


def _few_runs(test: PositionTest) -> str:
    low, high = sigma_interval(runs=test.runs)
    share = share_within_two_s(runs=test.runs)
    return (
        f"{test.runs} runs know the scatter at one target only to between {low:.2f} and {high:.2f} "
        f"times what they show, and mean ± 2s of them covers {share:.0%} of further readings, not "
        "95 %. The largest of many scattered figures reads high; the interval takes that off again "
        "and holds the uncertainty of the means of measuring and the drift."
    )


def _picture(test: PositionTest) -> Plot:
    spread = test.spread
    zero = float(spread.mean.mean())
    at = int(np.argmax(np.abs(spread.reversal_at)))
    says = (
        "Mean deviation from both sides with bands of ± 2s. The sides lie furthest apart at "
        f"{math.degrees(float(test.targets[at])):.4g}°."
    )
    return Plot(
        caption="Deviation round the turn, zero in its middle",
        says=says,
        x_name="table angle",
        x_dimension="angle",
        y_name="deviation",
        y_dimension="angle",
        traces=(
            Trace("forward, ± 2s", test.targets, spread.mean_up - zero, "line", 2 * spread.s_up),
            Trace(
                "backward, ± 2s", test.targets, spread.mean_down - zero, "dashed", 2 * spread.s_down
            ),
            Trace("mean of both sides", test.targets, spread.mean - zero, "dots", numbers=True),
        ),
    )


def _older(test: PositionTest) -> Table:
    three = positioning(test.forward, test.backward, sigmas=3.0)
    vdi = vdi_figures(test.spread)
    rows = (
        ("ISO 230-2, since 1997", "± 2s", "A, R", test.spread.accuracy, test.spread.repeatability),
        ("ISO 230-2:1988", "± 3s", "A, R", three.accuracy, three.repeatability),
        ("ASME B5.54-1992", "± 3s", "accuracy, repeatability", three.accuracy, three.repeatability),
        ("VDI/DGQ 3441, withdrawn", "6s", "P, largest P_s", vdi.uncertainty, vdi.scatter_most),
        ("VDI/DGQ 3441, withdrawn", "", "P_a, largest U", vdi.deviation, vdi.reversal_most),
    )
    a = test.of("accuracy")
    return Table(
        "For setting a brochure beside this test; never compare figures of unlike conventions",
        ("convention", "spread", "figures", "first", "second"),
        tuple(
            (
                Cell(name),
                Cell(band),
                Cell(which),
                _cell(a, first),
                _cell(a, second),
            )
            for name, band, which, first, second in rows
        ),
        key="conventions",
        one_unit=True,
    )
