"""Series read out value after value, and tables from a file."""

from __future__ import annotations

from pathlib import Path

import pytest

from wormwright.app.refused import Refused
from wormwright.app.series import Series
from wormwright.app.table_file import entries_of_file
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS
from wormwright.store.entry import ReadingText

PIN = {"pin_radius": "80 mm"}


class Bench:
    """Keeps what a series stores, numbered from 1."""

    def __init__(self) -> None:
        self.stored: list[ReadingText] = []

    def append(self, entry: ReadingText) -> Reading:
        if "x" in entry.raw:
            raise ValueError("not a reading")
        self.stored.append(entry)
        return Reading(seq=len(self.stored), kind=entry.kind, raw=entry.raw)


def a_series(kind: str, bench: Bench, *places: str) -> Series:
    return Series(KINDS[kind], ReadingText(kind, ""), bench.append, places)


def test_values_alone_fill_the_positions_given_in_advance() -> None:
    bench = Bench()
    series = a_series("rock", bench, "0 deg", "32 deg")
    assert series.prompt == "1: rock at 0 deg"
    assert not series.take("65").over
    assert series.take("68").over, "the last position ends the series"
    assert [(e.table_angle, e.raw) for e in bench.stored] == [("0 deg", "65"), ("32 deg", "68")]


def test_without_positions_the_angle_is_asked_before_each_value() -> None:
    bench = Bench()
    series = a_series("rock", bench)
    for line in ("30 deg", "0.28 mm", "60 deg", "0.27 mm"):
        assert not series.take(line).over
    assert series.take("").over
    assert [(e.table_angle, e.raw) for e in bench.stored] == [
        ("30 deg", "0.28 mm"),
        ("60 deg", "0.27 mm"),
    ]


def test_undo_supersedes_and_goes_on_where_it_was() -> None:
    bench = Bench()
    series = a_series("rock", bench, "0 deg", "32 deg", "60 deg")
    for line in ("65", "86", "u", "68", "66"):
        series.take(line)
    assert [(e.table_angle, e.raw, e.supersedes) for e in bench.stored] == [
        ("0 deg", "65", None),
        ("32 deg", "86", None),
        ("32 deg", "68", 2),
        ("60 deg", "66", None),
    ]


def test_undo_twice_goes_two_back() -> None:
    bench = Bench()
    series = a_series("worm_end_play", bench)
    for line in ("1", "2", "u", "u", "3", "4"):
        series.take(line)
    assert [(e.raw, e.supersedes) for e in bench.stored] == [
        ("1", None),
        ("2", None),
        ("3", 1),
        ("4", 2),
    ]


def test_a_refused_value_is_asked_for_again() -> None:
    bench = Bench()
    series = a_series("rock", bench, "0 deg", "32 deg")
    series.take("65")
    with pytest.raises(ValueError, match="not a reading"):
        series.take("6x")
    assert series.prompt == "2: rock at 32 deg"
    assert len(bench.stored) == 1


def test_a_ditto_mark_repeats_the_value_above_and_says_so() -> None:
    bench = Bench()
    series = a_series("worm_end_play", bench)
    assert "no value above" in series.take("do.").words
    series.take("12 µm")
    series.take("do.")
    assert [e.raw for e in bench.stored] == ["12 µm", "12 µm"]
    assert "copied" in bench.stored[1].note


def test_a_table_declares_units_once_and_keeps_the_texts_as_typed(tmp_path: Path) -> None:
    path = tmp_path / "rock.csv"
    path.write_text(
        "table_angle [deg],reading [tenths],pin_radius,note\n"
        "0,65,3.5 in,\n"
        "\n"
        "32,68,3.5 in,by hand\n"
        "60,do.,do.,\n"
        "92,,3.5 in,not read\n",
        encoding="utf-8",
    )
    rows = entries_of_file(path, kind="rock")
    assert [line for line, _ in rows] == [2, 4, 5]
    entries = [entry for _, entry in rows]
    assert [e.raw for e in entries] == ["65", "68", "68"]
    assert {e.column_unit for e in entries} == {"tenths"}
    assert [e.table_angle for e in entries] == ["0 deg", "32 deg", "60 deg"]
    assert {e.conditions["pin_radius"] for e in entries} == {"3.5 in"}
    assert entries[1].note == "by hand"
    assert "copied" in entries[2].note


def test_a_spreadsheet_with_semicolons_and_a_byte_order_mark_is_read(tmp_path: Path) -> None:
    path = tmp_path / "play.csv"
    path.write_bytes("\ufeffkind;reading\r\nworm_end_play;0.03 mm\r\n".encode())
    ((_, entry),) = entries_of_file(path)
    assert (entry.kind, entry.raw) == ("worm_end_play", "0.03 mm")


@pytest.mark.parametrize(
    ("text", "seen"),
    [
        ("", "empty file"),
        ("angle,reading\n1,2\n", "'angle'"),
        ("reading,reading\n1,2\n", "each column once"),
        ("table_angle\n30 deg\n", "a column named reading"),
        ("reading\n0.03 mm\n", "a column named kind"),
        ("kind,reading\nrock,1 mm,extra\n", "3"),
        ("kind,reading\nrock,\n", "at least one filled reading"),
        ('kind,reading\nrock,"1\n', "cells"),
    ],
)
def test_a_table_that_is_none_is_refused_with_its_line(
    text: str, seen: str, tmp_path: Path
) -> None:
    path = tmp_path / "wrong.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Refused) as refusal:
        entries_of_file(path)
    (doubt,) = refusal.value.doubts
    assert "wrong.csv, line " in doubt.seen
    assert seen in f"{doubt.seen} {doubt.do}"


def test_conditions_typed_once_go_to_the_kinds_that_know_them(tmp_path: Path) -> None:
    path = tmp_path / "both.csv"
    path.write_text("kind,reading\nrock,1 mm\nteeth,80\n", encoding="utf-8")
    rock, teeth = (entry for _, entry in entries_of_file(path, conditions=PIN))
    assert dict(rock.conditions) == PIN
    assert dict(teeth.conditions) == {}
