"""The parts of the unit judged one by one, what to read next, and the verdict over all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from wormwright.bench import Bench
from wormwright.bench.warm import worst_opening
from wormwright.job.findings import Diagnosis, Drag, Finding, NextReading
from wormwright.job.result import Estimate
from wormwright.stages.diagnose.drive import drive_finding
from wormwright.stages.diagnose.duty import felt_by_duty
from wormwright.stages.diagnose.fit import Fit
from wormwright.stages.diagnose.meaning import meaning_of_rock
from wormwright.stages.diagnose.next_reading import next_readings_of
from wormwright.stages.diagnose.ranges import WEAR
from wormwright.stages.diagnose.rows import Rows, worm_share_of
from wormwright.stages.diagnose.verdict import verdict_of

if TYPE_CHECKING:
    from wormwright.bench.runout import SetUp

DRAG_KINDS = ("drag_in_mesh", "drag_out_of_mesh", "drag_table")
"""Drag that can be reported on its own."""


RUNOUT_KINDS = ("face_runout", "register_runout", "bar_runout")
TABLE_KINDS = ("table_radial_play", "table_axial_play", "tilt_under_moment")


def parts_judged(found: Diagnosis, bench: Bench, made: Rows, fit: Fit) -> Diagnosis:
    """The diagnosis with drag, runouts and parts, next readings and verdict filled in.

    What was not read is not loaded: a short sheet answers quickly.
    """
    pair, rows = found.pair, made.rows
    if any(bench.of(kind) for kind in DRAG_KINDS):
        from wormwright.stages.diagnose.drag import drag_of  # noqa: PLC0415

        drag = drag_of(bench, pair, found.tight_spot)
        found = replace(found, drag_apart=drag, drag=_listed(drag))
    set_ups: tuple[SetUp, ...] = ()
    if any(bench.of(kind) for kind in RUNOUT_KINDS):
        from wormwright.bench.runout import runouts_of, set_ups_of  # noqa: PLC0415

        set_ups = set_ups_of(bench)
        found = replace(found, runouts=runouts_of(set_ups, bench.job.units))
    found = replace(found, findings=tuple(_findings(found, bench, made, fit, set_ups)))
    felt = felt_by_duty(
        fit.posterior,
        pair,
        bench.job.duty,
        warm_opens=worst_opening(bench, pair),
        wear=fit.of(WEAR) if WEAR in fit.names else 0.0,
    )
    following = next_readings_of(fit, rows, pair, worm_share=worm_share_of(bench, pair), felt=felt)
    return replace(
        found,
        next_readings=following,
        next_reading=_worded(following[0]) if following else "",
        verdict=verdict_of(found, bench.job, felt, following),
    )


def _listed(drag: Drag) -> tuple[tuple[str, Estimate], ...]:
    ratio = drag.peak_over_median
    peak = (("peak_over_median", ratio),) if ratio else ()
    return (*((p.key, p.estimate) for p in drag.parts), *peak)


def _findings(
    found: Diagnosis, bench: Bench, made: Rows, fit: Fit, set_ups: tuple[SetUp, ...]
) -> Iterator[Finding]:
    """What each part of the unit says, where it was read."""
    pair = found.pair
    if any(bench.of(kind) for kind in TABLE_KINDS):
        from wormwright.stages.diagnose.table_bearing import (  # noqa: PLC0415
            table_bearing_finding,
        )

        yield table_bearing_finding(fit, made.rows, bench, pair)
    drive = drive_finding(fit, made.rows, bench, pair)
    if drive is not None:
        yield drive
    if any(s.kind == "bar_runout" for s in set_ups):
        from wormwright.bench.runout_parts import bar_finding  # noqa: PLC0415

        yield bar_finding(set_ups)
    if bench.of("rock_loop"):
        from wormwright.stages.diagnose.loop import loop_finding  # noqa: PLC0415

        yield loop_finding(bench, fit, pair)
    if bench.of("clamp_shift"):
        from wormwright.stages.diagnose.clamp import clamp_finding  # noqa: PLC0415

        yield clamp_finding(bench)
    if made.warm:
        from wormwright.stages.diagnose.warm import warm_finding  # noqa: PLC0415

        yield warm_finding(made, bench, pair)
    if found.wear is not None:
        from wormwright.stages.diagnose.wear import wear_finding  # noqa: PLC0415

        yield wear_finding(found.wear, made.rows, pair)
    yield meaning_of_rock(pair, fit.posterior)


def _worded(one: NextReading) -> str:
    narrows = f"{one.closing_left:.0%} of the doubt of the mesh closing would be left"
    if one.duty_left < 1:
        narrows += f", and {one.duty_left:.0%} of the doubt whether the duty is met"
    return (
        f"{one.label} ({one.minutes:.0f} min): {narrows}; {one.gain_per_minute:.1%} narrower "
        "for each minute"
    )
