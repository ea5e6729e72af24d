"""A and B are mirror images: turned the same way in space, their bores move the same way."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
import pytest
from numpy.typing import NDArray

from drawings.sample_parts import STYLES, TITLE, bushing, read
from wormwright.drawings import draw_part
from wormwright.drawings.bushing_details import angle_on_face

MM = STYLES[0]
Side = Literal["A", "B"]


def _space_from_paper(side: Side, on_paper: NDArray[np.float64]) -> NDArray[np.float64]:
    """A paper vector as (Y, Z) in space.

    Y from wheel to worm, Z the table top; paper up is Z. A's face is looked at from +X, so that
    paper right is +Y; B's face from -X, so that paper right is -Y.
    """
    right = 1.0 if side == "A" else -1.0
    return np.array([right * on_paper[0], on_paper[1]])


def _on_paper(angle: float) -> NDArray[np.float64]:
    return np.array([math.cos(angle), math.sin(angle)])


@pytest.mark.parametrize("turn", [-2.5, -0.4, 0.0, 0.35, 1.2, 3.0])
def test_the_same_turn_in_space_moves_both_bores_the_same_way(turn: float) -> None:
    """From "throw at the wheel" (-Y), turned toward +Z: the factory formula of the setting."""
    bores = [_space_from_paper(s, _on_paper(angle_on_face(s, turn))) for s in ("A", "B")]
    assert bores[0] == pytest.approx(bores[1])
    assert bores[0] == pytest.approx([-math.cos(turn), math.sin(turn)])


def test_the_same_turn_is_opposite_on_the_two_faces() -> None:
    a, b = (angle_on_face(side, 0.3) - angle_on_face(side, 0.0) for side in ("A", "B"))
    assert a == pytest.approx(-0.3)
    assert b == pytest.approx(0.3)


def _marks(side: Side, **changed: float) -> NDArray[np.float64]:
    """Middle of the witness marks in the face view, from the middle of the view [mm]."""
    doc = read(draw_part(bushing(side, **changed), TITLE, MM))
    space = doc.modelspace()
    flange = next(c for c in space.query("CIRCLE") if abs(c.dxf.radius - 33.0) < 1e-9)
    ring = next(
        c
        for c in space.query('CIRCLE[layer=="ACCENT"]')
        if c.dxf.center.distance(flange.dxf.center) < 33.0
    )
    offset = ring.dxf.center - flange.dxf.center
    return np.array([offset.x, offset.y])


def test_the_witness_mark_stands_mirrored_on_b() -> None:
    """30° counter-clockwise of the throw on A is 30° clockwise of it on B, as drawn."""
    a, b = _marks("A"), _marks("B")
    assert a == pytest.approx([-b[0], b[1]])
    assert math.degrees(math.atan2(a[1], a[0])) == pytest.approx(120.0)


def test_both_marks_stand_at_the_same_angle_in_space() -> None:
    """Throw up on paper is the throw turned to the table top: the marks then coincide in space."""
    a, b = (_space_from_paper(side, _marks(side)) for side in ("A", "B"))
    assert a == pytest.approx(b)


@pytest.mark.parametrize("side", ["A", "B"])
def test_the_bore_is_drawn_up_the_throw_and_the_thin_wall_is_there(side: Side) -> None:
    doc = read(draw_part(bushing(side, throw=0.7), TITLE, MM))
    circles = list(doc.modelspace().query("CIRCLE"))
    flange = next(c for c in circles if abs(c.dxf.radius - 33.0) < 1e-9)
    bore = next(c for c in circles if abs(c.dxf.radius - 17.5) < 1e-9)
    shift = bore.dxf.center - flange.dxf.center
    assert (shift.x, shift.y) == pytest.approx((0.0, 0.7))


def test_each_sheet_says_whose_face_it_shows_and_which_way_it_turns() -> None:
    for side, way in (("A", "is clockwise"), ("B", "is counter-clockwise")):
        doc = read(draw_part(bushing(side), TITLE, MM))  # type: ignore[arg-type]
        words = " ".join(text.dxf.text for text in doc.modelspace().query("TEXT"))
        assert "Seen from its own flange face" in words
        assert way in words
