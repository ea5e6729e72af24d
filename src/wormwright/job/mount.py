"""How the unit is to stand on the machine, as the machinist describes it. Lengths mm."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields
from typing import Literal

Hold = Literal["three-jaw", "four-jaw", "collet"]
SlotsRun = Literal["along the axis", "across the axis"]
Raise = Literal["head up", "bridge up", "cannot"]

_MAY_BE_ZERO = frozenset(("riser", "retract", "clear", "jaw_out", "tail_out", "joints"))


@dataclass(frozen=True, slots=True)
class Mount:
    """Unit, chuck, work, tail and tool as they are to stand; None where it was not said.

    The unit: `centre_height` over its own foot; body sizes; feet `foot_along` apart along the axis
    and `foot_across` across it, holes `foot_hole`; `key_distance` between its keys, or from the
    point it turns about to the stop; `riser` is all that stands under it now, in `joints` bolted
    joints. The chuck: `chuck_length` with its adapter, `jaw_out` of the jaws beyond it,
    `jaw_swing` the diameter over them at full opening. `cut_diameter` is the smallest diameter
    cut, `cutter_out` the cutter below its nut, `nut_length` nut and holder below the spindle
    nose. `tail_out` is the centre's reach out of the tail's body, which is `tail_length` long and
    `tail_top` high. `retract` is wanted above the work, `clear` everywhere else. `tolerance` is
    what the axis may lean over `work_length`, in the machinist's own judgement.
    """

    centre_height: float | None = None
    body_length: float | None = None
    body_width: float | None = None
    body_height: float | None = None
    foot_along: float | None = None
    foot_across: float | None = None
    foot_hole: float | None = None
    key_distance: float | None = None
    weight: float | None = None
    riser: float = 0.0
    joints: int = 1
    hold: Hold = "three-jaw"
    chuck_outside: float | None = None
    chuck_length: float | None = None
    jaw_out: float = 0.0
    jaw_swing: float | None = None
    jaw_mass: float | None = None
    chuck_speed: float | None = None
    grip: float | None = None
    grip_diameter: float | None = None
    work_diameter: float | None = None
    work_length: float | None = None
    cut_diameter: float | None = None
    tail_height: float | None = None
    tail_out: float | None = None
    tail_length: float | None = None
    tail_top: float | None = None
    cutter_diameter: float | None = None
    cutter_out: float | None = None
    nut_diameter: float | None = None
    nut_length: float | None = None
    side_force: float | None = None
    speed: float | None = None
    tolerance: float | None = None
    retract: float = 5.0
    clear: float = 2.0
    plate_material: str = "aluminium"

    def __post_init__(self) -> None:
        """Refuse sizes that are none."""
        for field in fields(self):
            value = getattr(self, field.name)
            if value is None or isinstance(value, str):
                continue
            low = 0.0 if field.name in _MAY_BE_ZERO else 1e-12
            if not (math.isfinite(value) and value >= low):
                raise ValueError(f"mount: {field.name} must be above zero, got {value!r}")
        if (self.cut_diameter or 0.0) > (self.work_diameter or math.inf):
            raise ValueError("mount: cut_diameter is larger than the work")
        if (self.foot_along or 0.0) > (self.body_length or math.inf):
            raise ValueError("mount: the feet stand further apart than the body is long")

    @property
    def has_tail(self) -> bool:
        """Whether a tailstock is to carry the work."""
        return self.tail_height is not None
