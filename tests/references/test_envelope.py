"""Room on the machine, held against a general geometry library on random set-ups."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from published import derived
from wormwright.core.envelope import (
    Block,
    Sweep,
    Turning,
    all_rooms,
    room_block_to_turning,
    room_sweep_to_block,
    room_sweep_to_turning,
)
from wormwright.core.riser import largest_swing, riser_band

AXIS = 90.0
FINE = 512
"""Segments of a quarter circle: a radius of 100 mm is true to 0.1 µm."""
SEEN = 1e-3
"""Rooms below this are a graze that the polygons cannot judge, mm."""
SETUPS = 400


def span(rng: np.random.Generator, low: float, high: float, most: float) -> tuple[float, float]:
    start = float(rng.uniform(low, high))
    return start, start + float(rng.uniform(1.0, most))


def drawn(rng: np.random.Generator) -> tuple[Block, Turning, Sweep]:
    block = Block(
        "block", span(rng, -150, 150, 120), span(rng, -120, 90, 120), span(rng, -20, 180, 90)
    )
    turning = Turning("work", span(rng, -60, 120, 150), float(rng.uniform(5, 95)))
    still = rng.random() < 0.3
    x, y = span(rng, -80, 160, 80), span(rng, -80, 60, 60)
    sweep = Sweep(
        "tool",
        (x[0], x[0]) if still else x,
        (y[0], y[0]) if still else y,
        span(rng, 40, 220, 90),
        float(rng.uniform(1, 40)),
    )
    return block, turning, sweep


def box(one: tuple[float, float], other: tuple[float, float]) -> shapely.Polygon:
    return shapely.box(one[0], other[0], one[1], other[1])


def disc(radius: float) -> shapely.Polygon:
    return shapely.Point(0.0, AXIS).buffer(radius, quad_segs=FINE)


def plan_of(sweep: Sweep) -> shapely.Geometry:
    corners = [(x, y) for x in sweep.x for y in sweep.y]
    return shapely.MultiPoint(corners).convex_hull.buffer(sweep.radius, quad_segs=FINE)


def overlap(one: tuple[float, float], other: tuple[float, float]) -> bool:
    return min(one[1], other[1]) - max(one[0], other[0]) > 0


def library_block_to_turning(block: Block, turning: Turning) -> bool:
    meets = disc(turning.radius).intersection(box(block.y, block.z)).area > 0
    return meets and overlap(block.x, turning.x)


def library_sweep_to_block(sweep: Sweep, block: Block) -> bool:
    meets = plan_of(sweep).intersection(box(block.x, block.y)).area > 0
    return meets and overlap(sweep.z, block.z)


def library_sweep_to_turning(sweep: Sweep, turning: Turning) -> bool:
    """Slice by slice along X: plan within the body, its section against the disc."""
    plan = plan_of(sweep)
    low, _, high, _ = plan.bounds
    first, last = max(low, turning.x[0]), min(high, turning.x[1])
    if first >= last:
        return False
    middle = [x for x in sweep.x if first <= x <= last]
    for x in (*np.linspace(first, last, 9), *middle):
        across = plan.intersection(shapely.LineString([(x, -1e3), (x, 1e3)]))
        if across.is_empty or across.length == 0:
            continue
        _, left, _, right = across.bounds
        if disc(turning.radius).intersection(box((left, right), sweep.z)).area > 0:
            return True
    return False


@derived(method="shapely: section and plan polygons intersected, the tool sliced along X")
def test_no_collision_is_missed_and_none_invented() -> None:
    rng = np.random.default_rng(11)
    judged = {True: 0, False: 0}
    for _ in range(SETUPS):
        block, turning, sweep = drawn(rng)
        for room, meets in (
            (
                room_block_to_turning(block, turning, axis=AXIS),
                library_block_to_turning(block, turning),
            ),
            (room_sweep_to_block(sweep, block), library_sweep_to_block(sweep, block)),
            (
                room_sweep_to_turning(sweep, turning, axis=AXIS),
                library_sweep_to_turning(sweep, turning),
            ),
        ):
            if abs(room.room) < SEEN:
                continue
            assert (room.room < 0) == meets, (block, turning, sweep, room)
            judged[meets] += 1
    assert min(judged.values()) > 100


@derived(method="shapely: distance of the section polygons, of the plan polygons")
def test_the_room_in_section_and_plan_is_the_distance_of_the_library() -> None:
    rng = np.random.default_rng(5)
    compared = 0
    for _ in range(200):
        block, turning, sweep = drawn(rng)
        beside = replace(block, x=turning.x)
        room = room_block_to_turning(beside, turning, axis=AXIS)
        if room.room > 0:
            real = disc(turning.radius).distance(box(block.y, block.z))
            assert room.room == pytest.approx(real, abs=1e-3)
            compared += 1
        level = replace(block, z=sweep.z)
        room = room_sweep_to_block(sweep, level)
        if room.room > 0:
            real = plan_of(sweep).distance(box(block.x, block.y))
            assert room.room == pytest.approx(real, abs=1e-3)
            compared += 1
    assert compared > 100


@derived(method="shapely: the body moved up by the stated lift just clears, a little less does not")
def test_the_stated_lift_just_clears() -> None:
    rng = np.random.default_rng(23)
    tried = 0
    for _ in range(SETUPS):
        block, turning, sweep = drawn(rng)
        if room_block_to_turning(block, turning, axis=AXIS).room < -0.01:
            lift = room_block_to_turning(block, turning, axis=AXIS).lift
            for more, meets in ((0.01, False), (-0.01, True)):
                z = (block.z[0] - lift - more, block.z[1] - lift - more)
                lowered = replace(block, z=z)
                assert library_block_to_turning(lowered, turning) is meets or (
                    meets and lift < 0.01
                )
            tried += 1
        room = room_sweep_to_turning(sweep, turning, axis=AXIS)
        if room.room < -0.01:
            z = (sweep.z[0] + room.lift + 0.01, sweep.z[1] + room.lift + 0.01)
            assert not library_sweep_to_turning(replace(sweep, z=z), turning)
            tried += 1
    assert tried > 60


@derived(method="every pair by hand")
def test_all_rooms_puts_the_worst_first_and_leaves_no_pair_out() -> None:
    blocks = [
        Block("table", (-300, 300), (-100, 100), (-50, 0)),
        Block("body", (-90, -30), (-60, 60), (0, 120)),
    ]
    turning = [Turning("work", (0, 100), 95.0), Turning("jaws", (-20, 0), 50.0)]
    sweeps = [Sweep("nut", (0, 100), (0, 0), (180, 220), 20.0)]
    rooms = all_rooms(blocks=blocks, turning=turning, sweeps=sweeps, axis=AXIS)
    assert len(rooms) == 2 * 2 + 2 + 2
    assert (rooms[0].first, rooms[0].second) in {("table", "work"), ("work", "nut")}
    assert [r.room for r in rooms] == sorted(r.room for r in rooms)
    assert rooms[0].room == pytest.approx(-5.0)


@derived(method="scan of riser heights in steps, each set-up judged on its own")
@pytest.mark.parametrize("daylight", [250.0, 190.0])
def test_the_band_of_risers_is_what_a_scan_finds(daylight: float) -> None:
    swing, under, h_c, tool, retract = 80.0, 5.0, 60.0, 20.0, 10.0
    band = riser_band(
        swing=swing,
        under=under,
        centre_height=h_c,
        daylight=daylight,
        top=swing,
        tool=tool,
        retract=retract,
    )
    good = [
        h
        for h in np.arange(0.0, 120.0, 0.25)
        if h_c + h - swing >= under and daylight - tool - (h_c + h + swing) >= retract
    ]
    assert band.possible is bool(good)
    if good:
        assert (band.least, band.most) == pytest.approx((good[0], good[-1]), abs=0.25)
    else:
        assert band.short == pytest.approx(5.0)


@derived(method="the band closes to a point at the largest swing")
def test_at_the_largest_swing_the_band_is_one_height() -> None:
    r = largest_swing(daylight=250.0, tool=60.0, retract=10.0, under=5.0)
    band = riser_band(
        swing=r, under=5.0, centre_height=40.0, daylight=250.0, top=r, tool=60.0, retract=10.0
    )
    assert band.least == pytest.approx(band.most)
    assert math.isclose(40.0 + band.least, r + 5.0)


@derived(method="scan of radii on risers of every height, each judged on its own")
@pytest.mark.parametrize("h_c", [40.0, 75.0, 100.0])
def test_the_largest_swing_is_what_a_scan_finds(h_c: float) -> None:
    found = largest_swing(daylight=230.0, tool=60.0, retract=5.0, under=2.0, lowest=h_c)
    goes = [
        r
        for r in np.arange(1.0, 120.0, 0.5)
        for riser in (max(r + 2.0 - h_c, 0.0),)
        if h_c + riser + r <= 230.0 - 60.0 - 5.0
    ]
    assert found == pytest.approx(max(goes), abs=0.5)


def test_bodies_without_a_size_are_refused() -> None:
    with pytest.raises(ValueError, match="low below high"):
        Block("plate", (0, 0), (0, 1), (0, 1))
    with pytest.raises(ValueError, match="above zero"):
        Turning("work", (0, 10), 0.0)
    with pytest.raises(ValueError, match="radius"):
        Sweep("nut", (0, 1), (0, 1), (0, 1), -1.0)
    with pytest.raises(ValueError, match="nothing is left"):
        largest_swing(daylight=60.0, tool=60.0, retract=10.0, under=5.0)
