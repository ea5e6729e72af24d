"""The purchase card: twenty minutes at the seller's bench, on one page."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.handbook.as_found import LIMITS
from wormwright.job.blocks import Block, Cautions, Cell, Paragraph, Steps, Table
from wormwright.job.rotary import Job, Units
from wormwright.quantities import shown

BLANK = "________"
CAUTIONS = (
    "Such a table weighs 15 to 40 kg: two people or a hoist, never by the handle.",
    "Power off and plug out; fingers away from the mesh while another turns it.",
    "Self-locking is never a brake: nobody under a table that hangs on its worm.",
)
STEPS = (
    "Photograph every side; ask for papers, ratio, use. Turn it a whole turn by hand: tight, "
    "grating or loose, and where.",
    "Take the readings in this order; write what the needle says. Open and adjust nothing: once "
    "dismantled it cannot be sent back.",
    "Handle turns for one table turn ______  centre height ______  bolt circle ______",
)
NO_CURE = (
    "No work at home cures: pitch error cut into the wheel, a cracked casting (look at worm "
    "housing and lock boss), a bent worm shaft (shows once a worm turn)."
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
        "bar in the slot: push, relax, read; pull, relax, read; 4 places",
        8,
        at_radius=True,
    ),
    _Row("end_play", "needle on the worm end, table rocked", 3),
    _Row("table_axial", "lift at the rim, needle opposite", 2),
    _Row("table_radial", "push across, needle on the rim", 2),
    _Row("face", "needle on the face near the rim, a turn", 3),
    _Row("register", "needle in the bore, a turn", 2),
)


def purchase_card(job: Job) -> tuple[Block, ...]:
    """The card: what to do, what is normal, what can be mended at home, what goes back."""
    units, radius = job.units, job.duty.radius_mm
    at = shown(radius, "length", units=units)
    return (
        Cautions(CAUTIONS),
        Steps(STEPS, ticks=True),
        _readings(units, radius),
        Paragraph(
            f"The rock is for a pin at {at}; at another radius its limits go with the radius. "
            "Between the two it can be mended at home. One bad figure is no verdict; two are."
        ),
        _verdict(job),
        Paragraph(NO_CURE),
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
                Cell(first, strong=True),
                Cell(last, strong=True),
                Cell(BLANK),
            )
        )
    minutes = sum(row.minutes for row in _ROWS)
    columns = ("reading", "how", "normal to", "back over", "read")
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
