"""Blue marks: directions of the moves against the flank normals of a straight-sided worm."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray

from published import derived, published
from wormwright.core.blue_mark import (
    BOTTOMED,
    BlueMark,
    Hand,
    Sketch,
    cause_of_mark,
    cause_round_the_wheel,
)

Array = NDArray[np.float64]
R1, MODULE, FACE, T = 12.0, 1.5, 14.0, math.tan(math.radians(20))
HANDS: dict[int, Hand] = {1: "right", -1: "left"}
SKETCHES: tuple[Sketch, ...] = (
    "centred patch",
    "full face",
    "plus edge",
    "minus edge",
    "both edges",
    "tip line",
    "root line",
)
Z = np.linspace(-FACE / 2, FACE / 2, 141)


def approach(move: Callable[[Array], Array], side: int, hand: int) -> Array:
    """How far a worm flank comes nearer to its wheel flank, across the face, for a small move.

    The worm axis lies along X with the wheel at -Y of it. `side` +1 is the flank facing +X. The
    wheel may turn, so the approach is measured along X.
    """
    p = hand * MODULE / 2

    def flank(x: Array, y: Array, z: Array) -> Array:
        r, theta = np.hypot(y, z), np.arctan2(z, -y)
        return side * (x - p * -theta) - math.pi * MODULE / 4 + (r - R1) * T

    y = -np.sqrt(R1**2 - Z**2)
    x = np.full_like(Z, 0.0)
    x = x - side * flank(x, y, Z)
    point = np.stack([x, y, Z])
    h = 1e-6
    normal = np.stack(
        [
            (flank(*(point + h * e[:, None])) - flank(*(point - h * e[:, None]))) / (2 * h)
            for e in np.eye(3)
        ]
    )
    along: Array = np.sum(move(point) * normal, axis=0) / np.abs(normal[0])
    return along


def sketch_of(nearer: Array) -> Sketch:
    """The sketch that a band of nearest contact looks like."""
    low, middle, high = nearer[0], nearer[len(Z) // 2], nearer[-1]
    if middle > max(low, high):
        return "centred patch"
    if min(low, high) > middle and abs(high - low) < 0.4 * (max(low, high) - middle):
        return "both edges"
    return "plus edge" if high > low else "minus edge"


def mark_after(move: Callable[[Array], Array], hand: int) -> BlueMark:
    """Sketches of the plus flank (worm flank facing -X) and of the minus flank."""
    return BlueMark(sketch_of(approach(move, -1, hand)), sketch_of(approach(move, +1, hand)))


def shifted(x: float, y: float, z: float) -> Callable[[Array], Array]:
    return lambda point: np.broadcast_to(np.array([[x], [y], [z]]), point.shape)


def turned_about_y(angle: float) -> Callable[[Array], Array]:
    return lambda p: angle * np.stack([p[2], np.zeros_like(p[0]), -p[0]])


@derived("flank normals of a straight-sided worm, both hands; wheel shift is a worm shift reversed")
@pytest.mark.parametrize("hand", [1, -1])
@pytest.mark.parametrize(("z", "way"), [(0.05, "along +Z"), (-0.05, "along -Z")])
def test_worm_off_the_throat_centre_calls_the_wheel_after_it(hand: int, z: float, way: str) -> None:
    found = cause_of_mark(mark_after(shifted(0, 0, z), hand), hand=HANDS[hand])
    assert found.move == ("wheel", way)
    assert not found.may_close


@derived("flank normals of a straight-sided worm turned about the common perpendicular, both hands")
@pytest.mark.parametrize("hand", [1, -1])
@pytest.mark.parametrize(("angle", "way"), [(1e-3, "turn - about Y"), (-1e-3, "turn + about Y")])
def test_skew_is_turned_back_unless_a_worm_too_far_out_marks_alike(
    hand: int, angle: float, way: str
) -> None:
    found = cause_of_mark(mark_after(turned_about_y(angle), hand), hand=HANDS[hand])
    assert found.move == ("worm", way if angle * hand < 0 else "closer")


@derived("flank normals of a straight-sided worm moved away from and toward the wheel")
@pytest.mark.parametrize("hand", [1, -1])
def test_opened_worm_marks_the_edges_and_closed_worm_the_middle(hand: int) -> None:
    opened = mark_after(shifted(0, 0.05, 0), hand)
    assert opened.plus != opened.minus
    assert cause_of_mark(opened, hand=HANDS[hand]).move == ("worm", "closer")
    closed = mark_after(shifted(0, -0.05, 0), hand)
    assert cause_of_mark(closed, hand=HANDS[hand]).good


@derived("the same with the lead left out: only then both edges of a flank mark alike")
def test_without_lead_an_opened_worm_marks_both_edges() -> None:
    opened = mark_after(shifted(0, 0.05, 0), 0)
    assert (opened.plus, opened.minus) == ("both edges", "both edges")
    assert cause_of_mark(opened, hand="right").move == ("worm", "closer")


@derived("rotation by the right hand: the +X end of a worm turned + about Y goes toward -Z")
def test_words_about_the_end_of_the_worm_agree_with_the_sign() -> None:
    end = turned_about_y(1e-3)(np.array([[50.0], [0.0], [0.0]]))
    assert end[2, 0] < 0
    cure = cause_of_mark(BlueMark("minus edge", "plus edge"), hand="left")
    assert cure.move.way == "turn - about Y"
    assert "lift the +X end of the worm toward +Z" in cure.why


@published(
    work="gear maker's page on mounting worm gears",
    edition="web page, not dated",
    place="contact pattern: toward the centre of the wheel for reversing operation",
    known="read",
)
def test_only_a_central_patch_on_both_flanks_is_good() -> None:
    pairs = [(a, b) for a in SKETCHES for b in SKETCHES]
    good = [(a, b) for a, b in pairs if cause_of_mark(BlueMark(a, b), hand="right").good]
    assert good == [("centred patch", "centred patch")]


@pytest.mark.parametrize(
    ("patch", "cause"),
    [(0.6, "centred"), (0.3, "narrow centred patch"), (0.95, "film too thick or full bearing")],
)
def test_a_central_patch_is_judged_by_its_share(patch: float, cause: str) -> None:
    mark = BlueMark("centred patch", "centred patch", patch)
    assert cause_of_mark(mark, hand="right").cause == cause


def test_bottomed_comes_before_everything_and_forbids_closing() -> None:
    bottomed = BlueMark("root line", "plus edge", bright_crest=True)
    assert cause_of_mark(bottomed, hand="right") == BOTTOMED
    assert not BOTTOMED.may_close
    plain = BlueMark("tip line", "tip line")
    assert cause_round_the_wheel([plain, bottomed, plain], hand="right") == BOTTOMED
    assert cause_of_mark(plain, hand="right").move == ("worm", "closer")
    deep = BlueMark("root line", "root line")
    assert cause_of_mark(deep, hand="right").move == ("worm", "apart")


def test_flanks_that_make_no_picture_ask_for_another_trial() -> None:
    odd = BlueMark("plus edge", "centred patch")
    assert cause_of_mark(odd, hand="right").cause == "unclear"


def test_places_that_differ_move_nothing() -> None:
    high, low = BlueMark("plus edge", "plus edge"), BlueMark("minus edge", "minus edge")
    assert cause_round_the_wheel([high, low], hand="left").move == ("nothing", "none")
    assert cause_round_the_wheel([high, high], hand="left").move == ("wheel", "along +Z")
    with pytest.raises(ValueError, match="expected two or more"):
        cause_round_the_wheel([high], hand="left")


def test_no_finding_claims_an_amount() -> None:
    for a in SKETCHES:
        for b in SKETCHES:
            why = cause_of_mark(BlueMark(a, b), hand="right").why
            assert not any(c.isdigit() for c in why)
