"""Error at the part, verdict, and before and after, for the results file."""

from __future__ import annotations

from wormwright.job.proof_compared import Compared, Comparison
from wormwright.job.proof_part import Contribution, PartError
from wormwright.job.proof_verdict import Demand, ProofVerdict
from wormwright.packet.results_numbers import Data, estimate_data, plain


def part_data(part: PartError) -> Data:
    """The error budget at the part."""
    return {
        "feature": part.feature,
        "label": part.label,
        "assumed": list(part.assumed),
        "lever_mm": plain(part.lever),
        "allowed_mm": plain(part.allowed),
        "error": estimate_data(part.error),
        "biggest": part.biggest or None,
        "most_doubtful": part.most_doubtful or None,
        "contributions": [_contribution(c) for c in part.contributions],
        "missing": [{"what": m.what, "read": m.read} for m in part.missing],
        "others": [
            {"feature": o.feature, "label": o.label, "error": estimate_data(o.error)}
            for o in part.others
        ],
    }


def _contribution(one: Contribution) -> Data:
    return {
        "key": one.key,
        "label": one.figure.label,
        "source": one.figure.source,
        "figure": estimate_data(one.figure.estimate),
        "rule": one.rule,
        "at_part": estimate_data(one.at_part),
        "share": plain(one.share),
        "doubt_share": plain(one.doubt_share),
    }


def verdict_data(verdict: ProofVerdict) -> Data:
    """The answer to each demand of the duty."""
    return {
        "answer": verdict.answer,
        "certainty": verdict.certainty,
        "demands": [_demand(d) for d in verdict.demands],
        "not_tested": list(verdict.not_tested),
    }


def _demand(one: Demand) -> Data:
    return {
        "key": one.key,
        "label": one.label,
        "value": None if one.value is None else estimate_data(one.value),
        "low": one.low,
        "high": one.high,
        "answer": one.answer,
        "chance": None if one.chance is None else plain(one.chance),
        "band": None if one.band is None else plain(one.band),
        "reason": one.reason,
        "decide": one.decide,
    }


def comparison_data(found: Comparison) -> Data:
    """What the work changed, and what may not be compared."""
    return {
        "compared": [_compared(one) for one in found.compared],
        "single": [_compared(one) for one in found.single],
        "refused": [{"label": r.label, "why": r.why, "do": r.do} for r in found.refused],
    }


def _compared(one: Compared) -> Data:
    return {
        "kind": one.kind,
        "label": one.label,
        "where": one.where,
        "places": one.places,
        "before": estimate_data(one.before),
        "after": estimate_data(one.after),
        "change": estimate_data(one.change),
        "told": one.told,
        "rows": list(one.rows),
    }
