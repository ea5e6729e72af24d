"""Where the axis of a rotary stands to the travels of the machine, from a bar and an indicator."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Slope:
    """Lean of the axis against a travel [1], and what it does over a length [mm]."""

    lean: float

    def over(self, length: float) -> float:
        """Rise or drift over a length, mm: a shim under the far feet, a move at the key."""
        return self.lean * length

    def taper(self, length: float) -> float:
        """Difference of diameter over a length of work turned or milled along the travel, mm."""
        return 2 * abs(self.lean) * length


def slope_of_axis(*, near: tuple[float, float], far: tuple[float, float], distance: float) -> Slope:
    """Lean of the axis from readings on a bar at two places, the bar turned half round at each.

    Source: geometry: the mean of two readings half a turn apart is free of the bar's own runout.
    Formula: (mean of far - mean of near) / distance.
    Inputs: near, far, readings at 0° and 180° [mm], plus when the bar stands toward the needle;
        distance between the two places along the travel [mm].
    Outputs: Slope, above zero when the bar comes toward the needle going outward.
    Valid for: a straight bar, one needle carried along the travel. Raises: ValueError for a
        distance not above zero.

    >>> round(slope_of_axis(near=(0.0, 0.01), far=(0.03, 0.04), distance=150.0).lean * 1e6)
    200
    """
    if not distance > 0:
        raise ValueError(f"axis: expected the two places apart, got {distance} mm")
    return Slope((sum(far) / 2 - sum(near) / 2) / distance)


def centre_height(*, over: tuple[float, float], diameter: float) -> float:
    """Height of an axis from a height gauge over a bar in it, the bar turned half round.

    Source: geometry. Formula: mean of the two readings less half the diameter.
    Inputs: over, readings at 0° and 180° [mm]; diameter of the bar there [mm].
    Outputs: height [mm]. Valid for: diameter above zero. Raises: ValueError outside.

    >>> round(centre_height(over=(112.534, 112.508), diameter=25.004), 3)
    100.019
    """
    if not diameter > 0:
        raise ValueError(f"centre height: expected a diameter above zero, got {diameter} mm")
    return sum(over) / 2 - diameter / 2
