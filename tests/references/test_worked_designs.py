"""Two designs worked out on paper, to the last printed digit, and what the mesh laws make of them.

An inch table of 90 teeth and a metric axis of 80, their rocks, splits, designs, a positioning test
and a mounting, as a careful machinist does them with the textbook law of opening the centres.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from published import derived
from wormwright.core.alignment import centre_height, slope_of_axis
from wormwright.core.backlash import ClosedFormMesh, backlash_round_the_turn
from wormwright.core.eccentric import sideways_from_closing
from wormwright.core.positioning import positioning
from wormwright.core.runout import Runout, runout_parts
from wormwright.core.runout_causes import bar_axis

SECONDS = math.degrees(1) * 3600
PAGE = Path(__file__).parents[2] / "docs" / "explanation" / "worked-designs.md"

INCH_ANGLES = (0, 32, 60, 92, 120, 152, 180, 212, 240, 272, 300, 332)
INCH_BEFORE = (65, 68, 68, 66, 64, 61, 58, 57, 57, 58, 60, 64)
INCH_AFTER = (23, 24, 24, 23, 21, 19, 16, 15, 15, 16, 17, 20)
"""Tenths of a thou at 3.5 in."""

METRIC_ANGLES = (0, 31.5, 58.5, 90, 121.5, 148.5, 180, 211.5, 238.5, 270, 301.5, 328.5)
METRIC_ROCK = (275, 267, 273, 282, 299, 310, 323, 328, 327, 316, 302, 286)
"""Micrometres at 80 mm."""

INCH_T, METRIC_T = math.tan(math.radians(14.5)), math.tan(math.radians(20))


def wave(angles: tuple[float, ...], rock: tuple[int, ...], radius: float) -> Runout:
    """Mean and once-per-turn part of a rock map, seconds of arc; `rock` in units of the radius."""
    arc = np.array(rock) / radius * SECONDS
    return runout_parts(np.radians(angles), arc, reading_u=1.0, lobes=())


@derived("least squares by hand, printed to whole seconds and degrees")
def test_the_rock_map_of_the_inch_table() -> None:
    got = wave(INCH_ANGLES, INCH_BEFORE, 3.5e4)
    assert round(np.mean(INCH_BEFORE) / 10, 2) == 6.22
    assert round(got.mean) == 366
    assert round(got.mean / 60, 1) == 6.1
    assert round(got.eccentricity.size, 1) == 33.1
    loosest = math.degrees(got.eccentricity.direction)
    assert round(loosest) == 49
    assert round(loosest + 180) == 229
    wheel = got.eccentricity.size / SECONDS * 2.8125 / INCH_T
    assert round(wheel * 1000, 2) == 1.75


@derived("least squares by hand, printed to whole seconds and degrees")
def test_the_rock_map_of_the_metric_axis() -> None:
    got = wave(METRIC_ANGLES, METRIC_ROCK, 8.0e4)
    assert round(got.mean) == 771
    assert round(got.mean / 60, 2) == 12.85
    assert round(got.eccentricity.size) == 77
    loosest = math.degrees(got.eccentricity.direction)
    assert round(loosest) == 215
    assert round(loosest - 180) == 35
    assert round(got.eccentricity.size / SECONDS * 50 / METRIC_T, 3) == 0.051


@derived("play over pitch radius by hand; float at twice the tangent, as the textbook has it")
def test_the_splits() -> None:
    inch = [play / 2812.5 * SECONDS for play in (1.2, 2 * INCH_T * 0.5, 3.4)]
    assert [round(x) for x in inch] == [88, 19, 249]
    metric = [play / 50 * SECONDS for play in (0.145, 0.030, 2 * METRIC_T * 0.020)]
    assert [round(x) for x in metric] == [598, 124, 60]
    assert round(math.radians(0.9) / 80 * SECONDS, 1) == 40.5


@derived("swing of the runouts on the least play, closing by the textbook slope")
def test_the_design_of_the_inch_table() -> None:
    mean = 0.5 + INCH_T * (1.6 + 0.6)
    assert round(mean, 2) == 1.07
    assert round((3.40 - round(mean, 2)) / 0.5172, 1) == 4.5
    assert round(2 * INCH_T, 4) == 0.5172
    assert round(float(sideways_from_closing(throw=5.0, closing=4.7)), 1) == 1.7
    assert round(math.degrees(math.acos(4.7 / 5.0))) == 20
    assert round(float(sideways_from_closing(throw=10.0, closing=4.5)), 1) == 8.9
    assert round(9.8 + 6.6 - 4.5, 1) == 11.9
    after = np.array(INCH_AFTER) / 3.5e4 * SECONDS
    assert [round(x) for x in (after.mean(), after.min(), after.max())] == [114, 88, 141]
    assert round(11 / 3.5e4 * SECONDS) == 65


@derived("swing of the runouts on the least play, before and after truing the wheel")
@pytest.mark.parametrize(
    ("tir", "swing", "mean", "seconds"),
    [(0.050, 0.051, 0.0355, (74, 179, 284)), (0.020, 0.0291, 0.0246, (74, 134, 194))],
)
def test_the_decision_about_truing_the_metric_wheel(
    tir: float, swing: float, mean: float, seconds: tuple[int, int, int]
) -> None:
    got = backlash_round_the_turn(
        mean=0.010 + METRIC_T * (tir + 0.020),
        t=METRIC_T,
        wheel_eccentricity=tir / 2,
        worm_eccentricity=0.010,
    )
    assert float(got.tight) == pytest.approx(0.010)
    assert round(float(got.mean), 4) == mean
    assert round(float(got.swing), 3 if swing == 0.051 else 4) == swing
    # 0.0079 mm of end play and float are left beside the mesh.
    found = [(float(j) + 0.0079) / 50 * SECONDS for j in (got.tight, got.mean, got.loose)]
    assert [round(x) for x in found] == list(seconds)


@derived("closing, crest clearance and throw by hand")
def test_the_design_of_the_metric_axis() -> None:
    assert round((0.145 - 0.0246) / 0.7279, 4) == 0.1654
    assert round(61.12 - 12.40 - 48.50, 3) == 0.220
    assert round(0.220 - 0.1655 - 0.020, 4) == 0.0345
    assert round(float(sideways_from_closing(throw=0.19, closing=0.1755)), 3) == 0.073
    assert round(math.degrees(math.acos(0.1755 / 0.19)), 1) == 22.5
    assert round(float(sideways_from_closing(throw=0.35, closing=0.1655)), 3) == 0.308


UP = (
    (-67, -67, -66, -64, -64),
    (-26, -34, -34, -33, -36),
    (-23, -17, -24, -22, -20),
    (-12, -8, -9, -8, -13),
    (-43, -31, -38, -35, -34),
    (-86, -84, -87, -85, -85),
    (-100, -102, -100, -100, -97),
    (-99, -104, -101, -109, -97),
    (-86, -84, -87, -81, -84),
)
DOWN = (
    (28, 25, 36, 30, 29),
    (61, 59, 61, 63, 58),
    (84, 91, 80, 83, 86),
    (118, 115, 114, 112, 115),
    (110, 110, 106, 104, 102),
    (70, 68, 70, 67, 70),
    (42, 41, 33, 44, 48),
    (21, 25, 23, 29, 17),
    (19, 18, 26, 23, 25),
)


@derived("figures of a positioning test by hand from the definitions of ISO 230-2")
def test_the_positioning_test_of_the_metric_axis() -> None:
    got = positioning(np.array(UP, dtype=float), np.array(DOWN, dtype=float))
    assert [round(x, 1) for x in (got.reversal, got.reversal_mean)] == [154.4, -121.0]
    spread = (got.repeatability_up, got.repeatability_down, got.repeatability)
    assert [round(x, 2) for x in spread] == [18.76, 22.02, 159.51]
    slow = (got.systematic_up, got.systematic_down, got.systematic, got.mean_bidirectional)
    assert [round(x, 1) for x in slow] == [92.0, 92.6, 216.8, 91.9]
    whole = (got.accuracy_up, got.accuracy_down, got.accuracy)
    assert [round(x, 2) for x in whole] == [106.07, 105.08, 230.52]


@derived("offsets and tilt of a bar by hand, tenths of a thou")
def test_the_bar_in_two_planes() -> None:
    angles = np.radians(np.arange(0, 360, 45))
    near = runout_parts(angles, [32, 37, 40, 35, 27, 24, 19, 25], reading_u=0.5)
    far = runout_parts(angles, [26, 35, 45, 42, 35, 26, 16, 17], reading_u=0.5)
    assert (near.swing, far.swing) == (21, 29)
    vectors = (near.eccentricity, far.eccentricity)
    sizes = [(round(v.size, 2), round(math.degrees(v.direction), 1)) for v in vectors]
    assert sizes == [(9.48, 79.2), (14.2, 111.0)]
    bar = bar_axis(near=near.eccentricity, far=far.eccentricity, near_z=1.0, far_z=6.0)
    assert round(bar.tilt.size, 2) == 1.58
    assert round(bar.tilt.size * 1e-4 * SECONDS, 1) == 32.6
    assert round(math.degrees(bar.tilt.direction), 1) == 150.1
    jaws = bar.offset_at(0.0)
    assert (round(jaws.size, 1), round(math.degrees(jaws.direction), 1)) == (9.1, 69.7)
    assert round(bar.tilt.size * 2.4 / 10, 2) == 0.38


@derived("slopes and heights of a mounting by hand")
def test_the_mounting_of_the_metric_axis() -> None:
    rise = slope_of_axis(near=(-0.047, -0.062), far=(0.002, -0.027), distance=150.0)
    side = slope_of_axis(near=(0.038, 0.025), far=(-0.017, -0.042), distance=150.0)
    assert [round(s.lean * 1000, 3) for s in (rise, side)] == [0.280, -0.407]
    assert [round(s.lean * SECONDS, 1) for s in (rise, side)] == [57.8, -83.9]
    assert [round(abs(s.over(130.0)), 3) for s in (rise, side)] == [0.036, 0.053]
    assert round(rise.taper(150.0), 3) == 0.084
    head = centre_height(over=(112.534, 112.508), diameter=25.004)
    tail = centre_height(over=(112.391, 112.377), diameter=25.004)
    assert [round(h, 3) for h in (head, tail, head - tail)] == [100.019, 99.882, 0.137]


# ------------------------------------------------------------------ what the mesh laws make of it


def needed(mesh: ClosedFormMesh, *, opened: float, less: float) -> float:
    """Closing from that opening that takes a stated backlash off, mm."""
    found = float(mesh.backlash_change(da=opened))
    closing = np.linspace(0.0, 3 * opened, 60_001)
    change = np.asarray(mesh.backlash_change(da=opened - closing)) - found
    return float(np.interp(less, -change, closing))


def meshes(*, t: float, g: float, r1: float, a: float, face: float) -> tuple[ClosedFormMesh, ...]:
    equal = ClosedFormMesh.hob_equal(t=t, g=g, r1=r1, centre_distance=a, face=face)
    over = ClosedFormMesh.oversize_hob(
        t=t, g=g, r1=r1, centre_distance=a, face=face, hob_excess=0.05 * r1
    )
    return equal, over


@derived("closed forms of a moved worm in place of the textbook slope; the page states the same")
def test_the_page_tells_how_far_the_textbook_designs_are_out() -> None:
    page = " ".join(PAGE.read_text(encoding="utf-8").split())
    inch = meshes(t=INCH_T, g=0.0556, r1=14.2875, a=85.9, face=15.0)
    less = (3.40 - 1.07) * 0.0254
    closings = [needed(m, opened=6.6 * 0.0254, less=less) / 0.0254 for m in inch]
    assert f"{closings[0]:.1f} thou on a wheel cut by a hob of the worm's size" in page
    assert f"{closings[1]:.1f} thou on one cut by a 5 % larger hob" in page
    metric = meshes(t=METRIC_T, g=math.tan(math.radians(3.252)), r1=11.0, a=61.0, face=12.0)
    for aside, name in ((0.073, "the throw of 0.19 mm"), (0.308, "a blind throw of 0.35 mm")):
        lost = [
            float(m.backlash_change(da=0.0)) - float(m.backlash_change(da=0.0, dz=aside))
            for m in metric
        ]
        arcs = [f"{x / 50 * SECONDS:.0f}″" for x in lost]
        assert f"{name} costs {arcs[0]} and {arcs[1]}" in page
