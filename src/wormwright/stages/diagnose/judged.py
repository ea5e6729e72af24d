"""The parts of the unit judged one by one, what to read next, and the verdict over all."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wormwright.bench import Bench
from wormwright.bench.warm import worst_opening
from wormwright.job.findings import Diagnosis, Drag, Finding, NextReading
from wormwright.job.result import Estimate
from wormwright.stages.diagnose.drive import drive_finding
from wormwright.stages.diagnose.duty import felt_by_duty
from wormwright.stages.diagnose.fit import Fit
from wormwright.stages.diagnose.next_reading import next_readings_of
from wormwright.stages.diagnose.ranges import WEAR
from wormwright.stages.diagnose.rows import Rows, worm_share_of
from wormwright.stages.diagnose.verdict import verdict_of

DRAG_KINDS = ("drag_in_mesh", "drag_out_of_mesh", "drag_table")


def parts_judged(found: Diagnosis, bench: Bench, made: Rows, fit: Fit) -> Diagnosis:
    """The diagnosis with drag, runouts and parts, next readings and verdict filled in.

    What was not read is not loaded: a short sheet answers quickly.
    """
    pair, rows = found.pair, made.rows
    if any(bench.of(kind) for kind in DRAG_KINDS):
        from wormwright.stages.diagnose.drag import drag_of  # noqa: PLC0415

        drag = drag_of(bench, pair, found.tight_spot)
        found = replace(found, drag_apart=drag, drag=_listed(drag))
    found = replace(found, findings=tuple(_findings(found, bench, made, fit)))
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
    peak = (("drag round the turn, peak over median", ratio),) if ratio else ()
    return (*((p.label, p.estimate) for p in drag.parts), *peak)


def _findings(found: Diagnosis, bench: Bench, made: Rows, fit: Fit) -> Iterator[Finding]:
    """What each part of the unit says, where it was read."""
    pair = found.pair
    drive = drive_finding(fit, made.rows, bench, pair)
    if drive is not None:
        yield drive
    if made.warm:
        from wormwright.stages.diagnose.warm import warm_finding  # noqa: PLC0415

        yield warm_finding(made, bench, pair)
    if found.wear is not None:
        from wormwright.stages.diagnose.wear import wear_finding  # noqa: PLC0415

        yield wear_finding(found.wear, made.rows, pair)


def _worded(one: NextReading) -> str:
    narrows = f"{one.closing_left:.0%} of the doubt of the mesh closing would be left"
    if one.duty_left < 1:
        narrows += f", and {one.duty_left:.0%} of the doubt whether the duty is met"
    return (
        f"{one.label} ({one.minutes:.0f} min): {narrows}; {one.gain_per_minute:.1%} narrower "
        "for each minute"
    )
