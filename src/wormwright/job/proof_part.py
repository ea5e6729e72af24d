"""The error that the work feels on the finished axis, part by part, at the user's radius."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.job.result import Estimate
from wormwright.job.rotary import Feature


@dataclass(frozen=True, slots=True)
class AxisFigure:
    """One figure of the axis and where it is from; an angle at the table, or a length."""

    label: str
    estimate: Estimate
    source: str


@dataclass(frozen=True, slots=True)
class Contribution:
    """One part of the error at the work.

    `figure` is what the axis shows; `rule` says in words how it counts for this feature; `at_part`
    is what it makes at the work, mm from one extreme to the other; `share` of the whole error and
    `doubt_share` of its doubt, 0..1. A part that adds nothing here has a share of 0.
    """

    key: str
    figure: AxisFigure
    rule: str
    at_part: Estimate
    share: float
    doubt_share: float


@dataclass(frozen=True, slots=True)
class Missing:
    """A part of the error that no reading tells: what it is, and what to read."""

    what: str
    read: str


@dataclass(frozen=True, slots=True)
class FeatureError:
    """The error as one kind of feature shows it, mm from one extreme to the other."""

    feature: Feature
    label: str
    error: Estimate


@dataclass(frozen=True, slots=True)
class PartError:
    """The error at the duty's radius for the duty's feature, and for the others beside it.

    `lever` is the radius at which an angle counts, mm; `allowed` what the duty allows, mm.
    `biggest` and `most_doubtful` are keys of contributions, empty where there are none.
    """

    feature: Feature
    label: str
    assumed: tuple[str, ...]
    lever: float
    allowed: float
    contributions: tuple[Contribution, ...]
    error: Estimate
    biggest: str
    most_doubtful: str
    missing: tuple[Missing, ...]
    others: tuple[FeatureError, ...] = ()

    def of(self, key: str) -> Contribution:
        """The contribution of that key."""
        return next(one for one in self.contributions if one.key == key)
