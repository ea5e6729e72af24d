"""The control, the chuck and the motor plate, as far as the axis is concerned. Core units."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.job.given import refuse_unless_positive

FeedRule = Literal["linear part", "one vector"]
InverseTime = Literal["blocks a minute", "seconds a block", "blocks a second", "none"]
Positive = Literal["counter-clockwise", "clockwise"]
PlateStyle = Literal["slotted", "eccentric"]


@dataclass(frozen=True, slots=True)
class Control:
    """What the control can do and how it takes its settings.

    `pulse_limit` in Hz; `decimals` it keeps of pulses for each degree; `bits` of its counter.
    `positive` is the way the table turns for plus, seen on its face. `wraps` says that 360 is 0
    again. `home_repeat` is the whole spread of the home switch at `home_arm` from the axis, mm.
    """

    pulse_limit: float | None = None
    decimals: int = 3
    axis: str = "A"
    feed_rule: FeedRule = "linear part"
    inverse_time: InverseTime = "blocks a minute"
    bits: int = 32
    positive: Positive = "counter-clockwise"
    wraps: bool = False
    home_repeat: float | None = None
    home_arm: float | None = None

    def __post_init__(self) -> None:
        """Refuse settings that no control has."""
        refuse_unless_positive(
            "control",
            pulse_limit=self.pulse_limit,
            home_repeat=self.home_repeat,
            home_arm=self.home_arm,
        )
        if not 0 <= self.decimals <= 12:
            raise ValueError(f"control: decimals must be 0 to 12, got {self.decimals}")
        if self.axis not in ("A", "B", "C"):
            raise ValueError(f"control: axis must be A, B or C, got {self.axis!r}")


@dataclass(frozen=True, slots=True)
class Chuck:
    """The chuck on the table: marked speed rpm, mass kg, diameter mm, and its jaws if known."""

    speed_limit: float | None = None
    mass: float | None = None
    diameter: float | None = None
    jaws: int = 3
    jaw_mass: float | None = None
    jaw_radius: float | None = None
    grip: float | None = None

    def __post_init__(self) -> None:
        """Refuse a chuck that cannot be."""
        refuse_unless_positive(
            "chuck",
            speed_limit=self.speed_limit,
            mass=self.mass,
            diameter=self.diameter,
            jaw_mass=self.jaw_mass,
            jaw_radius=self.jaw_radius,
            grip=self.grip,
        )
        if not 2 <= self.jaws <= 8:
            raise ValueError(f"chuck: jaws must be 2 to 8, got {self.jaws}")


@dataclass(frozen=True, slots=True)
class PlateSizes:
    """Sizes of the plate between motor and rotary that no reading gives, mm.

    `register` is the spigot of the rotary that the plate sits on, `circle`, `holes` and `hole` the
    screws into the rotary; `standoff` the room for the coupling between motor face and plate.
    """

    style: PlateStyle
    frame: int
    outside: float
    thickness: float
    register: float
    circle: float
    holes: int
    hole: float
    standoff: float
    shaft: float
    worm_shaft: float
    coupling: str
    material: str = "aluminium"

    def __post_init__(self) -> None:
        """Refuse sizes that are none."""
        refuse_unless_positive(
            "motor plate",
            outside=self.outside,
            thickness=self.thickness,
            register=self.register,
            circle=self.circle,
            hole=self.hole,
            standoff=self.standoff,
            shaft=self.shaft,
            worm_shaft=self.worm_shaft,
        )
        if not 2 <= self.holes <= 12:
            raise ValueError(f"motor plate: holes must be 2 to 12, got {self.holes}")
