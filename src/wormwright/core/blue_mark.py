"""From blue marks picked off sketches to the cause and the direction of the next move.

Frame: X along the worm, Y from the wheel to the worm, Z along the table axis. The `plus` flank is
the one that carries when the worm drives the table its plus way (the worm flank that faces -X), the
`minus` flank carries the other way. Only causes and directions come out: blue never tells how much.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, NamedTuple

Sketch = Literal[
    "centred patch", "full face", "plus edge", "minus edge", "both edges", "tip line", "root line"
]
Hand = Literal["right", "left"]
Part = Literal["wheel", "worm", "film", "nothing"]
Way = Literal["along +Z", "along -Z", "closer", "apart", "turn + about Y", "turn - about Y", "none"]

LEAST_PATCH, MOST_PATCH = 0.50, 0.70
"""Share of the face that a good patch for a reversing drive covers (common practice)."""


@dataclass(frozen=True, slots=True)
class BlueMark:
    """What the two flanks show at one place of the wheel.

    `patch` is the share of the face a centred patch covers, None if not judged; `bright_crest` says
    that the worm crest is rubbed bright.
    """

    plus: Sketch
    minus: Sketch
    patch: float | None = None
    bright_crest: bool = False

    def __post_init__(self) -> None:
        """Refuse a patch that is no share."""
        if self.patch is not None and not 0 < self.patch <= 1:
            raise ValueError(f"patch {self.patch}: expected a share of the face, above 0 to 1")


class Move(NamedTuple):
    """What to move and which way; the amount is found by the next trial."""

    part: Part
    way: Way


@dataclass(frozen=True, slots=True)
class BlueFinding:
    """Cause read from a mark, the move that cures it, and why."""

    cause: str
    move: Move
    why: str
    good: bool = False
    may_close: bool = True


GOOD = BlueFinding(
    "centred",
    Move("nothing", "none"),
    "a central patch of half to two thirds of the face, alike on both flanks, suits a drive that "
    "reverses",
    good=True,
)
NARROW = BlueFinding(
    "narrow centred patch",
    Move("nothing", "none"),
    "centred but narrow: usual for a wheel cut with a larger hob; it widens as the pair beds in",
    good=True,
)
WIDE = BlueFinding(
    "film too thick or full bearing",
    Move("film", "none"),
    "a mark over the whole face is doubtful: wipe off, take a thinner film and look again",
)
BOTTOMED = BlueFinding(
    "bottomed",
    Move("worm", "apart"),
    "a mark at the root only with a bright worm crest: the crest stands on the root, so rock says "
    "nothing of the flanks; move apart or relieve the worm outside diameter",
    may_close=False,
)
WHEEL_LOW = BlueFinding(
    "wheel too far toward -Z of the worm",
    Move("wheel", "along +Z"),
    "both flanks mark at the +Z edge: the worm stands on the +Z side of the throat; bring the "
    "wheel after it by shims",
    may_close=False,
)
WHEEL_HIGH = BlueFinding(
    "wheel too far toward +Z of the worm",
    Move("wheel", "along -Z"),
    "both flanks mark at the -Z edge: the worm stands on the -Z side of the throat; bring the "
    "wheel after it by shims",
    may_close=False,
)
SKEW_PLUS = BlueFinding(
    "worm turned + about Y",
    Move("worm", "turn - about Y"),
    "opposite edges on the two flanks: the axes are not square; lift the +X end of the worm "
    "toward +Z, or lower the other; shifting the wheel does not cure it",
    may_close=False,
)
SKEW_MINUS = BlueFinding(
    "worm turned - about Y",
    Move("worm", "turn + about Y"),
    "opposite edges on the two flanks: the axes are not square; lower the +X end of the worm "
    "toward -Z, or lift the other; shifting the wheel does not cure it",
    may_close=False,
)
OPEN_OR_SKEW = BlueFinding(
    "too far apart, or worm turned about Y",
    Move("worm", "closer"),
    "opposite edges on the two flanks, the way a worm of this hand marks when it stands too far "
    "out: bring it to depth first; if the edges still mark there, the axes are not square",
)
OPEN_AT_EDGES = BlueFinding(
    "too far apart",
    Move("worm", "closer"),
    "both edges mark and the middle is bare: the worm stands farther out than the wheel was cut; "
    "closing moves the mark inward",
)
TOO_SHALLOW = BlueFinding(
    "too far apart, or a tip burr",
    Move("worm", "closer"),
    "a line along the tooth tips: the depth is short; first look for a burr or a raised edge",
)
TOO_DEEP = BlueFinding(
    "too deep",
    Move("worm", "apart"),
    "a line along the tooth roots: the depth is too much",
    may_close=False,
)
UNCLEAR = BlueFinding(
    "unclear",
    Move("film", "none"),
    "the two flanks do not make one picture: clean, take a thin film, brake lightly and turn one "
    "turn each way again",
    may_close=False,
)

_ALIKE: dict[Sketch, BlueFinding] = {
    "full face": WIDE,
    "plus edge": WHEEL_LOW,
    "minus edge": WHEEL_HIGH,
    "both edges": OPEN_AT_EDGES,
    "tip line": TOO_SHALLOW,
    "root line": TOO_DEEP,
}
_EDGES = ("plus edge", "minus edge")
_OPEN_MARKS_PLUS_FLANK: dict[Hand, Sketch] = {"right": "minus edge", "left": "plus edge"}


def cause_of_mark(mark: BlueMark, *, hand: Hand) -> BlueFinding:
    """Cause and direction of the move from the sketches picked for the two flanks.

    Source: gear-makers' mounting practice (patch toward the centre for reversing duty); directions
        derived here from the flank normals, see tests/references/test_blue_mark.py.
    Formula: rules in order: bottomed; opposite edges are skew, but the lead makes a worm that is
        too far out mark like a skew of the sign of its hand, so that one asks for depth first;
        both alike by their sketch; one flank at an edge and the other centred is not settled.
    Inputs: mark, in the frame above; hand of the worm. Outputs: BlueFinding; never an amount.
    Valid for: a wheel as cut; an old wheel keeps an unworn rim that marks first.
    Raises: nothing.

    >>> cause_of_mark(BlueMark("plus edge", "plus edge"), hand="right").move
    Move(part='wheel', way='along +Z')
    """
    if mark.bright_crest and "root line" in (mark.plus, mark.minus):
        return BOTTOMED
    if mark.plus == mark.minus:
        return _central(mark.patch) if mark.plus == "centred patch" else _ALIKE[mark.plus]
    if mark.plus in _EDGES and mark.minus in _EDGES:
        if mark.plus == _OPEN_MARKS_PLUS_FLANK[hand]:
            return OPEN_OR_SKEW
        return SKEW_PLUS if mark.plus == "minus edge" else SKEW_MINUS
    return UNCLEAR


def _central(patch: float | None) -> BlueFinding:
    if patch is None or LEAST_PATCH <= patch <= MOST_PATCH:
        return GOOD
    return NARROW if patch < LEAST_PATCH else WIDE


def cause_round_the_wheel(marks: Sequence[BlueMark], *, hand: Hand) -> BlueFinding:
    """One finding from marks at several places of the wheel.

    Source: common practice; one place of a wheel that runs out misleads.
    Formula: the common finding when all places agree; bottomed anywhere wins; else the wheel's face
        or pitch runs out and nothing is moved on the strength of one place.
    Inputs: marks at two places or more, best three; hand of the worm. Outputs: BlueFinding.
    Valid for: places spread round the wheel. Raises: ValueError for fewer than two.

    >>> here = BlueMark("plus edge", "plus edge")
    >>> there = BlueMark("minus edge", "minus edge")
    >>> cause_round_the_wheel([here, here, there], hand="right").cause
    'wheel runs out'
    """
    if len(marks) < 2:
        raise ValueError(
            f"blue at {len(marks)} place: expected two or more round the wheel, it may run out"
        )
    found = [cause_of_mark(mark, hand=hand) for mark in marks]
    if BOTTOMED in found:
        return BOTTOMED
    if all(f == found[0] for f in found):
        return found[0]
    return BlueFinding(
        "wheel runs out",
        Move("nothing", "none"),
        "the places differ: the wheel's face or throat runs out; read its runout before moving "
        "anything",
        may_close=all(f.may_close for f in found),
    )
