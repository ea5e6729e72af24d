"""Operations of the drive: motor and coupling on the finished unit, then the control's settings.

Pure table: one entry an operation. Planned where job.toml describes the control.
"""

from __future__ import annotations

from wormwright.job.operation import Operation, Restore
from wormwright.traveler.cautions import CHUCK, HOT, PINCH, POWER, ROTATING, UNBALANCED
from wormwright.traveler.staleness import MAKES_STALE

DRIVE = (
    Operation(
        key="motor_fitted",
        number="11b",
        title="Motor, coupling and current",
        cautions=(POWER, PINCH, HOT, UNBALANCED),
        tools=("test indicator", "hex keys", "thread lock", "ammeter or the driver's display"),
        do=(
            "Motor on its plate, register in, bolts loose; coupling on both shafts, its length of "
            "engagement as its maker says, grub screws on flats or a clamp hub.",
            "Indicator on the motor hub, base turning with the worm: shift or turn the register "
            "until half the swing is within the limit, tighten in a star, read again.",
            "Cable strain relieved, cable gland or seal below the drip line; handwheel off, or its "
            "handle: it throws the balance out and breaks fingers.",
            "Driver current and microsteps as the parameter sheet says; standstill current too.",
            "Power off, driver off: a whole table turn by hand at the motor: no place binds.",
        ),
        read=("drive_play",),
        gates=(),
        makes_stale=MAKES_STALE["motor_fitted"],
        spot_check=(),
        go_back="Motor off its plate, coupling in a bag; handwheel back to its mark.",
        after=(),
        minutes=60.0,
        restores=(
            Restore(
                "handwheel or crank",
                "handwheel, key and dial in a bag",
                "dial against housing, scribed line",
                ("drive_play",),
            ),
        ),
    ),
    Operation(
        key="settings",
        number="16",
        title="Steps, speed, direction and tests",
        cautions=(POWER, ROTATING, CHUCK, UNBALANCED),
        tools=("parameter sheet", "test indicator", "edge or pin on the table", "marker"),
        do=(
            "Type what the sheet of `wormwright commission` says: pulses for a degree, speed, "
            "acceleration, direction, limits, homing.",
            "Table bare, chuck key out: jog 1, then 10, then 90 degrees; note the way it turns.",
            "Cold, over a whole turn at the largest speed: no stall at the tight spot.",
            "Needle on an edge: the programmes return-10 and return-100; write what is left.",
            "A mark on the rim: after ten single turns it must stand under the needle each time.",
        ),
        read=(),
        gates=(),
        makes_stale=MAKES_STALE["settings"],
        spot_check=(),
        go_back="The settings as found, from the photograph of the control's page.",
        after=(),
        minutes=60.0,
        restores=(Restore("settings of the control", "none", "photograph of the page as found"),),
    ),
)
