"""Which mesh model a figure stands on, how near the tabled one is, and where the mesh lies."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

import correct_fixture as made
from wormwright.core.backlash import ClosedFormMesh
from wormwright.core.eccentric import closing_and_sideways
from wormwright.core.mesh_pair import mesh_of_pair
from wormwright.core.mesh_results import ExactMesh
from wormwright.job.corrections import Remedy
from wormwright.job.pair import WheelKind, WormPair
from wormwright.job.result import Estimate
from wormwright.stages.correct import correct
from wormwright.stages.correct.chart import TRUE_DEPTH
from wormwright.stages.correct.depth import wobble_takes
from wormwright.stages.correct.meshes import Meshes, meshes_of, reach_for, sizes_of, usual_excess
from wormwright.stages.correct.report import report
from wormwright.stages.correct.unit import half_opened, unit_rows

ALL: Sequence[tuple[WheelKind, float]] = (
    ("hob-equal", 0.25),
    ("oversize-hob", 0.5),
    ("helical", 0.25),
)
EQUAL: Sequence[tuple[WheelKind, float]] = (("hob-equal", 1.0),)
PAIR = made.pair(ALL)


@cache
def meshes(pair: WormPair = PAIR) -> Meshes:
    return meshes_of(pair, 61.0, reach_for(pair, 0.145))


@cache
def remedy(kinds: Sequence[tuple[WheelKind, float]] = EQUAL) -> Remedy:
    return correct(made.job(), made.readings(), made.diagnosis(kinds=kinds), draws=8192)


@pytest.mark.parametrize(
    ("kind", "excess", "limit"),
    [
        ("hob-equal", 0.0, 0.6e-3),
        ("oversize-hob", 0.14, 1.0e-3),
        ("oversize-hob", usual_excess(PAIR), 1.0e-3),
        ("oversize-hob", 0.50, 1.5e-3),
        ("helical", 0.0, 0.4e-3),
    ],
)
def test_the_tabled_mesh_stays_by_the_exact_one_between_its_places(
    kind: WheelKind, excess: float, limit: float
) -> None:
    reach, stream = reach_for(PAIR, 0.145), np.random.default_rng(3)
    da = stream.uniform(reach.da[1], reach.da[-1], 16)
    dz = stream.uniform(-reach.dz[-1], reach.dz[-1], 16)
    exact = ExactMesh(mesh_of_pair(sizes_of(PAIR, kind, excess)), phases=4)
    sine = 0.0 if kind == "helical" else PAIR.sin_face * PAIR.r1 / (PAIR.r1 + excess)
    off = np.asarray(meshes().of_rows(sine, excess).backlash_change(da=da, dz=dz))
    off = off - np.asarray(exact.backlash_change(da=da, dz=dz))
    assert np.abs(off).max() < limit


def test_the_closed_form_is_kept_only_where_the_exact_mesh_bears_it_out() -> None:
    narrow = replace(made.pair((("helical", 1.0),)), hob_excess_max=0.11)
    shallow = meshes_of(narrow, 61.0, reach_for(narrow, 0.06))
    assert shallow.method("helical") == "closed form, as good here" == shallow.used
    closed = ClosedFormMesh(narrow.t, narrow.g, narrow.r1, 61.0, 0.0, 0.0)
    assert shallow.of("helical").backlash_change(da=0.05) == closed.backlash_change(da=0.05)
    assert meshes().method("hob-equal") == "exact mesh" == meshes().used
    assert meshes().method("hob-equal") != shallow.method("hob-equal") == "closed form"


def test_the_planned_closing_names_its_model_and_what_the_others_say() -> None:
    got = remedy()
    assert got.closing is not None
    assert got.closing.method == "exact mesh, by draws"
    (one,) = got.meshes
    assert one.kind == "hob-equal"
    assert one.textbook == pytest.approx(2 * PAIR.t * got.closing.value)
    assert one.exact is not None
    assert one.off is not None
    assert abs(one.exact - one.closed_form) <= 2 * one.off
    assert abs(one.exact - one.textbook) > 5 * abs(one.exact - one.closed_form)
    text = str(report(got, made.job()))
    assert "by each way of reckoning it" in text


def test_false_tight_is_where_the_exact_mesh_shuts_on_both_sides_of_the_circle() -> None:
    got = remedy()
    assert got.picture is not None
    unit = unit_rows(made.pair(EQUAL), made.diagnosis(kinds=EQUAL).posterior, centre_distance=61.12)
    exact = ExactMesh(mesh_of_pair(sizes_of(made.pair(EQUAL), "hob-equal", 0.0)))
    opened = half_opened(unit, "hob-equal")
    found = float(np.mean(unit.mesh - unit.swing))
    throat = got.picture.sideways_to_throat.value
    assert got.false_tight
    for place in got.false_tight:
        way = 1.0 if place.toward == "table top" else -1.0
        closing, aside = closing_and_sideways(throw=got.picture.throw, angle=way * place.first)
        before = exact.backlash_change(da=opened)
        left, centred = (
            found + float(exact.backlash_change(da=opened - float(closing), dz=dz)) - float(before)
            for dz in (float(aside) - throat, 0.0)
        )
        assert left == pytest.approx(0.0, abs=1.5e-3) if place.frees else left < 1e-3
        assert centred > 0.8 * TRUE_DEPTH
        assert place.short > 0
    words = str(report(got, made.job()))
    assert "FALSE TIGHT is told by feel" in words


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"face_width": 21.5}, "wider than its hollow"),
        ({"throat": 122.5}, "reaches the worm axis"),
        ({"wheel_root": 98.6}, "the worm cannot pass"),
        ({"teeth": 9, "pressure_angle": math.radians(14.5)}, "undercut beyond use"),
        ({"throat": 99.0}, "does not reach the wheel's flanks"),
    ],
)
def test_a_pair_that_cannot_be_reaches_the_user_with_what_was_expected_and_what_to_do(
    change: dict[str, float], says: str
) -> None:
    sizes = {
        k: v if k in ("face_width", "teeth", "pressure_angle") else _read(v)
        for k, v in change.items()
    }
    pair = replace(made.pair(EQUAL), centre_distance=None, **sizes)  # type: ignore[arg-type]
    (doubt,) = meshes_of(pair, 61.0, reach_for(pair, 0.1)).doubts
    assert doubt.action == "warn"
    assert says in doubt.seen
    assert "Expected: " in doubt.seen
    assert doubt.do[0].isupper()


def _read(diameter: float) -> Estimate:
    return Estimate(diameter, 0.02, diameter - 0.04, diameter + 0.04, "length", "caliper")


def test_an_impossible_pair_is_told_in_the_remedy_and_the_closed_form_stands_in() -> None:
    diagnosis = made.diagnosis(kinds=EQUAL)
    wide = replace(diagnosis, pair=replace(diagnosis.pair, face_width=21.5))
    got = correct(made.job(), made.readings(), wide, draws=8192)
    assert any("wider than its hollow" in d.seen for d in got.doubts)
    assert got.closing is not None
    assert got.closing.method == "closed form, by draws"
    assert got.meshes[0].exact is None


def test_a_wheel_that_wobbles_is_set_with_the_backlash_that_its_swing_takes() -> None:
    unit = unit_rows(PAIR, made.diagnosis(kinds=ALL).posterior, centre_distance=61.12)
    assert wobble_takes(unit) == 0.0
    swinging = replace(unit, pair=replace(PAIR, wobble=0.06))
    exact = ExactMesh(mesh_of_pair(sizes_of(PAIR, "hob-equal", 0.0)))
    lost = -float(exact.backlash_change(da=0.0, dz=0.03))
    assert wobble_takes(swinging) == pytest.approx(lost, abs=1e-3)


def test_broken_edges_reach_the_exact_mesh() -> None:
    broken = replace(PAIR, edge=1.5)
    assert sizes_of(broken, "hob-equal", 0.0).face == pytest.approx(PAIR.face_width - 3.0)


def test_an_undercut_wheel_of_unknown_kind_is_worked_out_at_fewer_places() -> None:
    few = replace(
        PAIR, teeth=30, pressure_angle=math.radians(14.5), centre_distance=None, worm_od=None
    )
    unit = unit_rows(few, made.diagnosis(kinds=ALL).posterior, centre_distance=few.r1 + few.r2)
    assert unit.meshes.hobbed is not None
    assert unit.meshes.helical is not None
    assert unit.meshes.hobbed.off.shape == (2, 3, 2)
    assert np.isfinite(unit.opened).all()
