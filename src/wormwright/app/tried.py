"""Trials on paper: texts as typed to a setting, and what it would give in the job's units."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from wormwright.app.correct import planned
from wormwright.app.folder import Folder
from wormwright.app.refused import refused
from wormwright.charts import chart_svg
from wormwright.core.flank import Place
from wormwright.job.pair import WormPair
from wormwright.job.result import Estimate
from wormwright.job.rotary import Units
from wormwright.packet.wording import number_shown
from wormwright.quantities import read, shown_estimate
from wormwright.stages.correct.blue import blue_tried
from wormwright.stages.correct.tried import Trial, TrialBench, Tried

FIELDS = ("throw", "angle", "wheel_shift", "bearing_outside", "worm_shim", "table_shim", "relief")
_FINE = 0.001
BEHIND = "Readings have come in since this unit was last reckoned: look at the page again for them."


@dataclass(frozen=True, slots=True)
class Line:
    """One figure of a trial in words."""

    key: str
    label: str
    value: str


@dataclass(frozen=True, slots=True)
class TriedWords:
    """A trial as shown: the figures, and what speaks against it."""

    lines: tuple[Line, ...]
    says: tuple[str, ...]
    false_tight: bool


def trial_bench(folder: Folder) -> TrialBench:
    """The unit laid out for trials, on the plan as it stands.

    Raises:
        StageRefusal: nothing can be planned yet.
    """
    made = planned(folder)
    return TrialBench(folder.job, made.sound.readings, made.diagnosis)


def tried(bench: TrialBench, texts: Mapping[str, str], *, current: bool = True) -> TriedWords:
    """What a setting would give; `current` says whether the bench stands on all readings.

    Raises:
        QuantityError: a text is not a quantity.
        Refused: no bushing can be so, or a shim cannot be judged yet.
    """
    trial = _trial(texts)
    try:
        result = bench.tried(trial)
    except ValueError as error:
        raise refused("trial", expected="a setting", got=str(error), do="change it") from None
    shut = result.backlash.value <= 0 < result.closing
    says = result.says if current else (*result.says, BEHIND)
    return TriedWords(_lines(result, bench.facts.job.units), says, shut)


def stands(bench: TrialBench, texts: Mapping[str, str]) -> tuple[WormPair, Place]:
    """The pair, and where a setting would put its worm from where the wheel was cut.

    Raises:
        QuantityError: a text is not a quantity.
        Refused: no bushing can be so.
    """
    return bench.unit.pair, bench.stands(_trial(texts))


def blue_svg(pair: WormPair, at: Place, units: Units) -> str:
    """The marks of blue that both flanks would show with the worm there.

    Raises:
        ValueError: the sizes are those of no pair that runs.
    """
    return chart_svg(blue_tried(pair, at), units)


def _trial(texts: Mapping[str, str]) -> Trial:
    values = {
        name: read(text, "angle" if name == "angle" else "length", field=name).value
        for name, text in texts.items()
        if name in FIELDS and text.strip()
    }
    try:
        return Trial(**{"throw": 0.0, "angle": 0.0, **values})
    except ValueError as error:
        raise refused("trial", expected="a setting", got=str(error), do="change it") from None


def _lines(result: Tried, units: Units) -> tuple[Line, ...]:
    def length(value: float) -> str:
        return number_shown(value, "length", units, resolution=_FINE, both=True).line

    def figure(estimate: Estimate) -> str:
        return shown_estimate(estimate, units=units)

    walls = tuple(
        Line(
            f"wall_{w.side}",
            f"wall at end {w.side}, thin and thick (least {length(w.least)})",
            f"{length(w.thin)}; {length(w.thick)}",
        )
        for w in result.walls
    )
    tips = result.tip_clearance
    return (
        Line("closing", "closing of the worm toward the wheel", length(result.closing)),
        Line("sideways", "sideways shift from the factory line", length(result.sideways)),
        Line("off_centre", "off the wheel's throat centre", length(result.off_centre)),
        *walls,
        Line(
            "backlash", "backlash at the tight spot, at the pitch radius", figure(result.backlash)
        ),
        Line("tight", "lost motion, tightest place", figure(result.tight)),
        Line("mean", "lost motion, mean", figure(result.mean)),
        Line("loose", "lost motion, loosest place", figure(result.loose)),
        *((Line("tips", "crest clearance", figure(tips)),) if tips else ()),
        Line("meets", "chance of meeting the duty", f"{100 * result.p_meets_duty:.0f} %"),
        Line("jams", "chance of binding, cold or warm", f"{100 * result.p_jam:.1f} %"),
    )
