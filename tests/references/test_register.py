"""Register of an adapter: circles stepped round point by point."""

from __future__ import annotations

import cmath
import math

import pytest

from published import derived
from wormwright.core.register import play_to_tap_true, skimmed_diameter

ROUND = [cmath.rect(1.0, math.radians(step / 4)) for step in range(1440)]


@derived(method="nearest point to the axis of the circle that stands off, stepped round")
@pytest.mark.parametrize(("diameter", "offset"), [(95.0, 0.03), (36.0, 0.4), (260.0, 0.0)])
def test_a_skim_cleans_up_the_whole_register_and_no_more(diameter: float, offset: float) -> None:
    nearest = min(abs(offset + diameter / 2 * point) for point in ROUND)
    assert skimmed_diameter(diameter=diameter, offset=offset, clean_up=0.0) == pytest.approx(
        2 * nearest, abs=1e-9
    )
    assert skimmed_diameter(diameter=diameter, offset=offset, clean_up=0.01) == pytest.approx(
        2 * nearest - 0.02, abs=1e-9
    )


@derived(method="the recess moved over the spigot by the offset, gap stepped round")
def test_the_play_lets_the_chuck_move_by_the_offset_to_any_side() -> None:
    """Spigot and recess touch just when the chuck has gone all of the offset."""
    offset, spigot = 0.12, 94.6
    recess = spigot + play_to_tap_true(offset=offset, offset_u=0.0, margin=0.0)
    gaps = [recess / 2 - abs(spigot / 2 * point - offset) for point in ROUND]
    assert min(gaps) == pytest.approx(0.0, abs=1e-9)


def test_the_doubt_of_the_offset_asks_for_play_of_its_own() -> None:
    sure = play_to_tap_true(offset=0.1, offset_u=0.0, margin=0.1)
    unsure = play_to_tap_true(offset=0.1, offset_u=0.02, margin=0.1)
    assert unsure - sure == pytest.approx(2 * 1.96 * 0.02)


@pytest.mark.parametrize("wrong", [{"offset": -0.1}, {"clean_up": -0.1}, {"diameter": 0.05}])
def test_a_register_that_cannot_be_skimmed_is_refused(wrong: dict[str, float]) -> None:
    sizes = {"diameter": 95.0, "offset": 0.03, "clean_up": 0.01, **wrong}
    with pytest.raises(ValueError, match="expected both not below zero"):
        skimmed_diameter(**sizes)


def test_figures_below_zero_are_refused() -> None:
    with pytest.raises(ValueError, match="none below zero"):
        play_to_tap_true(offset=0.1, offset_u=-0.01, margin=0.1)
