"""What corrections cost: bench minutes, or money where the machinist typed any."""

from __future__ import annotations

from collections.abc import Sequence

from wormwright.job.corrections import Correction, Plan
from wormwright.job.rotary import Job


def cost_of(job: Job, corrections: Sequence[Correction]) -> float | None:
    """Cost of the corrections in the job's own currency; None when no costs were typed."""
    if job.hour_cost is None:
        return None
    extra = dict(job.costs)
    hours = sum(c.minutes for c in corrections) / 60
    return hours * job.hour_cost + sum(extra.get(c.key, 0.0) for c in corrections)


def effort_of(job: Job, corrections: Sequence[Correction]) -> float:
    """What plans are ranked by: cost, or minutes when no costs were typed."""
    cost = cost_of(job, corrections)
    return sum(c.minutes for c in corrections) if cost is None else cost


def effort_of_plan(plan: Plan) -> float:
    """What a plan is ranked by."""
    return plan.minutes if plan.cost is None else plan.cost
