"""Gates of the drive: the motor in line, the current, and the tests of the settings."""

from __future__ import annotations

from wormwright.job.operation import Gate
from wormwright.traveler.gates_made import tick
from wormwright.traveler.limits import COUPLING_OFFSET, MOTOR_MARGIN, Limits

RETURN = 0.01
"""What a needle may show after the return programmes, mm: one division (common practice)."""


def motor_fitted(_: Limits) -> tuple[Gate, ...]:
    """In line, free by hand, current set, and strong enough."""
    return (
        Gate(
            "motor_offset",
            "Motor line against worm line (half the needle swing)",
            "length",
            None,
            COUPLING_OFFSET,
            "Indicator carried round by the worm on the motor hub, bolts tight.",
            "Shift or turn the register of the plate; a coupling forced into line eats bearings.",
        ),
        Gate(
            "motor_margin",
            "Holding torque of the motor / cold drag at the tight spot",
            "ratio",
            MOTOR_MARGIN,
            None,
            "From the page of commission: motor and home.",
            "Ease the tight spot, thinner grease, or a stronger motor.",
        ),
        tick(
            "free_by_hand",
            "Turns by hand at the motor all round, power off",
            "A whole table turn, both ways.",
            "Find what binds before any power: brake, cover, coupling, tight spot.",
        ),
        tick(
            "current_set",
            "Current and microsteps set as on the parameter sheet",
            "Switches or page of the driver, read aloud.",
            "Set them; a driver that counts peaks wants the larger figure.",
        ),
    )


def settings(_: Limits) -> tuple[Gate, ...]:
    """Direction, stall, and the two returns."""
    mend = "Lost pulses: slower, softer acceleration, or more current; find the stall first."
    return (
        tick(
            "direction_right",
            "Plus turns the table the way the sheet says",
            "The programme direction; looking on the face.",
            "Change the direction setting of the control, never the sign in a programme.",
        ),
        tick(
            "no_stall",
            "No stall over a whole turn, cold, at the largest speed",
            "Mark on the motor shaft and on the rim.",
            "Halve speed and acceleration and try again; then look at the tight spot.",
        ),
        Gate(
            "return_10",
            "Needle after 10 turns and back",
            "length",
            None,
            RETURN,
            "The programme return-10, needle on an edge near the rim.",
            mend,
        ),
        Gate(
            "return_100",
            "Needle after 100 turns and back",
            "length",
            None,
            RETURN,
            "The programme return-100, same edge.",
            mend,
        ),
    )
