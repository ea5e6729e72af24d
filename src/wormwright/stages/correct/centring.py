"""The wheel moved along its axis until the worm stands in the middle of its throat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from wormwright.bench import Bench
from wormwright.core.blue_mark import (
    BlueFinding,
    BlueMark,
    Sketch,
    cause_of_mark,
    cause_round_the_wheel,
)
from wormwright.job.corrections import Correction
from wormwright.job.reading import Reading
from wormwright.stages.correct.cure import Cure
from wormwright.stages.correct.facts import Facts
from wormwright.stages.correct.unit import GOLDEN, Array, UnitRows, bedding_loss
from wormwright.stages.correct.wording import length

SEEN_OFF, USUAL_OFF = 0.05, 0.15
"""How far off the throat a worm stands when both flanks mark at one edge, mm (common practice)."""

FLANKS = ("flank plus", "flank minus")
"""Stations of the blue marks."""


def blue_says(facts: Facts, bench: Bench) -> BlueFinding | None:
    """What the blue marks of both flanks say together, or None when they were not read."""
    marks = tuple(_marks(bench))
    if not marks:
        return None
    hand = facts.pair.hand
    if len(marks) == 1:
        return cause_of_mark(marks[0], hand=hand)
    return cause_round_the_wheel(marks, hand=hand)


def _marks(bench: Bench) -> Iterator[BlueMark]:
    """Marks at each place of the wheel where both flanks were looked at."""
    by_place: dict[tuple[float, str], Reading] = {}
    for row in bench.of("blue_mark"):
        if row.word and row.table_angle is not None:
            by_place[round(row.table_angle, 3), row.station] = row
    for angle in dict.fromkeys(place for place, _ in by_place):
        both = [by_place.get((angle, flank)) for flank in FLANKS]
        plus, minus = both
        if plus is None or minus is None:
            continue
        bright = "bright" in (plus.said("crest"), minus.said("crest"))
        yield BlueMark(_sketch(plus), _sketch(minus), plus.number("patch"), bright)


def _sketch(row: Reading) -> Sketch:
    return row.word  # type: ignore[return-value]  # one of the choices of its kind


def wheel_centring(facts: Facts, bench: Bench) -> Cure | None:
    """Shims that bring the wheel's throat under the worm; None unless the blue asks for it."""
    said = blue_says(facts, bench)
    if said is None or said.move.part != "wheel":
        return None
    units = facts.job.units
    way = "table top" if said.move.way == "along +Z" else "table base"
    steps = (
        f"Blue: {said.why}.",
        f"Move the wheel toward the {way} by shims under its seat, {length(0.05, units)} at a "
        "time; if the wheel holds the table down, its shim and the retainer's are one stack.",
        "Blue again after each: the patch moves inward on both flanks alike. Half of the shims "
        "between marking one edge and marking the other is the middle.",
        "No blue at hand: read the rock at the tight spot after each shim. It rises as the worm "
        "comes to the middle and falls beyond it; the most is the middle.",
        "The rock will be larger than before: what the edges hid has come out. Only now may the "
        "mesh be closed.",
    )
    correction = Correction(
        "wheel_centring",
        "Wheel centred on the worm by shims along its axis",
        "The mesh is shut at one edge of the face while it stands too far out; it reads well today "
        "and loosens as that edge wears.",
        (),
        (),
        steps,
        ("axial_centring", "wheel_joint", "final_depth"),
        75.0,
    )
    return Cure(correction)


def off_centre(unit: UnitRows) -> UnitRows:
    """The unit whose blue marks one edge: some backlash is hidden there and will come out."""
    place = ((np.arange(unit.count) + 0.5) * GOLDEN * 7) % 1.0
    aside: Array = np.asarray(SEEN_OFF + (USUAL_OFF - SEEN_OFF) * place, dtype=np.float64)
    return replace(unit, hidden_at_edge=bedding_loss(unit, np.zeros(unit.count), aside))


def centred(unit: UnitRows) -> UnitRows:
    """The same unit with its wheel centred: what the edges hid is backlash now."""
    return replace(unit, mesh=unit.mesh + unit.hidden_at_edge, hidden_at_edge=0.0)
