"""What an eccentric wheel does to divided work: a slow wave, little from tooth to tooth."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SpacingError:
    """Error of divided work, mm at its radius: ± from the mean round the turn, and neighbours."""

    cumulative: float
    neighbour: float


def spacing_error_of_eccentric_wheel(
    *, eccentricity: float, pitch_radius: float, divisions: int, radius: float
) -> SpacingError:
    """Spacing error that an eccentric wormwheel leaves on work divided with it.

    Source: derived: the wheel turns by e/r2·sin(phi) too much, once per turn.
    Formula: cumulative = R e/r2; neighbour = 2 R (e/r2) sin(pi/N), the largest difference of two
        neighbours a turn/N apart.
    Inputs: eccentricity e (half the TIR), pitch radius r2 of the wheel, radius R of the work [mm];
        number of divisions N. Outputs: SpacingError [mm].
    Valid for: e >= 0, r2 and R above zero, N of 2 or more. Raises: ValueError outside.

    >>> got = spacing_error_of_eccentric_wheel(
    ...     eccentricity=0.0200, pitch_radius=71.4, divisions=96, radius=34.5)
    >>> round(got.cumulative, 4), round(got.neighbour, 5)
    (0.0097, 0.00063)
    """
    if not (eccentricity >= 0 and pitch_radius > 0 and radius > 0 and divisions >= 2):
        raise ValueError(
            f"spacing: expected eccentricity of zero or more, radii above zero and two divisions "
            f"or more, got {eccentricity}, {pitch_radius}, {radius}, {divisions}"
        )
    turn = eccentricity / pitch_radius
    return SpacingError(radius * turn, 2.0 * radius * turn * math.sin(math.pi / divisions))
