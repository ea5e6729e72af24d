"""The marks of blue in the report: set position and faults, by wheel kind and hand."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Literal

import numpy as np
import pytest

import correct_fixture as made
from wormwright.job.blocks import BluePicture, BlueState, Paragraph
from wormwright.job.corrections import WormPlace
from wormwright.job.pair import WheelKind, WormPair
from wormwright.job.rotary import Units
from wormwright.stages.correct import correct, report
from wormwright.stages.correct.blue import blue_blocks, blue_pictures

HOB_EQUAL: tuple[tuple[WheelKind, float], ...] = (("hob-equal", 1.0),)


def stands(
    kinds: tuple[tuple[WheelKind, float], ...] = HOB_EQUAL,
    hand: Literal["right", "left"] = "right",
    teeth: int = 72,
) -> WormPlace:
    pair = WormPair(
        teeth=teeth,
        starts=1,
        hand=hand,
        axial_module=1.5,
        pressure_angle=math.radians(20),
        pressure_angle_u=0.002,
        worm_d1=24.0,
        face_width=14.0,
        kinds=kinds,
        hob_excess_max=0.6,
    )
    return WormPlace(pair, 0.1, 0.01, 0.0, 0.05)


def states_of(place: WormPlace, units: Units = "mm") -> list[BlueState]:
    return [state for picture in blue_pictures(place, units) for state in picture.states]


def test_the_report_has_the_picture_of_blue_with_the_set_place_and_the_usual_faults() -> None:
    job = made.job()
    got = correct(job, made.readings(), made.diagnosis())
    names = " ".join(
        s.name for b in report(got, job) if isinstance(b, BluePicture) for s in b.states
    )
    for fault in ("As set", "Too far out", "Too deep", "to +Z", "to −Z", "Skewed", "Bottomed"):
        assert fault in names


def test_a_worm_that_stays_where_it_is_brings_no_picture() -> None:
    job = made.job()
    got = correct(job, made.readings(), made.diagnosis(), plan="leave")
    assert not any(isinstance(b, BluePicture) for b in report(got, job))


def test_every_kind_still_possible_has_its_own_mark_as_set_and_the_words_say_so() -> None:
    kinds: tuple[tuple[WheelKind, float], ...] = (
        ("hob-equal", 0.2),
        ("oversize-hob", 0.6),
        ("helical", 0.2),
    )
    note = blue_blocks(stands(kinds), "mm")[1]
    assert isinstance(note, Paragraph)
    set_states = [s for s in states_of(stands(kinds)) if s.name.startswith("As set")]
    assert [s.name.partition(": ")[2] for s in set_states] == [
        "wheel cut by an oversize hob",
        "wheel cut by a hob of the worm's size",
        "plain helical wheel",
    ]
    assert "not settled" in note.text
    assert "does not tell the middle" in note.text
    assert [s.name for s in states_of(stands())].count("As set") == 1


def test_sides_follow_the_hand_of_the_worm() -> None:
    hands: tuple[Literal["right", "left"], ...] = ("right", "left")
    right, left = (blue_pictures(stands(hand=hand), "mm") for hand in hands)
    assert {p.plus_enters_at for p in right} == {1}
    assert {p.plus_enters_at for p in left} == {-1}
    far = [p[1].states[0] for p in (right, left)]
    assert "minus edge" in far[0].plus.words
    assert "plus edge" in far[1].plus.words


def test_a_bottomed_worm_marks_the_root_and_no_other_state_does() -> None:
    crests = {s.name: s.crest for s in states_of(stands())}
    resting = crests.pop("Bottomed on the worm crest")
    assert resting is not None
    assert resting.min() == 0.0
    assert resting.max() > 0.008
    assert all(crest is None for crest in crests.values())


def test_both_unit_systems_say_the_same_sizes_in_their_own_words() -> None:
    metric, inch = states_of(stands(), "mm"), states_of(stands(), "in")
    assert "0.15 mm" in " ".join(s.name for s in metric)
    assert "0.15 mm" not in " ".join(s.name for s in inch)
    for a, b in zip(metric, inch, strict=True):
        assert np.array_equal(a.plus.gap, b.plus.gap)


def test_a_pair_that_cannot_run_is_told_instead_of_drawn() -> None:
    cut_under = stands(teeth=8)
    blocks = blue_blocks(replace(cut_under, pair=replace(cut_under.pair, starts=4)), "mm")
    assert not any(isinstance(b, BluePicture) for b in blocks)
    assert isinstance(blocks[1], Paragraph)
    assert "cannot be drawn" in blocks[1].text


@pytest.mark.parametrize("left", [-0.03, 0.0, 0.05])
def test_the_set_place_of_the_plan_is_the_one_that_is_marked(left: float) -> None:
    place = replace(stands(), left=left)
    states, again = states_of(place), states_of(replace(place, left=left + 0.1))
    assert not np.array_equal(states[0].plus.gap, again[0].plus.gap)
    assert np.array_equal(states[1].plus.gap, again[1].plus.gap)
