"""Leave it, fix it at home or send it back: figures against the trade's ranges and the duty."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from wormwright.handbook.as_found import (
    BENT_SHAFT,
    CRACKED_CASTING,
    LIMITS,
    PITCH_ERROR,
    Limit,
)
from wormwright.job.findings import (
    Contributor,
    Diagnosis,
    Judged,
    NextReading,
    Verdict,
    VerdictWord,
    Where,
)
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.quantities import shown, shown_estimate
from wormwright.stages.diagnose.duty import Felt
from wormwright.stages.diagnose.turn import estimate_of
from wormwright.stages.diagnose.wording import arc, words_of

FEWEST_FOR_PITCH = 8
"""Rocks round the turn from which their scatter says something of the teeth."""

SURELY_MISSED = 0.5
"""Below this chance of meeting the duty the unit is said to miss it."""

HELPS = 0.9
"""A reading that leaves less than this of the doubt is worth waiting for."""


def verdict_of(
    found: Diagnosis, job: Job, felt: Felt, next_readings: tuple[NextReading, ...]
) -> Verdict:
    """What to do with the unit, in one word, with reasons."""
    judged = tuple(_judged(found))
    drags = _drags_too_hard(found, job)
    word = _word(job, felt, judged, next_readings, drags=drags is not None)
    more = (drags,) if drags else ()
    reasons = (*_duty_reasons(found, job, felt), *more, *_range_reasons(judged))
    cannot = (*_cannot_cure(found), *_not_enough(found, job))
    return Verdict(word, reasons, felt.chance, judged, cannot)


def _word(
    job: Job,
    felt: Felt,
    judged: tuple[Judged, ...],
    next_readings: tuple[NextReading, ...],
    *,
    drags: bool,
) -> VerdictWord:
    if felt.chance >= job.duty.probability and not drags:
        return "leave it as it is"
    if any(j.where == "far above" and not LIMITS[j.key].curable for j in judged):
        return "send it back"
    if felt.chance > SURELY_MISSED and any(n.duty_left < HELPS for n in next_readings):
        return "read more first"
    off = any(j.where in ("above", "far above") for j in judged)
    if off or drags or felt.chance < SURELY_MISSED:
        return "fix it at home"
    return "normal"


def _drags_too_hard(found: Diagnosis, job: Job) -> str | None:
    """Words when the worm surely turns harder than the duty allows."""
    inside = _drag_in_mesh(found)
    if inside is None or inside.low <= job.duty.drag_limit_nmm:
        return None
    limit = shown(job.duty.drag_limit_nmm, "torque", resolution=10.0, units=job.units)
    return (
        f"It turns harder than the duty allows: {shown_estimate(inside, units=job.units)} of drag "
        f"at the worm in mesh against {limit}."
    )


def _drag_in_mesh(found: Diagnosis) -> Estimate | None:
    parts = found.drag_apart.parts if found.drag_apart else ()
    return next((p.estimate for p in parts if p.key == "in_mesh"), None)


def _judged(found: Diagnosis) -> Iterator[Judged]:
    """Every figure that was really read, against its row of the table."""
    yield _against("lost_motion", found.lost_motion_mean)
    for cause in found.contributors:
        size = _play_of(cause, found)
        if size is not None:
            yield _against(cause.key, size)
    for key, read in (("wheel_runout", found.wheel_runout), ("worm_runout", found.worm_runout)):
        if read is not None:
            yield _against(key, read)
    scatter = scatter_of(found)
    if scatter is not None:
        yield _against("pitch", scatter)
    for runout in found.runouts:
        if runout.key in LIMITS:
            row = _against(runout.key, runout.eccentricity.scaled(2.0, "length"))
            yield replace(row, label=f"{row.label}, {runout.surface}")
    clamp = next((f.of("turning") for f in found.findings if f.key == "clamp"), None)
    if clamp is not None:
        yield _against("clamp", _size(clamp))
    drag, inside = found.drag_apart, _drag_in_mesh(found)
    if inside:
        yield _against("drag", inside)
    if drag and drag.peak_over_median:
        yield _against("peak", drag.peak_over_median)


def _size(signed: Estimate) -> Estimate:
    """How large a signed figure is, whichever way it goes."""
    size, half = abs(signed.value), (signed.high - signed.low) / 2
    return replace(signed, value=size, low=max(0.0, size - half), high=size + half)


def _play_of(cause: Contributor, found: Diagnosis) -> Estimate | None:
    """The play itself (not its share in the lost motion) where the readings fix it."""
    if cause.key not in LIMITS or not (cause.identifiable and cause.measured):
        return None
    return estimate_of(found.posterior.of(cause.key), "length", cause.at_r2.method)


def _against(key: str, read: Estimate) -> Judged:
    limit = LIMITS[key]
    return Judged(
        key,
        limit.label,
        read,
        limit.usual,
        limit.far,
        _where(read, limit),
        limit.cure,
        limit.source,
    )


def _where(read: Estimate, limit: Limit) -> Where:
    low, high = limit.usual
    if read.low > high:
        return "far above" if read.low > limit.far else "above"
    if read.high < low:
        return "below"
    return "inside" if read.high <= high else "open"


def scatter_of(found: Diagnosis) -> Estimate | None:
    """Scatter of the rocks about the fit that their noise does not explain, mm at r2."""
    points = found.points
    if len(points) < FEWEST_FOR_PITCH or found.degrees_of_freedom < FEWEST_FOR_PITCH // 2:
        return None
    r2 = found.pair.r2
    rest = np.array([p.residual for p in points]) * r2
    noise = np.array([p.u for p in points]) * r2
    dof = found.degrees_of_freedom
    seen, expected = float(np.sum(rest**2)) / dof, float(np.mean(noise**2))
    half = 1.96 * seen * math.sqrt(2 / dof)
    low, middle, high = (
        math.sqrt(max(v - expected, 0.0)) for v in (seen - half, seen, seen + half)
    )
    u = (high - low) / (2 * 1.96)
    return Estimate(middle, u, low, high, "length", "rest of the rocks")


def _duty_reasons(found: Diagnosis, job: Job, felt: Felt) -> Iterator[str]:
    feels = words_of(estimate_of(felt.draws, "angle", "draws"))
    allowed = arc(felt.allowed)
    chance = felt.chance
    meets = "meets" if chance >= job.duty.probability else "does not surely meet"
    if chance < SURELY_MISSED:
        meets = "misses"
    how = {
        "both ways": "worked both ways at the loosest place, warm",
        "one way": "approached from one side only, which takes up mesh, end play and drive",
    }[job.duty.approach]
    if job.duty.direction != "tangential":
        how = f"felt along its {job.duty.direction} direction, play of the table bearing only"
    yield (
        f"It {meets} its duty as it stands: the duty feels {feels} ({how}), {allowed} is allowed; "
        f"chance {_percent(chance)}."
    )
    if job.duty.approach == "one way" and found.wheel_runout is not None:
        swing = found.wheel_runout.scaled(0.5 / found.pair.r2 * job.duty.radius_mm, "length")
        size = shown(swing.value, "length", u=swing.u, units=job.units)
        yield (
            f"The wheel runout swings the position by ± {size} at the duty's radius over half a "
            "turn; neighbouring positions hardly feel it."
        )


def _percent(chance: float) -> str:
    if chance > 0.99:
        return "above 99%"
    return "below 1%" if chance < 0.01 else f"{chance:.0%}"


def _range_reasons(judged: tuple[Judged, ...]) -> Iterator[str]:
    off = [j for j in judged if j.where in ("above", "far above")]
    for j in off:
        how = "far above" if j.where == "far above" else "above"
        yield f"{_first(j.label)} is {how} what such units show. Cure: {j.cure}."
    if not off:
        yield "As found it is normal: no figure read lies above what such units show."
    open_ = [j.label for j in judged if j.where == "open"]
    if open_:
        yield f"Too close to the usual limit to call: {', '.join(open_)}."


def _first(text: str) -> str:
    return text[:1].upper() + text[1:]


def _cannot_cure(found: Diagnosis) -> Iterator[str]:
    """What no work at home cures, with what the readings say about it here."""
    scatter = scatter_of(found)
    if scatter is None:
        yield f"{PITCH_ERROR} Not judged: fewer than {FEWEST_FOR_PITCH} rocks round the turn."
    else:
        far = scatter.low > LIMITS["pitch"].usual[1]
        yield f"{PITCH_ERROR} Here {'it shows' if far else 'the rocks show no sign of it'}."
    if found.worm_runout is None:
        yield f"{BENT_SHAFT} Not judged: no rock at three worm angles or more."
    else:
        far = found.worm_runout.low > LIMITS["worm_runout"].usual[1]
        yield f"{BENT_SHAFT} Here {'it shows' if far else 'the rocks show no sign of it'}."
    yield CRACKED_CASTING


def _not_enough(found: Diagnosis, job: Job) -> Iterator[str]:
    """What the worm's own runout leaves of lost motion, however well the mesh is set."""
    worm, duty, pair = found.worm_runout, job.duty, found.pair
    if worm is None or duty.direction != "tangential" or duty.approach != "both ways":
        return
    left = worm.scaled(2 * pair.t / pair.r2, "angle")
    allowed = duty.error_mm / duty.radius_mm
    if left.low > allowed:
        yield (
            f"This duty: the runout of the worm alone leaves {words_of(left)} between its tight "
            f"and its loose side, {arc(allowed)} is allowed. Approach from one side only, or a new "
            "worm."
        )
