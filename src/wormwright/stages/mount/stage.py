"""Mount: how the finished unit stands on the machine, and what to pack, cut and make."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from wormwright.bench import Bench
from wormwright.bench.tram import AllowedLean, allowed_lean, tail_limit
from wormwright.core.part_error import cross_hole_mismatch, taper_of_tail_height, waist_of_drift
from wormwright.handbook.materials import material
from wormwright.job.mounting import Effect, Heights, Mounting, Tram
from wormwright.job.parts import Part
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt, Estimate, StageRefusal
from wormwright.job.rotary import Job
from wormwright.stages.mount.base import base_plate, tail_block
from wormwright.stages.mount.bodies import sizes_of
from wormwright.stages.mount.heights import heights_of
from wormwright.stages.mount.holding import chuck_finding, four_jaw
from wormwright.stages.mount.room import on_plate, room_of
from wormwright.stages.mount.springing import springing
from wormwright.stages.mount.tram import trammed
from wormwright.stages.mount.wording import size_about


def mount(job: Job, readings: Sequence[Reading]) -> Mounting:
    """What the readings on the machine and the set-up in job.toml come to.

    Raises:
        StageRefusal: neither a reading taken on the machine nor a set-up was given.
    """
    job, doubts = _known_material(job)
    bench = Bench(job, tuple(readings))
    allowed = allowed_lean(job)
    tram, of_tram, no_tram = trammed(bench, allowed)
    heights, of_heights, no_heights = heights_of(bench)
    sizes, no_room = sizes_of(job)
    room, drawn = room_of(job, sizes) if sizes is not None else (None, None)
    jaws, of_jaws = four_jaw(bench)
    if job.mount is None and not (tram or heights or jaws):
        raise StageRefusal(
            "mount", (*of_tram, *of_heights, *of_jaws) or (_nothing((*no_tram, *no_heights)),)
        )
    base = base_plate(job, allowed, room)
    if room is not None and sizes is not None and base.plate is not None:
        room = on_plate(job, sizes, room, base.plate.thickness.size)
    chuck, of_chuck = chuck_finding(bench)
    chain, no_chain = springing(bench)
    parts: tuple[Part | None, ...] = (
        base.plate,
        tail_block(job, base.plate, heights.high if heights else None),
        drawn,
    )
    return Mounting(
        tram=tram,
        effects=_effects(job, allowed, tram, heights),
        heights=heights,
        room=room,
        findings=tuple(f for f in (base.finding, chuck, chain) if f is not None),
        jaws=jaws,
        parts=tuple(p for p in parts if p is not None),
        not_measured=tuple(
            dict.fromkeys((*no_tram, *no_heights, *no_room, *base.missing, *no_chain))
        ),
        doubts=(*of_tram, *of_heights, *of_jaws, *of_chuck, *base.doubts, *doubts),
    )


WAIST_SEEN = 0.0005
"""A waist that stays below this is not worth a line, mm."""


def _known_material(job: Job) -> tuple[Job, tuple[Doubt, ...]]:
    """The job with a plate material that the handbook has, and a question if it had none."""
    if job.mount is None:
        return job, ()
    try:
        material(job.mount.plate_material)
    except ValueError as unknown:
        doubt = Doubt(
            "ask",
            "MT-9",
            f"Plate: {unknown}.",
            "Its stiffness decides how thick it must be; aluminium was taken.",
            "Give `plate_material` in [mount] as one of these.",
        )
        return replace(job, mount=replace(job.mount, plate_material="aluminium")), (doubt,)
    return job, ()


def _nothing(missing: tuple[str, ...]) -> Doubt:
    return Doubt(
        "refuse",
        "MT-0",
        "Nothing was read on the machine, and job.toml has no [mount].",
        "There is nothing to set up by.",
        f"Read {'; '.join(missing)}; or describe the set-up in [mount].",
    )


def _effects(
    job: Job, allowed: AllowedLean, tram: Tram | None, heights: Heights | None
) -> tuple[Effect, ...]:
    """What is left in the part, as it stands and as set."""
    found: list[Effect] = []
    elevation = tram.of("elevation") if tram else None
    plan = tram.of("plan") if tram else None
    if elevation is not None:
        now, after = (
            size_about(2 * over.value, 2 * over.u, "2 x lean x length")
            for over in (elevation.over, elevation.after)
        )
        found.append(Effect("cone: difference of diameter over the work", now, after))
    if plan is not None:
        found += _of_plan(job, plan.over, plan.after)
    if heights is not None and heights.high is not None:
        found.append(_of_tail(job, allowed.span, heights.high))
    return tuple(found)


def _of_plan(job: Job, now: Estimate, after: Estimate) -> tuple[Effect, ...]:
    radius = ((job.mount.cut_diameter if job.mount else None) or 2 * job.duty.radius_mm) / 2
    waists = [
        Estimate(
            waist_of_drift(drift=over.value, radius=radius),
            abs(over.value) / radius * over.u,
            0.0,
            waist_of_drift(drift=max(abs(over.low), abs(over.high)), radius=radius),
            "length",
            "second order",
        )
        for over in (now, after)
    ]
    holes = [
        size_about(cross_hole_mismatch(offset=over.value), 2 * over.u, "2 x drift")
        for over in (now, after)
    ]
    waist = Effect("waist: growth of the radius, ball cutter, at the end", waists[0], waists[1])
    return (
        *((waist,) if waists[0].high >= WAIST_SEEN else ()),
        Effect("cross hole from both sides: mismatch at the end", holes[0], holes[1]),
    )


def _of_tail(job: Job, span: float, high: Estimate) -> Effect:
    now = taper_of_tail_height(height_error=high.value, length=span, between=span)
    left = high.value if abs(high.value) <= tail_limit(job) else 0.0
    return Effect(
        "tail high or low: difference of diameter between centres",
        size_about(now, 2 * high.u, "2 x height"),
        size_about(2 * left, 2 * high.u, "2 x height"),
    )
