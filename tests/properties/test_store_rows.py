"""readings.csv and signoffs.csv: what was typed comes back, nothing is lost, nothing is guessed."""

from __future__ import annotations

import csv
import io
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store_samples import CLEAN_GATE, END_PLAY_GATE, JOB, KINDS, ROCK, make, opened, rock
from wormwright.job.operation import SignOff
from wormwright.job.reading import Reading
from wormwright.store import JobFolderError, ReadingText

TEXT = st.text(max_size=30)


@contextmanager
def fresh() -> Iterator[Path]:
    with tempfile.TemporaryDirectory() as place:
        yield make(Path(place))


def fields(error: pytest.ExceptionInfo[JobFolderError]) -> list[str]:
    return [fault.field for fault in error.value.faults]


@settings(max_examples=40, deadline=None)
@given(note=TEXT, instrument=TEXT, remark=TEXT, marking=TEXT)
def test_arbitrary_text_comes_back_exactly_after_the_folder_is_opened_again(
    note: str, instrument: str, remark: str, marking: str
) -> None:
    with fresh() as place:
        written = opened(place).append_readings(
            [
                rock(
                    "19 thou",
                    note=note,
                    instrument=instrument,
                    conditions={**ROCK, "remark": remark},
                ),
                ReadingText("marking", marking, station="B"),
            ]
        )
        again = opened(place)
        assert again.readings == written
        assert again.problems == ()
        assert (written[0].note, written[0].instrument) == (note, instrument)
        assert written[1].raw == marking
        assert (written[0].said("remark") or "") == remark.strip()


def test_the_parsed_reading_keeps_core_units_beside_the_raw_text(tmp_path: Path) -> None:
    reading = opened(make(tmp_path)).append_reading(
        "rock", "+0.140 / -0.135 mm", table_angle="90 deg", conditions=ROCK, u="1 thou"
    )
    assert reading.raw == "+0.140 / -0.135 mm"
    assert reading.value == pytest.approx(0.275)
    assert reading.unit == "mm"
    assert reading.table_angle == pytest.approx(1.5707963267948966)
    assert reading.number("pin_radius") == 80.0
    assert reading.number("torque") == 3000.0
    assert reading.u == pytest.approx(0.0254)
    assert reading.when == "2026-03-04T05:06:07+00:00"


def test_a_column_unit_is_kept_and_used_again_on_reading_back(tmp_path: Path) -> None:
    reading = opened(make(tmp_path)).append_reading("end_play", "2.5", column_unit="thou")
    assert (reading.raw, reading.unit) == ("2.5", "thou")
    assert opened(tmp_path).readings[0].value == pytest.approx(0.0635)


@pytest.mark.parametrize(
    ("raw", "flag"),
    [("", "missing"), (" - ", "missing"), ("—", "missing"), (">10 mm", "off scale")],
)
def test_an_unusable_reading_keeps_its_text_and_has_no_value(
    tmp_path: Path, raw: str, flag: str
) -> None:
    opened(make(tmp_path)).append_readings([ReadingText("end_play", raw)])
    reading = opened(tmp_path).readings[0]
    assert (reading.raw, reading.value, reading.flags) == (raw, None, (flag,))


def test_a_range_or_an_about_brings_its_own_uncertainty(tmp_path: Path) -> None:
    about, spread = opened(make(tmp_path)).append_readings(
        [ReadingText("end_play", "~3 thou"), ReadingText("end_play", "0.3-0.4 mm")]
    )
    assert about.u == pytest.approx(2 * 0.002)
    assert spread.u == pytest.approx((0.002**2 + (0.05**2) / 3) ** 0.5)


def test_a_reversed_push_and_pull_is_kept_for_the_sign_check(tmp_path: Path) -> None:
    reading = opened(make(tmp_path)).append_readings([rock("-0.140 / +0.135 mm")])[0]
    assert reading.value == pytest.approx(-0.275)


def test_everything_wrong_in_a_series_is_told_at_once_and_nothing_is_written(
    tmp_path: Path,
) -> None:
    folder = opened(make(tmp_path))
    folder.append_reading("end_play", "0.1 mm")
    before = (tmp_path / "readings.csv").read_bytes()
    with pytest.raises(JobFolderError) as told:
        folder.append_readings(
            [
                rock("0.2 mm"),
                ReadingText("rokc", "1 mm"),
                rock("19", table_angle="", conditions={"pin_radius": "8 km", "x": "1"}),
                rock("nan mm"),
                rock("7 m"),
                rock("1,5 mm", conditions={**ROCK, "worm_held": "by hand", "pin_radius": "2 mm"}),
                ReadingText("end_play", "0.1 mm", station="A", u="-1 mm", supersedes=99),
                ReadingText("hand", "leftish"),
                ReadingText("end_play", "0.1 mm", note="x" * 3000),
            ]
        )
    assert sorted(fields(told)) == sorted(
        [
            "entry 2: kind",
            "entry 3: raw",
            "entry 3: table_angle",
            "entry 3: conditions.x",
            "entry 3: conditions.pin_radius",
            "entry 3: conditions.torque",
            "entry 3: conditions.worm_held",
            "entry 4: raw",
            "entry 5: raw",
            "entry 6: raw",
            "entry 6: conditions.worm_held",
            "entry 6: conditions.pin_radius",
            "entry 7: station",
            "entry 7: u",
            "entry 7: supersedes",
            "entry 8: raw",
            "entry 9: ",
        ]
    )
    assert all(fault.expected and fault.got and fault.do for fault in told.value.faults)
    assert (tmp_path / "readings.csv").read_bytes() == before
    assert len(folder.readings) == 1


def test_tenths_are_refused_in_a_metric_job_and_outlive_a_later_change_of_units(
    tmp_path: Path,
) -> None:
    inch = opened(make(tmp_path, 'units = "in"\n' + JOB))
    inch.append_reading("end_play", "2 tenths")
    inch.save_job({"units": "mm"})
    with pytest.raises(JobFolderError, match="tenth"):
        inch.append_reading("end_play", "2 tenths")
    assert opened(tmp_path).readings[0].value == pytest.approx(0.00508)


def test_a_reading_is_superseded_once_and_only_if_it_exists(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    first = folder.append_reading("end_play", "0.1 mm")
    second = folder.append_reading("end_play", "0.2 mm", supersedes=first.seq)
    assert second.supersedes == first.seq
    for old in (first.seq, 77):
        with pytest.raises(JobFolderError) as told:
            folder.append_reading("end_play", "0.3 mm", supersedes=old)
        assert fields(told) == ["supersedes"]
    with pytest.raises(JobFolderError) as told:
        folder.append_readings([ReadingText("end_play", "1 mm", supersedes=2)] * 2)
    assert fields(told) == ["entry 2: supersedes"]
    assert [reading.seq for reading in folder.readings] == [1, 2]


def test_one_number_runs_through_both_files(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    folder.append_reading("end_play", "0.1 mm")
    other = opened(tmp_path)
    signed = other.append_sign_off("worm_end_play", initials="M", verdict="done")
    assert signed.seq == 2
    assert folder.append_reading("end_play", "0.1 mm").seq == 3  # opened before the sign-off
    assert [s.seq for s in folder.sign_offs] == [2]


def test_a_sign_off_comes_back_with_its_gates_in_core_units(tmp_path: Path) -> None:
    gates = [(END_PLAY_GATE, "0.4 thou"), (CLEAN_GATE, "Yes")]
    signed = opened(make(tmp_path)).append_sign_off(
        "worm_end_play", initials="=M", verdict="passed", gates=gates, note="a; b=c\nd"
    )
    again = opened(tmp_path)
    assert again.sign_offs == (signed,)
    assert again.problems == ()
    end_play, clean = signed.gate_values
    assert end_play[1] == pytest.approx(0.01016)
    assert (end_play[0], end_play[2]) == ("end_play", "0.4 thou")
    assert clean == ("clean", 1.0, "Yes")
    assert (signed.initials, signed.note) == ("=M", "a; b=c\nd")


def test_everything_wrong_in_a_sign_off_is_told_at_once(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    with pytest.raises(JobFolderError) as told:
        folder.append_sign_off(
            " ",
            initials="",
            verdict="fine",
            gates=[(END_PLAY_GATE, ">1 mm"), (CLEAN_GATE, "perhaps"), (END_PLAY_GATE, "2")],
        )
    assert fields(told) == [
        "operation",
        "initials",
        "verdict",
        "gates.end_play",
        "gates.end_play",
        "gates.clean",
        "gates.end_play",
    ]
    assert not (tmp_path / "signoffs.csv").exists()


@pytest.mark.parametrize("newline", [b"\n", b"\r\n"])
def test_a_line_cut_at_any_byte_is_set_aside_and_the_rest_is_read(
    tmp_path: Path, newline: bytes
) -> None:
    folder = opened(make(tmp_path))
    folder.append_readings(
        [rock("0.2 mm", note='a,"b"\n°'), rock("0.21 mm"), rock("0.22 mm, ø")][:2]
    )
    folder.append_readings([rock("+0.1 / -0.1 mm", note='5′, "µ"')])
    whole = (tmp_path / "readings.csv").read_bytes().replace(b"\n", newline)
    start = whole.rindex(newline, 0, len(whole) - 1) + len(newline)
    for cut in range(start, len(whole)):
        place = make(tmp_path / f"cut{cut}")
        (place / "readings.csv").write_bytes(whole[:cut])
        again = opened(place)
        torn = place / "readings.csv.torn-1"
        complete = cut >= len(whole) - len(newline)
        assert [r.seq for r in again.readings] == ([1, 2, 3] if complete else [1, 2])
        if complete or cut == start:
            assert not torn.exists()
        else:
            assert torn.read_bytes() == whole[start:cut]
            assert (place / "readings.csv").read_bytes() == whole[:start]
            assert any("torn-1" in fault.do for fault in again.problems)
        added = again.append_reading("end_play", "0.1 mm")
        last = opened(place)
        assert last.readings[-1] == added
        assert [r.seq for r in last.readings] == ([1, 2, 3, 4] if complete else [1, 2, 3])
        assert not [fault for fault in last.problems if fault.action != "warn"]


def test_a_first_line_cut_at_any_byte_is_written_anew(tmp_path: Path) -> None:
    opened(make(tmp_path)).append_reading("end_play", "0.1 mm")
    first = (tmp_path / "readings.csv").read_bytes().split(b"\n")[0]
    for cut in range(len(first) + 1):
        place = make(tmp_path / f"cut{cut}")
        (place / "readings.csv").write_bytes(first[:cut])
        opened(place).append_reading("end_play", "0.1 mm")
        again = opened(place)
        assert [r.seq for r in again.readings] == [1]
        assert again.problems == ()


def test_a_second_torn_line_gets_a_name_of_its_own(tmp_path: Path) -> None:
    opened(make(tmp_path)).append_reading("end_play", "0.1 mm")
    for piece in (b"2,20", b"2,2026"):
        with (tmp_path / "readings.csv").open("ab") as out:
            out.write(piece)
        opened(tmp_path)
    assert (tmp_path / "readings.csv.torn-1").read_bytes() == b"2,20"
    assert (tmp_path / "readings.csv.torn-2").read_bytes() == b"2,2026"


def test_a_torn_line_that_cannot_be_set_aside_is_told_and_the_rest_is_read(tmp_path: Path) -> None:
    opened(make(tmp_path)).append_reading("end_play", "0.1 mm")
    with (tmp_path / "readings.csv").open("ab") as out:
        out.write(b"2,20")
    before = (tmp_path / "readings.csv").read_bytes()
    (tmp_path / ".lock").unlink()
    (tmp_path / ".lock").mkdir()  # as on a disk that cannot be written
    folder = opened(tmp_path)
    assert [reading.seq for reading in folder.readings] == [1]
    assert "could not be set aside" in folder.problems[0].got
    with pytest.raises(JobFolderError, match="a folder that can be written"):
        folder.append_reading("end_play", "0.1 mm")
    assert (tmp_path / "readings.csv").read_bytes() == before


def test_a_fraction_that_a_spreadsheet_made_a_date_is_not_used_and_can_be_superseded(
    tmp_path: Path,
) -> None:
    folder = opened(make(tmp_path))
    folder.append_reading("end_play", "1/4", column_unit="in", table_angle="10 deg")
    changed(tmp_path / "readings.csv", "1/4", "01-Apr", line=2)
    folder = opened(tmp_path)
    assert folder.readings == ()
    assert [(fault.field, fault.seq, fault.action) for fault in folder.problems] == [
        ("raw", 1, "refuse")
    ]
    folder.append_reading("end_play", "1/4 in", supersedes=1)
    assert opened(tmp_path).problems == ()


def changed(path: Path, old: str, new: str, *, line: int) -> None:
    lines = path.read_text(encoding="utf-8").split("\n")
    assert old in lines[line - 1]
    lines[line - 1] = lines[line - 1].replace(old, new, 1)
    path.write_text("\n".join(lines), encoding="utf-8")


def test_a_row_changed_by_hand_has_no_value_until_it_is_confirmed(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    folder.append_readings([rock("0.200 mm"), rock("0.210 mm")])
    changed(tmp_path / "readings.csv", "0.210 mm", "0.310 mm", line=3)
    folder = opened(tmp_path)
    assert folder.readings[1].value is None
    assert folder.readings[1].flags == ("hand-edited",)
    (told,) = folder.problems
    assert (told.line, told.seq, told.action) == (3, 2, "ask")
    before = (tmp_path / "readings.csv").read_bytes()
    confirmed = folder.confirm(2)
    assert (tmp_path / "readings.csv").read_bytes().startswith(before)
    assert opened(tmp_path).readings[1] == confirmed
    assert opened(tmp_path).problems == ()
    assert confirmed == folder.readings[1]
    assert isinstance(confirmed, Reading)
    assert (confirmed.value, confirmed.flags) == (0.31, ("confirmed",))
    changed(tmp_path / "readings.csv", "0.310 mm", "0.410 mm", line=3)
    assert opened(tmp_path).readings[1].value is None  # changed again: asks again
    with pytest.raises(JobFolderError, match="asks to be confirmed"):
        opened(tmp_path).confirm(1)


def test_a_changed_value_cell_asks_too_and_the_raw_text_counts(tmp_path: Path) -> None:
    opened(make(tmp_path)).append_reading("end_play", "0.250 mm")
    changed(tmp_path / "readings.csv", ",0.25,mm", ",0.35,mm", line=2)
    folder = opened(tmp_path)
    assert [fault.field for fault in folder.problems] == ["value"]
    folder.confirm(1)
    assert folder.readings[0].value == 0.25


def test_a_hand_edited_row_can_be_superseded_instead(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    folder.append_reading("end_play", "0.250 mm")
    changed(tmp_path / "readings.csv", "0.250", "0.350", line=2)
    folder = opened(tmp_path)
    folder.append_reading("end_play", "0.25 mm", supersedes=1)
    assert folder.problems == ()


def test_a_sign_off_changed_by_hand_counts_only_once_confirmed(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    folder.append_sign_off("worm_end_play", initials="M", verdict="failed")
    changed(tmp_path / "signoffs.csv", "failed", "passed", line=2)
    folder = opened(tmp_path)
    assert not folder.sign_offs
    assert [(fault.file, fault.action) for fault in folder.problems] == [("signoffs.csv", "ask")]
    signed = folder.confirm(1)
    assert isinstance(signed, SignOff)
    assert signed.verdict == "passed"
    assert folder.sign_offs[0] == signed
    assert opened(tmp_path).sign_offs[0] == signed


def resaved(path: Path, delimiter: str, newline: str, mark: bytes, comma: bool) -> None:
    rows = list(csv.reader(io.StringIO(path.read_text(encoding="utf-8"), newline="")))
    if comma:
        for row in rows[1:]:
            row[8] = row[8].replace(".", ",")
    out = io.StringIO()
    csv.writer(out, delimiter=delimiter, lineterminator=newline, quoting=csv.QUOTE_ALL).writerows(
        rows
    )
    path.write_bytes(mark + out.getvalue().encode())


@pytest.mark.parametrize("comma", [False, True])
@pytest.mark.parametrize(
    ("delimiter", "newline", "mark"),
    [
        (";", "\n", b""),
        (",", "\r\n", b""),
        (",", "\n", b"\xef\xbb\xbf"),
        (";", "\r\n", b"\xef\xbb\xbf"),
    ],
)
def test_a_file_saved_by_a_spreadsheet_is_told_read_and_added_to(
    tmp_path: Path, delimiter: str, newline: str, mark: bytes, comma: bool
) -> None:
    folder = opened(make(tmp_path))
    written = folder.append_readings(
        [rock("+0.140 / -0.135 mm", note="=1; x"), ReadingText("hand", "left")]
    )
    resaved(tmp_path / "readings.csv", delimiter, newline, mark, comma)
    folder = opened(tmp_path)
    assert folder.readings == written
    assert [(fault.action, "hand-edited" in fault.got) for fault in folder.problems] == [
        ("warn", True)
    ]
    added = folder.append_reading("end_play", "0.1 mm")
    again = opened(tmp_path)
    assert again.readings == (*written, added)
    assert len(again.problems) == 1
    assert (tmp_path / "readings.csv").read_bytes().endswith(newline.encode())


@pytest.mark.parametrize(
    ("line", "field", "got"),
    [
        ("x,,end_play,,,,1 mm,,1,mm,,,,,,,c0", "seq", "'x'"),
        ("1,,end_play,,,,1 mm,,1,mm,,,,,,,c0", "seq", "1 a second time"),
        ("7,,endplay,,,,1 mm,,1,mm,,,,,,,c0", "kind", "'endplay'"),
        ("7,,end_play,,,,nan mm,,nan,mm,,,,,,,c0", "raw", "'nan mm'"),
        ("7,,end_play,,,,9e9 mm,,1,mm,,,,,,,c0", "raw", "'9e9 mm'"),
        ("7,,end_play,,,,1 mm,,1,mm,,,pin=1 mm,,,,c0", "conditions.pin", "'pin'"),
        ("7,,end_play,,,,1 mm,,1,mm,,,pin,,,,c0", "conditions", "'pin' is not key=text"),
        ("7,,end_play,,,,1 mm,,1,mm,,,,,one,,c0", "supersedes", "'one'"),
        ("7,,,,,,,,,,,,,,,1 c0,c0", "confirms", "'1 c0'"),
        ("7,,end_play,,,,1 mm,,1,mm", "", "10 cells"),
        ('7,,end_play,,,,"1 mm,,1,mm,,,,,,,c0', "", "7 cells"),
    ],
)
def test_a_spoilt_row_costs_itself_alone_and_says_why(
    tmp_path: Path, line: str, field: str, got: str
) -> None:
    folder = opened(make(tmp_path))
    folder.append_reading("end_play", "0.1 mm")
    sound = (tmp_path / "readings.csv").read_text(encoding="utf-8").splitlines()
    folder.append_reading("end_play", "0.2 mm")
    last = (tmp_path / "readings.csv").read_text(encoding="utf-8").splitlines()[-1]
    text = "\n".join([*sound, line, last, ""])
    (tmp_path / "readings.csv").write_text(text, encoding="utf-8")
    folder = opened(tmp_path)
    assert [reading.seq for reading in folder.readings] == [1, 2]
    told = [fault for fault in folder.problems if fault.action == "refuse"]
    assert [(fault.line, fault.field, fault.got) for fault in told] == [(3, field, got)]
    assert (tmp_path / "readings.csv").read_text(encoding="utf-8") == text


def test_bytes_that_are_no_text_cost_their_own_row(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    folder.append_readings([rock("0.2 mm"), rock("0.3 mm", note="µ")])
    data = (tmp_path / "readings.csv").read_bytes().replace("µ".encode(), b"\xb5")
    (tmp_path / "readings.csv").write_bytes(data)
    folder = opened(tmp_path)
    assert [reading.seq for reading in folder.readings] == [1]
    assert [(fault.line, fault.expected) for fault in folder.problems] == [(3, "UTF-8 text")]
    assert folder.append_reading("end_play", "1 mm").seq == 3  # the spoilt row keeps its number


def test_wrong_columns_and_every_fault_of_job_toml_are_told_together(tmp_path: Path) -> None:
    place = make(tmp_path, "format = 1\nname = 3\n")
    (place / "readings.csv").write_text("seq,when,sort\n1,,x\n", encoding="utf-8")
    (place / "signoffs.csv").write_text("\n", encoding="utf-8")
    before = {path.name: path.read_bytes() for path in place.iterdir()}
    with pytest.raises(JobFolderError) as told:
        opened(place)
    files = {fault.file for fault in told.value.faults}
    assert files == {"job.toml", "readings.csv", "signoffs.csv"}
    columns = next(fault for fault in told.value.faults if fault.file == "readings.csv")
    assert columns.line == 1
    assert "no column kind" in columns.got
    assert "unknown column 'sort'" in columns.got
    assert {path.name: path.read_bytes() for path in place.iterdir()} == before


def test_a_file_too_large_for_a_bench_sheet_is_refused_unread(tmp_path: Path) -> None:
    with (make(tmp_path) / "readings.csv").open("wb") as out:
        out.truncate(65 * 1024 * 1024)
    with pytest.raises(JobFolderError, match="at most 64 MB, got 65 MB"):
        opened(tmp_path)


def test_a_running_number_spoilt_by_hand_stops_further_rows_with_a_reason(tmp_path: Path) -> None:
    opened(make(tmp_path)).append_reading("end_play", "0.1 mm")
    changed(tmp_path / "readings.csv", "1,", "999999999,", line=2)
    folder = opened(tmp_path)
    with pytest.raises(JobFolderError, match="numbers up to 999999999"):
        folder.append_reading("end_play", "0.1 mm")


def test_rows_in_another_order_are_read_by_number(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    written = folder.append_readings([rock(f"0.{n} mm") for n in (3, 1, 2)])
    lines = (tmp_path / "readings.csv").read_text(encoding="utf-8").splitlines()
    text = "\n".join([lines[0], lines[3], lines[1], "", lines[2], ""])
    (tmp_path / "readings.csv").write_text(text, encoding="utf-8")
    assert opened(tmp_path).readings == written


def test_the_texts_of_a_row_can_be_had_again_to_supersede_it(tmp_path: Path) -> None:
    folder = opened(make(tmp_path))
    folder.append_readings([rock("0.2 mm", note="n")])
    entry = folder.entry_of(1)
    assert (entry.raw, entry.conditions, entry.table_angle) == ("0.2 mm", ROCK, "30 deg")
    with pytest.raises(JobFolderError):
        folder.entry_of(2)


@settings(max_examples=60, deadline=None)
@given(st.binary(max_size=300), st.booleans())
def test_no_bytes_whatever_bring_anything_but_a_reason(junk: bytes, after_header: bool) -> None:
    with fresh() as place:
        opened(place).append_reading("end_play", "0.1 mm")
        data = (place / "readings.csv").read_bytes()
        (place / "readings.csv").write_bytes(data + junk if after_header else junk)
        try:
            folder = opened(place)
        except JobFolderError:
            folder = None
        assert folder is not None or not after_header
        if folder is not None:
            assert set(KINDS) >= {reading.kind for reading in folder.readings}
            assert not after_header or folder.readings[0].seq == 1
