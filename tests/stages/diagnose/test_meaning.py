"""What a rock means on each kind of wheel, told by the diagnosis."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest

import correct_fixture as made
from wormwright.core.mesh_pair import mesh_of_pair
from wormwright.core.mesh_results import ExactMesh
from wormwright.job.pair import KindTold, WheelKind
from wormwright.job.result import Estimate
from wormwright.stages.correct.meshes import sizes_of
from wormwright.stages.diagnose.meaning import meaning_of_rock

UNKNOWN: Sequence[tuple[WheelKind, float]] = (
    ("hob-equal", 0.3),
    ("oversize-hob", 0.5),
    ("helical", 0.2),
)


def test_the_same_rock_means_more_opening_on_a_wheel_of_the_worms_own_hob() -> None:
    pair = made.pair(UNKNOWN)
    found = meaning_of_rock(pair, made.posterior())
    equal, plain = found.of("opened hob-equal"), found.of("opened helical")
    assert equal is not None
    assert plain is not None
    assert plain.value == pytest.approx(0.145 / (2 * math.tan(math.radians(20))), rel=0.01)
    exact = ExactMesh(mesh_of_pair(sizes_of(pair, "hob-equal", 0.0)))
    assert exact.backlash_change(da=equal.value) == pytest.approx(0.145, rel=0.03)


def test_what_sideways_hides_is_that_of_the_exact_mesh_within_its_interval() -> None:
    pair = made.pair(UNKNOWN)
    found = meaning_of_rock(pair, made.posterior())
    for kind in ("hob-equal", "helical"):
        hidden = found.of(f"hidden {kind}")
        assert hidden is not None
        exact = ExactMesh(mesh_of_pair(sizes_of(pair, kind, 0.0)))
        assert hidden.low <= -float(exact.backlash_change(da=0.0, dz=0.1)) <= hidden.high


def test_what_cannot_be_told_is_said_and_what_was_told_as_well() -> None:
    unknown = " ".join(meaning_of_rock(made.pair(UNKNOWN), made.posterior()).words)
    assert "cannot be told from a rock at one setting" in unknown
    known = meaning_of_rock(made.pair((("helical", 1.0),)), made.posterior())
    assert "at one setting" not in " ".join(known.words)
    assert "thin thread or wear" in " ".join(known.words)
    told = KindTold(Estimate(0.55, 0.02, 0.51, 0.59, "ratio", "line"), (("helical", 0.728),), 4)
    pair = replace(made.pair(UNKNOWN), told=told)
    words = " ".join(meaning_of_rock(pair, made.posterior()).words)
    assert "4 rocks at known settings lose 0.55 (0.51 to 0.59)" in words
