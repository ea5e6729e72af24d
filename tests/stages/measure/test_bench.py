"""Pooled figures: repeats, instruments, and readings that may not be used."""

from __future__ import annotations

import math
import statistics

import pytest

from stages.measure.clean_sheet import job
from wormwright.bench import Bench, noise
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS

USUAL = KINDS["worm_end_play"].noise or 0.0


def plays(*values: float, **more: object) -> Bench:
    rows = tuple(
        Reading(seq=i, kind="worm_end_play", raw=str(v), value=v, **more)  # type: ignore[arg-type]
        for i, v in enumerate(values, 1)
    )
    return Bench(job(), rows)


def test_up_to_three_repeats_lean_on_the_usual_noise_of_the_kind() -> None:
    figure = plays(0.030, 0.030, 0.030).figure("worm_end_play")
    assert figure is not None
    assert figure.value == pytest.approx(0.030)
    assert figure.u == pytest.approx(USUAL / math.sqrt(3))
    assert (figure.n, figure.dof, figure.seqs) == (3, math.inf, (1, 2, 3))


def test_from_four_repeats_on_their_own_scatter_counts() -> None:
    values = (0.030, 0.036, 0.027, 0.033)
    figure = plays(*values).figure("worm_end_play")
    assert figure is not None
    assert figure.u == pytest.approx(statistics.stdev(values) / 2)
    assert figure.dof == pytest.approx(3)


def test_repeats_that_all_read_alike_do_not_make_a_figure_exact() -> None:
    figure = plays(*[0.030] * 6).figure("worm_end_play")
    assert figure is not None
    assert figure.u == pytest.approx(USUAL / 2 / math.sqrt(6))


def test_a_coarse_named_instrument_widens_the_figure_and_does_not_average_out() -> None:
    coarse = plays(*[0.030] * 9, instrument="dial indicator 0.001 in").figure("worm_end_play")
    plain = plays(*[0.030] * 9).figure("worm_end_play")
    assert coarse is not None
    assert plain is not None
    assert coarse.u > 3 * plain.u
    assert coarse.u > 0.0127 / math.sqrt(12)


def test_a_finer_instrument_than_usual_does_not_make_the_set_up_finer() -> None:
    fine = Reading(1, "rock", "0.2", 0.2, instrument="lever indicator 0.002 mm")
    assert noise(fine) == KINDS["rock"].noise


def test_an_instrument_of_another_dimension_or_an_unknown_one_changes_nothing() -> None:
    for name in ("feeler gauge of uncle", "spring balance 100 N"):
        assert noise(Reading(1, "rock", "0.2", 0.2, instrument=name)) == KINDS["rock"].noise


def test_an_approximate_reading_counts_half() -> None:
    assert noise(Reading(1, "rock", "~0.2", 0.2, flags=("approximate",))) == pytest.approx(
        2 * (KINDS["rock"].noise or 0)
    )


def test_a_stated_uncertainty_stands() -> None:
    assert noise(Reading(1, "rock", "0.2", 0.2, u=0.02, flags=("approximate",))) == 0.02


def test_torque_noise_grows_with_the_torque() -> None:
    low, high = (noise(Reading(1, "drag_in_mesh", "x", v)) for v in (100.0, 1000.0))
    assert high == pytest.approx(math.hypot(5, 70))
    assert low == pytest.approx(math.hypot(5, 7))


def test_counts_and_words_have_no_noise_and_off_scale_readings_are_not_used() -> None:
    assert noise(Reading(1, "teeth", "72", 72.0)) == 0.0
    beyond = plays(0.5, flags=("off scale",))
    assert beyond.figure("worm_end_play") is None
    assert beyond.of("worm_end_play") == ()


def test_stations_are_kept_apart_and_the_latest_word_counts() -> None:
    rows = (
        Reading(3, "worm_float", "0.02", 0.02, station="B"),
        Reading(2, "worm_float", "0.01", 0.01, station="A"),
        Reading(5, "wheel_kind", "straight", word="straight"),
        Reading(4, "wheel_kind", "hollow", word="hollow"),
    )
    bench = Bench(job(), rows)
    a, both = bench.figure("worm_float", "A"), bench.figure("worm_float")
    assert a is not None
    assert both is not None
    assert a.value == 0.01
    assert both.value == pytest.approx(0.015)
    assert bench.word("wheel_kind") == "straight"
    assert bench.word("hand") is None
    assert [r.seq for r in bench.of("worm_float")] == [2, 3]
