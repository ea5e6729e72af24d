"""Parts that cannot be made are refused by name, with the first reason that holds."""

from __future__ import annotations

from collections.abc import Iterable


def refuse_faults(what: str, faults: Iterable[tuple[bool, str]]) -> None:
    """Raise ValueError for the first fault that is there: (whether it is, why).

    Example:
        >>> refuse_faults("ring cannot be made", [(False, "no wall"), (True, "too thick")])
        Traceback (most recent call last):
        ...
        ValueError: ring cannot be made: too thick
    """
    for wrong, why in faults:
        if wrong:
            raise ValueError(f"{what}: {why}")
