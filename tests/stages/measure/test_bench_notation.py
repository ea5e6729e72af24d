"""What people write at the bench is read as an honest reader would, and the text is kept."""

from __future__ import annotations

import math

import pytest

from wormwright.job.reading import Reading
from wormwright.job.sheet import KINDS
from wormwright.quantities import System
from wormwright.store import ReadingText
from wormwright.store.entry import EntryError, reading_of

ROCK = {
    "pin_radius": "80 mm",
    "pin_radius_u": "0.3 mm",
    "torque": "3 N·m",
    "worm_held": "at the worm",
}


def written(
    raw: str,
    head: str = "",
    *,
    kind: str = "worm_end_play",
    table_angle: str = "",
    station: str = "",
) -> Reading:
    """The reading that stands so on an inch sheet whose column says that unit."""
    entry = ReadingText(kind, raw, table_angle=table_angle, station=station, column_unit=head)
    return reading_of(entry, seq=1, kinds=KINDS, units="in")


@pytest.mark.parametrize(
    ("raw", "head", "millimetres"),
    [
        ("+2½", "thou", 0.0635),
        ("2 1/2", "thou", 0.0635),
        (".0015", "in", 0.0381),
        ("1.5", "thou", 0.0381),
        ("0,02", "mm", 0.02),
        ("2t", "in", 0.00508),
        ("2 tenths", "in", 0.00508),
        ("half a thou", "in", 0.0127),
        ("12µ", "mm", 0.012),
        ("12 um", "mm", 0.012),
        ("1/64", "in", 0.396875),
        ("TIR 3", "thou", 0.0762),
        ("+.0010 / -.0008", "in", 0.04572),
        ("0.012 ", "mm", 0.012),
    ],
)
def test_a_length_is_read_in_the_unit_of_its_sheet_and_the_text_is_kept(
    raw: str, head: str, millimetres: float
) -> None:
    got = written(raw, head)
    assert got.value == pytest.approx(millimetres)
    assert got.raw == raw


def test_a_minus_is_read_where_a_place_about_zero_is_wanted() -> None:
    got = written("-.0015", "in", kind="register_runout", table_angle="30 deg")
    assert got.value == pytest.approx(-0.0381)


@pytest.mark.parametrize("raw", ["5'30\"", "330 arcsec", "5.5 arcmin"])
def test_minutes_and_seconds_are_read_where_an_angle_is_wanted(raw: str) -> None:
    got = written(raw, kind="drive_play").value
    assert got == pytest.approx(math.radians(330 / 3600))


@pytest.mark.parametrize("raw", ["0.08°", ".08 deg"])
def test_decimals_of_a_degree_are_read(raw: str) -> None:
    assert written(raw, kind="drive_play").value == pytest.approx(math.radians(288 / 3600))


def test_a_range_is_its_middle_with_half_its_width_as_bound() -> None:
    got = written("3-4", "thou")
    assert got.value == pytest.approx(3.5 * 0.0254)
    usual = KINDS["worm_end_play"].noise or 0.0
    assert got.u == pytest.approx(math.hypot(usual, 0.5 * 0.0254 / math.sqrt(3)))
    assert "range" in got.flags


def test_about_doubles_the_doubt() -> None:
    got = written("~3", "thou")
    assert got.value == pytest.approx(0.0762)
    assert got.u == pytest.approx(2 * (KINDS["worm_end_play"].noise or 0.0))


def test_off_scale_is_kept_as_text_and_enters_no_fit() -> None:
    got = written(">10", "thou")
    assert (got.value, got.flags, got.raw) == (None, ("off scale",), ">10")


@pytest.mark.parametrize("raw", ["", "-", "–", "—"])
def test_a_dash_or_a_blank_is_missing_and_never_zero(raw: str) -> None:
    got = written(raw, "thou")
    assert (got.value, got.flags) == (None, ("missing",))


def test_a_zero_keeps_its_sign_for_the_check_of_the_series() -> None:
    got = written("-0.000", "mm", kind="register_runout", table_angle="0 deg")
    assert (got.value, got.flags) == (0.0, ("signed zero",))


@pytest.mark.parametrize("word", ["free", "slight", "drags", "tight", "binds", "notchy", "gritty"])
def test_feel_words_are_read_as_they_stand(word: str) -> None:
    assert written(word.upper(), kind="turn_feel", station="table").word == word


@pytest.mark.parametrize(
    ("raw", "head", "units", "told"),
    [
        ("1,234", "thou", "in", "1.234 or 1234"),
        ("1.5", "in", "in", "unit and the decimal point"),
        ("1.5", "", "in", "no unit"),
        ('5"', "mm", "mm", "inches or seconds of arc"),
        ("2 tenths", "mm", "mm", "0.0002 in or 0.2 mm"),
        ("3 mil", "", "in", "3 thou or 3 mm"),
        ("0.2 mm 3", "", "mm", "no unit"),
    ],
)
def test_what_can_be_read_two_ways_is_asked_back(
    raw: str, head: str, units: System, told: str
) -> None:
    entry = ReadingText("worm_end_play", raw, column_unit=head)
    if raw == '5"':
        entry = ReadingText("rock", raw, table_angle="0 deg", conditions=ROCK)
    with pytest.raises(EntryError) as wrong:
        reading_of(entry, seq=1, kinds=KINDS, units=units)
    assert told in " ".join(do for _, _, _, do in wrong.value.wrongs)


def test_a_whole_swing_is_refused_where_one_place_is_wanted() -> None:
    with pytest.raises(EntryError) as wrong:
        written("TIR 3", "thou", kind="face_runout", table_angle="0 deg")
    assert "at this place" in wrong.value.wrongs[0][3]
