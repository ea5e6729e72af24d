"""Words and figures as printed: the same text for every renderer."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING

from wormwright.job.blocks import Cell
from wormwright.job.result import Action, Estimate
from wormwright.job.rotary import Units
from wormwright.quantities import Dimension, shown, shown_estimate

if TYPE_CHECKING:
    from wormwright.job.parts import Limits

DOUBT_WORDS: Mapping[Action, str] = MappingProxyType(
    {"refuse": "REFUSED", "ask": "PLEASE CONFIRM", "warn": "WARNING"}
)
"""The word that stands before a doubt, so that colour is never alone."""

_OTHER: Mapping[Units, Units] = MappingProxyType({"mm": "in", "in": "mm"})
_SPACES = frozenset("\t\n\r\v\f\x85\u2028\u2029")
_HIDDEN = frozenset(("Cc", "Cf", "Cs", "Co", "Cn"))
_JOINER = "\u200d"

MICROMETRE = 0.001
"""Sizes on a part are stated to this step, mm."""


@dataclass(frozen=True, slots=True)
class Shown:
    """One figure as printed: the leading unit, and the other system's where both are wanted."""

    primary: str
    other: str = ""
    figure: bool = False
    strong: bool = False

    @property
    def line(self) -> str:
        """Both in one line."""
        return f"{self.primary} ({self.other})" if self.other else self.primary


def clean(text: str) -> str:
    """The text without control, direction or unassigned characters; breaks become spaces.

    >>> clean("a\\x1b[31mb\\tc\\u202ed")
    'a[31mb cd'
    """
    if text.isascii() and text.isprintable():
        return text
    kept = (" " if c in _SPACES else c for c in text)
    return "".join(c for c in kept if c == _JOINER or unicodedata.category(c) not in _HIDDEN)


def shown_cell(cell: Cell, units: Units) -> Shown:
    """A table cell as printed: an estimate with its uncertainty, a bare number, or words."""
    if cell.estimate is not None:
        return estimate_shown(cell.estimate, units, both=cell.both)
    if cell.number is not None:
        return number_shown(
            cell.number, cell.dimension, units, resolution=cell.resolution, both=cell.both
        )
    return Shown(clean(cell.text), strong=cell.strong)


def estimate_shown(
    estimate: Estimate, units: Units, *, both: bool = False, like: float = 0.0
) -> Shown:
    """An estimate with its expanded uncertainty; lengths in both systems when `both`.

    `like` is a number whose unit is to be used, so that figures that are compared share one.
    """
    return Shown(
        shown_estimate(estimate, units=units, like=like),
        shown_estimate(estimate, units=_OTHER[units])
        if both and estimate.dimension == "length"
        else "",
        figure=True,
    )


def number_shown(
    value: float,
    dimension: Dimension,
    units: Units,
    *,
    resolution: float | None = None,
    both: bool = False,
) -> Shown:
    """A bare number with its unit, to the last digit that `resolution` carries."""
    other = ""
    if both and dimension == "length":
        other = shown(value, dimension, resolution=resolution, units=_OTHER[units])
    return Shown(shown(value, dimension, resolution=resolution, units=units), other, figure=True)


def limits_shown(limits: Limits, units: Units) -> Shown:
    """A size as its two limits, to the micrometre, in both systems."""
    return Shown(_limits(limits, units), _limits(limits, _OTHER[units]), figure=True)


def _limits(limits: Limits, units: Units) -> str:
    return span(limits.size + limits.lower, limits.size + limits.upper, units)


def span(low: float, high: float, units: Units) -> str:
    """Two lengths in one text, to the micrometre, the unit named once where it is the same."""
    first = shown(low, "length", resolution=MICROMETRE, units=units)
    last = shown(high, "length", resolution=MICROMETRE, units=units)
    number, _, unit = first.rpartition(" ")
    return f"{number if last.endswith(' ' + unit) else first} to {last}"
