"""Spacing of work divided on an eccentric wheel."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived
from wormwright.core.index_error import spacing_error_of_eccentric_wheel


@derived("brute force over all teeth of the turn")
@pytest.mark.parametrize("divisions", [12, 96, 120])
def test_spacing_is_that_of_a_wheel_turning_once_a_turn_too_much(divisions: int) -> None:
    e, r2, radius = 0.02, 71.4, 34.5
    got = spacing_error_of_eccentric_wheel(
        eccentricity=e, pitch_radius=r2, divisions=divisions, radius=radius
    )
    phases = np.linspace(0, 2 * math.pi, 2001)
    teeth = 2 * math.pi / divisions
    error = radius * e / r2 * np.sin(phases)
    next_error = radius * e / r2 * np.sin(phases + teeth)
    assert got.cumulative == pytest.approx(float(error.max()), rel=1e-6)
    assert got.neighbour == pytest.approx(float(np.abs(next_error - error).max()), rel=1e-5)


@derived("arithmetic of a clock wheel of 96 on an inch table, by hand")
def test_a_clock_wheel_of_96_at_59_seconds() -> None:
    # 59 seconds of arc is 2.86e-4: 0.39 thou at 1.36 in; 2 x 59 x sin(1.875°) is 3.86 seconds.
    got = spacing_error_of_eccentric_wheel(
        eccentricity=59 / 206264.806 * 71.4375, pitch_radius=71.4375, divisions=96, radius=34.544
    )
    assert round(got.cumulative / 0.0254, 1) == 0.4
    assert round(got.neighbour / 34.544 * 206264.806, 1) == 3.9


@pytest.mark.parametrize(
    "bad", [{"eccentricity": -0.01}, {"pitch_radius": 0.0}, {"divisions": 1}, {"radius": 0.0}]
)
def test_a_wheel_that_cannot_be_is_refused(bad: dict[str, float]) -> None:
    sizes = {"eccentricity": 0.02, "pitch_radius": 50.0, "divisions": 96, "radius": 30.0, **bad}
    with pytest.raises(ValueError, match="spacing"):
        spacing_error_of_eccentric_wheel(**sizes)  # type: ignore[arg-type]
