"""Inputs that a formula refuses, in one wording."""

from __future__ import annotations

import math


def not_below_zero(**numbers: float) -> None:
    """Refuse numbers that are below zero or not finite.

    Raises: ValueError naming the number.

    >>> not_below_zero(mass=0.0)
    """
    for name, number in numbers.items():
        if not (math.isfinite(number) and number >= 0):
            raise ValueError(f"{name.replace('_', ' ')}: expected zero or more, got {number}")


def above_zero(**numbers: float) -> None:
    """Refuse numbers that are not above zero.

    Raises: ValueError naming the number.

    >>> above_zero(radius=12.0)
    """
    for name, number in numbers.items():
        if not (math.isfinite(number) and number > 0):
            raise ValueError(f"{name.replace('_', ' ')}: expected above zero, got {number}")
