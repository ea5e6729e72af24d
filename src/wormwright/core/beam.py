"""Springing of bars, tools, columns and joints under a side load, and where the stiffness goes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

GRAVITY = 9.80665
SHEAR_SHARE = 5 / 6
"""Share of a rectangle that carries shear (Timoshenko; 6/5 of the mean shear)."""
POISSON = 0.3


def moment_of_round(diameter: float) -> float:
    """Second moment of a round bar.

    Source: beam theory. Formula: pi d^4/64. Inputs: diameter [mm]. Outputs: [mm^4].
    Valid for: d above zero. Raises: ValueError outside.

    >>> round(moment_of_round(20.0))
    7854
    """
    _above_zero(diameter=diameter)
    return math.pi * diameter**4 / 64


def moment_of_block(*, width: float, height: float) -> float:
    """Second moment of a rectangle, `height` in the direction it bends.

    Source: beam theory. Formula: b h^3/12. Inputs: [mm]. Outputs: [mm^4].
    Valid for: above zero. Raises: ValueError outside.

    >>> moment_of_block(width=12.0, height=10.0)
    1000.0
    """
    _above_zero(width=width, height=height)
    return width * height**3 / 12


def give_of_cantilever(*, length: float, modulus: float, moment: float) -> float:
    """Give at the end of a bar held at one end, for each newton.

    Source: beam theory. Formula: L^3/(3 E I). Inputs: length L [mm], modulus E [N/mm^2], moment
        I [mm^4]. Outputs: [mm/N]. Valid for: above zero. Raises: ValueError outside.

    >>> round(give_of_cantilever(length=100.0, modulus=206000.0, moment=moment_of_round(20.0)), 8)
    0.00020603
    """
    _above_zero(length=length, modulus=modulus, moment=moment)
    return length**3 / (3 * modulus * moment)


def give_held_at_both_ends(*, length: float, at: float, modulus: float, moment: float) -> float:
    """Give at a place on a bar held fast at one end and carried by a centre at the other.

    Source: beam theory, propped cantilever (handbook tables, from memory; derived again in tests).
    Formula: a^3 b^2 (3 L + b)/(12 E I L^3), a from the fast end, b = L - a.
    Inputs: length L, at a [mm], modulus [N/mm^2], moment [mm^4]. Outputs: [mm/N].
    Valid for: 0 < a < L. Raises: ValueError outside.

    >>> round(give_held_at_both_ends(length=100.0, at=50.0, modulus=206000.0, moment=7854.0), 8)
    5.63e-06
    """
    _above_zero(length=length, modulus=modulus, moment=moment)
    if not 0 < at < length:
        raise ValueError(f"place {at} mm: expected one between the ends of {length} mm")
    b = length - at
    return at**3 * b**2 * (3 * length + b) / (12 * modulus * moment * length**3)


def give_of_column(
    *, height: float, along: float, across: float, modulus: float, over: float = 0.0
) -> float:
    """Side give over a block that stands on its foot, for each newton.

    Source: beam theory with shear (Timoshenko), shear modulus E/2.6.
    Formula: ((H + h)^3 - h^3)/(3 E I) + H/(G A 5/6), I = across along^3/12, A = along across;
        h = 0 is the give at its top.
    Inputs: height H, along (size in the direction of the load), across, over h (how far above the
        block the load acts, on something stiff) [mm], modulus [N/mm^2].
    Outputs: [mm/N]. Valid for: above zero. Raises: ValueError outside.

    >>> round(give_of_column(height=50.0, along=100.0, across=150.0, modulus=206000.0) * 1e6, 3)
    0.067
    """
    _above_zero(height=height, along=along, across=across, modulus=modulus)
    inertia = moment_of_block(width=across, height=along)
    bending = ((height + over) ** 3 - over**3) / (3 * modulus * inertia)
    shear_modulus = modulus / (2 * (1 + POISSON))
    return bending + height / (shear_modulus * along * across * SHEAR_SHARE)


def sag_of_bar(
    *, at: float, length: float, diameter: float, modulus: float, density: float
) -> float:
    """How far a round bar held at one end hangs by its own weight, at a place along it.

    Source: beam theory, cantilever under its own weight.
    Formula: w x^2 (6 L^2 - 4 L x + x^2)/(24 E I), w = rho g pi d^2/4.
    Inputs: at x, length L that stands out, diameter d [mm], modulus [N/mm^2], density [kg/m^3].
    Outputs: sag [mm]. Valid for: 0 <= x <= L. Raises: ValueError outside.

    >>> sag = sag_of_bar(at=250.0, length=250.0, diameter=12.0, modulus=206000.0, density=7860.0)
    >>> round(sag, 4)
    0.0203
    """
    _above_zero(length=length, diameter=diameter, modulus=modulus, density=density)
    if not 0 <= at <= length:
        raise ValueError(f"place {at} mm: expected one on the bar, which stands out {length} mm")
    weight = density * 1e-9 * GRAVITY * math.pi * diameter**2 / 4
    bend = at**2 * (6 * length**2 - 4 * length * at + at**2)
    return weight * bend / (24 * modulus * moment_of_round(diameter))


def give_of_tilt(*, arm: float, tilt_per_moment: float) -> float:
    """Give at an arm from a joint that tilts under a moment (a table bearing, a chuck's seat).

    Source: geometry. Formula: arm^2 k. Inputs: arm [mm], tilt_per_moment k [rad/(N mm)].
    Outputs: [mm/N]. Valid for: not below zero. Raises: ValueError outside.

    >>> give_of_tilt(arm=100.0, tilt_per_moment=1e-9)
    1e-05
    """
    if not (arm >= 0 and tilt_per_moment >= 0):
        raise ValueError(f"arm {arm}, tilt {tilt_per_moment}: expected none below zero")
    return arm**2 * tilt_per_moment


def stiffness_kept(*, before: float, after: float) -> float:
    """Share of its bending stiffness that a post keeps when it is made longer.

    Source: beam theory. Formula: (L/(L + dL))^3. Inputs: length before and after [mm].
    Outputs: share [1]. Valid for: above zero. Raises: ValueError outside.

    >>> round(stiffness_kept(before=200.0, after=240.0), 3)
    0.579
    """
    _above_zero(before=before, after=after)
    return (before / after) ** 3


@dataclass(frozen=True, slots=True)
class Share:
    """One link of the chain: its give [mm/N] and its share of all of it."""

    name: str
    give: float
    share: float


def shares_of_give(links: Sequence[tuple[str, float]]) -> tuple[Share, ...]:
    """Where the stiffness goes: the links of a chain, the softest first.

    Source: springs one behind the other. Formula: share = give/sum of gives.
    Inputs: (name, give [mm/N]) of each link. Outputs: Shares. Valid for: gives not below zero,
        one above. Raises: ValueError otherwise.

    >>> [(s.name, round(s.share, 2)) for s in shares_of_give([("bar", 1e-4), ("riser", 3e-4)])]
    [('riser', 0.75), ('bar', 0.25)]
    """
    total = math.fsum(give for _, give in links)
    if not (total > 0 and all(give >= 0 for _, give in links)):
        raise ValueError(f"links {links}: expected gives not below zero and one above")
    found = (Share(name, give, give / total) for name, give in links)
    return tuple(sorted(found, key=lambda s: -s.give))


def _above_zero(**sizes: float) -> None:
    for name, size in sizes.items():
        if not (math.isfinite(size) and size > 0):
            raise ValueError(f"{name} must be above zero, got {size}")
