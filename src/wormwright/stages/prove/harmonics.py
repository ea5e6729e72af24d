"""The error round the turn taken apart into waves, and what each comes from."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from wormwright.bench import Bench, noise, pair_in_hand
from wormwright.core.harmonics import Wave, WaveFit, fit_waves
from wormwright.job.findings import Diagnosis
from wormwright.job.pair import WormPair
from wormwright.job.proof_harmonics import Harmonics, WaveFound
from wormwright.job.proof_position import PositionTest
from wormwright.job.result import Doubt, Estimate
from wormwright.job.sheet_proof import FINE
from wormwright.stages.prove.deviations import Deviation, deviations_of
from wormwright.stages.prove.wave_causes import causes_of

Array = NDArray[np.float64]

FEWEST = 6
"""Fewer places round the turn than this show no wave."""


@dataclass(frozen=True, slots=True)
class Sought:
    """A wave looked for: its name, what it is called, how often it comes in a table turn."""

    key: str
    label: str
    order: float


@dataclass(frozen=True, slots=True)
class Sides:
    """Mean of both sides and reversal place by place, rad, with the scatter of each."""

    angles: Array
    mean: Array
    reversal: Array
    u: Array
    sets: Array


def harmonics_of(
    bench: Bench, test: PositionTest | None, diagnosis: Diagnosis | None
) -> tuple[Harmonics | None, tuple[Doubt, ...]]:
    """Waves of the mean of both sides and of the reversal, or None when too little was read."""
    pair = pair_in_hand(bench)
    sides, doubts = _sides(bench, test)
    if sides is None or pair is None or len(sides.angles) < FEWEST:
        return None, doubts
    sought = _sought(pair, bench.job.motor.steps_per_turn)
    orders = [one.order for one in sought]
    fits = (
        fit_waves(sides.angles, sides.mean, orders=orders, u=sides.u, sets=sides.sets),
        fit_waves(sides.angles, sides.reversal, orders=orders[:2], u=2 * sides.u),
    )
    waves = [
        replace(
            wave,
            causes=()
            if wave.size is None
            else causes_of(wave.key, wave.size, pair, diagnosis, of_play=wave.of_play),
        )
        for fit, of_play in zip(fits, (False, True), strict=True)
        for wave in _waves(fit, sought, of_play=of_play)
    ]
    scatter = fits[0].scatter
    rest = Estimate(scatter, 0.0, scatter, scatter, "angle", "least squares at the targets")
    return Harmonics(tuple(waves), rest, len(sides.angles)), doubts


def _sought(pair: WormPair, steps: int | None) -> tuple[Sought, ...]:
    """What may repeat, the likeliest first; what always comes together is named together."""
    worm, twice = "once per worm turn", "twice per worm turn"
    worm += " and tooth" if pair.starts == 1 else ""
    twice += " and once per tooth" if pair.starts == 2 else ""
    waves = [
        Sought("table", "once per table turn", 1.0),
        Sought("worm", worm, pair.ratio),
        Sought("table_twice", "twice per table turn", 2.0),
        Sought("worm_twice", twice, 2 * pair.ratio),
    ]
    if pair.starts > 2:
        waves.append(Sought("tooth", "once per tooth", float(pair.teeth)))
    if steps is not None:
        waves.append(Sought("step", "once per full step of the motor", steps * pair.ratio))
    return tuple(waves)


def _sides(bench: Bench, test: PositionTest | None) -> tuple[Sides | None, tuple[Doubt, ...]]:
    """Places of the test and of the sweep, each set about a zero of its own."""
    parts: list[tuple[Array, Array, Array, float]] = []
    sigma = None
    if test is not None:
        spread = test.spread
        sigma = math.sqrt(float(np.mean([spread.s_up**2, spread.s_down**2])))
        u = sigma / math.sqrt(2 * test.runs)
        parts.append((test.targets, spread.mean, spread.reversal_at, max(u, 1e-9)))
    angles, mean, reversal, doubts = _sweep(bench)
    if len(angles):
        parts.append((angles, mean, reversal, (sigma or _usual_scatter(bench)) / math.sqrt(2)))
    if not parts:
        return None, doubts
    sizes = [len(part[0]) for part in parts]
    return (
        Sides(
            angles=np.concatenate([part[0] for part in parts]),
            mean=np.concatenate([part[1] for part in parts]),
            reversal=np.concatenate([part[2] for part in parts]),
            u=np.repeat([part[3] for part in parts], sizes),
            sets=np.repeat(np.arange(len(parts)), sizes),
        ),
        doubts,
    )


def _usual_scatter(bench: Bench) -> float:
    """Scatter to lean on while no test shows its own: the usual noise of a sweep reading."""
    rows = [r for kind in FINE for r in bench.of(kind)]
    return math.sqrt(sum(noise(r) ** 2 for r in rows) / len(rows))


def _sweep(bench: Bench) -> tuple[Array, Array, Array, tuple[Doubt, ...]]:
    """Places of the fine sweep that were read from both sides: angles, means, reversals."""
    rows, doubts = deviations_of(bench, FINE)
    by_place: dict[int, dict[str, list[float]]] = {}
    for row in rows:
        place = by_place.setdefault(round(row.target * 1e6), {})
        place.setdefault(row.approach, []).append(row.x)
    both = {k: v for k, v in sorted(by_place.items()) if len(v) == 2}
    if len(both) < len(by_place):
        doubts = (*doubts, _one_sided(rows))
    up = np.array([np.mean(v["forward"]) for v in both.values()])
    down = np.array([np.mean(v["backward"]) for v in both.values()])
    return np.array(list(both)) * 1e-6, (up + down) / 2, up - down, doubts


def _one_sided(rows: Sequence[Deviation]) -> Doubt:
    return Doubt(
        "warn",
        "P-13",
        "Places of the sweep were read from one side only and are left out.",
        "A wave of the play would be taken for one of the wheel or the worm.",
        "Read the sweep forward and backward at the same places.",
        tuple(r.reading.seq for r in rows),
    )


def _waves(fit: WaveFit, sought: Sequence[Sought], *, of_play: bool) -> list[WaveFound]:
    """Every wave looked for in one fit, found or refused; causes are added by the caller."""
    names = {one.order: one.label for one in sought}
    told = dict(fit.untold)
    out = []
    for one in sought:
        wave = fit.of(one.order)
        if wave is None and one.order not in told:
            continue
        out.append(
            WaveFound(
                key=one.key,
                label=one.label,
                order=one.order,
                of_play=of_play,
                size=None if wave is None else _estimate(wave),
                highest=None if wave is None else wave.highest,
                stands_out=wave is not None and wave.stands_out,
                causes=(),
                alike=() if wave is None else tuple(names[k] for k in wave.alike),
                refusal="" if wave else _refusal(told[one.order], names),
            )
        )
    return out


def _estimate(wave: Wave) -> Estimate:
    low, high = max(0.0, wave.size - wave.half), wave.size + wave.half
    return Estimate(wave.size, wave.u, low, high, "angle", "least squares at the targets")


def _refusal(like: float | None, names: dict[float, str]) -> str:
    if like is None:
        return "too few places for one more wave"
    if like == 0.0:
        return "these places meet it at one phase: it cannot be told from the zero"
    return f"at these places it cannot be told from {names[like]}"
