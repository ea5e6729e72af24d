"""The last operations: the axis proved under power, and checked again after use.

Pure table: one entry an operation. Gates, and what must come first, are added by the plan.
"""

from __future__ import annotations

from wormwright.job.operation import Operation
from wormwright.traveler.cautions import PINCH, POWER, ROTATING
from wormwright.traveler.staleness import MAKES_STALE

PROOF = (
    Operation(
        key="proof_axis",
        number="17",
        title="Proof under power: positioning test and certificate",
        cautions=(ROTATING, PINCH),
        tools=(
            "square, polygon or arm and indicator",
            "contact thermometer",
            "computer with the control",
        ),
        do=(
            "Mounted as it will run: base bolted, compensation and lock as in use, an hour under "
            "power so that it is as warm as at work.",
            "Plan the test (wormwright prove DIR --plan): targets that meet the worm at every "
            "phase, from both sides, five runs; load the programme and print the form.",
            "First target once more at the end: what it has moved is drift, and counts for all.",
            "Rock loop at the torque to resist; temperatures of room and housing.",
            "Look at the verdict (wormwright prove DIR): where it cannot be told, read what it "
            "names and look again.",
            "Print the packet and sign the certificate. Keep these readings: they are the new "
            "baseline.",
        ),
        read=("position_error", "rock_loop", "temperature"),
        gates=(),
        makes_stale=MAKES_STALE["proof_axis"],
        spot_check=(),
        go_back="Nothing has been changed.",
        after=(),
        minutes=120.0,
        wants=("position_error",),
    ),
    Operation(
        key="recheck",
        number="18",
        title="Check again after use",
        cautions=(POWER, PINCH),
        tools=("test indicator", "lever and spring balance", "cord and drum"),
        do=(
            "After 10 h, after 50 h, then each half year: the hours first, they open the check.",
            "Rock, worm end play, play of the table, clamp shift and drag at the places of the "
            "proof, with its pin radius and torque, as cold as then.",
            "Look at the answer (wormwright keep DIR): still good, adjust, or cannot tell.",
            "Adjust only by what it names; then lock, read the locked rock and write it down.",
        ),
        read=(
            "hours_run",
            "rock",
            "worm_end_play",
            "table_axial_play",
            "clamp_shift",
            "drag_in_mesh",
        ),
        gates=(),
        makes_stale=MAKES_STALE["recheck"],
        spot_check=(),
        go_back="Nothing has been changed.",
        after=(),
        minutes=40.0,
        wants=("hours_run",),
    ),
)
