"""Every part that can be handed over is drawn and told in words, in both units."""

from __future__ import annotations

from typing import get_args

import pytest

from drawings.sample_parts import PARTS
from wormwright.drawings import SheetStyle
from wormwright.drawings.part_sheet import part_text
from wormwright.job.parts import Part
from wormwright.job.rotary import Units
from wormwright.packet.part_sizes import part_rows

KINDS = get_args(Part)


def _one_of(kind: type) -> Part:
    return next(part for part in PARTS.values() if type(part) is kind)


@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_part_has_a_sheet_and_a_table_of_sizes(kind: type) -> None:
    part = _one_of(kind)
    assert part_text(part, SheetStyle()).name
    labels = [row[0].primary for row in part_rows(part, "mm")]
    assert len(labels) == len(set(labels)) > 3


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("kind", KINDS)
def test_lengths_are_told_in_the_leading_unit_and_in_the_other(kind: type, units: Units) -> None:
    rows = part_rows(_one_of(kind), units)
    names: dict[Units, set[str]] = {"mm": {"mm", "µm"}, "in": {"in", "thou"}}
    lengths = [size for _, size in rows if size.other]
    assert len(lengths) > 2
    for size in lengths:
        assert names[units] & set(size.primary.split()), size
        assert not names[units] & set(size.other.split()), size
