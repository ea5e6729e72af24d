"""A unit with a known truth is mended as the plan says; the outcome lies where it was predicted."""

from __future__ import annotations

import math

import numpy as np

import correct_fixture as made
from wormwright.core.backlash import ClosedFormMesh, sine_of_half_face
from wormwright.job.corrections import Plan
from wormwright.job.pair import WheelKind
from wormwright.stages.correct import correct

SEEDS = 40
KINDS: tuple[tuple[WheelKind, float], ...] = (("hob-equal", 0.5), ("oversize-hob", 0.5))
SEEN = ("mesh", "end_play", "worm_float", "table_radial", "wheel_joint", "drive")


def truth_of(stream: np.random.Generator) -> dict[str, float]:
    truth = {name: mean for name, (mean, _) in made.PLAYS.items()}
    for name in SEEN:
        truth[name] *= float(stream.uniform(0.7, 1.3))
    return truth


def as_diagnosed(truth: dict[str, float], stream: np.random.Generator) -> made.Plays:
    """What a careful sheet would believe: near the truth, off by its own uncertainty."""
    return {
        name: (abs(truth[name] + sd * float(stream.standard_normal())), sd)
        if name in SEEN
        else (truth[name], sd)
        for name, (_, sd) in made.PLAYS.items()
    }


def mended(
    plan: Plan, truth: dict[str, float], believed: made.Plays, stream: np.random.Generator
) -> float:
    """Mean lost motion after the plan was carried out by hand on the true unit, rad."""
    pair = made.pair(KINDS)
    excess = float(stream.choice([0.0, stream.uniform(0.11, 0.55)]))
    mesh = ClosedFormMesh(
        pair.t,
        pair.g,
        pair.r1,
        61.0,
        float(sine_of_half_face(face=pair.face_width, r1=pair.r1, hob_excess=excess)),
        excess,
    )
    swing = (
        2
        * pair.t
        * (
            math.hypot(truth["wheel_x"], truth["wheel_y"])
            + math.hypot(truth["worm_x"], truth["worm_y"])
        )
    )
    target = dict(next(c for c in plan.corrections if c.key == "bushings").sizes)[
        "backlash to set at the tight spot, at r2"
    ].value
    # The machinist turns until the rock reads target and believed plays together, and clamps;
    # the reading, the clamp and the centring by blue err.
    read = 0.0025 * 50 / 80 * float(stream.standard_normal())
    clamp = 2 * pair.t * float(stream.uniform(-0.004, 0.004))
    aside = float(stream.uniform(-0.035, 0.035))
    rock = target + believed["table_radial"][0] * 0.9 + believed["wheel_joint"][0]
    tight = rock + read + clamp
    at = -0.02
    bedded = float(mesh.backlash_change(da=at)) - float(mesh.backlash_change(da=at, dz=aside))
    end = abs(0.001 * float(stream.standard_normal()))
    return (tight + swing + bedded + truth["drive"] + end) / pair.r2


def test_the_mended_unit_lies_inside_the_predicted_interval() -> None:
    inside = 0
    for seed in range(SEEDS):
        stream = np.random.default_rng(seed)
        truth = truth_of(stream)
        believed = as_diagnosed(truth, stream)
        found = made.diagnosis(kinds=KINDS, plays=believed)
        remedy = correct(made.job(), made.readings(), found, draws=8192)
        plan = next(p for p in remedy.plans if p.key == "worm_shim+bushings")
        outcome = mended(plan, truth, believed, stream)
        inside += plan.mean.low <= outcome <= plan.mean.high
    assert inside >= 0.875 * SEEDS


def test_a_blind_throw_jams_the_hob_equal_unit_that_the_plan_would_have_spared() -> None:
    """The same depth by a blind throw of 0.3 mm: shut while still too far out."""
    pair = made.pair((("hob-equal", 1.0),))
    sine = float(sine_of_half_face(face=pair.face_width, r1=pair.r1))
    mesh = ClosedFormMesh(pair.t, pair.g, pair.r1, 61.0, sine, 0.0)
    remedy = correct(
        made.job(), made.readings(), made.diagnosis(kinds=(("hob-equal", 1.0),)), draws=8192
    )
    assert remedy.closing is not None
    depth = remedy.closing.value
    opened, play = 0.12, 0.12
    found = float(mesh.backlash_change(da=opened))

    def backlash(sideways: float) -> float:
        return play + float(mesh.backlash_change(da=opened - depth, dz=sideways)) - found

    assert backlash(math.sqrt(0.3**2 - depth**2)) < 0 < backlash(0.0)
    assert remedy.strategy != "single pair"
