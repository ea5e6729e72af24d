"""Motion of the axis by reversal: axes and balls come apart, noise is not taken for motion."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived
from wormwright.core.axis_motion import axis_motion, without_setting

EIGHT = np.radians(np.arange(0, 360, 45))
RUN1 = np.array([2.0, 1.7, -2.3, -0.6, 0.4, 1.1, -0.9, -1.4])
RUN2 = np.array([-2.0, 0.7, 0.7, 1.4, -2.6, 0.7, 1.5, -0.4])
PART = np.array([0, 1.2, -0.8, 0.4, -1.1, 0.9, 0.3, -0.9])
AXIS = np.array([2, 0.5, -1.5, -1, 1.5, 0.2, -1.2, -0.5])
"""A made-up axis and ball in µm: run 1 is their sum, run 2 the difference."""


@derived("the parts it was made of, less their own mean and once-a-turn part")
def test_a_reversal_gives_axis_and_ball_without_their_setting() -> None:
    found = axis_motion(EIGHT, RUN1, RUN2, reading_u=0.05)
    assert found.axis == pytest.approx(without_setting(EIGHT, AXIS), abs=1e-9)
    assert found.part == pytest.approx(without_setting(EIGHT, PART), abs=1e-9)
    assert found.u == pytest.approx(0.05 / math.sqrt(2))


@derived("a ball set off centre by any amount in either run")
def test_how_the_ball_is_set_up_changes_nothing() -> None:
    off = axis_motion(
        EIGHT,
        RUN1 + 7 + 30 * np.cos(EIGHT - 0.4),
        RUN2 - 3 + 20 * np.sin(EIGHT),
        reading_u=0.05,
    )
    plain = axis_motion(EIGHT, RUN1, RUN2, reading_u=0.05)
    assert off.axis == pytest.approx(plain.axis, abs=1e-9)
    assert off.part == pytest.approx(plain.part, abs=1e-9)


@derived("brute force: 2,000 still axes read with noise")
def test_noise_is_taken_for_motion_once_in_twenty_and_u_is_its_spread() -> None:
    pick = np.random.default_rng(8)
    found = [
        axis_motion(EIGHT, pick.normal(0, 1, (2, 8)), pick.normal(0, 1, (3, 8)), reading_u=1.0)
        for _ in range(2000)
    ]
    alarms = np.mean([f.chance < 0.05 for f in found])
    assert alarms < 0.06
    spread = np.std([f.axis for f in found]) * math.sqrt(8 / 5)
    assert np.median([f.u for f in found]) == pytest.approx(spread, rel=0.12)
    assert found[0].turns == 3


@derived("one place jumping by 4 between turns")
def test_what_does_not_repeat_is_told_apart_from_what_does() -> None:
    turns = np.tile(RUN1, (3, 1))
    turns[1, 5] += 4.0
    found = axis_motion(EIGHT, turns, RUN2, reading_u=0.05)
    assert found.asynchronous == pytest.approx(4.0)
    assert found.u > 0.2
    assert axis_motion(EIGHT, RUN1, RUN2, reading_u=0.05).asynchronous is None


def test_too_few_places_or_unlike_runs_are_refused() -> None:
    with pytest.raises(ValueError, match="8 or more"):
        axis_motion(EIGHT[:6], RUN1[:6], RUN2[:6], reading_u=0.1)
    with pytest.raises(ValueError, match="runs of 8 and 7"):
        axis_motion(EIGHT, RUN1, RUN2[:7], reading_u=0.1)
    with pytest.raises(ValueError, match="four of each"):
        without_setting([0.0, 1.0], [1.0, 2.0])
