"""A guide from a finished job: its sizes with first limits; nothing private goes along."""

from __future__ import annotations

import math

from wormwright.bench import Bench
from wormwright.job.guide import Guide, GuidePart, GuideRow, GuideStep
from wormwright.job.result import Doubt, StageRefusal
from wormwright.job.sheet import KINDS
from wormwright.stages.keep.compare import figure_of
from wormwright.stages.keep.fingerprint import FINGERPRINT, Mark

FEWEST_ROWS = 6
"""Sizes and words below which a guide would call almost any unit the same."""
STEP = 0.005
"""Limits are proposed to this step, mm."""
FINER = 4.0
"""How many times finer than the half-width of its limits a reading should be (the trade's 4:1)."""


def make_guide(
    bench: Bench,
    *,
    title: str,
    version: str,
    plan: str,
    parts: tuple[GuidePart, ...] = (),
    steps: tuple[GuideStep, ...] = (),
) -> Guide:
    """The guide that this unit gives, its limits proposed.

    Names of persons, initials, notes, marks of the unit and of the job stay behind: only sizes,
    words of fixed choice and what was made are taken.

    Raises:
        StageRefusal: too few sizes were read to tell a unit of this kind from another.
    """
    rows = tuple(
        row
        for kind, mark in FINGERPRINT.items()
        for station in KINDS[kind].stations or ("",)
        if (row := _row(bench, kind, station, mark)) is not None
    )
    if sum(row.compulsory for row in rows) < FEWEST_ROWS:
        missing = [k for k in FINGERPRINT if FINGERPRINT[k].compulsory and not bench.of(k)]
        raise StageRefusal("keep", (_too_few(rows, missing),))
    job = bench.job
    teeth, starts = bench.figure("teeth"), bench.figure("starts")
    ratio = f", {teeth.value / starts.value:g}:1" if teeth and starts else ""
    return Guide(
        title=title,
        unit=f"{job.rotary.worm_material} worm, {job.rotary.wheel_material} wheel, "
        f"{job.rotary.housing_material} housing{ratio}",
        version=version,
        plan=plan,
        limits_by="proposed",
        rows=rows,
        parts=parts,
        steps=steps,
        made_up=job.made_up,
    )


def _row(bench: Bench, kind: str, station: str, mark: Mark) -> GuideRow | None:
    dimension = KINDS[kind].dimension
    if dimension == "none":
        word = bench.word(kind, station or None)
        if word is None:
            return None
        return GuideRow(
            kind, station, dimension, None, None, None, word, mark.needs, mark.compulsory
        )
    figure = figure_of(bench, kind, station)
    if figure is None:
        return None
    half = 0.0
    if dimension != "count":
        half = max(mark.spread, math.ceil(FINER * figure.u / STEP) * STEP)
    low, high = figure.value - half, figure.value + half
    return GuideRow(
        kind, station, dimension, figure.value, low, high, "", mark.needs, mark.compulsory
    )


def _too_few(rows: tuple[GuideRow, ...], missing: list[str]) -> Doubt:
    return Doubt(
        "refuse",
        "E-35",
        f"{len(rows)} sizes and words were read of this unit as found.",
        f"A guide needs {FEWEST_ROWS} that decide, or it calls almost any unit the same.",
        f"Read more of the baseline: {', '.join(missing)}.",
    )
