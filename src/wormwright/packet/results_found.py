"""The parts of a diagnosis for the results file: verdict, drag, runouts, findings, what is next."""

from __future__ import annotations

from wormwright.job.findings import (
    Diagnosis,
    Drag,
    Figured,
    Finding,
    Judged,
    NextReading,
    Runout,
    Unseparated,
    Verdict,
)
from wormwright.packet.results_numbers import Data, estimate_data, maybe, plain, probability


def parts_found(found: Diagnosis) -> Data:
    """Everything beside the lost motion itself; null or empty where it was not read."""
    draws = len(found.posterior.draws)
    return {
        "verdict": None if found.verdict is None else _verdict(found.verdict, draws),
        "unseparated": [_unseparated(one) for one in found.unseparated],
        "next_readings": [_next_reading(one) for one in found.next_readings],
        "drag": None if found.drag_apart is None else _drag(found.drag_apart),
        "runouts": [runout_data(one) for one in found.runouts],
        "findings": [finding_data(one) for one in found.findings],
        "wear": maybe(found.wear),
    }


def finding_data(one: Finding) -> Data:
    """What was found about one part of the unit."""
    return {
        "key": one.key,
        "title": one.title,
        "figures": figures_data(one.figures),
        "words": list(one.words),
    }


def figures_data(figures: tuple[Figured, ...]) -> list[Data]:
    """Figures with their names."""
    return [{"key": f.key, "label": f.label, "value": estimate_data(f.estimate)} for f in figures]


def _verdict(verdict: Verdict, draws: int) -> Data:
    return {
        "word": verdict.word,
        "reasons": list(verdict.reasons),
        "p_meets_duty": probability(verdict.chance_meets_duty, draws),
        "judged": [_judged(one) for one in verdict.judged],
        "cannot_cure": list(verdict.cannot_cure),
    }


def _judged(one: Judged) -> Data:
    return {
        "key": one.key,
        "label": one.label,
        "value": estimate_data(one.estimate),
        "usual_low": plain(one.usual[0], digits=3),
        "usual_high": plain(one.usual[1], digits=3),
        "far": plain(one.far, digits=3),
        "where": one.where,
        "cure": one.cure,
        "source": one.source,
    }


def _unseparated(one: Unseparated) -> Data:
    return {
        "causes": list(one.causes),
        "size": plain(one.size, digits=2),
        "against": one.against,
        "words": one.words,
    }


def _next_reading(one: NextReading) -> Data:
    return {
        "kind": one.kind,
        "label": one.label,
        "minutes": plain(one.minutes, digits=3),
        "closing_left": plain(one.closing_left, digits=2),
        "duty_left": plain(one.duty_left, digits=2),
        "tells": one.tells,
    }


def _drag(drag: Drag) -> Data:
    return {
        "parts": figures_data(drag.parts),
        "peak_over_median": maybe(drag.peak_over_median),
        "peak_at": maybe(drag.peak_at),
        "agreement": drag.agreement,
        "words": list(drag.words),
    }


def runout_data(one: Runout) -> Data:
    """One surface that was read place by place."""
    return {
        "key": one.key,
        "surface": one.surface,
        "swing": plain(one.swing, digits=4),
        "eccentricity": estimate_data(one.eccentricity),
        "high_at": maybe(one.high_at),
        "slope": maybe(one.slope),
        "slope_at": maybe(one.slope_at),
        "lobes": [
            {
                "order": lobes.order,
                "size": estimate_data(lobes.size),
                "first_high": estimate_data(lobes.first_high),
            }
            for lobes in one.lobes
        ],
        "do": one.do,
    }
