"""The job and what it is about: the rotary, its duty, the machine and the motor."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING, Literal

from wormwright.job.adapter import AdapterPlate

if TYPE_CHECKING:  # nouns that only choose, mount and commission need
    from wormwright.job.control import Chuck, Control, PlateSizes
    from wormwright.job.drive import Drive
    from wormwright.job.mount import Mount, Raise, SlotsRun
    from wormwright.job.work import Task

Units = Literal["mm", "in"]
Sheet = Literal["A4", "letter"]
Work = Literal["indexed", "continuous", "reversing"]
Approach = Literal["one way", "both ways"]
Direction = Literal["tangential", "radial", "axial"]
Feature = Literal["positions", "tooth spacing", "flats", "seam gap", "cross holes", "contour"]
"""What of the work shows the error of the axis."""
Held = Literal["free", "clamped", "biased", "braked"]
"""What keeps the table against the cut: the flanks alone, the lock, a weight and cord, a brake."""
Cut = Literal["one side", "both sides"]
"""Whether the cut pushes the table one way only, or to and fro."""

FEWEST_FEATURES = 2
"""Teeth, flats or holes on one work from which their spacing means anything."""
MotorKind = Literal["stepper", "closed-loop stepper", "servo"]


def _positive(owner: str, **numbers: float | None) -> None:
    for name, number in numbers.items():
        if number is not None and not (math.isfinite(number) and number > 0):
            raise ValueError(f"{owner}: {name} must be above zero, got {number}")


@dataclass(frozen=True, slots=True)
class Rotary:
    """The unit on the bench. Everything measured on it is a reading, not a field here."""

    name: str
    unit_id: str
    worm_material: str
    wheel_material: str
    housing_material: str
    table_weight_n: float | None = None
    table_axis: Literal["horizontal", "vertical"] = "vertical"
    bearing_maker_note: str = ""

    def __post_init__(self) -> None:
        """Refuse a rotary that cannot be told from its neighbour."""
        if not self.unit_id.strip():
            raise ValueError("rotary: unit_id is empty; every unit needs its own mark")
        _positive("rotary", table_weight=self.table_weight_n)

    @property
    def marked(self) -> str:
        """What it is and the mark that tells this one from its neighbour."""
        return f"{self.name}, unit {self.unit_id}"


@dataclass(frozen=True, slots=True)
class Duty:
    """What the finished axis must do; it decides everything.

    `error` is the allowed to-and-fro movement of the work at `radius_mm` in `direction`. `feature`
    and how many of them (`count`) say what shows it; without them the proof takes the usual one.
    """

    radius_mm: float
    error_mm: float
    direction: Direction
    approach: Approach
    work: Work
    torque_resist_nmm: float
    drag_limit_nmm: float
    play_min_cold_mm: float
    shop_low_c: float
    shop_high_c: float
    rise_k: float = 20.0
    probability: float = 0.90
    feature: Feature | None = None
    count: int | None = None
    held: Held = "free"
    cut: Cut | None = None

    def __post_init__(self) -> None:
        """Refuse impossible duties."""
        _positive(
            "duty",
            radius=self.radius_mm,
            error=self.error_mm,
            torque_to_resist=self.torque_resist_nmm,
            drag_limit=self.drag_limit_nmm,
        )
        if self.play_min_cold_mm < 0:
            raise ValueError(f"duty: play_min_cold must not be negative: {self.play_min_cold_mm}")
        if self.shop_low_c > self.shop_high_c:
            raise ValueError("duty: the lowest shop temperature is above the highest")
        if self.count is not None and self.count < FEWEST_FEATURES:
            raise ValueError(f"duty: count must be {FEWEST_FEATURES} or more, got {self.count}")
        if not 0.5 <= self.probability < 1:
            raise ValueError(f"duty: probability must be in 0.5..1, got {self.probability}")


@dataclass(frozen=True, slots=True)
class Machine:
    """The machine that will carry the axis. Lengths mm; None where it was not said.

    `daylight` is spindle nose to table with the head at the top of `z_travel`; `bridge` the height
    under the lowest part of a bridge or gantry that passes over the table; `post` the length of
    the posts or column that would have to be raised, `post_width` across.
    """

    name: str = ""
    kind: Literal["mill", "router", "lathe", "other"] = "other"
    daylight: float | None = None
    z_travel: float | None = None
    x_travel: float | None = None
    table_length: float | None = None
    bridge: float | None = None
    nose_diameter: float | None = None
    slot_width: float | None = None
    slot_pitch: float | None = None
    slots_run: SlotsRun = "along the axis"
    can_raise: Raise = "cannot"
    post: float | None = None
    post_width: float | None = None

    def __post_init__(self) -> None:
        """Refuse sizes that are none."""
        sizes = {
            field.name: value
            for field in fields(self)
            if isinstance(value := getattr(self, field.name), float)
        }
        _positive("machine", **sizes)


@dataclass(frozen=True, slots=True)
class Motor:
    """The motor that turns the worm: figures of its data sheet, in core units.

    `pulses` are those of one turn as the driver is set. `points` (rpm, N·mm) of a data sheet count
    before what current, resistance, inductance and voltage tell. `useful_rpm` is the speed up to
    which the machinist wants to use it; `belt` the teeth of the pulleys at motor and worm.
    """

    name: str = ""
    torque_hold_nmm: float | None = None
    steps_per_turn: int | None = None
    kind: MotorKind = "stepper"
    pulses: int | None = None
    current: float | None = None
    resistance: float | None = None
    inductance: float | None = None
    voltage: float | None = None
    inertia: float | None = None
    points: tuple[tuple[float, float], ...] = ()
    useful_rpm: float | None = None
    belt: tuple[int, int] | None = None

    @property
    def pulses_per_turn(self) -> int | None:
        """Pulses of one turn: as set, else its full steps."""
        return self.pulses or self.steps_per_turn


@dataclass(frozen=True, slots=True)
class BearingRow:
    """The user's own row for a bearing that the handbook does not have."""

    designation: str
    bore_mm: float
    outside_mm: float
    width_mm: float
    dynamic_n: float | None = None
    static_n: float | None = None

    def __post_init__(self) -> None:
        """Refuse impossible rings."""
        _positive("bearing", bore=self.bore_mm, outside=self.outside_mm, width=self.width_mm)
        if self.bore_mm >= self.outside_mm:
            raise ValueError(f"bearing {self.designation}: bore is not smaller than outside")


@dataclass(frozen=True, slots=True)
class Job:
    """One unit and all that is wanted of it. Readings and sign-offs are kept beside it.

    `hour_cost` is what an hour at the bench costs, `costs` what a correction costs on top of its
    hours, by key, both in the machinist's own currency; without an hour's cost, effort is minutes.
    A `closed` job takes no more readings and sign-offs.
    """

    name: str
    rotary: Rotary
    duty: Duty
    machine: Machine = Machine()
    motor: Motor = Motor()
    units: Units = "mm"
    sheet: Sheet = "A4"
    made_up: bool = False
    seed: int = 1
    plan: str | None = None
    closed: bool = False
    adapter: AdapterPlate | None = None
    mount: Mount | None = None
    pair_module_mm: float | None = None
    pair_pressure_angle: float | None = None
    bearings: tuple[BearingRow, ...] = ()
    shim_stock_mm: tuple[float, ...] = ()
    hour_cost: float | None = None
    costs: tuple[tuple[str, float], ...] = ()
    work: tuple[Task, ...] = ()
    drives: tuple[Drive, ...] = ()
    control: Control | None = None
    chuck: Chuck | None = None
    plate: PlateSizes | None = None
