"""The error at the part: the budget for the duty's feature, and what other features would show."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wormwright.core.error_at_work import PartRow, error_at_work
from wormwright.job.proof_part import Contribution, FeatureError, PartError
from wormwright.job.result import Estimate
from wormwright.job.rotary import Duty, Feature
from wormwright.stages.prove.axis_figures import AxisFigures, estimate
from wormwright.stages.prove.part_rules import USUAL_COUNT, Case, Rule, rules_of

METHOD = "error budget at the part: known parts added, random parts by draws"
FEATURES: tuple[Feature, ...] = (
    "positions",
    "tooth spacing",
    "flats",
    "seam gap",
    "cross holes",
    "contour",
)


def part_error(figures: AxisFigures, duty: Duty, *, seed: int) -> PartError | None:
    """The error at the duty's radius; None while no figure of the axis counts for it."""
    case = case_of(duty)
    rules, missing = rules_of(figures, case)
    if not rules:
        return None
    contributions, error = _summed(rules, case, seed)
    counting = [c for c in contributions if c.share > 0]
    doubtful = [c for c in contributions if c.doubt_share > 0]
    return PartError(
        feature=case.feature,
        label=label_of(case),
        assumed=tuple(_assumed(case)),
        lever=case.lever,
        allowed=duty.error_mm,
        contributions=contributions,
        error=error,
        biggest=max(counting, key=lambda c: c.share).key if counting else "",
        most_doubtful=max(doubtful, key=lambda c: c.doubt_share).key if doubtful else "",
        missing=tuple(missing),
    )


def other_features(figures: AxisFigures, duty: Duty, *, seed: int) -> tuple[FeatureError, ...]:
    """The same axis at the same radius, as each kind of feature would show it."""
    return tuple(_others(figures, case_of(duty), seed))


def case_of(duty: Duty) -> Case:
    """The duty's own feature, or the usual one for its work."""
    feature = duty.feature or ("positions" if duty.work == "indexed" else "contour")
    return Case(duty, feature, duty.count or USUAL_COUNT.get(feature, 2))


def label_of(case: Case) -> str:
    """The case in words."""
    neighbours = "any two" if case.cumulative else "neighbours"
    return {
        "positions": "positions round the turn",
        "contour": "contour round the turn",
        "seam gap": "seam after a full turn",
        "tooth spacing": f"{case.count} teeth, {neighbours}",
        "flats": f"{case.count} flats, any two",
        "cross holes": f"{case.count} cross holes, any two",
    }[case.feature]


def _assumed(case: Case) -> Iterator[str]:
    """What the duty left open and was taken."""
    duty = case.duty
    if duty.feature is None:
        yield f"feature: {label_of(case)} (the duty says only that the work is {duty.work})"
    elif duty.count is None and case.feature in USUAL_COUNT:
        yield f"count: {case.count}"
    if duty.cut is None:
        yield f"the cut pushes from {case.cut}"


def _summed(rules: list[Rule], case: Case, seed: int) -> tuple[tuple[Contribution, ...], Estimate]:
    work = error_at_work([rule.part() for rule in rules], seed=seed)
    whole = 2.0 if case.band else 1.0
    contributions = tuple(
        _contribution(rule, row, whole) for rule, row in zip(rules, work.rows, strict=True)
    )
    error = _width(whole * work.half_width, whole * work.u)
    return contributions, error


def _contribution(rule: Rule, row: PartRow, whole: float) -> Contribution:
    """What a figure makes at the work; of a normal scatter twice its deviation either way."""
    spread = 2.0 if rule.shape == "normal" else 1.0
    times = whole * spread * rule.times
    at_part = replace(rule.figure.estimate.scaled(times, "length"), method=rule.words)
    return Contribution(rule.key, rule.figure, rule.words, at_part, row.share, row.doubt_share)


def _width(value: float, u: float) -> Estimate:
    return estimate(value, u, "length", METHOD, float("inf"))


def _others(figures: AxisFigures, case: Case, seed: int) -> Iterator[FeatureError]:
    for feature in FEATURES:
        count = case.duty.count or USUAL_COUNT.get(feature, 2)
        for cumulative in (False, True) if feature == "tooth spacing" else (True,):
            other = Case(case.duty, feature, count, cumulative)
            rules, _ = rules_of(figures, other)
            if rules and other != case:
                _, error = _summed(rules, other, seed)
                yield FeatureError(feature, label_of(other), error)
