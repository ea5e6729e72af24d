"""Riser under the unit: how high it must be, how high it may be, what it costs.

A riser lifts the swing and eats the daylight under the tool one for one.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RiserBand:
    """Least and most riser under the unit, mm. With least above most there is none that does."""

    least: float
    most: float

    @property
    def possible(self) -> bool:
        """Whether a riser (or none at all) does."""
        return self.least <= self.most

    @property
    def short(self) -> float:
        """What is missing, mm; zero when a riser does."""
        return max(self.least - self.most, 0.0)


def riser_band(
    *,
    swing: float,
    under: float,
    centre_height: float,
    daylight: float,
    top: float,
    tool: float,
    retract: float,
) -> RiserBand:
    """Heights of riser that let the work swing below and the tool pass above.

    Source: geometry of the set-up; derived here.
    Formula: least = max(swing + under - h_c, 0); most = daylight - tool - retract - top - h_c.
    Inputs: swing, radius of what turns over the table; under, room wanted below it; centre_height
        h_c of the unit; daylight, spindle nose to table with the head up; top, radius over which
        the tool must pass; tool, what stands out of the nose; retract, room wanted above [mm].
    Outputs: RiserBand. Valid for: none below zero, h_c and daylight above. Raises: ValueError.

    >>> band = riser_band(swing=80.0, under=5.0, centre_height=60.0, daylight=250.0, top=80.0,
    ...                   tool=60.0, retract=10.0)
    >>> band.least, band.most, band.possible
    (25.0, 40.0, True)
    """
    if not (min(swing, under, top, tool, retract) >= 0 and min(centre_height, daylight) > 0):
        raise ValueError(
            f"riser: expected sizes, got {swing}, {under}, {centre_height}, {daylight}, {top}, "
            f"{tool}, {retract}"
        )
    return RiserBand(
        max(swing + under - centre_height, 0.0), daylight - tool - retract - top - centre_height
    )


def largest_swing(
    *, daylight: float, tool: float, retract: float, under: float, lowest: float = 0.0
) -> float:
    """Largest radius of work that a machine takes with the best riser.

    Source: geometry: h_c + H >= r + under and daylight >= h_c + H + r + tool + retract.
    Formula: r = (daylight - tool - retract - under)/2, reached at h_c + H = r + under; but no more
        than daylight - tool - retract - lowest, for the axis comes no lower than without a riser.
    Inputs: as `riser_band`; lowest, height of the axis without a riser [mm].
    Outputs: radius [mm]. Valid for: something left. Raises: ValueError when nothing is left.

    >>> largest_swing(daylight=250.0, tool=60.0, retract=10.0, under=5.0)
    87.5
    >>> largest_swing(daylight=250.0, tool=60.0, retract=10.0, under=5.0, lowest=100.0)
    80.0
    """
    room = daylight - tool - retract
    radius = min((room - under) / 2, room - lowest)
    if not (min(daylight, tool, retract, under, lowest) >= 0 and radius > 0):
        raise ValueError(
            f"daylight {daylight} mm, tool {tool}, retract {retract}, below {under}: nothing is "
            "left for work; take a shorter tool or raise the head"
        )
    return radius
