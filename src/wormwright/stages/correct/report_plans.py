"""The plans as tables: short names explained once, one unit, the taken plan in words."""

from __future__ import annotations

from wormwright.job.blocks import Block, Cell, Paragraph, Table
from wormwright.job.corrections import CORRECTIONS, Correction, Plan, Remedy
from wormwright.job.rotary import Job
from wormwright.stages.correct.wording import arc, hours, money, percent, small_percent

Names = dict[str, str]
"""Short name of each correction by its label."""

TAKEN = "TAKEN: "

DEPTH = ("bushings", "setting", "centre_shim")
"""Corrections that set the mesh: only these can make it bind."""


def short_names(remedy: Remedy) -> Names:
    """A short name for every correction of the plans; numbered where two are of one kind."""
    labels: dict[str, list[str]] = {}
    for correction in _corrections(remedy):
        labels.setdefault(correction.key, []).append(correction.label)
    return {
        label: CORRECTIONS[key] + (f" {place}" if len(same) > 1 else "")
        for key, same in labels.items()
        for place, label in enumerate(same, start=1)
    }


def _corrections(remedy: Remedy) -> tuple[Correction, ...]:
    """Each correction once, in the order in which the plans bring them up."""
    every = {c.label: c for plan in remedy.plans for c in plan.corrections}
    order = tuple(CORRECTIONS)
    return tuple(sorted(every.values(), key=lambda c: order.index(c.key)))


def plan_name(plan: Plan, names: Names) -> str:
    """The plan by the short names of its corrections."""
    return " + ".join(names[c.label] for c in plan.corrections) or "leave it as it is"


def verdict(remedy: Remedy, job: Job) -> Paragraph:
    """What the duty allows, which plan is taken, and its chance."""
    allowed = f"Allowed at the table: {arc(remedy.allowed_lost_motion)}."
    chosen = remedy.chosen
    if chosen is None:
        return Paragraph(f"{allowed} No plan can be offered; see the reasons below.", strong=True)
    name = plan_name(chosen, short_names(remedy))
    chance = percent(chosen.p_meets_duty)
    wanted = job.plan == chosen.key
    if chosen.p_meets_duty >= job.duty.probability:
        why = "your choice" if wanted else "the least work that meets it"
        words = f"Taken: {name} ({why}); chance of meeting it {chance}."
    elif wanted:
        words = f"Taken: {name} (your choice), which does not surely meet it: chance {chance}."
    else:
        words = f"Nothing here meets it surely. Best: {name}; chance {chance}."
    return Paragraph(f"{allowed} {words}", strong=True)


def plan_blocks(remedy: Remedy) -> list[Block]:
    """Plans by effort; what their short names mean; why some are not offered."""
    names = short_names(remedy)
    blocks: list[Block] = [_plans(remedy, names)]
    if names:
        blocks.append(_legend(remedy, names))
    refused = [plan for plan in remedy.plans if not plan.offered]
    if refused:
        blocks.append(_refused(refused, names))
    others = [p for p in remedy.plans if p.offered and p.corrections and p is not remedy.chosen]
    if others:
        words = f"To take another plan, join its names: --plan {others[-1].key}; or --plan leave."
        blocks.append(Paragraph(words))
    return blocks


def _plans(remedy: Remedy, names: Names) -> Table:
    costs = any(p.cost is not None for p in remedy.plans)
    columns: tuple[str, ...] = ("plan", "tightest", "mean", "loosest", "chance", "binds", "hours")
    rows = tuple(_plan_row(p, names, taken=p is remedy.chosen) for p in remedy.plans)
    if costs:
        columns = (*columns, "cost")
        rows = tuple((*row, Cell(money(p.cost))) for row, p in zip(rows, remedy.plans, strict=True))
    caption = (
        "Plans by effort: the lost motion at the table they should leave, the chance of meeting "
        "the duty, how often the mesh would bind, bench hours"
    )
    return Table(caption, columns, rows, key="plans", one_unit=True)


def _plan_row(plan: Plan, names: Names, *, taken: bool) -> tuple[Cell, ...]:
    depth_is_set = any(c.key in DEPTH for c in plan.corrections)
    return (
        Cell((TAKEN if taken else "") + plan_name(plan, names), strong=taken),
        Cell(estimate=plan.tight),
        Cell(estimate=plan.mean),
        Cell(estimate=plan.loose),
        Cell(percent(plan.p_meets_duty), strong=taken),
        Cell(small_percent(plan.p_jam) if depth_is_set else "not set"),
        Cell(hours(plan.minutes)),
    )


def _legend(remedy: Remedy, names: Names) -> Table:
    rows = tuple(
        (Cell(names[c.label]), Cell(c.label), Cell(hours(c.minutes))) for c in _corrections(remedy)
    )
    return Table("What the short names stand for", ("name", "work", "hours"), rows, key="works")


def _refused(plans: list[Plan], names: Names) -> Table:
    rows = tuple(
        (Cell(plan_name(p, names)), Cell(p.reason.removeprefix("Not offered: "))) for p in plans
    )
    return Table("Not offered", ("plan", "why"), rows, key="not offered")
