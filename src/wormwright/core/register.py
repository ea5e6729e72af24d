"""The register that centres a chuck: what truing it takes off, and the play to tap a chuck true."""

from __future__ import annotations


def skimmed_diameter(*, diameter: float, offset: float, clean_up: float) -> float:
    """Diameter of a spigot after it has been skimmed true about the axis of rotation.

    Source: geometry: the largest circle about the axis inside a circle that stands off by e.
    Formula: d - 2 e - 2 c, c the least cut where the old surface was lowest.
    Inputs: diameter d, offset e of its centre, clean_up c [mm]. Outputs: diameter [mm].
    Valid for: e and c not below zero, a diameter left. Raises: ValueError outside.

    >>> round(skimmed_diameter(diameter=95.0, offset=0.03, clean_up=0.01), 3)
    94.92
    """
    left = diameter - 2 * offset - 2 * clean_up
    if not (offset >= 0 and clean_up >= 0 and left > 0):
        raise ValueError(
            f"spigot of {diameter} mm, offset {offset}, clean-up {clean_up}: expected both not "
            "below zero and a diameter left"
        )
    return left


def play_to_tap_true(*, offset: float, offset_u: float, margin: float) -> float:
    """Least play, on diameter, in which a loose register lets the chuck be tapped true.

    Source: geometry: a ring centred on a peg can be moved to every side by half of their
        difference in diameter. Coverage factor 1.96 as JCGM 100:2008, G.6.6.
    Formula: 2 (e + 1.96 u) + margin.
    Inputs: offset e to take out with its standard uncertainty u, margin on diameter [mm].
    Outputs: play on diameter [mm]. Valid for: values not below zero. Raises: ValueError outside.

    >>> round(play_to_tap_true(offset=0.08, offset_u=0.005, margin=0.1), 4)
    0.2796
    """
    if not (offset >= 0 and offset_u >= 0 and margin >= 0):
        raise ValueError(
            f"offset {offset}, u {offset_u}, margin {margin} mm: expected none below zero"
        )
    return 2 * (offset + 1.96 * offset_u) + margin
