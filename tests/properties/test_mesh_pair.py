"""Exact meshes of any pair: no crash, no gap as cut, and refusals with a reason."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, reject, settings
from hypothesis import strategies as st

from wormwright.core.flank import FlankMesh, Place
from wormwright.core.mesh_pair import PairSizes, contact_ratio, mesh_of_pair

PAIR_A = PairSizes(
    teeth=72, starts=1, axial_module=1.5, axial_angle=math.radians(20), worm_d1=24.0, thinned=0.1
)


@st.composite
def pairs(draw: st.DrawFn) -> PairSizes:
    module = draw(st.floats(0.5, 3.0))
    return PairSizes(
        teeth=draw(st.integers(12, 180)),
        starts=draw(st.integers(1, 4)),
        axial_module=module,
        axial_angle=math.radians(draw(st.floats(14.5, 30.0))),
        worm_d1=module * draw(st.floats(10.0, 20.0)),
        profile=draw(st.sampled_from(("ZA", "ZN", "ZI"))),
        right_hand=draw(st.booleans()),
    )


def mesh_or_sound_refusal(pair: PairSizes) -> FlankMesh:
    """The mesh; a pair may only be refused for undercut or for a thread without a flank."""
    try:
        return mesh_of_pair(pair)
    except ValueError as refusal:
        reason = str(refusal)
    if "undercut beyond use" in reason:
        assert pair.teeth < 0.6 * 2 / math.sin(pair.axial_angle) ** 2
    else:
        assert "below the base radius" in reason
        assert pair.profile == "ZI"
    return reject()


@given(pairs())
@settings(max_examples=20, deadline=None)
def test_every_hob_equal_pair_has_no_gap_where_it_was_cut(pair: PairSizes) -> None:
    contact = mesh_or_sound_refusal(pair).contact()

    for flank in (contact.plus, contact.minus):
        assert np.abs(flank.turn).max() < 1e-6 * pair.axial_module


@given(pairs(), st.sampled_from(("oversize-hob", "helical")), st.floats(-0.05, 0.1))
@settings(max_examples=12, deadline=None)
def test_every_other_wheel_gives_a_finite_backlash(
    pair: PairSizes, kind: str, opened: float
) -> None:
    m = pair.axial_module
    excess = 0.02 * pair.worm_d1 / 2 if kind == "oversize-hob" else 0.0
    other = replace(pair, kind=kind, hob_excess=excess, thinned=0.05 * m)  # type: ignore[arg-type]
    backlash = mesh_or_sound_refusal(other).contact(Place(da=opened * m, dz=0.02 * m)).backlash
    assert np.isfinite(backlash).all()
    assert np.abs(backlash).max() < 0.5 * m


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"teeth": 3}, "6 to 1000 teeth"),
        ({"starts": 9}, "1 to 8 starts"),
        ({"axial_angle": 20.0}, "give it in radians"),
        ({"worm_tip": 14.5}, "worm cannot pass: its crest"),
        ({"outside": 62.0, "face": 20.0, "worm_root": 11.9}, "worm cannot pass: the wheel's crest"),
        ({"face": 24.0}, "wider than its hollow"),
        ({"kind": "oversize-hob"}, "needs its excess"),
        ({"hob_excess": 0.3}, "goes with an oversize hob"),
        ({"thinned": 2.2}, "leaves no tooth"),
        ({"throat": 67.0}, "reaches the worm axis"),
        ({"teeth": 8, "axial_angle": math.radians(12)}, "undercut beyond use"),
        ({"wheel_root": 55.6, "worm_tip": 10.3}, "root"),
        (
            {"profile": "ZI", "starts": 4, "worm_d1": 12.6, "axial_angle": math.radians(15)},
            "below the base radius",
        ),
    ],
)
def test_pairs_that_cannot_be_are_refused_with_the_size_to_read_again(
    change: dict[str, object], reason: str
) -> None:
    with pytest.raises(ValueError, match=reason):
        mesh_of_pair(replace(PAIR_A, **change))  # type: ignore[arg-type]


def test_moves_count_from_nominal_and_the_fit_is_where_the_pair_bedded_in() -> None:
    bedded = mesh_of_pair(replace(PAIR_A, run_in=Place(da=-0.02, dz=0.01)))
    assert bedded.contact(Place(da=-0.02, dz=0.01)).backlash == pytest.approx(0.1, abs=1e-9)
    assert bedded.contact().backlash.min() > 0.1


def test_undercut_costs_contact_ratio_and_relief_of_the_worm_does_too() -> None:
    whole = contact_ratio(mesh_of_pair(PAIR_A))
    turned_down = contact_ratio(mesh_of_pair(replace(PAIR_A, worm_tip=13.3)))
    assert whole == pytest.approx(1.896, abs=0.01)
    assert turned_down == pytest.approx(1.764, abs=0.01)
    few = contact_ratio(mesh_of_pair(replace(PAIR_A, teeth=14)))
    assert 1 < few < 1.4
