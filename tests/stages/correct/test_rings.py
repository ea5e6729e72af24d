"""Rings to make: drawn from the outline that was read, never from a guess."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

import correct_fixture as made
from wormwright.job.corrections import Correction, Remedy
from wormwright.job.parts import ShimRing
from wormwright.job.reading import Reading
from wormwright.job.result import Estimate
from wormwright.job.rotary import Job
from wormwright.stages.correct import correct

WORM = {"worm_shim_inside": 36.0, "worm_shim_outside": 52.0, "worm_shim_screws": 3.0}
PLACES = {"circle": 44.0, "hole": 4.5}


def _with_stock(*thicknesses: float) -> Job:
    return replace(made.job(), shim_stock_mm=thicknesses)


def _readings(
    sizes: Mapping[str, float], places: Mapping[str, float | str] | None = None
) -> tuple[Reading, ...]:
    rows = made.readings(numbers={(kind, ""): size for kind, size in sizes.items()})
    return tuple(
        replace(r, conditions=places or {}) if r.kind.endswith("_screws") else r for r in rows
    )


def _worm_shim(
    sizes: Mapping[str, float], places: Mapping[str, float | str] | None = None
) -> tuple[Remedy, Correction]:
    got = correct(
        made.job(), _readings(sizes, places), made.diagnosis(), plan="worm_shim", draws=8192
    )
    assert got.chosen is not None
    (correction,) = got.chosen.corrections
    return got, correction


def test_a_shim_under_a_screwed_cover_gets_its_screw_holes() -> None:
    _, correction = _worm_shim(WORM, PLACES)
    (ring,) = correction.parts
    assert isinstance(ring, ShimRing)
    assert (ring.holes, ring.circle, ring.hole) == (3, 44.0, 4.5)


@pytest.mark.parametrize(
    ("changed", "places", "seen", "asked"),
    [
        ({"worm_shim_inside": 52.0, "worm_shim_outside": 36.0}, PLACES, "no ring", "outside"),
        ({"worm_shim_inside": 51.0}, PLACES, "no ring that can be made", "`worm_shim_inside`"),
        ({}, {}, "not written where", "`circle` and `hole`"),
        ({}, {"circle": 50.5, "hole": 4.5}, "break out", "`worm_shim_screws`"),
        ({}, {"circle": 38.0, "hole": 4.5}, "break out", "`worm_shim_screws`"),
        ({"worm_shim_screws": 24.0}, {"circle": 44.0, "hole": 5.0}, "meet", "`worm_shim_screws`"),
    ],
)
def test_an_outline_that_cannot_be_is_named_with_what_to_read_again(
    changed: Mapping[str, float], places: Mapping[str, float | str], seen: str, asked: str
) -> None:
    got, correction = _worm_shim({**WORM, **changed}, places)
    assert correction.parts == ()
    (doubt,) = [d for d in correction.doubts if d.code == "shim outline"]
    assert seen in doubt.seen
    assert asked in doubt.do
    assert any(asked in line and "read again" in line for line in got.not_measured)


@pytest.mark.parametrize("without", sorted(WORM))
def test_what_is_missing_of_an_outline_is_listed_as_not_measured(without: str) -> None:
    got, correction = _worm_shim({k: v for k, v in WORM.items() if k != without}, PLACES)
    assert correction.parts == ()
    (line,) = [line for line in got.not_measured if "outline" in line]
    assert f"`{without}`" in line
    for there in set(WORM) - {without}:
        assert f"`{there}`" not in line


def _stacked(job: Job, *, in_place: float) -> tuple[ShimRing, dict[str, Estimate]]:
    readings = _readings({**WORM, "worm_shim": in_place}, PLACES)
    got = correct(job, readings, made.diagnosis(), plan="worm_shim", draws=8192)
    assert got.chosen is not None
    (correction,) = got.chosen.corrections
    (ring,) = correction.parts
    assert isinstance(ring, ShimRing)
    return ring, dict(correction.sizes)


def test_a_stack_takes_the_fewest_pieces_of_metric_and_inch_stock_together() -> None:
    """Wanted 0.343 mm: 0.254 mm (0.010 in) and 0.09 mm do it in two, metric alone takes three."""
    metric, _ = _stacked(_with_stock(0.02, 0.05, 0.12, 0.2), in_place=0.4)
    both, sizes = _stacked(_with_stock(0.02, 0.05, 0.09, 0.12, 0.2, 0.254), in_place=0.4)
    assert metric.stack == (0.02, 0.12, 0.2)
    assert both.stack == (0.09, 0.254)
    assert "from stock, 2 pieces as sold" in sizes


def test_a_stack_says_what_its_pieces_as_sold_can_add_to() -> None:
    """Foil is sold to 10 % of its thickness, and a seam of 3 µm lies between two pieces."""
    ring, sizes = _stacked(_with_stock(0.09, 0.254), in_place=0.4)
    assert ring.stack_least == pytest.approx(0.9 * 0.344)
    assert ring.stack_most == pytest.approx(1.1 * 0.344 + 0.003)
    band = sizes["from stock, 2 pieces as sold"]
    assert (band.low, band.high) == pytest.approx((ring.stack_least, ring.stack_most))


def test_four_pieces_are_taken_where_three_do_not_reach() -> None:
    ring, _ = _stacked(_with_stock(0.05, 0.0973), in_place=0.4)
    assert ring.stack == (0.05, 0.0973, 0.0973, 0.0973)


def test_without_a_stack_near_enough_the_ring_is_lapped_and_the_nearest_is_told() -> None:
    ring, sizes = _stacked(_with_stock(0.3, 0.5), in_place=0.4)
    assert ring.stack == ()
    assert ring.stack_most == 0.0
    assert ring.thickness.fit == "lapped flat"
    assert sizes["nearest from stock, 1 piece"].value == pytest.approx(0.3)


def test_a_thick_ring_is_turned_and_never_stacked() -> None:
    ring, sizes = _stacked(_with_stock(0.05, 0.5, 2.0), in_place=4.0)
    assert ring.stack == ()
    assert not any("stock" in name for name in sizes)


def test_a_shim_thinner_than_foil_is_left_out_and_said_so() -> None:
    got = correct(
        made.job(),
        _readings({**WORM, "worm_shim": 0.045, "worm_end_play": 0.020}, PLACES),
        made.diagnosis(),
        plan="worm_shim",
        draws=8192,
    )
    assert got.chosen is not None
    (correction,) = got.chosen.corrections
    assert correction.parts == ()
    assert any(d.code == "shim too thin" for d in correction.doubts)
    assert any("Leave the shim out" in step for step in correction.steps)
