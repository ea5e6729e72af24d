"""Growth by heat: of the mesh, of the end float of a bearing pair, of a seat in its housing."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Floats = float | NDArray[np.float64]
PairArrangement = Literal["face to face", "back to back"]

MOST_EXPANSION = 300e-6


def free_growth(*, expansion: Floats, length: float, rise: Floats) -> Floats:
    """Growth of a free length.

    Source: definition of linear expansion. Formula: a * L * dT.
    Inputs: expansion a [1/K]; length L [mm]; rise dT from 20 °C [K], below zero when colder.
    Outputs: growth [mm].
    Valid for: 0 < a < 300e-6 (above that it was entered in the wrong unit), |dT| up to 100 K.
    Raises: ValueError outside.

    >>> round(free_growth(expansion=23.7e-6, length=60, rise=20), 5)
    0.02844
    """
    if not np.all((np.asarray(expansion) > 0) & (np.asarray(expansion) < MOST_EXPANSION)):
        raise ValueError(f"expansion {expansion}: expected about 10e-6 to 30e-6 per K for metals")
    if not np.all(np.abs(rise) <= 100):
        raise ValueError(f"temperature rise {rise} K: expected -100 to 100 K")
    return expansion * length * rise


@dataclass(frozen=True, slots=True)
class Rises:
    """Temperature of each part above 20 °C, K, in one state of warming up."""

    state: str
    housing: float
    worm: float
    wheel: float


def warm_states(
    *, start: float, rise: float, housing_share: float, wheel_share: float
) -> tuple[Rises, Rises, Rises]:
    """The three states to check a setting in: start, gradient, soaked.

    Source: derived here; the worm makes the heat, the wheel and the housing follow.
    Formula: start: all at s; gradient: worm s + dT, wheel s + share dT, housing s + share dT;
        soaked: all at s + dT.
    Inputs: start s, shop temperature less 20 °C [K]; rise dT of the worm in work [K];
        housing_share and wheel_share of it while warming [1].
    Outputs: Rises, three states.
    Valid for: rise not below zero, 0 <= housing_share <= wheel_share <= 1.
    Raises: ValueError outside.

    >>> [s.housing for s in warm_states(start=0, rise=20, housing_share=0.3, wheel_share=0.8)]
    [0, 6.0, 20]
    """
    if rise < 0 or not 0 <= housing_share <= wheel_share <= 1:
        raise ValueError(
            f"rise {rise} K, shares {housing_share} and {wheel_share}: expected a rise not below "
            "zero and 0 <= housing share <= wheel share <= 1"
        )
    return (
        Rises("start", start, start, start),
        Rises("gradient", start + housing_share * rise, start + rise, start + wheel_share * rise),
        Rises("soaked", start + rise, start + rise, start + rise),
    )


def centre_distance_change(
    *,
    centre_distance: float,
    worm_radius: float,
    wheel_radius: float,
    housing_expansion: Floats,
    worm_expansion: Floats,
    wheel_expansion: Floats,
    rises: Rises,
) -> Floats:
    """How far the mesh opens by heat: growth of the housing less growth of worm and wheel.

    Source: derived here; linear expansion along the common perpendicular.
    Formula: dC = a_h C dT_h - a_1 r_1 dT_1 - a_2 r_2 dT_2; above zero opens.
    Inputs: centre_distance C, worm_radius r_1, wheel_radius r_2 [mm]; expansions [1/K]; rises [K].
    Outputs: dC [mm].
    Valid for: lengths above zero, expansions as in `free_growth`.
    Raises: ValueError outside.

    >>> soaked = Rises("soaked", 20, 20, 20)
    >>> change = centre_distance_change(
    ...     centre_distance=66, worm_radius=12, wheel_radius=54, housing_expansion=23.6e-6,
    ...     worm_expansion=11.7e-6, wheel_expansion=18e-6, rises=soaked)
    >>> round(change, 6)
    0.008904
    """
    if not (centre_distance > 0 and worm_radius > 0 and wheel_radius > 0):
        raise ValueError("centre distance and both radii must be above zero")
    housing = free_growth(expansion=housing_expansion, length=centre_distance, rise=rises.housing)
    worm = free_growth(expansion=worm_expansion, length=worm_radius, rise=rises.worm)
    wheel = free_growth(expansion=wheel_expansion, length=wheel_radius, rise=rises.wheel)
    return housing - worm - wheel


def backlash_change(*, opening: Floats, tan_pressure: Floats) -> Floats:
    """Change of backlash at the wheel pitch radius when the mesh opens by heat.

    Source: rack and wheel in the middle plane. Formula: dj = 2 t dC.
    Inputs: opening dC [mm]; tan_pressure t, tangent of the axial pressure angle [1].
    Outputs: dj [mm], below zero closes.
    Valid for: t above zero, openings of some hundredths.
    Raises: ValueError outside.

    >>> round(backlash_change(opening=0.008904, tan_pressure=0.36397), 6)
    0.006482
    """
    if not np.all(np.asarray(tan_pressure) > 0):
        raise ValueError(f"tangent of the pressure angle must be above zero, got {tan_pressure}")
    return 2 * tan_pressure * opening


def end_float_change(
    arrangement: PairArrangement,
    *,
    span: float,
    housing_expansion: Floats,
    housing_rise: Floats,
    shaft_expansion: Floats,
    shaft_rise: Floats,
) -> Floats:
    """Change of the end float of a located bearing pair by heat.

    Source: derived here. Face to face (covers push the outer rings inward): the housing's growth
        lets go, the shaft's takes up. Back to back (a nut draws the inner rings together): the
        other way round.
    Formula: face to face: a_h L dT_h - a_s L dT_s; back to back: the negative of it.
    Inputs: arrangement; span L between the bearings [mm]; expansions [1/K]; rises [K].
    Outputs: change of float [mm]; above zero is looser, below zero takes up float or preloads.
    Valid for: the axial part only; a hotter inner ring adds its radial growth.
    Raises: ValueError for another arrangement or a span not above zero.

    >>> change = end_float_change(
    ...     "face to face", span=60, housing_expansion=23.7e-6, housing_rise=20,
    ...     shaft_expansion=12.5e-6, shaft_rise=20)
    >>> round(change, 5)
    0.01344
    """
    if not span > 0:
        raise ValueError(f"bearing span must be above zero, got {span} mm")
    housing = free_growth(expansion=housing_expansion, length=span, rise=housing_rise)
    shaft = free_growth(expansion=shaft_expansion, length=span, rise=shaft_rise)
    if arrangement == "face to face":
        return housing - shaft
    if arrangement == "back to back":
        return shaft - housing
    raise ValueError(
        f"bearing arrangement {arrangement!r}: expected 'face to face' (covers push the outer "
        "rings inward) or 'back to back' (a nut draws the inner rings together)"
    )


def seat_loosening(
    *, diameter: float, housing_expansion: Floats, ring_expansion: Floats, rise: Floats
) -> Floats:
    """Clearance that a seat gains over the steel ring or bushing in it when both get warm.

    Source: NKE bearing catalogue, equation 8.3.
    Formula: (a_h - a_r) D dT.
    Inputs: diameter D [mm]; expansions [1/K]; rise [K]. Outputs: clearance on diameter [mm].
    Valid for: ring and housing at one temperature.
    Raises: ValueError for a diameter not above zero or odd expansions.

    >>> gain = seat_loosening(
    ...     diameter=47, housing_expansion=22e-6, ring_expansion=12e-6, rise=40)
    >>> round(gain, 4)
    0.0188
    """
    if not diameter > 0:
        raise ValueError(f"diameter must be above zero, got {diameter} mm")
    hole = free_growth(expansion=housing_expansion, length=diameter, rise=rise)
    return hole - free_growth(expansion=ring_expansion, length=diameter, rise=rise)
