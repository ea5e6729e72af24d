"""Closed loops: axes with known waves, play, noise and drift; figures come back as promised."""

from __future__ import annotations

import math
from collections import Counter

import numpy as np
import pytest

from results_samples import job
from simulated_axis import ARCSEC, SimulatedAxis
from stages.prove.position_rows import position_rows
from wormwright.core.harmonics import fit_waves
from wormwright.core.positioning import figures_of, positioning
from wormwright.core.positioning_interval import figure_intervals
from wormwright.core.smooth_compensation import smooth_compensation
from wormwright.core.worm_phase import planned_targets
from wormwright.job.reading import Reading
from wormwright.stages.prove import prove

RATIO = 72.0
AXES = {
    "clear": SimulatedAxis(
        waves={1: (60.0, 0.3), RATIO: (12.0, 1.0)},
        play=80.0,
        play_waves={1: (20.0, 2.0)},
        noise=3.0,
    ),
    "noisy": SimulatedAxis(waves={1: (15.0, 0.3), RATIO: (4.0, 1.0)}, play=20.0, noise=6.0),
    "hardly any": SimulatedAxis(waves={1: (5.0, 0.3)}, play=4.0, noise=4.0),
}


def true_figures(axis: SimulatedAxis, targets: np.ndarray) -> dict[str, float]:
    means = np.stack(axis.truth(targets))
    spreads = np.full_like(means, axis.noise)
    return {name: float(value) for name, value in figures_of(means, spreads).items()}


@pytest.mark.parametrize("name", AXES)
def test_figures_lie_within_their_intervals_at_the_stated_rate(name: str) -> None:
    axis, pick = AXES[name], np.random.default_rng(1)
    times = 300
    inside: Counter[str] = Counter()
    for trial in range(times):
        targets = planned_targets(ratio=RATIO, seed=trial)
        u_target = 1.5
        off = pick.normal(0.0, u_target, (len(targets), 1))
        up, down = axis.test(targets, 5, pick)
        test = positioning(up + off, down + off)
        truth = true_figures(axis, targets)
        for figure, (_, low, high) in figure_intervals(test, u_target=u_target, seed=trial).items():
            inside[figure] += low <= truth[figure] <= high
    rates = {figure: inside[figure] / times for figure in truth}
    least = 0.88 if name == "hardly any" else 0.92
    assert min(rates.values()) > least, "where scatter is all there is, nine times in ten"
    assert np.mean(list(rates.values())) == pytest.approx(0.955, abs=0.03)


def test_waves_come_back_within_their_intervals_at_the_stated_rate() -> None:
    axis, pick = AXES["clear"], np.random.default_rng(2)
    inside, told = Counter[float](), Counter[float]()
    orders = [1.0, RATIO, 2.0]
    for trial in range(400):
        targets = planned_targets(ratio=RATIO, count=12, seed=trial)
        up, down = axis.test(targets, 5, pick)
        fit = fit_waves(
            targets, (up + down).mean(axis=1) / 2, orders=orders, u=axis.noise / math.sqrt(10)
        )
        for order in (1.0, RATIO):
            wave = fit.of(order)
            if wave is not None:
                told[order] += 1
                inside[order] += abs(wave.size - axis.waves[order][0]) <= wave.half
    for order in (1.0, RATIO):
        assert told[order] > 300
        assert inside[order] / told[order] == pytest.approx(0.95, abs=0.03)


def test_a_wave_that_is_not_there_stands_out_as_seldom_as_stated() -> None:
    axis, pick = SimulatedAxis(waves={1: (20.0, 0.3)}, noise=3.0), np.random.default_rng(3)
    seen = 0
    for trial in range(600):
        targets = planned_targets(ratio=RATIO, count=12, seed=trial)
        up, down = axis.test(targets, 5, pick)
        middle = (up + down).mean(axis=1) / 2
        wave = fit_waves(targets, middle, orders=[1.0, RATIO], u=3 / math.sqrt(10)).of(RATIO)
        seen += wave is not None and wave.stands_out
    assert seen / 600 == pytest.approx(0.05, abs=0.03)


@pytest.mark.parametrize("name", AXES)
def test_the_promise_of_a_table_holds_on_fresh_runs_at_fresh_targets(name: str) -> None:
    axis, pick = AXES[name], np.random.default_rng(4)
    promised, got, helped, worse = [], [], 0, 0
    for trial in range(300):
        targets = planned_targets(ratio=RATIO, count=11, seed=trial)
        up, down = axis.test(targets, 5, pick)
        least = max(0.0, float((down - up).mean(axis=1).min()))
        made = smooth_compensation(targets, up, down, smallest_play=least)
        fresh = planned_targets(ratio=RATIO, count=13, seed=9000 + trial)
        up, down = axis.test(fresh, 1, pick)
        before = _squares(up, down)
        add = made.add(fresh)[:, None]
        after = _squares(up + add + made.reversal / 2, down + add - made.reversal / 2)
        promised.append((made.rms_before**2, made.rms_after**2))
        got.append((before, after))
        helped += made.helps
        worse += made.helps and after > before
    for one, other in zip(np.mean(promised, axis=0), np.mean(got, axis=0), strict=True):
        assert one == pytest.approx(other, rel=0.12)
    if name == "clear":
        assert helped == 300
    assert worse <= 0.05 * 300


def test_a_table_is_hardly_ever_offered_for_an_axis_that_has_only_scatter() -> None:
    axis, pick = SimulatedAxis(noise=4.0), np.random.default_rng(5)
    offered = 0
    for trial in range(300):
        targets = planned_targets(ratio=RATIO, count=11, seed=trial)
        up, down = axis.test(targets, 5, pick)
        offered += smooth_compensation(targets, up, down, smallest_play=0.0).gain_low > 1.1
    assert offered / 300 < 0.05


def _squares(up: np.ndarray, down: np.ndarray) -> float:
    both = np.stack([up, down])
    return float(np.mean((both - both.mean()) ** 2))


def unit(teeth: int = 72) -> tuple[Reading, ...]:
    five = 5 * math.pi * 1.5
    return (
        Reading(1, "teeth", str(teeth), float(teeth)),
        Reading(2, "thread_length", f"{five:.3f} mm", five, conditions={"threads": 5.0}),
        Reading(3, "worm_od", "31 mm", 31.0),
    )


def test_readings_on_file_give_causes_with_the_amounts_that_were_put_in() -> None:
    r2, wobble, eccentric = 54.0, 0.012, 0.02
    axis = SimulatedAxis(
        waves={
            1: (eccentric / r2 / ARCSEC, 0.3),
            RATIO: (wobble / 2 / r2 / ARCSEC, 1.0),
        },
        play=120.0,
        play_waves={1: (2 * 0.364 * eccentric / r2 / ARCSEC, 1.9)},
        noise=2.0,
    )
    pick = np.random.default_rng(6)
    targets = planned_targets(ratio=RATIO)
    sweep = np.radians(np.arange(24) * 2 * 5.0 / 24)
    rows = (
        *unit(),
        *position_rows(list(np.degrees(targets)), *axis.test(targets, 5, pick), first=10),
        *position_rows(
            list(np.degrees(sweep)), *axis.test(sweep, 1, pick), first=200, kind="fine_error"
        ),
    )
    found = prove(job(), rows).harmonics
    assert found is not None
    for key, of_play, amount in (
        ("table", False, eccentric),
        ("worm", False, wobble),
        ("table", True, eccentric),
    ):
        wave = found.of(key, of_play=of_play)
        assert wave is not None
        assert wave.stands_out
        cause = wave.causes[0].amount
        assert cause.low < amount < cause.high, key
        assert cause.u < amount / 4
    worm_play = found.of("worm", of_play=True)
    assert worm_play is not None
    assert not worm_play.stands_out
