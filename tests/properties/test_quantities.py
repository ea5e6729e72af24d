"""Text to numbers and back: every trade spelling, and nothing guessed."""

from __future__ import annotations

import math
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wormwright.quantities import (
    Dimension,
    QuantityError,
    read,
    read_pair,
    shown,
    shown_both,
    shown_estimate,
)
from wormwright.quantities.parse import _any
from wormwright.quantities.show import place_of_resolution
from wormwright.quantities.typed import System
from wormwright.quantities.units import EXAMPLES, TABLE
from wormwright.quantities.wanted import LONGEST, Wanted

ARCMIN = math.pi / 180 / 60

# text, dimension, value in the core unit worked out by hand from the definitions of the inch
# (25.4 mm), the pound (0.45359237 kg) and standard gravity (9.80665 m/s²)
SPELLINGS: list[tuple[str, Dimension, float]] = [
    ("0.019 in", "length", 0.4826),
    ('0.019"', "length", 0.4826),
    ("19 thou", "length", 0.4826),
    ("2 tenths", "length", 0.00508),
    ("2t", "length", 0.00508),
    ("half a thou", "length", 0.0127),
    ("half a tenth", "length", 0.00127),
    ("½ thou", "length", 0.0127),
    ("two thou", "length", 0.0508),
    ("+2½ thou", "length", 0.0635),
    ("-.0015 in", "length", -0.0381),
    ("−.0015 in", "length", -0.0381),
    ("1 1/4 in", "length", 31.75),
    ('1-1/4"', "length", 31.75),
    ("1¼″", "length", 31.75),
    ("3/8 in", "length", 9.525),
    ("1/64 in", "length", 0.396875),
    ("47 mm", "length", 47.0),
    ("47mm", "length", 47.0),
    ("5 in.", "length", 127.0),
    ("12 µm", "length", 0.012),
    ("12µ", "length", 0.012),
    ("12 μm", "length", 0.012),
    ("12 um", "length", 0.012),
    ("2e-3 mm", "length", 0.002),
    ("1 ft 3 in", "length", 381.0),
    ("1 ft .5 in", "length", 317.5),
    ("12.5 arcmin", "angle", 12.5 * ARCMIN),
    ("5'30\"", "angle", 5.5 * ARCMIN),
    ("5′30″", "angle", 5.5 * ARCMIN),
    ("0°12'30\"", "angle", 12.5 * ARCMIN),
    ("12 arcmin 30 arcsec", "angle", 12.5 * ARCMIN),
    ("0.08 deg", "angle", 4.8 * ARCMIN),
    (".08°", "angle", 4.8 * ARCMIN),
    ("35 oz·in", "torque", 35 * 0.45359237 / 16 * 9.80665 * 25.4),
    ("30 in·lb", "torque", 30 * 0.45359237 * 9.80665 * 25.4),
    ("30 in-lb", "torque", 30 * 0.45359237 * 9.80665 * 25.4),
    ("30 in lb", "torque", 30 * 0.45359237 * 9.80665 * 25.4),
    ("0.4 N·m", "torque", 400.0),
    ("0.4 Nm", "torque", 400.0),
    ("0.4 N.m", "torque", 400.0),
    ("±3 N·m", "torque", 3000.0),
    ("20 N·mm", "torque", 20.0),
    ("4 kgf·cm", "torque", 392.266),
    ("66 °F", "temperature", 170 / 9),
    ("19 °C", "temperature", 19.0),
    ("292 K", "temperature", 18.85),
    ("50 N", "force", 50.0),
    ("11 lbf", "force", 11 * 0.45359237 * 9.80665),
    ("11 lb", "force", 11 * 0.45359237 * 9.80665),
    ("5 kgf", "force", 49.03325),
    ("25 rpm", "speed", 25.0),
    ("2 kg", "mass", 2.0),
    ("5 lb", "mass", 5 * 0.45359237),
    ("400 g", "mass", 0.4),
    ("0.9", "ratio", 0.9),
    ("90 %", "ratio", 0.9),
    ("90:1", "ratio", 90.0),
    ("90", "count", 90.0),
    ("90 teeth", "count", 90.0),
]


@pytest.mark.parametrize(("text", "dimension", "core"), SPELLINGS)
def test_every_trade_spelling_is_read(text: str, dimension: Dimension, core: float) -> None:
    got = read(text, dimension, field="box")
    assert got.value == pytest.approx(core, rel=4e-16)
    assert got.raw == text
    assert got.flags == ()


# text, dimension, what the message must offer
REFUSED: list[tuple[str, Dimension, str]] = [
    ("19", "length", "no unit"),
    ("1,5 mm", "length", "1.5 mm or 15 mm"),
    ("1,234 mm", "length", "1.234 mm or 1234 mm"),
    ("12.5 arcmin", "length", "unit of an angle"),
    ("0.4 in", "angle", "unit of a length"),
    ("3 kg", "force", "unit of a mass"),
    ("19 mil", "length", "19 thou or 19 mm"),
    ("nan mm", "length", "no number"),
    ("inf mm", "length", "no number"),
    ("-inf", "length", "no number"),
    ("1e999 mm", "length", "exponent"),
    ("1e99999999999 mm", "length", "exponent"),
    ("1e12 mm", "length", "too large"),
    ("9**9**9 mm", "length", "not a unit"),
    ("1/0 in", "length", "0 below the line"),
    ("1 5/4 in", "length", "below one"),
    ("3 thou 4 mm", "length", "do not add up"),
    ("5'75\"", "angle", "past one arcmin"),
    ("5'30", "angle", "no unit"),
    ("30\"5'", "angle", "do not add up"),
    ("1.5 ft 3 in", "length", "only the last part"),
    ("4-3 thou", "length", "small to large"),
    ("-3-4 thou", "length", "two ways"),
    ("TIR -3 thou", "length", "no sign"),
    ("TIR 3 N", "force", "make sense"),
    ("10,5 mm", "length", "10.5 mm or 105 mm"),
    ("0,1,2 mm", "length", "0.1.2 mm or"),
    ("", "length", "no number"),
    ("—", "length", "no number"),
    ("same", "length", "no number"),
    ("80 ± 0.3 mm", "length", "not a unit"),
    ("1 000 mm", "length", "no unit"),
    ("٣ mm", "length", "no number"),
    ("--3 mm", "length", "make sense"),
    ("1.5", "count", "whole number"),
    ("-2", "count", "whole number"),
    ("1:0", "ratio", "90:1"),
    ("3 thou-", "length", "not a unit"),
    ("5 mm" + " " * LONGEST, "length", "shorten"),
]


@pytest.mark.parametrize(("text", "dimension", "offers"), REFUSED)
def test_what_is_not_clear_is_refused_with_what_to_do(
    text: str, dimension: Dimension, offers: str
) -> None:
    with pytest.raises(QuantityError) as refusal:
        read(text, dimension, field="pin radius")
    error = refusal.value
    assert error.field == "pin radius"
    assert offers in error.do
    for part in (error.field, error.expected, error.do, repr(error.got)):
        assert part in str(error)


def test_a_column_may_declare_its_unit_once() -> None:
    assert read("2½", "length", field="rock", column_unit="thou").value == pytest.approx(0.0635)
    assert read("65", "length", field="rock", column_unit="tenths").value == pytest.approx(0.1651)
    assert read("0.02 mm", "length", field="rock", column_unit="thou").value == 0.02
    with pytest.raises(QuantityError, match="column's unit"):
        read("3", "length", field="rock", column_unit="N")


def test_a_tenth_is_refused_in_a_metric_column_or_job() -> None:
    for metric in ({"column_unit": "mm"}, {"units": "mm"}):
        with pytest.raises(QuantityError, match=r"0\.0002 in or 0\.2 mm"):
            read("2 tenths", "length", field="rock", **metric)  # type: ignore[arg-type]
    for inch in ({"column_unit": "in"}, {"units": "in"}, {}):
        assert read("2 tenths", "length", field="rock", **inch).value == pytest.approx(  # type: ignore[arg-type]
            0.00508
        )


def test_marks_of_doubt_become_flags() -> None:
    between = read("3-4 thou", "length", field="play")
    assert between.value == pytest.approx(0.0889)
    assert between.flags == ("range",)
    assert between.u_extra == pytest.approx(0.0127 / math.sqrt(3))
    assert read("3 to 4 thou", "length", field="play").value == between.value
    about = read("~3 thou", "length", field="play")
    assert (about.flags, about.factor) == (("approximate",), 2.0)
    beyond = read(">10 thou", "length", field="play")
    assert beyond.flags == ("off scale",)
    assert not beyond.usable
    assert read("-0.000 mm", "length", field="play").flags == ("signed zero",)
    assert read("0.000 mm", "length", field="play").flags == ()


def test_a_whole_swing_may_be_called_tir() -> None:
    for text in ("TIR 3 thou", "3 thou TIR", "tir: 3 thou"):
        swing = read(text, "length", field="runout")
        assert swing.value == pytest.approx(0.0762)
        assert swing.flags == ("TIR",)
    column = read("TIR 3", "length", field="runout", column_unit="thou")
    assert column.value == pytest.approx(0.0762)
    assert column.raw == "TIR 3"


def test_in_a_column_a_comma_behind_a_lone_zero_can_only_be_a_decimal_comma() -> None:
    typed = read("0,02", "length", field="rock", column_unit="mm")
    assert (typed.value, typed.raw) == (0.02, "0,02")
    pair = read("+0,140 / -0,135", "length", field="rock", column_unit="mm")
    assert pair.value == pytest.approx(0.275)
    for unclear in ("1,234", "10,5", "0,1,2"):
        with pytest.raises(QuantityError, match="two ways"):
            read(unclear, "length", field="rock", column_unit="mm")
    with pytest.raises(QuantityError, match="two ways"):
        read("0,02 mm", "length", field="rock")


def test_a_rise_of_temperature_has_no_zero_point() -> None:
    for text in ("10 K", "10 °C", "18 °F"):
        assert read(text, "rise", field="rise").value == pytest.approx(10.0)
    assert shown(10.0, "rise", resolution=1.0) == "10 K"
    assert shown(10.0, "rise", resolution=1.0, units="in") == "18 °F"


def test_a_push_and_pull_is_plus_less_minus() -> None:
    assert read("+0.140 / -0.135 mm", "length", field="rock").value == 0.275
    assert read("+1/2 / -1/4 in", "length", field="rock").value == 19.05
    assert read("+2 thou / -0.001 in", "length", field="rock").value == pytest.approx(0.0762)
    pair = read_pair("+5 / -4", "length", field="rock", column_unit="thou")
    assert pair is not None
    assert pair[0].value > 0 > pair[1].value
    assert read_pair("3/8 in", "length", field="rock") is None
    swapped = read("-0.140 / +0.135 mm", "length", field="rock").value
    assert swapped < 0, "a reversed sign pattern must stay visible"


DECIMALS = st.decimals(
    min_value="0.0001", max_value="9999", places=4, allow_nan=False, allow_infinity=False
)


@given(DECIMALS, st.sampled_from(["mm", "in", "thou", "µm", "cm", "ft"]), st.sampled_from("+- "))
def test_the_short_and_the_long_way_agree(number: object, unit: str, sign: str) -> None:
    text = f"{sign}{number} {unit}".strip()
    short = read(text, "length", field="x")
    assert short == _any(text, Wanted("length", "x", None, None))


@given(DECIMALS)
def test_the_same_length_in_either_system_is_the_same_float(number: object) -> None:
    inches = Fraction(str(number))
    typed_inch = read(f"{number} in", "length", field="x").value
    typed_thou = read(f"{float(inches * 1000):.10f} thou", "length", field="x").value
    typed_mm = read(f"{float(inches * Fraction('25.4')):.12f} mm", "length", field="x").value
    assert typed_thou == pytest.approx(typed_inch, rel=3e-16, abs=1e-13)
    assert typed_mm == pytest.approx(typed_inch, rel=3e-16, abs=1e-11)


@given(st.integers(0, 40), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_fractions_stay_exact_until_the_one_conversion(whole: int, top: int, bottom: int) -> None:
    exact = (whole + Fraction(top % bottom, bottom)) * Fraction("25.4")
    text = f"{whole} {top % bottom}/{bottom} in"
    assert read(text, "length", field="x").value == float(exact)


# our unit -> the same in pint's words (pint reads single named units rightly)
PINT: list[tuple[Dimension, str, str, str]] = [
    ("length", "in", "inch", "mm"),
    ("length", "thou", "thou", "mm"),
    ("length", "ft", "foot", "mm"),
    ("length", "um", "micrometer", "mm"),
    ("angle", "arcmin", "arcminute", "radian"),
    ("angle", "arcsec", "arcsecond", "radian"),
    ("angle", "deg", "degree", "radian"),
    ("torque", "oz·in", "force_ounce * inch", "newton * millimeter"),
    ("torque", "in·lb", "force_pound * inch", "newton * millimeter"),
    ("torque", "ft·lb", "force_pound * foot", "newton * millimeter"),
    ("torque", "kgf·cm", "kilogram_force * centimeter", "newton * millimeter"),
    ("torque", "N·m", "newton * meter", "newton * millimeter"),
    ("force", "lbf", "force_pound", "newton"),
    ("force", "kgf", "kilogram_force", "newton"),
    ("mass", "lb", "pound", "kilogram"),
    ("mass", "oz", "ounce", "kilogram"),
    ("speed", "deg/s", "degree / second", "revolution / minute"),
    ("stiffness", "N·m/arcmin", "newton * meter / arcminute", "newton * millimeter / radian"),
    ("stiffness", "in·lb/deg", "force_pound * inch / degree", "newton * millimeter / radian"),
    ("inertia", "g·cm²", "gram * centimeter ** 2", "kilogram * millimeter ** 2"),
    ("inertia", "oz·in²", "ounce * inch ** 2", "kilogram * millimeter ** 2"),
    ("feed", "in/min", "inch / minute", "millimeter / minute"),
    ("feed", "m/s", "meter / second", "millimeter / minute"),
    ("inductance", "mH", "millihenry", "henry"),
]


@pytest.mark.parametrize(("dimension", "ours", "theirs", "core"), PINT)
def test_conversion_factors_agree_with_pint(
    dimension: Dimension, ours: str, theirs: str, core: str
) -> None:
    expected = pint.application_registry.Quantity(7.0, theirs).to(core).magnitude
    assert read(f"7 {ours}", dimension, field="x").value == pytest.approx(expected, rel=1e-14)


@given(st.floats(-40, 200))
def test_temperatures_agree_with_pint(fahrenheit: float) -> None:
    expected = pint.application_registry.Quantity(fahrenheit, "degF").to("degC").magnitude
    got = read(f"{fahrenheit:.4f} °F", "temperature", field="x").value
    assert got == pytest.approx(expected, abs=1e-4)


SHOWABLE: st.SearchStrategy[Dimension] = st.sampled_from(
    ["length", "angle", "torque", "force", "temperature", "speed", "mass", "ratio"]
)


@given(
    st.floats(1e-6, 1e5) | st.floats(-1e5, -1e-6),
    st.floats(1e-7, 10),
    SHOWABLE,
    st.sampled_from(["mm", "in"]),
)
def test_what_is_shown_reads_back_within_its_uncertainty(
    value: float, u: float, dimension: Dimension, units: System
) -> None:
    text = shown(value, dimension, u=u, units=units)
    back = read(text, dimension, field="x").value
    assert abs(back - value) <= max(u, 1e-3 * abs(value) if u < 1e-7 * abs(value) else 0.0)


@given(st.floats(1e-3, 1e4), st.sampled_from([1e-4, 5e-4, 1e-3, 0.002, 0.01, 0.02]))
def test_no_digit_finer_than_the_resolution_is_shown(value: float, resolution: float) -> None:
    text = shown(value, "length", resolution=resolution)
    number, unit = text.split()
    digits = len(number.partition(".")[2])
    printed_step = 10.0**-digits * (1e-3 if unit == "µm" else 1.0)
    assert printed_step >= 10.0 ** place_of_resolution(resolution) * (1 - 1e-9)


class Found:
    """A stand-in estimate."""

    def __init__(self, value: float, u: float, low: float, high: float, dimension: Dimension):
        self.value, self.u, self.low, self.high = value, u, low, high
        self.dimension = dimension


def test_an_estimate_is_shown_with_its_interval() -> None:
    even = Found(12.34 * ARCMIN, 0.2 * ARCMIN, 11.94 * ARCMIN, 12.74 * ARCMIN, "angle")
    assert shown_estimate(even) == "12.3 ± 0.4 arcmin"
    uneven = Found(0.9 * ARCMIN, 0.3 * ARCMIN, 0.2 * ARCMIN, 1.5 * ARCMIN, "angle")
    assert shown_estimate(uneven) == "0.9 (0.2 to 1.5) arcmin"
    one_sided = Found(3 * ARCMIN, 0.3, 0.0, 15 * ARCMIN, "angle")
    assert shown_estimate(one_sided) == "3 (0 to 15) arcmin"
    counted = Found(0.2537, 1e-18, 0.2537, 0.2537 + 1e-16, "angle")
    assert shown_estimate(counted) == "14.54°", "no digits beyond what measuring can give"
    coarse = Found(50 * ARCMIN / 60, 0.3, 10 * ARCMIN / 60, 90 * ARCMIN / 60, "angle")
    assert shown_estimate(coarse) == "0.8 ± 0.7 arcmin", "no whole tens of a small unit"
    play = Found(0.0305, 0.004, 0.0225, 0.0385, "length")
    assert shown_estimate(play) == "30 ± 8 µm"
    assert shown_estimate(play, units="in") == "1.2 ± 0.3 thou"
    assert shown_estimate(Found(0.0, 0.0, 0.0, 0.0, "length")) == "0 mm"
    assert shown(0.0, "angle") == "0°"


def test_the_digits_of_a_figure_follow_its_uncertainty() -> None:
    assert shown(0.482612, "length", u=0.002) == "0.483 mm"
    assert shown(0.482612, "length", u=0.02) == "0.48 mm"
    assert shown(0.482612, "length", u=0.2) == "0.5 mm"
    assert shown(774 * ARCMIN / 60, "angle", u=15 * ARCMIN / 60) == "12.9 arcmin"
    assert shown(-0.00001, "length", u=0.001) == "0.0 µm"
    assert shown_both(0.4826, u=0.006) == "0.483 mm (19.0 thou)"
    assert shown_both(31.75, resolution=0.01, units="in") == "1.2500 in (31.75 mm)"
    assert shown(90.0, "count") == "90"
    assert shown(66.2, "temperature", resolution=0.5, units="in") == "151.2 °F"


def test_every_example_offered_by_an_error_is_itself_read() -> None:
    for dimension, examples in EXAMPLES.items():
        if dimension == "none":
            continue
        for example in examples.replace(" or ", ", ").split(", "):
            assert read(example, dimension, field="x").usable  # type: ignore[arg-type]


@given(st.text(max_size=80) | st.text("0123456789 .,-+/'\"°µ½~<>=einthoumTIR±:·", max_size=30))
def test_whatever_is_typed_either_reads_or_is_refused_kindly(text: str) -> None:
    for dimension in (*TABLE, "none"):
        try:
            got = read(text, dimension, field="box")  # type: ignore[arg-type]
        except QuantityError as refusal:
            kind = str(refusal)[:14]
        else:
            kind = "finite" if math.isfinite(got.value) else "not finite"
        assert kind in ("box: expected ", "finite")
