"""Parts to make and the settings they need: what the drawings draw. All lengths mm, angles rad."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wormwright.job.limits import Limits
from wormwright.job.parts_mount import MountPlate, SetUp

__all__ = [
    "CentreShim",
    "ChuckAdapter",
    "EccentricBushing",
    "JournalBush",
    "Limits",
    "MountPlate",
    "Part",
    "SetUp",
    "SettingKey",
    "SettingSpanner",
    "ShimRing",
    "WheelSeat",
    "WormRelief",
]


@dataclass(frozen=True, slots=True)
class EccentricBushing:
    """One bushing of the eccentric pair, drawn as seen from its own flange face.

    `side` is "A" (motor side) or "B". `throw` is bore-to-outside offset e; TIR = 2e.
    `length` is the body under the flange (the part in the housing); overall length is
    `flange_thickness + length`. `bearing_depth` is the depth of the bearing seat from the face
    it opens at (`seat_opens`); the rest of the bore is `shoulder_bore`, on the same axis.
    `mark_angle` is where the witness mark on the flange stands from the throw direction, seen
    from this bushing's own flange face, counter-clockwise positive. `start_angle` and
    `work_range` are rotations from "throw points at the wheel", positive toward +Z, in space.
    `slot_circle` is a diameter; `slot_count` slots are evenly spaced, each `slot_sweep` from end
    centre to end centre, with a slot half a pitch to either side of the throw direction.
    """

    side: Literal["A", "B"]
    outside: Limits
    bore: Limits
    throw: float
    throw_tolerance: float
    length: float
    flange_outside: float
    flange_thickness: float
    bearing_depth: float
    shoulder_bore: float
    wall_thin: float
    wall_thick: float
    mark_angle: float
    start_angle: float
    work_range: tuple[float, float]
    slot_circle: float
    slot_width: float
    slot_sweep: float
    material: str
    bearing: str
    chamfer: float = 0.5
    quantity: int = 1
    slot_count: int = 3
    seat_opens: Literal["flange face", "inner end"] = "flange face"


@dataclass(frozen=True, slots=True)
class ShimRing:
    """A flat ring. `purpose` says which gap it sets; `stack` the pieces from stock, if any.

    `holes` screw holes of diameter `hole`, evenly spaced on `circle` (a diameter); 0 for none.
    `stack_least` and `stack_most` are what the pieces of the stack, as sold, can add to.
    `touches` says what the faces bear on and must keep clear of.
    """

    name: str
    purpose: str
    inside: Limits
    outside: Limits
    thickness: Limits
    material: str
    stack: tuple[float, ...] = ()
    quantity: int = 1
    holes: int = 0
    hole: float = 0.0
    circle: float = 0.0
    touches: str = ""
    stack_least: float = 0.0
    stack_most: float = 0.0


@dataclass(frozen=True, slots=True)
class WormRelief:
    """The worm turned down on its outside diameter so that its crest clears the wheel root."""

    outside_before: float
    outside: Limits
    length: float
    lead_angle: float
    axial_pitch: float
    shaft_diameter: float
    hand: Literal["right", "left"]
    material: str = ""


@dataclass(frozen=True, slots=True)
class CentreShim:
    """Flat packing between two bolted faces: it sets the centre distance of worm and wheel.

    `change` is what putting it in does to the centre distance, above zero apart. `holes` are
    (x, y) of the bolt holes of diameter `hole` from the datum corner; `window` is an opening
    (along, across) in the middle. All pieces of a set have one thickness within `match`.
    """

    name: str
    purpose: str
    length: float
    width: float
    thickness: Limits
    match: float
    change: float
    holes: tuple[tuple[float, float], ...]
    hole: float
    material: str
    window: tuple[float, float] | None = None
    stack: tuple[float, ...] = ()
    quantity: int = 2


@dataclass(frozen=True, slots=True)
class ChuckAdapter:
    """The plate between table and chuck, its register and face finished on the table itself.

    `spigot` enters the recess of the chuck (`chuck_recess`), `locating` the bore of the table.
    Table screws pass through `table_hole` with the head sunk in `table_head`; chuck screws go
    into holes tapped `chuck_thread` from `chuck_drill`, turned by `chuck_turn` from the table
    screws. `skim` is left on the radius of the register and on the face until they are trued.
    `adjustable`: the register stays loose in the recess and the chuck is tapped true.
    """

    name: str
    outside: float
    thickness: float
    spigot: Limits
    spigot_length: float
    locating: Limits
    locating_length: float
    bore: float
    table_circle: float
    table_count: int
    table_hole: float
    table_head: float
    table_head_depth: float
    chuck_circle: float
    chuck_count: int
    chuck_drill: float
    chuck_thread: str
    chuck_turn: float
    chuck_recess: float
    skim: float
    runout: float
    material: str
    adjustable: bool = False


@dataclass(frozen=True, slots=True)
class WheelSeat:
    """The wheel bored true to its own teeth and sleeved back to the seat of the table.

    `bore_found` and `runout_found` (TIR over a pin in the tooth spaces) are as found; `bore`
    is the new bore, `sleeve` the outside of the sleeve fixed in it, `seat` the sleeve's bore,
    finished in the same hold. `runout` and `face_runout` are allowed afterwards (TIR).
    """

    wheel_outside: float
    face_width: float
    hub_outside: float
    hub_length: float
    teeth: int
    pin: float
    stations: int
    bore_found: float
    runout_found: float
    bore: Limits
    sleeve: Limits
    seat: Limits
    runout: float
    face_runout: float
    wheel_material: str
    sleeve_material: str


@dataclass(frozen=True, slots=True)
class JournalBush:
    """A plain bush for a worm journal, pressed in and its bore finished in place.

    `bore` is the finished bore, `bore_turned` what it is turned to before pressing and `closes`
    what pressing takes off it. `length` is the body in the housing; the flange
    (`flange_outside`, zero for none) takes the thrust. The oil groove runs along the bore
    through the oil hole, `oil_hole_at` from the flange face (or the outer end), and stops
    `groove_land` short of both ends. `shaft` is the journal.
    """

    side: Literal["A", "B"]
    outside: Limits
    bore: Limits
    bore_turned: float
    closes: float
    shaft: Limits
    length: float
    flange_outside: float
    flange_thickness: float
    oil_hole: float
    oil_hole_at: float
    groove_width: float
    groove_depth: float
    groove_land: float
    material: str
    chamfer: float = 0.5
    quantity: int = 1


@dataclass(frozen=True, slots=True)
class SettingSpanner:
    """A pin spanner that turns an eccentric bushing by two of its clamp slots, and reads it.

    Two pins on `pin_circle`, `pin_spread` apart, bear on the near ends of two neighbour slots of
    the `slot_count` in the flange, so that it turns both ways without play. The lever points away
    from the throw. The arc at `reading_radius` carries degree lines over `scale_range` to either
    side; the setting key works in the slot of the lever at `key_radius`, `key_slot` across the
    lever and `key_slot_length` along it. `screw_head` is the diameter of the screw head or washer
    over a slot of the flange.
    """

    pin_circle: float
    pin: Limits
    pin_spread: float
    pin_reach: float
    plate_thickness: float
    head_outside: float
    centre_hole: float
    reading_radius: float
    scale_range: float
    lever_width: float
    key_radius: float
    key_slot: Limits
    key_slot_length: float
    slot_count: int
    slot_width: float
    slot_sweep: float
    screw_head: float
    flange_thickness: float
    throw: float
    material: str
    quantity: int = 2


@dataclass(frozen=True, slots=True)
class SettingKey:
    """A stepped pin that moves the lever of a setting spanner by little, and holds it.

    Its `journal` turns in a block clamped to the housing; its `eccentric`, off the journal by
    `offset`, works in the slot of the lever at `lever_radius` from the axis of the bushing, whose
    throw is `throw`. `block` is (along the lever, across it), its hole `block_hole` stands
    `hole_from_end` from the end away from the arc.
    """

    journal: Limits
    journal_length: float
    eccentric: Limits
    eccentric_length: float
    offset: float
    offset_tolerance: float
    head_outside: float
    head_length: float
    cross_hole: float
    block: tuple[float, float]
    block_hole: Limits
    hole_from_end: float
    lever_radius: float
    lever_thickness: float
    key_slot: Limits
    throw: float
    material: str
    quantity: int = 2


@dataclass(frozen=True, slots=True)
class MotorPlate:
    """The plate between rotary and motor; it lets the motor follow the worm after closing.

    `pilot` takes the pilot of the motor, `pilot_depth` deep; its four screws stand at the corners
    of a square `pitch`, in holes `motor_hole` tapped `motor_thread` where that is not empty. From
    the other side `register` takes the spigot of the rotary, `register_depth` deep; between them
    the plate is open `through`. `style` slotted: the register clears the spigot and the `holes` on
    `circle` are `travel` longer both ways along the closing. Eccentric: the register is bored
    `throw` off the pilot and turned by `turn`. `offset_left` is what alignment may leave.
    """

    style: Literal["slotted", "eccentric"]
    frame: int
    outside: float
    thickness: float
    pilot: Limits
    pilot_depth: float
    pitch: float
    motor_hole: float
    motor_thread: str
    register: Limits
    register_depth: float
    through: float
    circle: float
    holes: int
    hole: float
    travel: float
    throw: float
    turn: float
    standoff: float
    shaft: float
    worm_shaft: float
    coupling: str
    offset_left: float
    material: str


Part = (
    EccentricBushing
    | ShimRing
    | WormRelief
    | CentreShim
    | ChuckAdapter
    | WheelSeat
    | JournalBush
    | SettingSpanner
    | SettingKey
    | MountPlate
    | SetUp
    | MotorPlate
)
