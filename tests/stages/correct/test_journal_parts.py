"""Worn journal bushes come with the bushes to make, which their sheets accept."""

from __future__ import annotations

from dataclasses import replace

import pytest

import correct_fixture as made
from wormwright.bench import Bench, Figure
from wormwright.drawings.part_sheet import part_text
from wormwright.drawings.style import SheetStyle
from wormwright.stages.correct.facts import EndBearing, Facts, facts_of
from wormwright.stages.correct.journal_parts import closing_when_pressed, journal_parts
from wormwright.stages.correct.part_names import part_caption, part_name


def figure(value: float) -> Figure:
    return Figure(value, 0.001, 1, float("inf"), ())


def facts(
    *, journal: float = 16.0, housing: float = 24.0, width: float = 18.0, metal: str = "cast iron"
) -> Facts:
    job = replace(made.job(), rotary=replace(made.job().rotary, housing_material=metal))
    got = facts_of(job, Bench(job, tuple(made.readings())), made.diagnosis())
    end = replace(got.ends[0], seat=figure(journal), housing_bore=figure(housing), width=width)
    return replace(got, ends=(end, end))


def unread(which: str) -> Facts:
    got = facts()
    end: EndBearing = replace(got.ends[0], **{which: None})  # type: ignore[arg-type]  # one field
    return replace(got, ends=(end, got.ends[1]))


@pytest.mark.parametrize(
    ("journal", "housing", "width"), [(16.0, 24.0, 18.0), (6.0, 10.0, 8.0), (40.0, 52.0, 45.0)]
)
def test_both_bushes_are_drawn(journal: float, housing: float, width: float) -> None:
    bushes = journal_parts(facts(journal=journal, housing=housing, width=width))
    assert [b.side for b in bushes] == ["A", "B"]
    for bush in bushes:
        assert part_text(bush, SheetStyle()).notes
    assert [part_name(b) for b in bushes] == ["journal-bush-a", "journal-bush-b"]
    assert part_caption(bushes[0]) == "Journal bush, end A"


def test_the_bore_is_left_small_enough_to_finish_after_it_has_closed() -> None:
    """By hand: 16 + 0.012 + what it closes - 0.2; p6 at 24 mm is +0.035 / +0.022 (ISO 286-2)."""
    bush = journal_parts(facts())[0]
    assert (bush.outside.upper, bush.outside.lower) == pytest.approx((0.035, 0.022))
    assert 0.5 * 0.0285 < bush.closes < 0.0285
    after = bush.bore_turned - bush.closes
    assert bush.bore.size + bush.bore.lower - after == pytest.approx(0.2, abs=0.006)
    assert (bush.bore.lower, bush.bore.upper) == (0.012, 0.030)


def test_in_a_housing_of_unknown_metal_the_whole_press_is_reckoned_with() -> None:
    found = facts(metal="adamant")
    assert closing_when_pressed(found, found.ends[0]) is None
    assert journal_parts(found)[0].closes == pytest.approx(0.035)


@pytest.mark.parametrize("which", ["seat", "housing_bore", "width"])
def test_a_bush_whose_sizes_were_not_read_is_not_drawn(which: str) -> None:
    assert [b.side for b in journal_parts(unread(which))] == ["B"]


def test_a_wall_too_thin_to_press_is_not_drawn() -> None:
    assert journal_parts(facts(journal=16.0, housing=18.0)) == ()
