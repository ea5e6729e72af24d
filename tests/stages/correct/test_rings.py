"""Rings to make: drawn from the outline that was read, never from a guess."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import pytest

import correct_fixture as made
from wormwright.job.corrections import Correction, Remedy
from wormwright.job.parts import ShimRing
from wormwright.job.reading import Reading
from wormwright.stages.correct import correct

WORM = {"worm_shim_inside": 36.0, "worm_shim_outside": 52.0, "worm_shim_screws": 3.0}
PLACES = {"circle": 44.0, "hole": 4.5}


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
