"""Matching the ends and packing the chuck: what the bench is told."""

from __future__ import annotations

import math

import numpy as np
import pytest

import correct_fixture as made
from wormwright.bench import Bench
from wormwright.core.eccentric import misalignment_of_unequal_angles
from wormwright.core.mesh_pair import mesh_of_pair
from wormwright.core.mesh_results import ExactMesh
from wormwright.job.pair import WormPair
from wormwright.job.parts import EccentricBushing
from wormwright.stages.correct import correct
from wormwright.stages.correct.facts import Facts, facts_of
from wormwright.stages.correct.matching import (
    SKEW_COSTS,
    match_of_ends,
    matching_step,
    skew_borne,
)
from wormwright.stages.correct.meshes import Meshes, meshes_of, reach_for, sizes_of
from wormwright.stages.correct.strategy import GRADE, strategies_that_fit, wanted_point


def facts() -> Facts:
    return facts_of(made.job(), Bench(made.job(), made.readings()), made.diagnosis())


def meshes(pair: WormPair) -> Meshes:
    return meshes_of(pair, 61.0, reach_for(pair, 0.145))


@pytest.mark.parametrize("degrees", [0, 46, 60])
def test_ends_matched_as_told_cost_no_more_than_the_pitch_error(degrees: int) -> None:
    angle, throw, pair = math.radians(degrees), 0.225, made.pair((("hob-equal", 1.0),))
    skew = skew_borne(meshes(pair), "hob-equal")
    match = match_of_ends(facts(), throw=throw, angle=angle, skew=skew)
    real = misalignment_of_unequal_angles(
        throw=throw, angle_a=angle, angle_b=angle + match.turn, span=54.0
    )
    mesh = ExactMesh(mesh_of_pair(sizes_of(pair, "hob-equal", 0.0)))
    lost = -min(float(mesh.backlash_change(da=0.0, skew=way * real.skew)) for way in (1, -1))
    assert lost == pytest.approx(SKEW_COSTS, rel=match.turn + 0.02)


def test_pointing_at_the_wheel_the_indicators_look_along_the_table() -> None:
    pointing = matching_step(facts(), throw=0.2, angle=0.0, skew=1.4e-4)
    aside = matching_step(facts(), throw=0.2, angle=math.radians(60), skew=1.4e-4)
    assert "along the table axis" in pointing
    assert "would not see" in pointing
    assert "toward the wheel;" in aside


def test_both_ways_of_packing_the_chuck_are_told_with_the_next_try() -> None:
    got = correct(made.job(), made.readings(), made.diagnosis(), draws=8192)
    assert got.chosen is not None
    lines = [s for c in got.chosen.corrections for s in c.steps if s.startswith("Three-jaw")]
    assert len(lines) == 1
    assert "narrow jaws" in lines[0]
    assert "1.5 x" in lines[0]


def test_graded_pairs_stop_short_by_less_than_a_step_and_never_stand_sideways() -> None:
    here = facts()
    closing = np.random.default_rng(3).normal(0.20, 0.02, 8192)
    wanted = wanted_point(here, closing, target=0.02, meshes=meshes(here.pair))
    fitting, _ = strategies_that_fit(here, wanted, closing)
    graded = next(s for s in fitting if s.key == "graded pairs")
    short = closing - graded.reach
    assert float(short.min()) >= 0
    assert float(short.max()) <= GRADE
    assert float(np.abs(graded.sideways).max()) <= 0.03
    assert graded.first is not None
    assert graded.first.throw < float(np.quantile(closing, 0.03))
    assert graded.turned.start == 0.0


def test_a_depth_in_too_much_doubt_gets_no_graded_pairs() -> None:
    here = facts()
    closing = np.random.default_rng(3).normal(0.06, 0.03, 8192)
    wanted = wanted_point(here, closing, target=0.02, meshes=meshes(here.pair))
    _, rejected = strategies_that_fit(here, wanted, closing)
    assert "no first pair" in dict(rejected)["graded pairs"]


def test_graded_bushings_point_at_the_wheel_on_their_drawing() -> None:
    key = "worm_shim+bushings:graded-pairs"
    got = correct(
        made.job(),
        made.readings(),
        made.diagnosis(kinds=(("hob-equal", 1.0),)),
        plan=key,
        draws=8192,
    )
    assert got.chosen is not None
    assert got.chosen.key == key
    pair = [p for c in got.chosen.corrections for p in c.parts if isinstance(p, EccentricBushing)]
    assert {p.start_angle for p in pair} == {0.0}
    assert any("FIRST pair" in s for c in got.chosen.corrections for s in c.steps)
