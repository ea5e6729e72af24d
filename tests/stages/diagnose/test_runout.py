"""Runout of face, register and bar: known offset, lean and lobes go in and must come back."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import parts_read as parts
from simulated_rotary import Taker, Truth, job_of
from wormwright.bench import Bench
from wormwright.bench.runout import runouts_of, set_ups_of
from wormwright.bench.runout_parts import bar_finding
from wormwright.job.findings import Finding, Runout
from wormwright.job.result import Estimate

SEEDS = 200


def taker(seed: int, *, noisy: bool = True) -> Taker:
    return Taker(Truth(), np.random.default_rng([91, seed]), noisy=noisy)


def bench(of: Taker) -> Bench:
    return Bench(job_of(of.truth), tuple(of.readings))


def runouts(of: Taker) -> tuple[Runout, ...]:
    return runouts_of(set_ups_of(bench(of)), "mm")


def holds(estimate: Estimate | None, real: float) -> bool:
    return estimate is not None and estimate.low <= real <= estimate.high


def holds_angle(estimate: Estimate | None, real: float) -> bool:
    if estimate is None:
        return False
    off = math.remainder(real - estimate.value, 2 * math.pi)
    return estimate.low - estimate.value <= off <= estimate.high - estimate.value


def test_lean_and_direction_of_a_face_are_covered_as_often_as_they_say() -> None:
    size, at = [], []
    for seed in range(SEEDS):
        rng = np.random.default_rng([92, seed])
        lean, direction = float(rng.uniform(1e-4, 4e-4)), float(rng.uniform(0, 2 * math.pi))
        t = taker(seed)
        parts.series(t, "face_runout", parts.once((lean * 70, direction)), radius=70.0)
        (found,) = runouts(t)
        size.append(holds(found.slope, lean))
        at.append(holds_angle(found.slope_at, direction))
    assert 0.90 <= np.mean(size) <= 0.99
    assert 0.90 <= np.mean(at) <= 0.99


def test_lobes_come_back_with_their_number_amplitude_and_first_high_point() -> None:
    right, amplitude, at = [], [], []
    for seed in range(SEEDS):
        rng = np.random.default_rng([93, seed])
        order = int(rng.integers(2, 5))
        size, first = float(rng.uniform(0.006, 0.02)), float(rng.uniform(0, 2 * math.pi / order))
        t = taker(seed)
        parts.series(t, "register_runout", parts.lobed(order, size, first), surface="spigot")
        (found,) = runouts(t)
        same = [lobes for lobes in found.lobes if lobes.order == order]
        right.append(bool(same))
        if same:
            amplitude.append(holds(same[0].size, size))
            turned = same[0].first_high.scaled(order, "angle")
            at.append(holds_angle(turned, first * order))
    assert np.mean(right) >= 0.97
    assert 0.90 <= np.mean(amplitude) <= 0.99
    assert 0.90 <= np.mean(at) <= 0.99


def test_a_true_surface_is_seldom_given_an_offset_or_lobes() -> None:
    false_offset, false_lobes = [], []
    for seed in range(SEEDS):
        t = taker(seed)
        parts.series(t, "register_runout", surface="spigot")
        (found,) = runouts(t)
        false_offset.append(found.high_at is not None)
        false_lobes.append(bool(found.lobes))
    assert np.mean(false_offset) <= 0.10
    assert np.mean(false_lobes) <= 0.25, "four orders are tried, each at 5 %"


def test_the_centre_of_a_bore_stands_opposite_its_high_reading() -> None:
    """The wall of a bore comes nearer the stylus where its centre stands away from it."""
    at = {}
    for surface in ("spigot", "bore"):
        t = taker(1)
        parts.series(t, "register_runout", parts.once((0.03, 1.0)), surface=surface)
        (found,) = runouts(t)
        assert found.high_at is not None
        at[surface] = found.high_at.value
    assert abs(math.remainder(at["spigot"] - 1.0, 2 * math.pi)) < 0.1
    assert abs(math.remainder(at["bore"] - 1.0 - math.pi, 2 * math.pi)) < 0.1


def test_what_to_do_names_the_amount_and_the_right_side() -> None:
    t = taker(2, noisy=False)
    parts.series(t, "face_runout", parts.once((0.03, 0.0)), radius=70.0, surface="adapter face")
    parts.series(t, "register_runout", parts.once((0.02, math.pi / 2)), surface="adapter spigot")
    face, register = runouts(t)
    assert "shim of 60.0 µm under its low side at 180°" in face.do
    assert "20.0 µm off toward 90°" in register.do
    assert "toward 270°" in register.do


def test_an_unturned_surface_says_nothing_of_the_axis() -> None:
    t = taker(3)
    parts.series(t, "face_runout", parts.once((0.2, 0.5)), radius=70.0, surface="as-cast face")
    parts.series(t, "register_runout", parts.once((0.2, 0.5)), surface="rough rim")
    for found in runouts(t):
        assert "unturned surface" in found.do


def test_two_places_or_places_on_one_side_are_no_series() -> None:
    t = taker(4)
    parts.series(t, "face_runout", places=(0.0, 1.0), radius=70.0)
    parts.series(t, "register_runout", places=(0.0, 1e-4, 2e-4), surface="bore")
    assert runouts(t) == ()


def test_series_of_two_radii_and_two_surfaces_are_kept_apart() -> None:
    t = taker(5)
    for radius in (30.0, 70.0):
        parts.series(t, "face_runout", parts.once((3e-4 * radius, 0.5)), radius=radius)
    parts.series(t, "face_runout", radius=70.0, surface="adapter face")
    assert len(runouts(t)) == 3


@settings(max_examples=25, deadline=None)
@given(turned=st.floats(0, 2 * math.pi), wave=st.tuples(st.floats(0.02, 0.1), st.floats(0, 6.2)))
def test_marks_turned_on_the_table_turn_the_direction_and_nothing_else(
    turned: float, wave: tuple[float, float]
) -> None:
    first, second = taker(6, noisy=False), taker(6, noisy=False)
    parts.series(first, "register_runout", parts.once(wave), surface="spigot")
    places = tuple(phi + turned for phi in parts.TWELVE)
    parts.series(
        second,
        "register_runout",
        parts.once((wave[0], wave[1] + turned)),
        surface="spigot",
        places=places,
    )
    (one,), (two,) = runouts(first), runouts(second)
    assert one.high_at is not None
    assert two.high_at is not None
    assert math.isclose(one.eccentricity.value, two.eccentricity.value, rel_tol=1e-6)
    off = math.remainder(two.high_at.value - one.high_at.value - turned, 2 * math.pi)
    assert abs(off) < 1e-6


def bar(t: Taker) -> Finding:
    return bar_finding(set_ups_of(bench(t)))


def bar_series(
    t: Taker, offset: parts.Wave, tilt: parts.Wave, *, planes: tuple[float, ...] = (10.0, 110.0)
) -> None:
    for z in planes:
        leaning = (tilt[0] * z, tilt[1])
        parts.series(t, "bar_runout", parts.once(offset), parts.once(leaning), z=z)


def test_offset_and_lean_of_the_bar_are_covered_as_often_as_they_say() -> None:
    hits: dict[str, list[bool]] = {"offset": [], "offset_at": [], "tilt": [], "tilt_at": []}
    for seed in range(SEEDS):
        rng = np.random.default_rng([94, seed])
        offset = (float(rng.uniform(0.02, 0.08)), float(rng.uniform(0, 2 * math.pi)))
        tilt = (float(rng.uniform(2e-4, 8e-4)), float(rng.uniform(0, 2 * math.pi)))
        t = taker(seed)
        bar_series(t, offset, tilt)
        found = bar(t)
        hits["offset"].append(holds(found.of("offset"), offset[0]))
        hits["tilt"].append(holds(found.of("tilt"), tilt[0]))
        hits["offset_at"].append(holds_angle(found.of("offset_at"), offset[1]))
        hits["tilt_at"].append(holds_angle(found.of("tilt_at"), tilt[1]))
    for key, hit in hits.items():
        assert 0.90 <= np.mean(hit) <= 0.99, key


def test_equal_runout_at_both_distances_may_still_be_lean() -> None:
    """The trap of the two readings: opposite offsets at the two planes swing alike."""
    t = taker(7)
    bar_series(t, (0.03, 0.0), (0.03 / 60, math.pi), planes=(10.0, 110.0))
    near, far = (r for r in runouts(t) if r.key == "bar")
    assert abs(near.eccentricity.value - far.eccentricity.value) < 0.004
    tilt = bar(t).of("tilt")
    assert tilt is not None
    assert holds(tilt, 0.03 / 60)
    assert "leans" in " ".join(bar(t).words)


def test_one_distance_cannot_tell_offset_from_lean_and_says_so() -> None:
    t = taker(8)
    bar_series(t, (0.03, 1.0), (0.0, 0.0), planes=(10.0,))
    found = bar(t)
    assert found.figures == ()
    assert "second distance" in " ".join(found.words)


@pytest.mark.parametrize(("moved", "word"), [(0.0, "agree"), (0.05, "does not repeat")])
def test_grips_that_differ_are_told_from_grips_that_agree(moved: float, word: str) -> None:
    t = taker(9)
    for grip in (1.0, 2.0, 3.0):
        for z in (10.0, 110.0):
            size = 0.02 + (moved if grip == 2.0 else 0.0)
            parts.series(t, "bar_runout", parts.once((size, 1.0)), z=z, grip=grip)
    assert word in " ".join(bar(t).words)


def test_what_table_adapter_and_chuck_add_makes_up_the_lean_of_the_bar() -> None:
    """Leans add as vectors, and a bar leans away from the high mark of the face it stands on."""
    t = taker(10, noisy=False)
    table, adapter, chuck = (1e-4, 0.3), (2e-4, 1.9), (3e-4, 4.0)

    def lean(*waves: parts.Wave) -> complex:
        return sum(w[0] * complex(math.cos(w[1]), math.sin(w[1])) for w in waves)

    on_adapter, whole = lean(table, adapter), lean(table, adapter, chuck)
    parts.series(t, "face_runout", parts.once((table[0] * 80, table[1])), radius=80.0)
    parts.series(
        t,
        "face_runout",
        parts.once((abs(on_adapter) * 60, float(np.angle(on_adapter)))),
        radius=60.0,
        surface="adapter face",
    )
    bar_series(t, (0.0, 0.0), (abs(whole), float(np.angle(-whole))))
    found = bar(t)
    slopes = {f.key: f.estimate.value for f in found.figures if f.key.startswith("slope")}
    assert sorted(slopes.values()) == pytest.approx([1e-4, 2e-4, 3e-4], rel=0.02)
