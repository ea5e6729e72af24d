"""Drag taken apart: known parts go in and must come back; what was not read stays together."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import parts_read as parts
from simulated_rotary import Taker, Truth, job_of, pair_of
from wormwright.bench import Bench
from wormwright.core.friction import efficiency_worm_driving, normal_pressure_angle
from wormwright.job.findings import Drag, TightSpot
from wormwright.job.result import Estimate
from wormwright.stages.diagnose.drag import drag_of

SEEDS = 200
NO_SPOT = TightSpot(None, "too few")


def taker(seed: int, *, noisy: bool = True) -> Taker:
    return Taker(Truth(), np.random.default_rng([61, seed]), noisy=noisy)


def drag(t: Taker, spot: TightSpot = NO_SPOT) -> Drag:
    return drag_of(Bench(job_of(t.truth), tuple(t.readings)), pair_of(t.truth), spot)


def part(found: Drag, key: str) -> Estimate:
    return next(p.estimate for p in found.parts if p.key == key)


def keys(found: Drag) -> set[str]:
    return {p.key for p in found.parts}


def spot_at(angle: float, u: float = 0.05) -> TightSpot:
    return TightSpot(Estimate(angle, u, angle - 2 * u, angle + 2 * u, "angle", "rock"))


def table_at_worm(table: float, friction: float) -> float:
    pair = pair_of(Truth())
    lead = math.atan(pair.g)
    normal = normal_pressure_angle(axial_angle=pair.pressure_angle, lead_angle=lead)
    eta = efficiency_worm_driving(lead_angle=lead, friction=friction, normal_angle=normal)
    return table / pair.ratio / eta


def test_every_part_is_covered_as_often_as_it_says() -> None:
    hits: dict[str, list[bool]] = {k: [] for k in ("mesh", "table_at_worm", "preload", "seals")}
    for seed in range(SEEDS):
        rng = np.random.default_rng([62, seed])
        bare, seals, preload = (float(rng.uniform(20, 90)) for _ in range(3))
        table, friction = float(rng.uniform(600, 2500)), float(rng.uniform(0.06, 0.14))
        at_worm, mesh = table_at_worm(table, friction), float(rng.uniform(10, 150))
        t = taker(seed)
        parts.drag_steps(t, out=bare + seals + preload, slack=bare + seals, bare=bare)
        for _ in range(3):
            t.take("drag_table", table)
        parts.drag_map(t, mean=bare + seals + preload + at_worm + mesh)
        found = drag(t)
        for key, real in (
            ("mesh", mesh),
            ("table_at_worm", at_worm),
            ("preload", preload),
            ("seals", seals),
        ):
            estimate = part(found, key)
            hits[key].append(estimate.low <= real <= estimate.high)
    for key, hit in hits.items():
        assert 0.90 <= np.mean(hit) <= 1.0, key
    assert 0.93 <= np.mean([h for k in ("mesh", "preload", "seals") for h in hits[k]]) <= 0.97


@settings(max_examples=30, deadline=None)
@given(
    out=st.floats(50, 300),
    mesh=st.floats(0, 300),
    table=st.floats(100, 4000),
)
def test_the_parts_add_up_to_the_drag_in_mesh(out: float, mesh: float, table: float) -> None:
    t = taker(0, noisy=False)
    parts.drag_map(t, mean=out + mesh)
    t.take("drag_out_of_mesh", out)
    t.take("drag_table", table)
    found = drag(t)
    whole = sum(part(found, k).value for k in ("out_of_mesh", "table_at_worm", "mesh"))
    assert whole == pytest.approx(part(found, "in_mesh").value)


def test_steps_out_of_mesh_add_up_to_the_drag_out_of_mesh() -> None:
    t = taker(1, noisy=False)
    parts.drag_steps(t, out=120.0, slack=70.0, bare=40.0)
    found = drag(t)
    assert [part(found, k).value for k in ("preload", "seals", "bearings")] == pytest.approx(
        [50.0, 30.0, 40.0]
    )
    assert "one thing at a time" in " ".join(found.words)


def test_a_worm_with_end_play_is_not_said_to_have_a_preload_that_drags() -> None:
    t = taker(1, noisy=False)
    parts.drag_steps(t, out=120.0, slack=110.0, bare=40.0)
    t.take("worm_end_play", 0.03, conditions={"how": "push-pull"})
    assert "are not preloaded" in " ".join(drag(t).words)


def test_seals_taken_off_without_slackening_first_keep_the_preload_in() -> None:
    t = taker(2, noisy=False)
    t.take("drag_out_of_mesh", 120.0)
    t.take("drag_seals_off", 40.0)
    found = drag(t)
    assert "preload" not in keys(found)
    label = next(p.label for p in found.parts if p.key == "seals")
    assert "seals and preload together" in label


def test_drag_in_mesh_alone_is_not_taken_apart() -> None:
    t = taker(3)
    parts.drag_map(t, mean=140.0)
    found = drag(t)
    assert keys(found) == {"in_mesh", "tight_spot"}
    assert "not told apart" in " ".join(found.words)


def test_without_the_table_the_mesh_keeps_its_drag_and_says_so() -> None:
    t = taker(4, noisy=False)
    parts.drag_map(t, mean=140.0)
    t.take("drag_out_of_mesh", 60.0)
    found = drag(t)
    assert part(found, "mesh").value == pytest.approx(80.0)
    assert next(p.label for p in found.parts if p.key == "mesh") == "mesh and table together"


def test_drag_in_mesh_below_its_parts_is_said_to_be_no_pair_of_series() -> None:
    t = taker(5, noisy=False)
    parts.drag_map(t, mean=60.0)
    for _ in range(3):
        t.take("drag_out_of_mesh", 140.0)
    assert "do not belong together" in " ".join(drag(t).words)


@pytest.mark.parametrize(
    ("end_play", "words"),
    [(0.03, "not preloaded"), (0.0, "slacken it"), (None, "cannot be told apart")],
)
def test_preload_is_only_suspected_where_there_is_no_end_play(
    end_play: float | None, words: str
) -> None:
    t = taker(6, noisy=False)
    t.take("drag_out_of_mesh", 100.0)
    if end_play is not None:
        t.take("worm_end_play", end_play, conditions={"how": "push-pull"})
    assert words in " ".join(drag(t).words)


def test_the_tight_place_is_found_where_it_was_put() -> None:
    off = []
    for seed in range(SEEDS):
        at = float(np.random.default_rng([63, seed]).uniform(0, 2 * math.pi))
        t = taker(seed)
        parts.drag_map(t, mean=150.0, extra=150.0, peak=at)
        found = drag(t)
        assert found.peak_at is not None
        off.append(
            abs(math.remainder(found.peak_at.value - at, 2 * math.pi)) <= 1.96 * found.peak_at.u
        )
    assert np.mean(off) >= 0.90


@pytest.mark.parametrize(
    ("rock", "agreement", "words"),
    [
        (1.0, "agree", "where the rock is tight as well"),
        (3.5, "differ", "not lack of play"),
        (None, "cannot tell", "names no tight spot"),
    ],
)
def test_drag_and_rock_are_compared_by_place(
    rock: float | None, agreement: str, words: str
) -> None:
    t = taker(7)
    parts.drag_map(t, mean=150.0, extra=200.0, peak=1.0)
    found = drag(t, NO_SPOT if rock is None else spot_at(rock))
    assert found.agreement == agreement
    assert words in " ".join(found.words)


def test_a_flat_map_names_no_tight_spot_and_a_sharp_one_warns_of_binding() -> None:
    flat, sharp = taker(8), taker(8)
    parts.drag_map(flat, mean=150.0)
    parts.drag_map(sharp, mean=100.0, extra=350.0, peak=2.0)
    assert "names no tight spot" in " ".join(drag(flat).words)
    assert "binds when cold" in " ".join(drag(sharp).words)
    assert "binds when cold" not in " ".join(drag(flat).words)


def test_five_places_are_too_few_for_a_map() -> None:
    t = taker(9)
    parts.drag_map(t, mean=150.0, places=parts.TWELVE[:5])
    found = drag(t)
    assert found.peak_over_median is None
    assert "6 table positions" in " ".join(found.words)
