"""A base plate under the unit: thickness from what it may bend, tolerances from the duty."""

from __future__ import annotations

import math
from collections.abc import Sequence

FORM_SHARE = 1 / 3
"""Share of what the set-up may lean that the plate may take with its own form; packing is for the
rest (common practice: a third for the part, the rest for setting and for use)."""


def plate_bend(
    *, force: float, arm: float, width: float, thickness: float, modulus: float
) -> float:
    """How far a plate lifts at the feet of the unit when they pull on it beside its bolts.

    Source: beam theory: the strip from the hold-down bolts to the feet as a cantilever.
    Formula: 4 F a^3/(E b t^3). Inputs: force F of the feet [N], arm a from bolts to feet, width b,
        thickness t [mm], modulus E [N/mm^2]. Outputs: lift [mm]. Valid for: above zero.
    Raises: ValueError outside.

    >>> thin = plate_bend(force=500.0, arm=45.0, width=160.0, thickness=20.0, modulus=70000.0)
    >>> thick = plate_bend(force=500.0, arm=45.0, width=160.0, thickness=30.0, modulus=70000.0)
    >>> round(thin / thick, 3)
    3.375
    """
    if not min(force, arm, width, thickness, modulus) > 0:
        raise ValueError(
            f"plate: expected sizes above zero, got {force} N, {arm}, {width}, {thickness} mm, "
            f"{modulus} N/mm^2"
        )
    return 4 * force * arm**3 / (modulus * width * thickness**3)


def plate_thickness(
    *, force: float, arm: float, width: float, lift: float, modulus: float
) -> float:
    """Least thickness of a plate that may lift so much at the feet.

    Source: `plate_bend` solved for t. Formula: t = (4 F a^3/(E b d))^(1/3).
    Inputs: force [N], arm, width, lift allowed d [mm], modulus [N/mm^2]. Outputs: t [mm].
    Valid for: above zero. Raises: ValueError outside.

    >>> round(plate_thickness(force=500.0, arm=45.0, width=160.0, lift=0.002, modulus=70000.0), 2)
    20.11
    """
    if not min(force, arm, width, lift, modulus) > 0:
        raise ValueError(
            f"plate: expected sizes above zero, got {force} N, {arm}, {width}, {lift} mm, "
            f"{modulus} N/mm^2"
        )
    return math.cbrt(4 * force * arm**3 / (modulus * width * lift))


def parallelism(*, lean: float, spacing: float) -> float:
    """How far top and foot of a plate may be out of parallel over the feet.

    Source: common practice: a third of the allowed lean. Formula: lean F/3.
    Inputs: lean allowed [1], spacing F of the feet [mm]. Outputs: [mm]. Valid for: above zero.
    Raises: ValueError outside.

    >>> round(parallelism(lean=3.3e-4, spacing=130.0), 4)
    0.0143
    """
    if not (lean > 0 and spacing > 0):
        raise ValueError(f"lean {lean}, spacing {spacing} mm: expected above zero")
    return FORM_SHARE * lean * spacing


def slots_used(*, pitch: float, spacing: float, most: int = 12) -> int:
    """How many slot pitches apart two rows of bolts stand, the nearest outside the feet.

    Source: geometry. Formula: least n with n pitch >= spacing. Inputs: pitch, spacing [mm].
    Outputs: n. Valid for: above zero, within `most` pitches. Raises: ValueError outside.

    >>> slots_used(pitch=50.0, spacing=120.0)
    3
    """
    if not (pitch > 0 and spacing > 0):
        raise ValueError(f"slot pitch {pitch}, spacing {spacing} mm: expected above zero")
    count = math.ceil(spacing / pitch - 1e-9)
    if count > most:
        raise ValueError(
            f"slots {pitch} mm apart: {count} of them for {spacing} mm; check the pitch"
        )
    return count


def next_stock(thickness: float, stock: Sequence[float]) -> float:
    """The thinnest plate from stock that is thick enough.

    Source: definition. Formula: least stock >= t. Inputs: thickness t, stock [mm].
    Outputs: thickness [mm]. Valid for: a stock that reaches it. Raises: ValueError otherwise.

    >>> next_stock(16.2, [12.0, 16.0, 20.0, 25.0])
    20.0
    """
    enough = [one for one in stock if one >= thickness - 1e-9]
    if not enough:
        raise ValueError(f"plate of {thickness:.1f} mm: no stock is so thick; shorten the span")
    return min(enough)
