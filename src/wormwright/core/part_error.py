"""What an axis that stands off leaves in the part, the cutter's path being straight."""

from __future__ import annotations

import math


def cone_of_lean(*, lean: float, length: float) -> float:
    """Difference of diameter over a length, the axis leaning toward or away from the cutter.

    Source: geometry. Formula: 2 |lean| L; the included angle of the cone is 2 |lean|.
    Inputs: lean in elevation [1], length [mm]. Outputs: taper on diameter [mm].
    Valid for: length above zero, a small lean (below 0.1). Raises: ValueError outside.

    >>> round(cone_of_lean(lean=0.00016, length=100.0), 4)
    0.032
    """
    _checked(lean, length)
    return 2 * abs(lean) * length


def waist_of_drift(*, drift: float, radius: float) -> float:
    """How much larger the radius comes out where the cutter passes beside the axis.

    Source: geometry: a point at radius r over the axis, moved sideways by y, stands
        sqrt(r^2 + y^2) from it; along a lean this is a waist (hyperboloid).
    Formula: sqrt(r^2 + y^2) - r.
    Inputs: drift of the axis from under the cutter y, radius r [mm]. Outputs: growth [mm].
    Valid for: a point or ball cutter; a flat end wider than the drift leaves none; radius above
        zero. Raises: ValueError outside.

    >>> round(waist_of_drift(drift=0.016, radius=10.0) * 1000, 4)
    0.0128
    """
    if not radius > 0:
        raise ValueError(f"waist: expected a radius above zero, got {radius} mm")
    return drift * drift / (math.hypot(radius, drift) + radius)


def cross_hole_mismatch(*, offset: float) -> float:
    """How far two halves of a cross hole drilled from 0° and 180° miss each other.

    Source: geometry. Formula: 2 |y|. Inputs: offset y of the tool from the axis, sideways [mm].
    Outputs: mismatch [mm]; a keyway stands off centre by y, flats by nothing.
    Valid for: any. Raises: nothing.

    >>> cross_hole_mismatch(offset=-0.05)
    0.1
    """
    return 2 * abs(offset)


def across_flats_error(*, height_error: float) -> float:
    """Error across two flats milled half a turn apart when the centre height is taken wrong.

    Source: geometry: each flat is as much too deep as the centre is taken too high.
    Formula: 2 dz; the same on the diameter of a round milled by turning it.
    Inputs: height_error, centre height as set less the true one [mm]. Outputs: too large [mm].
    Valid for: any. Raises: nothing.

    >>> across_flats_error(height_error=0.02)
    0.04
    """
    return 2 * height_error


def taper_of_tail_height(*, height_error: float, length: float, between: float) -> float:
    """Taper on diameter over a length of stiff work between centres, the tail set wrong.

    Source: geometry. Formula: 2 |dh| L / B.
    Inputs: height_error of the tail dh, length of the cut L, distance between centres B [mm].
    Outputs: taper on diameter [mm]. Valid for: 0 < L <= B. Raises: ValueError outside.

    >>> round(taper_of_tail_height(height_error=-0.137, length=100.0, between=200.0), 3)
    0.137
    """
    if not 0 < length <= between:
        raise ValueError(f"expected a cut within the centres, got {length} of {between} mm")
    return 2 * abs(height_error) * length / between


def skim_opening(*, lean: float, length: float) -> float:
    """Out of parallel over a length of two skims taken half a turn apart on an axis that leans.

    Source: geometry: the work turns with the axis, so the second skim leans the other way.
    Formula: 2 |lean| L. Inputs: lean [1], length [mm]. Outputs: difference of thickness [mm].
    Valid for: length above zero, a small lean. Raises: ValueError outside.

    >>> round(skim_opening(lean=0.00075, length=203.2), 4)
    0.3048
    """
    _checked(lean, length)
    return 2 * abs(lean) * length


def _checked(lean: float, length: float) -> None:
    if not (abs(lean) < 0.1 and length > 0):
        raise ValueError(f"lean {lean}, length {length} mm: expected below 0.1 and above zero")
