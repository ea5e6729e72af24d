"""Every DIMENSION measures what the part says, and says what it measures."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest

from drawings.sample_parts import CASES, PARTS, STYLES, document, drawn
from wormwright.drawings import SheetStyle
from wormwright.job.parts import (
    CentreShim,
    ChuckAdapter,
    EccentricBushing,
    JournalBush,
    Limits,
    MotorPlate,
    MountPlate,
    Part,
    SettingKey,
    SettingSpanner,
    SetUp,
    ShimRing,
    WheelSeat,
    WormRelief,
)

MM = STYLES[0]


def _measured(dimension: Any) -> float:
    """What the entity measures, in mm or degrees, with its own length factor."""
    factor = dimension.override().get("dimlfac", 1.0)
    return float(dimension.get_measurement()) * float(factor)


def _dimensions(name: str, style: SheetStyle) -> list[Any]:
    return list(document(name, style).modelspace().query("DIMENSION"))


def _wanted(name: str) -> list[float]:
    """The model value of every dimension of a sheet, in mm, angles in degrees."""
    part = PARTS[name]
    if isinstance(part, EccentricBushing):
        wanted = [
            part.outside.size,
            part.bore.size,
            part.shoulder_bore,
            part.flange_outside,
            part.flange_thickness,
            part.length,
            part.bearing_depth,
            part.throw,
            part.slot_circle,
        ]
        if part.slot_sweep:
            wanted.append(math.degrees(part.slot_sweep))
        if part.mark_angle:
            wanted.append(math.degrees(abs(part.mark_angle)))
        return wanted
    if isinstance(part, ShimRing):
        holes = [part.hole, part.circle] if part.holes else []
        return [part.inside.size, part.outside.size, part.thickness.size, *holes]
    if not isinstance(part, WormRelief):
        return _wanted_further(part)
    middle = part.outside.size + (part.outside.upper + part.outside.lower) / 2
    depth = (part.outside_before - middle) / 2
    return [part.outside.size, part.outside_before, part.shaft_diameter, part.length, depth]


def _wanted_of_plate(part: ChuckAdapter | MotorPlate) -> list[float]:
    if isinstance(part, ChuckAdapter):
        lengths = [part.spigot_length, part.thickness, part.locating_length]
        plain = [part.table_circle, part.chuck_circle, part.outside, part.bore]
        return [*lengths, *plain, part.spigot.size, part.locating.size]
    lengths = [part.pilot_depth, part.register_depth, part.thickness]
    circles = [part.circle, part.pitch * math.sqrt(2), part.through, part.outside]
    return [*lengths, *circles, part.pilot.size, part.register.size]


def _wanted_further(part: Part) -> list[float]:
    """The same for the parts that are not bushings, rings or worms."""
    if isinstance(part, CentreShim):
        return [part.length, part.width, part.thickness.size]
    if isinstance(part, ChuckAdapter | MotorPlate):
        return _wanted_of_plate(part)
    if isinstance(part, JournalBush):
        flange = [part.flange_outside, part.flange_thickness] if part.flange_outside else []
        return [*flange, part.outside.size, part.bore.size, part.length, part.oil_hole_at]
    if isinstance(part, SettingSpanner):
        across = [part.pin_circle, part.pin.size, part.centre_hole]
        radii = [part.reading_radius, part.key_radius]
        return [
            *across,
            *radii,
            math.degrees(part.pin_spread),
            part.pin_reach,
            part.plate_thickness,
        ]
    if isinstance(part, SettingKey):
        across = [part.journal.size, part.eccentric.size, part.head_outside, part.cross_hole]
        lengths = [part.journal_length, part.eccentric_length, part.head_length]
        return [*across, *lengths, part.offset]
    return _wanted_of_mounting(part) or _wanted_of_seat(part)


def _wanted_of_mounting(part: Part) -> list[float]:
    if isinstance(part, MountPlate):
        return [part.length, part.width, part.thickness.size]
    if isinstance(part, SetUp):
        work = part.turning[-1]
        return [part.axis, work.x[1] - work.x[0]]
    return []


def _wanted_of_seat(part: Part) -> list[float]:
    assert isinstance(part, WheelSeat)
    whole = [part.hub_length] if part.hub_length > part.face_width else []
    across = [part.wheel_outside, part.hub_outside, part.seat.size]
    return [*whole, *across, part.face_width, part.bore.size, part.sleeve.size]


@pytest.mark.parametrize(("name", "style"), CASES)
def test_every_dimension_measures_the_model_value(name: str, style: SheetStyle) -> None:
    """One dimension for each size of the part and none besides, none drawn out of true."""
    found = sorted(_measured(dimension) for dimension in _dimensions(name, style))
    assert found == pytest.approx(sorted(_wanted(name)), rel=1e-9, abs=1e-9)


def _numbers(text: str) -> list[float]:
    return [float(number) for number in re.findall(r"\d+\.?\d*", text)]


def _picture_texts(name: str, style: SheetStyle, dimension: Any) -> list[str]:
    block = document(name, style).blocks.get(dimension.dxf.geometry)
    return [entity.dxf.text for entity in block if entity.dxftype() == "TEXT"]


@pytest.mark.parametrize(("name", "style"), CASES)
def test_the_figure_printed_is_the_figure_stored_and_fits_the_measurement(
    name: str, style: SheetStyle
) -> None:
    """Block texts hold the same numbers as the entity's text, and these bracket the measurement."""
    for dimension in _dimensions(name, style):
        stored = dimension.dxf.text
        fit = re.compile(r"\b[A-Za-z]{1,2}\d{1,2}\b")
        printed = " ".join(_picture_texts(name, style, dimension))
        assert sorted(_numbers(fit.sub("", printed))) == sorted(_numbers(fit.sub("", stored)))
        assert sorted(fit.findall(printed)) == sorted(fit.findall(stored))
        first, _, other = stored.partition("\\P")
        measured = _measured(dimension)
        if "°" in first:
            assert _numbers(first)[0] == pytest.approx(measured, abs=0.05)
            continue
        mm, inch = (first, other) if style.units == "mm" else (other, first)
        assert _fits(fit.sub("", mm), measured, 1.0)
        assert _fits(fit.sub("", inch), measured, 25.4)


def _fits(text: str, measured: float, unit: float) -> bool:
    """Whether a printed figure stands for a length: within its digits or within its limits."""
    numbers = re.findall(r"\d+\.?\d*", text)
    decimals = len(numbers[0].partition(".")[2])
    slack = 0.5001 * 10.0**-decimals * unit
    value = float(numbers[0]) * unit
    if "/" in text:
        least = float(numbers[1]) * unit
        return least < value and abs((least + value) / 2 - measured) < 0.5
    return abs(value - measured) <= slack


def _texts_of(name: str, style: SheetStyle, value: float) -> str:
    near = [d for d in _dimensions(name, style) if abs(_measured(d) - value) < 1e-9]
    return str(near[0].dxf.text)


def test_limits_and_tolerances_are_readable_in_both_units() -> None:
    """Worked by hand: 47 −0.009/−0.025 is 46.991 to 46.975 mm, 1.85004 to 1.84941 in."""
    part = PARTS["A"]
    assert isinstance(part, EccentricBushing)
    assert _texts_of("A", MM, 47.0) == "Ø46.991 / 46.975 g6\\P[Ø1.8500 / 1.8495]"
    assert _texts_of("A", STYLES[1], 47.0) == "Ø1.8500 / 1.8495 g6\\P[Ø46.991 / 46.975]"
    assert _texts_of("A", MM, 0.4) == "0.40 ±0.01\\P[0.0157 ±0.0003]"
    assert _texts_of("A", STYLES[1], 0.4) == "0.0157 ±0.0003\\P[0.40 ±0.01]"
    assert _texts_of("A", MM, 66.0) == "Ø66\\P[Ø2.598]"


def test_only_fit_letters_stand_on_a_dimension_never_a_sentence() -> None:
    """The words of the fit go to the title block."""
    assert _texts_of("wordy fits", MM, 26.0) == "Ø26.006 / 25.994 JS6\\P[Ø1.0238 / 1.0234]"
    assert _texts_of("wordy fits", MM, 35.004) == "Ø35.002 / 34.996\\P[Ø1.3780 / 1.3778]"
    words = [text.dxf.text for text in document("wordy fits", MM).modelspace().query("TEXT")]
    assert any("to the measured bore" in line for line in words)


_LIMITED = {
    "A": ("outside", "bore"),
    "wordy fits": ("outside", "bore"),
    "large, throw 2": ("outside", "bore"),
    "shim": ("inside", "outside", "thickness"),
    "relief": ("outside",),
    "adapter": ("spigot", "locating"),
    "loose adapter": ("spigot", "locating"),
    "small seat": ("seat", "bore"),
    "large bush": ("outside", "bore"),
    "spanner": ("pin",),
    "key": ("journal", "eccentric"),
}


@pytest.mark.parametrize("name", _LIMITED)
def test_a_part_good_to_the_printed_limits_is_good(name: str) -> None:
    """Limits are rounded inward in millimetres and in inches."""
    part = PARTS[name]
    sizes: list[Limits] = [getattr(part, field) for field in _LIMITED[name]]
    for size in sizes:
        first, _, other = _texts_of(name, MM, size.size).partition("\\P")
        for text, unit in ((first, 1.0), (other, 25.4)):
            most, least = (float(n) * unit for n in re.findall(r"\d+\.\d+", text)[:2])
            assert size.size + size.lower - 1e-6 <= least < most <= size.size + size.upper + 1e-6


@pytest.mark.parametrize("name", ["A", "shim", "relief"])
def test_the_inch_job_leads_with_inches(name: str) -> None:
    """The large figures of an inch job are inches, and nothing is left in millimetres only."""
    for dimension in _dimensions(name, STYLES[1]):
        first, _, other = dimension.dxf.text.partition("\\P")
        if "°" not in first:
            inches, millimetres = _numbers(first)[0], _numbers(other)[0]
            assert millimetres / inches == pytest.approx(25.4, rel=0.01)


def test_the_dimension_style_is_our_own() -> None:
    """Length factor 1, decimal point, 3.5 mm text, closed filled arrows at paper size."""
    entry = document("large, throw 2", MM).dimstyles.get("SHOP").dxf
    assert (entry.dimlfac, entry.dimdsep, entry.dimtxt) == (1.0, ord("."), 3.5)
    assert entry.get("dimblk", "") == ""
    assert entry.dimtsz == 0
    assert entry.dimscale == 2.5


@pytest.mark.parametrize(("name", "style"), CASES)
def test_the_dxf_passes_its_audit(name: str, style: SheetStyle) -> None:
    auditor = document(name, style).audit()
    assert not auditor.errors
    assert not auditor.fixes


def test_a_throw_too_small_to_see_is_enlarged_and_said_so() -> None:
    """0.05 mm at 2:1 is 0.1 mm on paper: drawn 200:1; 2 mm is drawn true in the face view."""
    seen = document("small, throw 2", MM)
    assert not [t for t in seen.modelspace().query("TEXT") if "DETAIL" in t.dxf.text]
    throw = [d for d in _dimensions("small, throw 2", MM) if abs(_measured(d) - 2.0) < 1e-9]
    assert throw[0].get_measurement() == pytest.approx(2.0)
    words = [t.dxf.text for t in document("small, throw 0.05", MM).modelspace().query("TEXT")]
    assert "DETAIL X 200:1" in words
    assert "throw, enlarged; the figure is true" in words


def test_file_names_are_plain_ascii() -> None:
    assert drawn("A", MM).name == "rt6-01-eccentric-bushing-a-motor-side"
    assert re.fullmatch(r"[a-z0-9-]+", drawn("relief", MM).name)


def test_relief_in_the_model_is_smaller_than_as_found() -> None:
    part = PARTS["relief"]
    assert isinstance(part, WormRelief)
    assert _texts_of("relief", MM, part.outside_before).startswith("(Ø32.600)")
