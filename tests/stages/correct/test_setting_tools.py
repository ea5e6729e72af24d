"""Each pair of bushings comes with the spanner that fits its slots and the key that fits it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

import correct_fixture as made
from drawings.sample_parts import bushing, large, small
from wormwright.drawings.part_sheet import part_text
from wormwright.drawings.style import SheetStyle
from wormwright.job.blocks import PartDrawing
from wormwright.job.parts import EccentricBushing, Part, SettingKey, SettingSpanner
from wormwright.stages.correct import correct, report
from wormwright.stages.correct.part_names import part_caption, part_name
from wormwright.stages.correct.setting_tools import PIN, setting_tools
from wormwright.traveler.stock import stock


def _slotted(part: EccentricBushing) -> EccentricBushing:
    return replace(part, slot_width=4.5)


def _split(parts: tuple[Part, ...]) -> tuple[list[SettingSpanner], list[SettingKey]]:
    return (
        [p for p in parts if isinstance(p, SettingSpanner)],
        [p for p in parts if isinstance(p, SettingKey)],
    )


def test_a_pair_with_alike_flanges_gets_two_alike_spanners_and_two_keys() -> None:
    (spanner,), (key,) = _split(setting_tools((bushing("A"), bushing("B"))))
    assert (spanner.quantity, key.quantity) == (2, 2)
    assert spanner.pin_circle == 56.0
    # by hand: a third of a turn less 40 degrees, less 0.5 mm of play on a radius of 28 mm
    assert spanner.pin_spread == pytest.approx(math.radians(80) - 0.5 / 28)
    assert spanner.pin_reach < 5.0 < spanner.plate_thickness
    assert spanner.centre_hole + PIN.size < 56.0
    assert key.key_slot == spanner.key_slot
    assert key.lever_radius == spanner.key_radius
    assert key.throw == spanner.throw == 0.4


def test_unlike_flanges_get_a_spanner_each_but_keys_of_one_kind() -> None:
    spanners, keys = _split(setting_tools((bushing("A"), large("B", slot_width=4.5))))
    assert [s.quantity for s in spanners] == [1, 1]
    assert len({s.reading_radius for s in spanners}) == 1  # one key serves both
    assert len(keys) == 1
    assert keys[0].throw == 2.0


@pytest.mark.parametrize("part", [bushing(), _slotted(small()), _slotted(large())])
@pytest.mark.parametrize(("sweep", "count"), [(20.0, 3), (60.0, 3), (85.0, 2), (25.0, 4)])
def test_spanner_and_key_of_any_flange_can_be_drawn(
    part: EccentricBushing, sweep: float, count: int
) -> None:
    """The sheets refuse pins that do not bear, keys that do not fit and levers that are short."""
    slotted = replace(part, slot_sweep=math.radians(sweep), slot_count=count)
    for tool in setting_tools((slotted, replace(slotted, side="B"))):
        assert part_text(tool, SheetStyle()).notes


def test_no_bushings_no_tools() -> None:
    assert setting_tools(()) == ()


def test_a_bushing_plan_hands_over_its_tools_with_their_names_and_drawings() -> None:
    found = made.diagnosis(kinds=(("helical", 1.0),))
    job = made.job()
    got = correct(job, made.readings(), found, draws=8192)
    assert got.chosen is not None
    (correction,) = [c for c in got.chosen.corrections if c.key == "bushings"]
    tools = [p for p in correction.parts if isinstance(p, SettingSpanner | SettingKey)]
    assert [part_name(p) for p in tools] == ["setting-spanner", "setting-key"]
    assert [part_caption(p) for p in tools] == ["Setting spanner", "Setting key"]
    drawn = {b.name for b in report(got, job) if isinstance(b, PartDrawing)}
    assert {"setting-spanner", "setting-key", "bushing-a", "bushing-b"} <= drawn
    assert any("setting spanners, both ends together" in step for step in correction.steps)
    for tool in tools:
        assert part_text(tool, SheetStyle()).notes


def test_the_list_of_materials_counts_both_spanners_and_both_keys() -> None:
    items = {i.use: i.amount for i in stock(setting_tools((bushing("A"), bushing("B"))), "mm")}
    assert items["setting spanner"] == items["block of the setting key"] == "2"
    assert items["setting key"].endswith("long"), "both keys out of one bar"
