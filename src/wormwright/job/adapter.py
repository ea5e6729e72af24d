"""The plate between table and chuck, as the machinist describes it. Lengths mm, angles rad."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields


@dataclass(frozen=True, slots=True)
class AdapterPlate:
    """Sizes of the plate that do not come out of readings.

    `table_bore` is the bore of the table that its back spigot enters for `back_length`;
    `chuck_recess` the recess of the chuck that its register enters for `register_length`. Table
    screws pass through `table_hole`, their heads sunk `table_head_depth`; chuck screws go into
    holes drilled `chuck_drill` and tapped `chuck_thread`, turned by `chuck_turn` from the table
    screws, counter-clockwise as seen from the chuck.
    """

    outside: float
    thickness: float
    bore: float
    table_bore: float
    back_length: float
    chuck_recess: float
    register_length: float
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
    material: str

    def __post_init__(self) -> None:
        """Refuse sizes that are none."""
        for field in fields(self):
            value = getattr(self, field.name)
            if isinstance(value, str):
                good, wanted = bool(value.strip()), "a word"
            elif field.name == "chuck_turn":
                good, wanted = math.isfinite(value), "an angle"
            else:
                good, wanted = math.isfinite(value) and value > 0, "above zero"
            if not good:
                raise ValueError(f"adapter: {field.name} must be {wanted}, got {value!r}")
