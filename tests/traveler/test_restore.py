"""Back to the first day: what to put back, in reverse order, with marks and sizes as found."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planned_job import planned, reading, sign_off
from wormwright.job.blocks import Block, Cautions, Paragraph, Table
from wormwright.job.operation import Operation
from wormwright.traveler import ALL, way_back
from wormwright.traveler.restore import restore_list, sizes_at_baseline

FOUND = [
    replace(reading(1, "table_shim"), raw="0.500 mm"),
    replace(reading(2, "worm_shim"), raw="0.298 mm"),
    replace(reading(3, "bearing_marking", station="A"), raw="6001-2RS", word="6001-2RS"),
    replace(reading(4, "bearing_marking", station="B"), raw="6001-2RS", word="6001-2RS"),
]


def rows_of(blocks: tuple[Block, ...]) -> list[list[str]]:
    table = next(b for b in blocks if isinstance(b, Table) and b.key == "restore")
    assert all(len(row) == len(table.columns) for row in table.rows)
    return [[cell.text for cell in row] for row in table.rows]


def test_what_was_signed_comes_back_latest_first_with_marks_and_sizes_as_found() -> None:
    signed = [
        sign_off(10, "baseline"),
        replace(sign_off(11, "strip_wash"), note="two shims under the cover"),
        sign_off(12, "table_bearing"),
        sign_off(13, "worm_end_play"),
    ]
    anew = replace(reading(14, "worm_shim"), raw="0.259 mm")
    rows = rows_of(way_back([*FOUND, anew], signed))
    assert [row[0] for row in rows] == ["6", "2", "1"]
    assert rows[0][1] == "worm shim or spacer: old shim, tied to its seat"
    assert rows[0][2] == "cover against housing, pop mark"
    assert "worm shim in place 0.298 mm" in rows[0][3]
    assert "0.259" not in rows[0][3], "the size as found, not the new one"
    assert rows[0][4].startswith("Old shim back on its seat")
    assert "table shim in place 0.500 mm" in rows[1][3]
    assert rows[2][4].endswith("Noted: two shims under the cover.")
    assert {row[5] for row in rows} == {"changed, signed AB"}


def test_order_is_that_of_the_work_done_not_of_the_plan() -> None:
    signed = [
        sign_off(11, "strip_wash"),
        sign_off(12, "worm_end_play"),
        sign_off(13, "table_bearing", "failed"),
        sign_off(14, "worm_end_play"),
    ]
    assert [row[0] for row in rows_of(way_back(FOUND, signed))] == ["6", "2", "1"]
    assert [row[0] for row in rows_of(way_back(FOUND, signed[:3]))] == ["2", "6", "1"]


def test_an_operation_that_left_the_plan_after_it_was_signed_is_still_put_back() -> None:
    signed = [sign_off(11, "strip_wash"), sign_off(12, "bushings_in")]
    blocks = restore_list(planned("worm_shim"), readings=FOUND, sign_offs=signed)
    done = [row for row in rows_of(blocks) if row[5] != "not yet"]
    assert [row[0] for row in done] == ["7a", "1"]
    assert "worm bearing, marking A 6001-2RS / B 6001-2RS" in done[0][3]


def test_the_list_on_paper_says_what_will_be_changed_before_the_work_begins() -> None:
    plan = planned("worm_shim", "bushings")
    rows = rows_of(restore_list(plan, readings=FOUND, sign_offs=[]))
    assert {row[5] for row in rows} == {"not yet"}
    changing = [op.number for op in reversed(plan) for _ in op.restores]
    assert [row[0] for row in rows] == changing


def test_what_cannot_be_undone_is_said_before_the_list() -> None:
    signed = [sign_off(11, "strip_wash"), sign_off(12, "worm_relief")]
    blocks = way_back([replace(reading(1, "worm_od"), raw="24.78 mm")], signed)
    warned = next(b for b in blocks if isinstance(b, Cautions))
    assert warned.lines[0] == "Cannot be undone:"
    assert "does not come back" in warned.lines[1]
    assert "worm outside diameter 24.78 mm" in rows_of(blocks)[0][3]


def test_with_nothing_changed_there_is_nothing_to_put_back() -> None:
    for signed in ([], [sign_off(1, "baseline"), sign_off(2, "warm_recheck")]):
        (only,) = way_back(FOUND, signed)
        assert isinstance(only, Paragraph)
        assert "Nothing has been changed yet" in only.text


def test_sizes_that_were_never_read_say_so_and_long_series_are_counted() -> None:
    rocks = [reading(n, "rock") for n in range(1, 13)]
    said = sizes_at_baseline(("rock", "worm_od"), rocks)
    assert said == (
        "table rock on one pin 12 readings on the sheet; worm outside diameter not read"
    )
    assert sizes_at_baseline((), rocks) == "nothing to read"


@pytest.mark.parametrize(
    "op",
    [op for op in ALL.values() if op.makes_stale or op.lasting],
    ids=lambda op: op.key,
)
def test_every_operation_that_changes_the_unit_says_what_to_put_back(op: Operation) -> None:
    bedded = {"bed_in"}
    assert op.restores or op.key in bedded, "flanks that have bedded stay bedded"
    for thing in op.restores:
        assert thing.thing
        assert thing.old_part
        assert thing.mark
