"""Error table and reversal value as report blocks, and as the files for the control."""

from __future__ import annotations

import math

import numpy as np

from wormwright.job.blocks import Block, Cell, Heading, Paragraph, Plot, Steps, Table, Trace
from wormwright.job.proof import Proof
from wormwright.job.proof_compensation import Compensated
from wormwright.job.proof_position import PositionTest
from wormwright.quantities import shown

ARCSEC = math.radians(1 / 3600)
FILES = ("compensation.csv", "compensation.txt")


def compensation_blocks(proof: Proof) -> tuple[Block, ...]:
    """Whether a table would help, what it holds, how its sign is checked."""
    made, test = proof.compensation, proof.positioning
    if made is None or test is None:
        return ()
    head = (Heading("What the control can take off", 2), Paragraph(_verdict(made), strong=True))
    if not made.offered:
        return head
    return (
        *head,
        Paragraph(_promise(made)),
        _table(made),
        Paragraph(_reversal(made)),
        Heading("Sign, and one move that shows it", 3),
        Steps(sign_steps(made)),
        _picture(made, test),
    )


def _verdict(made: Compensated) -> str:
    if not made.offered:
        return f"No table is offered: {made.reason}."
    reversal = f"a reversal of {_angle(made, made.reversal)}"
    if not made.orders:
        return f"{reversal.capitalize()} would help; a table would not."
    waves = "wave" if made.orders == 1 else "waves"
    table = f"A table of {made.orders} {waves} a turn"
    both = f"{table} and {reversal}" if made.reversal else table
    return f"{both} would help: {made.reason}."


def _promise(made: Compensated) -> str:
    before, after = (_angle(made, e.value) for e in (made.rms_before, made.rms_after))
    return (
        f"Expected of further runs, both sides, at targets where nothing was read: {before} root "
        f"mean square about the middle now, {after} with it. That was tried with each run and each "
        "target left out of the table in turn; what repeats with the worm stays."
    )


def _reversal(made: Compensated) -> str:
    return (
        f"Reversal value {_angle(made, made.reversal)}; never more than the smallest play of the "
        f"turn, {_angle(made, made.least_play)} ({made.play_from}): a control that takes up more "
        "than there is drives the table on."
    )


def _angle(made: Compensated, value: float) -> str:
    return shown(value, "angle", u=made.rms_after.u)


def _table(made: Compensated) -> Table:
    some = range(0, len(made.angles), 3)
    digit = 10.0 ** math.floor(math.log10(max(made.rms_after.u, ARCSEC / 10)))
    rows = tuple(
        (
            Cell(f"{math.degrees(float(made.angles[i])):.0f}°"),
            Cell(number=-float(made.add[i]), dimension="angle", resolution=digit),
            Cell(number=float(made.add[i]), dimension="angle", resolution=digit),
        )
        for i in some
    )
    return Table(
        "Error table, every third line; all of it is in compensation.csv",
        ("table angle", "the axis is beyond by", "add to the command"),
        rows,
        key="compensation",
        one_unit=True,
    )


def sign_steps(made: Compensated) -> tuple[str, ...]:
    """The convention in words, and the one move that shows whether the control shares it."""
    at, by = f"{math.degrees(made.check_at):.0f}°", _angle(made, abs(made.check_by))
    way = "further on (plus)" if made.check_by > 0 else "less far (minus)"
    lines = [
        "Error = where the table stands less where it was sent, plus the way the table angle "
        "rises. Add = minus the error: what the control must add to the command.",
        "Some controls want the error, some want what to add: enter the column that yours asks "
        "for, or change every sign.",
        f"One move: table off, come to {at} from below and set the needle to zero. Back down, "
        f"table on, to {at} again from below, zero of the control untouched: it must now stand "
        f"{by} {way}. If it stands as much the other way, every sign is wrong.",
    ]
    if made.reversal:
        half = _angle(made, made.reversal)
        lines.append(
            f"Reversal: come to one target from both sides, with the value and without. The sides "
            f"must come nearer by {half}; if they part by that, its sign is wrong."
        )
    return tuple(lines)


def _picture(made: Compensated, test: PositionTest) -> Plot:
    middle = test.spread.mean - float(test.spread.mean.mean())
    before = np.interp(made.angles, test.targets, middle, period=2 * math.pi)
    after = before + made.add
    return Plot(
        caption="Error round the turn, mean of both sides, as it is and with the table",
        says="Between targets the line is drawn straight.",
        x_name="table angle",
        x_dimension="angle",
        y_name="error",
        y_dimension="angle",
        polar=True,
        traces=(
            Trace("with the table", made.angles, after, "line"),
            Trace("as it is", made.angles, before, "dashed"),
        ),
    )


def compensation_files(made: Compensated, unit: str) -> tuple[tuple[str, str], ...]:
    """The table as plain CSV, and the words that belong to it; nothing when none is offered."""
    if not made.offered:
        return ()
    digits = max(0, 1 - math.floor(math.log10(made.rms_after.u / ARCSEC)))
    lines = ["angle [deg],error [arcsec],add [arcsec],add [deg]"]
    for angle, add in zip(made.angles, made.add, strict=True):
        arcsec = float(add) / ARCSEC
        lines.append(
            f"{math.degrees(float(angle)):.0f},{_signed(-arcsec, digits)},"
            f"{_signed(arcsec, digits)},{_signed(arcsec / 3600, digits + 4)}"
        )
    text = [
        f"Error table and reversal value, unit {unit}",
        "",
        _verdict(made),
        _promise(made),
        _reversal(made),
        "",
        *(f"{n}. {line}" for n, line in enumerate(sign_steps(made), 1)),
        "",
        "Between lines of the table the control goes straight. Make it anew after any work on "
        "mesh, bearings, coupling or steps per degree.",
    ]
    return ((FILES[0], "\n".join([*lines, ""])), (FILES[1], "\n".join([*text, ""])))


def _signed(value: float, digits: int) -> str:
    text = f"{value:.{digits}f}"
    return text.removeprefix("-") if not text.strip("-0.") else text
