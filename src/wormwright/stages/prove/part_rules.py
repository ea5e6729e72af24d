"""How each figure of the axis counts for a feature of the work: the rules of the error budget.

A *band* feature (positions, a contour) shows the whole swing of the error; a *mismatch* feature
(tooth spacing, flats, a seam, cross holes) shows the difference of two places.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from wormwright.core.error_at_work import (
    ErrorPart,
    Shape,
    flat_half_width,
    wave_between,
    wave_between_any,
)
from wormwright.job.proof_part import AxisFigure, Missing
from wormwright.job.rotary import Cut, Duty, Feature
from wormwright.stages.prove.axis_figures import AxisFigures, Wave

BANDS: tuple[Feature, ...] = ("positions", "contour")
USUAL_COUNT = {"cross holes": 2, "flats": 6, "tooth spacing": 24}
"""How many of them are taken when the duty does not say."""


@dataclass(frozen=True, slots=True)
class Case:
    """What is judged: the feature and all of the duty that decides how a figure counts.

    `cumulative` compares any two places of a division, else neighbours.
    """

    duty: Duty
    feature: Feature
    count: int
    cumulative: bool = True

    @property
    def band(self) -> bool:
        """Whether the whole swing shows, not a difference of two places."""
        return self.feature in BANDS

    @property
    def cut(self) -> Cut:
        """From which sides the cut pushes."""
        usual: Cut = "both sides" if self.duty.work == "reversing" else "one side"
        return self.duty.cut or usual

    @property
    def lever(self) -> float:
        """Radius at which an angle of the table counts, mm."""
        radius = self.duty.radius_mm
        if self.feature == "flats":
            return flat_half_width(radius=radius, count=self.count)
        return radius

    @property
    def gap_is_felt(self) -> bool:
        """Whether the cut can carry the table across its play."""
        return self.cut == "both sides" and self.duty.held == "free"


@dataclass(frozen=True, slots=True)
class Rule:
    """A figure and how it counts: half of its swing is `times` the figure, of that shape."""

    key: str
    figure: AxisFigure
    times: float
    shape: Shape
    words: str

    def part(self) -> ErrorPart:
        """The part of the error, mm at the work."""
        size = self.figure.estimate
        return ErrorPart(self.key, self.times * size.value, self.times * size.u, self.shape)


Ruled = tuple[list[Rule], list[Missing]]

POSITION_TEST = "position errors at targets from both sides (`position_error`)"
WAVE_TEST = "position errors close together over a worm turn, or at many targets round the turn"
LOOP = "a rock loop at the torque to resist (`rock_loop`)"
CLAMP = "the clamp shift, three times (`clamp_shift`)"


def rules_of(figures: AxisFigures, case: Case) -> Ruled:
    """Every part of the error for this case, and what no reading tells of it."""
    direction = case.duty.direction
    found = _Found()
    if direction == "tangential":
        found.take(_round_the_turn(figures, case))
        found.take(_scatter(figures, case))
        found.take(_turned_back(figures, case))
        found.take(_under_the_cut(figures, case))
    else:
        found.take(_off_the_axis(figures, case))
    found.take(_table_play(figures, case))
    return found.rules, found.missing


class _Found:
    """Rules and gaps as they are found."""

    def __init__(self) -> None:
        self.rules: list[Rule] = []
        self.missing: list[Missing] = []

    def take(self, some: Iterator[Rule | Missing]) -> None:
        for one in some:
            if isinstance(one, Missing):
                self.missing.append(one)
            else:
                self.rules.append(one)


def _round_the_turn(figures: AxisFigures, case: Case) -> Iterator[Rule | Missing]:
    """The mean error as it goes round: what repeats at the same place."""
    swing = figures.swing_both if case.duty.approach == "both ways" else figures.swing
    if case.feature == "seam gap":
        return
    if case.band and swing is not None:
        yield Rule("round", swing, case.lever / 2, "added", "the whole range shows, added in full")
        return
    if figures.waves is not None:
        for wave in figures.waves:
            yield _wave(wave, case)
        if swing is not None and not case.band:
            yield from _rest_of_the_range(swing, figures.waves, case)
    elif swing is not None:
        words = "not taken apart into waves, so the whole range may lie between two places"
        yield Rule("round", swing, case.lever, "added", words)
    if swing is None:
        yield Missing("the mean error round the turn", POSITION_TEST)
    elif figures.waves is None:
        yield Missing("how the error goes from place to place", WAVE_TEST)


def _rest_of_the_range(
    swing: AxisFigure, waves: tuple[Wave, ...], case: Case
) -> Iterator[Rule | Missing]:
    """What of the measured range the known waves do not make; it may lie between two places."""
    made = 2 * sum(wave.figure.estimate.value for wave in waves)
    rest = swing.estimate.value - made
    if rest <= 0:
        return
    share = rest / swing.estimate.value
    words = "what the waves do not make of the range may lie between two places, added in full"
    yield Rule("round", swing, case.lever * share, "added", words)


def _wave(wave: Wave, case: Case) -> Rule:
    if case.band:
        times, words = 1.0, "its swing shows, added in full"
    elif case.cumulative:
        times = wave_between_any(amplitude=1.0, order=wave.order, count=case.count)
        words = f"the most between any two of {case.count}, added in full"
    else:
        apart = math.tau / case.count
        times = wave_between(amplitude=1.0, order=wave.order, apart=apart)
        words = f"between neighbours of {case.count}, added in full"
    return Rule(f"wave {wave.order:g}", wave.figure, case.lever * times, "added", words)


def _scatter(figures: AxisFigures, case: Case) -> Iterator[Rule | Missing]:
    if figures.scatter is None:
        yield Missing("the scatter of positioning", POSITION_TEST)
        return
    times = 1.0 if case.band else math.sqrt(2)
    words = "random, at one place" if case.band else "random, at two places"
    yield Rule("scatter", figures.scatter, case.lever * times, "normal", words)


def _turned_back(figures: AxisFigures, case: Case) -> Iterator[Rule | Missing]:
    """Reversal, by how positions are come to."""
    figure, half = figures.reversal, 0.5 if case.band else 1.0
    if figure is None:
        yield Missing("the reversal", POSITION_TEST)
        return
    if case.duty.approach == "one way" or case.duty.held == "biased":
        why = "the weight keeps the flanks to one side"
        if case.duty.approach == "one way":
            why = "always come to from one side"
        yield Rule("reversal", figure, 0.0, "rectangular", f"nothing: {why}")
    elif case.gap_is_felt:
        words = "nothing more: the cut carries the table across the same gap"
        yield Rule("reversal", figure, 0.0, "rectangular", words)
    else:
        words = "come to from either side: anywhere within ± B/2"
        if not case.band:
            words = "come to from either side: anywhere within ± B"
        yield Rule("reversal", figure, case.lever * half, "rectangular", words)
    felt = case.duty.approach == "both ways" or case.gap_is_felt
    if figures.warm_gap is not None and felt and case.duty.held != "biased":
        words = "what heat adds to the gap, added in full"
        yield Rule("warm", figures.warm_gap, case.lever * half, "added", words)


def _under_the_cut(figures: AxisFigures, case: Case) -> Iterator[Rule | Missing]:
    """What the torque to resist does: the gap, the springing, or the lock."""
    half = 0.5 if case.band else 1.0
    if case.duty.held == "clamped":
        if figures.clamp_scatter is None:
            yield Missing("how evenly the table shifts on locking", CLAMP)
            return
        times = 1.0 if case.band else math.sqrt(2)
        words = "zeroed after locking: only its scatter counts"
        yield Rule("clamp", figures.clamp_scatter, case.lever * times, "normal", words)
        return
    if case.gap_is_felt:
        if figures.gap is None:
            yield Missing("the gap that the cut can cross", LOOP)
        else:
            words = "the cut pushes from both sides and nothing holds: the whole gap, added in full"
            yield Rule("gap", figures.gap, case.lever * half, "added", words)
    if figures.springing is None:
        yield Missing("the springing under the torque to resist", LOOP)
        return
    sides = 2 if case.cut == "both sides" else 1
    words = "one way, added in full" if sides == 1 else "to and fro, added in full"
    yield Rule("springing", figures.springing, case.lever * half * sides, "added", words)


def _off_the_axis(figures: AxisFigures, case: Case) -> Iterator[Rule | Missing]:
    """Radial and axial duties: how far what carries the work runs out."""
    radial = case.duty.direction == "radial"
    figure = figures.runout if radial else figures.face_slope
    if figure is None:
        kind = "`bar_runout` or `register_runout`" if radial else "`face_runout`"
        yield Missing("the runout of what carries the work", f"the runout as a series ({kind})")
        return
    lever = 1.0 if radial else case.duty.radius_mm
    times = 1.0
    words = "its whole swing, added in full"
    if not case.band and case.feature != "seam gap":
        times = wave_between_any(amplitude=1.0, order=1.0, count=case.count)
        words = f"the most between any two of {case.count}, added in full"
    elif case.feature == "seam gap":
        times, words = 0.0, "nothing: a full turn comes back to the same place"
    yield Rule("runout", figure, lever * times, "added", words)


def _table_play(figures: AxisFigures, case: Case) -> Iterator[Rule | Missing]:
    """Play of the table bearing moves the work itself, whatever the radius."""
    axial = case.duty.direction == "axial"
    figure = figures.table_axial if axial else figures.table_radial
    name = "axial" if axial else "radial"
    if figure is None:
        yield Missing(f"the {name} play of the table", f"`table_{name}_play`")
        return
    half = 0.5 if case.band else 1.0
    if case.duty.held == "clamped":
        yield Rule("table play", figure, 0.0, "rectangular", "nothing: the lock takes it up")
    elif case.cut == "both sides":
        yield Rule("table play", figure, half, "added", "the cut moves it to and fro, in full")
    else:
        words = "anywhere within it as the cut turns round"
        yield Rule("table play", figure, half, "rectangular", words)
