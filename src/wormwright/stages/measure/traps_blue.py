"""Blue marks: what the sketches picked for the two flanks say, and the traps in them."""

from __future__ import annotations

import math
from typing import get_args

from wormwright.bench import Bench
from wormwright.core.blue_mark import (
    BOTTOMED,
    SKEW_MINUS,
    SKEW_PLUS,
    WHEEL_HIGH,
    WHEEL_LOW,
    BlueFinding,
    BlueMark,
    Hand,
    Sketch,
    cause_of_mark,
    cause_round_the_wheel,
)
from wormwright.job.reading import Reading
from wormwright.job.result import Doubt
from wormwright.job.sheet import ROCKS
from wormwright.job.sheet_load import FLANKS
from wormwright.stages.measure.siblings import same_angle
from wormwright.stages.measure.wording import rows_words

SAME_PLACE = math.radians(10)
"""Blue marks of the two flanks within this belong to one place of the wheel, rad."""
_SKETCHES: dict[str, Sketch] = {word: word for word in get_args(Sketch)}


def blue_finding(bench: Bench) -> BlueFinding | None:
    """Cause and next move from the latest marks of both flanks; None until both were looked at."""
    hand: Hand = "left" if bench.word("hand") == "left" else "right"
    marks = [mark for mark, _ in _marks(bench)]
    if len(marks) > 1:
        return cause_round_the_wheel(marks, hand=hand)
    return cause_of_mark(marks[0], hand=hand) if marks else None


def edge_marks(bench: Bench) -> tuple[Doubt, ...]:
    """E-19: blue at one edge of both flanks; E-18: at the opposite edges that only skew gives."""
    found = blue_finding(bench)
    if found in (WHEEL_LOW, WHEEL_HIGH):
        way = "+Z (the table top)" if found is WHEEL_LOW else "-Z (away from the table top)"
        return (
            Doubt(
                "warn",
                "E-19",
                f"Blue marks both flanks at one edge ({_named(bench)}): {found.cause}.",
                "The worm stands off the middle of the throat: that feels like a tight mesh and "
                "loosens when the edges bed in.",
                f"Shim the wheel toward {way}, blue again, and only then set the depth.",
            ),
        )
    if found in (SKEW_PLUS, SKEW_MINUS):
        return (
            Doubt(
                "warn",
                "E-18",
                f"Blue marks opposite edges on the two flanks ({_named(bench)}): {found.cause}.",
                "The shafts are not square: one end of the worm was moved, or the bushings stand "
                "at unequal or mirrored angles. Shifting the wheel does not cure it.",
                "Match the two ends of the worm by indicator, both throws the same way in space.",
            ),
        )
    return ()


def bottomed(bench: Bench) -> tuple[Doubt, ...]:
    """E-20: blue at the root only with a bright worm crest: no rock tells of the flanks."""
    if blue_finding(bench) is not BOTTOMED:
        return ()
    rocks = sorted(r.seq for kind in ROCKS for r in bench.of(kind))
    return (
        Doubt(
            "refuse",
            "E-20",
            f"Blue marks the root only and the worm crest is bright ({_named(bench)}).",
            "The crest stands on the root of the wheel: it feels free of play, and rocks under "
            "load. No rock taken so tells of the flanks.",
            "Open the mesh or relieve the worm outside diameter, then rock and blue again; do not "
            "close it further.",
            tuple(rocks),
        ),
    )


def _marks(bench: Bench) -> list[tuple[BlueMark, tuple[int, int]]]:
    """The mark at each place where both flanks were looked at, the latest look at each flank."""
    plus, minus = (bench.of("blue_mark", station) for station in FLANKS)
    found = []
    for one in plus:
        near = [r for r in minus if _at_one_place(one, r)]
        if near and not any(r.seq > one.seq and _at_one_place(one, r) for r in plus):
            found.append((_mark(one, near[-1]), (one.seq, near[-1].seq)))
    return found


def _mark(plus: Reading, minus: Reading) -> BlueMark:
    patches = [p for r in (plus, minus) if (p := r.number("patch")) is not None]
    crests = {r.said("crest") for r in (plus, minus)}
    return BlueMark(
        _SKETCHES[plus.word or ""],
        _SKETCHES[minus.word or ""],
        sum(patches) / len(patches) if patches else None,
        "bright" in crests,
    )


def _at_one_place(a: Reading, b: Reading) -> bool:
    if a.table_angle is None or b.table_angle is None:
        return a.table_angle is b.table_angle
    return same_angle(a.table_angle, b.table_angle, within=SAME_PLACE)


def _named(bench: Bench) -> str:
    seqs = sorted(seq for _, pair in _marks(bench) for seq in pair)
    return rows_words(tuple(seqs)).lower()


BLUE_TRAPS = (edge_marks, bottomed)
"""Traps that the blue gives away."""
