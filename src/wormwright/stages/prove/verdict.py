"""The verdict: every demand of the duty met, not met, or not to be told, and what would decide."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from wormwright.bench import Bench, noise
from wormwright.bench.warm import duty_states, expansions_of, mesh_change
from wormwright.core.conformity import Answer as Told
from wormwright.core.conformity import judged
from wormwright.core.uncertainty import quantiles
from wormwright.job.findings import Diagnosis
from wormwright.job.proof import Proof
from wormwright.job.proof_part import PartError
from wormwright.job.proof_verdict import Answer, Demand, ProofVerdict
from wormwright.job.result import Estimate
from wormwright.job.rotary import Duty
from wormwright.quantities import shown
from wormwright.stages.prove.axis_figures import WARM_SHARE, estimate
from wormwright.stages.prove.part_rules import POSITION_TEST

CERTAINTY = 0.95
"""Probability with which met and not met are said (ISO 14253-1, its default)."""
OF_A_NORMAL = 1.959964
SURE = 1e-12
"""Least doubt that is judged with: a figure without any is as good as certain."""
_ANSWER: dict[Told, Answer] = {
    "conforms": "met",
    "does not conform": "not met",
    "cannot be told": "cannot be told",
}

READ: dict[str, str] = {
    "reversal": "more runs of position errors from both sides",
    "scatter": "more runs of position errors",
    "round": "position errors at more targets",
    "warm": "the rock warm, straight from the run",
    "gap": "the rock at the loosest place, more often, with a longer lever",
    "springing": "the rock loop at more and higher torques",
    "clamp": "the clamp shift more often",
    "table play": "the play of the table more often, with a finer indicator",
    "runout": "the runout at more angles",
}
"""Key of a part -> the reading that narrows it."""


def verdict_of(
    bench: Bench, proof: Proof, part: PartError | None, diagnosis: Diagnosis | None
) -> ProofVerdict:
    """Every demand of the duty with its answer, and what was not tested."""
    demands = tuple(_demands(bench, part, diagnosis))
    answers = {d.answer for d in demands}
    over: Answer = "met"
    if "not met" in answers:
        over = "not met"
    elif "cannot be told" in answers:
        over = "cannot be told"
    return ProofVerdict(over, demands, tuple(_not_tested(bench, proof, part)), CERTAINTY)


class _Asked(NamedTuple):
    """A demand before it is judged: its limits, and the reading that narrows it."""

    key: str
    label: str
    low: float | None
    high: float | None
    decide: str

    def open(self, reason: str, value: Estimate | None = None) -> Demand:
        """The demand as it stands while it cannot be told."""
        return Demand(
            self.key,
            self.label,
            value,
            self.low,
            self.high,
            "cannot be told",
            None,
            None,
            reason,
            self.decide,
        )


def _demands(bench: Bench, part: PartError | None, diagnosis: Diagnosis | None) -> Iterator[Demand]:
    yield _error(bench.job.duty, part)
    yield _play(bench, diagnosis)
    warm = _warm(bench, diagnosis)
    if warm is not None:
        yield warm
    yield _drag(bench)


def _error(duty: Duty, part: PartError | None) -> Demand:
    """The error at the part; what was not read can only add to it."""
    asked = _Asked(
        "error", f"error at the part, {duty.direction}", None, duty.error_mm, POSITION_TEST
    )
    if part is None:
        return asked.open("nothing of it was read")
    told = _judged(asked._replace(decide=narrowing(part)), part.error)
    if told.answer == "not met" or not part.missing:
        return told
    names = ", ".join(m.what for m in part.missing)
    reads = "; ".join(dict.fromkeys(m.read for m in part.missing))
    reason = f"the figure leaves out {names}, which can only add to it"
    return asked._replace(decide=reads).open(reason, part.error)


def narrowing(part: PartError) -> str:
    """The reading that narrows the most doubtful part."""
    key = part.most_doubtful
    if key.startswith("wave"):
        return "position errors at more targets, to know the waves better"
    return READ.get(key, "")


def _play(bench: Bench, diagnosis: Diagnosis | None) -> Demand:
    """The least backlash at the tight spot, cold, at the wheel pitch radius."""
    asked = _Asked(
        "play",
        "backlash left at the tight spot, cold",
        bench.job.duty.play_min_cold_mm,
        None,
        "the rock round the turn, at two torques",
    )
    if diagnosis is None:
        return asked.open("no rock was read on the finished unit")
    return _judged(asked, least_backlash(diagnosis))


def least_backlash(diagnosis: Diagnosis) -> Estimate:
    """Flank backlash where wheel and worm runout take most of it, mm at the pitch radius."""
    post, pair = diagnosis.posterior, diagnosis.pair
    runout = np.hypot(post.of("wheel_x"), post.of("wheel_y"))
    runout = runout + np.hypot(post.of("worm_x"), post.of("worm_y"))
    draws = np.asarray(post.of("mesh") - 2 * pair.t * runout, dtype=np.float64)
    low, middle, high = map(float, quantiles(draws, (0.025, 0.5, 0.975)))
    return Estimate(middle, float(draws.std()), low, high, "length", "draws of the diagnosis")


def _warm(bench: Bench, diagnosis: Diagnosis | None) -> Demand | None:
    """Whether the mesh stays free through the duty's temperatures; None for unknown materials."""
    if diagnosis is None:
        return None
    try:
        grows = expansions_of(bench.job)
    except ValueError:
        return None
    closes = max(0.0, *(-mesh_change(diagnosis.pair, state, grows) for state in duty_states(bench)))
    cold = least_backlash(diagnosis)
    more = OF_A_NORMAL * WARM_SHARE * closes
    left = Estimate(
        cold.value - closes,
        math.hypot(cold.u, WARM_SHARE * closes),
        cold.value - closes - math.hypot(cold.value - cold.low, more),
        cold.value - closes + math.hypot(cold.high - cold.value, more),
        "length",
        "cold backlash less what heat takes, reckoned from the materials",
    )
    label = "backlash left when warm (reckoned)"
    return _judged(_Asked("warm", label, 0.0, None, READ["warm"]), left)


def _drag(bench: Bench) -> Demand:
    """The highest drag round the turn against the limit."""
    label, high = "highest drag at the worm, in mesh", bench.job.duty.drag_limit_nmm
    rows = [r for r in bench.of("drag_in_mesh") if r.value is not None]
    asked = _Asked("drag", label, None, high, "the drag round a turn (`drag_in_mesh`)")
    if not rows:
        return asked.open("no drag was read on the finished unit")
    peak = max(rows, key=lambda r: r.value or 0.0)
    size = estimate(peak.value or 0.0, noise(peak), "torque", "highest reading", math.inf)
    return _judged(asked._replace(decide="the drag at its highest place, more often"), size)


_REASON: dict[Answer, str] = {
    "met": "it lies inside its limit by more than the guard band",
    "not met": "it lies outside its limit by more than the guard band",
    "cannot be told": "it lies nearer to its limit than the guard band",
}


def _judged(asked: _Asked, value: Estimate) -> Demand:
    """The three answers, each side's doubt from its own end of the interval."""
    found = judged(
        value.value,
        u_below=max((value.value - value.low) / OF_A_NORMAL, SURE),
        u_above=max((value.high - value.value) / OF_A_NORMAL, SURE),
        low=-math.inf if asked.low is None else asked.low,
        high=math.inf if asked.high is None else asked.high,
        p=CERTAINTY,
    )
    answer = _ANSWER[found.answer]
    below_limit = asked.high is None or value.value <= asked.high
    above_limit = asked.low is None or value.value >= asked.low
    inside = below_limit and above_limit
    toward_high = (asked.high is not None) == inside
    return Demand(
        *asked[:2],
        value,
        *asked[2:4],
        answer,
        found.chance,
        found.band_high if toward_high else found.band_low,
        _REASON[answer],
        asked.decide if answer == "cannot be told" else "",
    )


def _not_tested(bench: Bench, proof: Proof, part: PartError | None) -> Iterator[str]:
    """What the proof says nothing about."""
    job, duty = bench.job, bench.job.duty
    if part is not None:
        yield from (f"{m.what}: not read" for m in part.missing)
    if proof.positioning is None and proof.closure is not None:
        yield "positions but those of the closure, and those from one side only"
    elif proof.positioning is None:
        yield "positions under power: every figure is from the unit turned by hand"
    else:
        yield "places between the targets"
    if duty.held == "clamped":
        torque = shown(duty.torque_resist_nmm, "torque", resolution=10.0, units=job.units)
        yield f"whether the lock holds {torque} without slipping"
    yield "cutting itself: the torque was still, not shaking, and chips were not made"
    radius = shown(duty.radius_mm, "length", resolution=0.1, units=job.units)
    yield f"other radii and directions than {radius}, {duty.direction}"
    yield "wear to come: the figures hold for the day they were read"
