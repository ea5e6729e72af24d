"""Right and left hand of the exact mesh, against the right-hand rule and the closed form."""

from __future__ import annotations

import math

import numpy as np
import pytest

from published import derived
from wormwright.core.backlash import ClosedFormMesh
from wormwright.core.helicoid import Helicoid, worm_thread
from wormwright.core.mesh_pair import PairSizes, mesh_of_pair
from wormwright.core.mesh_results import ExactMesh

D1, MODULE, FACE, ALPHA = 24.0, 1.5, 14.0, math.radians(20)


def thread(*, right: bool) -> Helicoid:
    return worm_thread(
        profile="ZA",
        axial_module=MODULE,
        starts=3,
        worm_d1=D1,
        axial_angle=ALPHA,
        tip_radius=13.5,
        root_radius=10.2,
        right_hand=right,
    )


@derived("right-hand rule: a right-hand screw turned from Y toward Z goes along +X in a fixed nut")
@pytest.mark.parametrize(("right", "hand"), [(True, 1), (False, -1)])
def test_a_right_hand_thread_screws_along_x_when_turned_from_y_to_z(right: bool, hand: int) -> None:
    p = MODULE * 3 / 2
    turn = np.linspace(-0.4, 0.4, 9)  # about +X, from the side of the worm that faces the wheel
    y, z = -12.0 * np.cos(turn), -12.0 * np.sin(turn)
    along = thread(right=right).height(-y, z, 1)
    start = thread(right=right).height(np.array([12.0]), np.array([0.0]), 1)
    assert along - start == pytest.approx(hand * p * turn, abs=1e-12)


@derived("closed form of the throated wheel, whose hand comes from the normals of the flank")
@pytest.mark.parametrize(("right", "hand"), [(True, 1), (False, -1)])
@pytest.mark.parametrize("starts", [1, 3])
def test_skew_of_an_open_worm_costs_by_hand_what_the_closed_form_says(
    starts: int, right: bool, hand: int
) -> None:
    pair = PairSizes(
        teeth=60,
        starts=starts,
        axial_module=MODULE,
        axial_angle=ALPHA,
        worm_d1=D1,
        right_hand=right,
        face=FACE,
    )
    exact = ExactMesh(mesh_of_pair(pair))
    lead = hand * MODULE * starts / D1
    closed = ClosedFormMesh(math.tan(ALPHA), lead, D1 / 2, pair.centre, FACE / D1, 0.0)
    skew = np.array([-2e-3, 2e-3])
    got = np.asarray(exact.backlash_change(da=0.1, skew=skew))
    law = np.asarray(closed.backlash_change(da=0.1, skew=skew))
    assert got == pytest.approx(law, abs=6e-3)
    assert abs(law[1] - law[0]) > 0.012
