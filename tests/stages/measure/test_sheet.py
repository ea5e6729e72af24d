"""The sheet as it stands: state of each kind, purposes, minutes, and the kinds themselves."""

from __future__ import annotations

from dataclasses import replace

import pytest

from stages.measure.clean_sheet import clean_sheet, job
from wormwright.job.blocks import Doubts, Table
from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS, LATER_KINDS, PURPOSES
from wormwright.stages.measure import measure, report

SHIMS = (
    Reading(901, "worm_shim_arrangement", "x", word="cover on outer ring"),
    Reading(902, "worm_shim_inside", "33 mm", 33.0),
    Reading(903, "worm_shim_outside", "46 mm", 46.0),
    *(
        Reading(910 + i, kind, "10 mm", value, station=station)
        for i, (kind, value, station) in enumerate(
            (kind, value, station)
            for kind, value in (
                ("bearing_width", 10.0),
                ("shaft_seat", 12.0),
                ("housing_bore", 32.0),
            )
            for station in ("A", "B")
        )
    ),
)


def test_an_empty_sheet_is_all_missing_and_serves_no_purpose() -> None:
    sheet = measure(job(), [])
    assert {line.state for line in sheet.lines} == {"missing"}
    assert [line.kind for line in sheet.lines] == [k for k in KINDS if k not in LATER_KINDS]
    assert not any(p.complete for p in sheet.purposes)
    assert sheet.doubts == ()
    assert sheet.minutes_left > 60


def test_four_rocks_end_play_and_face_are_enough_for_a_purchase_and_no_more() -> None:
    rows = clean_sheet(1)
    few = [r for r in rows if r.kind == "rock"][:4]
    few += [r for r in rows if r.kind in ("worm_end_play", "face_runout")]
    sheet = measure(job(), few)
    assert [p.key for p in sheet.purposes if p.complete] == ["purchase"]
    three = measure(job(), [r for r in few if r.seq != few[0].seq])
    assert not three.purpose("purchase").complete
    assert three.purpose("purchase").missing == ("rock",)
    assert three.purpose("purchase").minutes_left == pytest.approx(KINDS["rock"].minutes / 4)


def test_a_full_sheet_is_enough_for_diagnosis_and_with_bearings_and_shims_for_design() -> None:
    rows = clean_sheet(1)
    without = measure(job(), rows)
    assert without.purpose("diagnosis").complete
    assert "housing_bore" in without.purpose("design").missing
    full = measure(job(), [*rows, *SHIMS])
    assert full.purpose("design").missing == ()
    assert full.minutes_left == 0


def test_a_unit_with_a_factory_eccentric_wants_its_throw_instead_of_bearings() -> None:
    rows = [
        replace(r, word="factory eccentric") if r.kind == "adjusting" else r for r in clean_sheet(1)
    ]
    missing = measure(job(), [*rows, *SHIMS[:3]]).purpose("design").missing
    assert missing == ("adjuster_throw",)


def test_a_bolted_block_wants_what_its_packing_does() -> None:
    rows = [replace(r, word="bolted block") if r.kind == "adjusting" else r for r in clean_sheet(1)]
    missing = measure(job(), [*rows, *SHIMS[:3]]).purpose("design").missing
    assert missing == ("block_shim_way",)


def test_one_end_of_the_worm_is_part_of_the_reading() -> None:
    rows = [r for r in clean_sheet(1) if r.station != "B"]
    sheet = measure(job(), rows)
    assert sheet.line("worm_float").state == "part"
    assert sheet.line("worm_float").stations_missing == ("B",)
    assert sheet.purpose("diagnosis").missing == ("worm_float",)


def test_stale_readings_stay_visible_with_the_operation_that_killed_them() -> None:
    rows = clean_sheet(1)
    dead = {r.seq: "worm_end_play" for r in rows if r.kind == "rock"}
    live = [r for r in rows if r.seq not in dead]
    sheet = measure(job(), live, all_readings=rows, stale=dead)
    line = sheet.line("rock")
    assert (line.state, line.rows) == ("stale", ())
    assert dict(line.stale) == dead
    assert not sheet.purpose("purchase").complete
    assert not {r.seq for r in sheet.usable} & dead.keys()


def test_a_fresh_reading_beside_stale_ones_makes_the_line_done_again() -> None:
    rows = clean_sheet(1)
    ends = [r for r in rows if r.kind == "worm_end_play"]
    sheet = measure(
        job(),
        [r for r in rows if r.seq != ends[0].seq],
        all_readings=rows,
        stale={ends[0].seq: "strip_wash"},
    )
    assert sheet.line("worm_end_play").state == "done"
    assert sheet.line("worm_end_play").stale == ((ends[0].seq, "strip_wash"),)


def test_a_doubted_row_makes_its_line_doubtful() -> None:
    rows = clean_sheet(1)
    victim = next(r for r in rows if r.kind == "worm_end_play")
    bad = [replace(r, value=(r.value or 0) * 25.4) if r is victim else r for r in rows]
    line = measure(job(), bad).line("worm_end_play")
    assert (line.state, line.doubtful) == ("doubtful", (victim.seq,))


def test_the_report_shows_every_kind_its_state_and_every_doubt() -> None:
    rows = clean_sheet(1)
    victim = next(r for r in rows if r.kind == "worm_end_play")
    bad = [replace(r, value=(r.value or 0) * 25.4) if r is victim else r for r in rows]
    blocks = report(measure(job(), bad))
    table = [b for b in blocks if isinstance(b, Table)][-1]
    assert [row[2].text for row in table.rows] == [k for k in KINDS if k not in LATER_KINDS]
    assert all(len(row) == len(table.columns) for row in table.rows)
    assert [len(b.doubts) for b in blocks if isinstance(b, Doubts)] == [1]


def test_every_kind_is_told_in_full_and_hangs_together() -> None:
    for key, kind in KINDS.items():
        assert key == kind.key
        assert all((kind.do, kind.set_up, kind.tells, kind.cannot_tell, kind.sensitivity)), key
        assert kind.minutes > 0
        assert kind.repeats >= 1
        if kind.noise is not None:
            assert kind.low is not None, key
            assert kind.high is not None, key
            assert kind.usual_low is not None, key
            assert kind.usual_high is not None, key
            assert kind.low <= kind.usual_low < kind.usual_high <= kind.high, key
            assert 0 < kind.noise < kind.usual_high, key
        assert len({c.key for c in kind.conditions}) == len(kind.conditions)
        assert all(c.dimension != "none" or c.choices for c in kind.conditions), key


def test_purposes_name_known_kinds_only_and_grow() -> None:
    sizes = [len(p.wants) for p in PURPOSES]
    assert sizes == sorted(sizes)
    assert {k for p in PURPOSES for w in p.wants for k in w.kinds} <= set(KINDS)
    ways = set(KINDS["adjusting"].choices)
    assert {way for p in PURPOSES for w in p.wants for way in w.only_for} <= ways


def test_feel_words_stand_with_the_worst_first() -> None:
    rows = [
        Reading(i, "turn_feel", word, word=word, station="table")
        for i, word in enumerate(("slight", "binds", "drags", "slight"), 1)
    ]
    assert measure(job(), rows).line("turn_feel").word == "binds, drags, slight"
