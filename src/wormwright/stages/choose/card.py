"""The purchase card: twenty minutes at the seller's bench, on one page."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.handbook.as_found import BENT_SHAFT, CRACKED_CASTING, LIMITS, PITCH_ERROR
from wormwright.job.blocks import Block, Cautions, Cell, Heading, Paragraph, Steps, Table
from wormwright.job.rotary import Job, Units
from wormwright.quantities import shown

BLANK = "________"
CAUTIONS = (
    "A table of the 6 to 8 in class weighs 15 to 40 kg: two hands each side, never by the handle.",
    "Fingers away from worm and wheel while another turns it; power off and plug out first.",
    "Self-locking is never a brake: do not stand under a table that hangs on its worm.",
)
STEPS = (
    "Ask for the papers, the ratio and what it was used for. Photograph every side first.",
    "Turn it a whole turn by hand: note where it is tight, where it grates, where it is loose.",
    "Then the readings below, in this order; write what the needle says, not what you hope.",
    "Count handle turns for one table turn; measure the centre height and the bolt circle.",
    "Nothing is opened and nothing adjusted: once dismantled it cannot be sent back.",
)


@dataclass(frozen=True, slots=True)
class _Row:
    """One reading of the card: the limit it is judged by, how it is taken, and its minutes."""

    limit: str
    how: str
    minutes: int
    at_radius: bool = False


_ROWS = (
    _Row(
        "lost_motion",
        "rock at the rim, 4 places a quarter turn apart; bar in the slot, push and pull, relax, "
        "read",
        8,
        at_radius=True,
    ),
    _Row("end_play", "needle on the worm end while another rocks the table", 3),
    _Row("table_axial", "lift at the rim, needle on the face opposite", 2),
    _Row("table_radial", "push across, needle on the rim", 2),
    _Row("face", "needle on the face near the rim, one turn", 3),
    _Row("register", "needle in the bore or on the register, one turn", 2),
)


def purchase_card(job: Job) -> tuple[Block, ...]:
    """The card: what to do, what is normal, what can be mended at home, what goes back."""
    units, radius = job.units, job.duty.radius_mm
    at = shown(radius, "length", units=units)
    return (
        Heading("Purchase card: 20 minutes, one needle, one bar"),
        Steps(STEPS, ticks=True),
        _readings(units, radius),
        Paragraph(
            f"The rock is given at a radius of {at}: for another pin radius multiply the limits by "
            "its share. One bad figure is no verdict; two are."
        ),
        _verdict(job),
        Heading("What no work at home cures", 2),
        Paragraph(PITCH_ERROR),
        Paragraph(CRACKED_CASTING),
        Paragraph(BENT_SHAFT),
        Cautions(CAUTIONS),
    )


def _readings(units: Units, radius: float) -> Table:
    rows = []
    for row in _ROWS:
        limit = LIMITS[row.limit]
        arm = radius if row.at_radius else 1.0
        normal, far = limit.usual[1] * arm, limit.far * arm
        step = 0.01 if units == "mm" else 0.0127
        first = shown(normal, "length", resolution=step, units=units)
        last = shown(far, "length", resolution=step, units=units)
        rows.append(
            (
                Cell(
                    limit.label.replace("lost motion from the motor, mean round the turn", "rock")
                ),
                Cell(row.how),
                Cell(f"up to {first}"),
                Cell(f"up to {last}"),
                Cell(f"over {last}"),
                Cell(f"{BLANK} {BLANK}" if row.at_radius else BLANK),
            )
        )
    minutes = sum(row.minutes for row in _ROWS)
    columns = ("reading", "how", "normal", "mend at home", "send back", "read")
    return Table(f"Readings, {minutes} minutes", columns, tuple(rows), key="card")


def _verdict(job: Job) -> Table:
    """What each verdict means, with the cost and hours that were entered for this unit."""
    mine = next((drive for drive in job.drives if drive.family.startswith("worm")), None)
    cost = mine.cost if mine else None
    hours = mine.hours if mine else None
    spent = f"{cost.low:.0f} to {cost.high:.0f}" if cost else BLANK
    worked = f"{hours.low:.0f} to {hours.high:.0f} h" if hours else BLANK
    rows = (
        (Cell("normal"), Cell("take it; measure it fully at home"), Cell(spent), Cell("1 to 2 h")),
        (Cell("mend at home"), Cell("offer less by the hours below"), Cell(BLANK), Cell(worked)),
        (Cell("send back"), Cell("leave it, or only for parts"), Cell("0"), Cell("0")),
    )
    return Table(
        "Verdict: tick one", ("verdict", "what follows", "price", "hours"), rows, key="verdict"
    )
