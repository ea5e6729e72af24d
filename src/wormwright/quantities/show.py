"""Numbers to text with units; the digits follow the uncertainty, never the computer."""

from __future__ import annotations

from collections.abc import Mapping
from math import floor, isfinite, log10
from typing import NamedTuple, Protocol

from wormwright.quantities.typed import Dimension, System
from wormwright.quantities.units import TABLE

PLAIN_DIGITS = 4
"""Significant digits of a number that comes with neither uncertainty nor resolution."""
EXACT = 1e-7
"""An uncertainty below this share of its value comes from counting, not from measuring."""
_EVEN = 0.07
"""An interval whose halves differ by less than this share of its width is shown as ±."""


class EstimateLike(Protocol):
    """Anything with a value, its standard uncertainty and its 95 % interval."""

    @property
    def value(self) -> float: ...  # noqa: D102
    @property
    def u(self) -> float: ...  # noqa: D102
    @property
    def low(self) -> float: ...  # noqa: D102
    @property
    def high(self) -> float: ...  # noqa: D102
    @property
    def dimension(self) -> Dimension: ...  # noqa: D102


class Scale(NamedTuple):
    """A unit to show in: number = (core - shift) / size, for numbers up to `below` (core)."""

    unit: str
    size: float
    below: float
    shift: float = 0.0


def _scales(dimension: Dimension, *rows: tuple[str, str, float]) -> tuple[Scale, ...]:
    units = TABLE[dimension]
    made = []
    for spelling, printed, below in rows:
        unit = units[spelling]
        made.append(Scale(printed, float(unit.scale), below, float(unit.shift)))
    return tuple(made)


_LAST = float("inf")
_ANGLE = _scales(
    "angle", ("arcsec", " arcsec", 1.45e-4), ("arcmin", " arcmin", 0.0174), ("deg", "°", _LAST)
)
_NUMBER = (Scale("", 1.0, _LAST),)
_EITHER: Mapping[Dimension, tuple[Scale, ...]] = {
    "angle": _ANGLE,
    "speed": _scales("speed", ("rpm", " rpm", _LAST)),
    "time": _scales(
        "time",
        ("us", " µs", 1e-3),
        ("ms", " ms", 1.0),
        ("s", " s", 120.0),
        ("min", " min", 7200.0),
        ("h", " h", _LAST),
    ),
    "frequency": _scales("frequency", ("hz", " Hz", 1000.0), ("khz", " kHz", _LAST)),
    "power": _scales("power", ("w", " W", 1000.0), ("kw", " kW", _LAST)),
    "voltage": _scales("voltage", ("v", " V", _LAST)),
    "current": _scales("current", ("a", " A", _LAST)),
    "resistance": _scales("resistance", ("ohm", " ohm", _LAST)),
    "inductance": _scales("inductance", ("mh", " mH", _LAST)),
}
"""Dimensions whose units are the same in both systems."""
_SHOWN: Mapping[tuple[Dimension, System], tuple[Scale, ...]] = {
    ("length", "mm"): _scales("length", ("um", " µm", 0.1), ("mm", " mm", _LAST)),
    ("length", "in"): _scales("length", ("thou", " thou", 2.54), ("in", " in", _LAST)),
    ("torque", "mm"): _scales("torque", ("n·mm", " N·mm", 100.0), ("n·m", " N·m", _LAST)),
    ("torque", "in"): _scales("torque", ("oz·in", " oz·in", 1129.0), ("in·lb", " in·lb", _LAST)),
    ("force", "mm"): _scales("force", ("n", " N", _LAST)),
    ("force", "in"): _scales("force", ("lbf", " lbf", _LAST)),
    ("temperature", "mm"): _scales("temperature", ("c", " °C", _LAST)),
    ("temperature", "in"): _scales("temperature", ("f", " °F", _LAST)),
    ("rise", "mm"): _scales("rise", ("k", " K", _LAST)),
    ("rise", "in"): _scales("rise", ("f", " °F", _LAST)),
    ("mass", "mm"): _scales("mass", ("g", " g", 1.0), ("kg", " kg", _LAST)),
    ("mass", "in"): _scales("mass", ("oz", " oz", 0.4536), ("lb", " lb", _LAST)),
    ("stiffness", "mm"): _scales("stiffness", ("n·m/arcmin", " N·m/arcmin", _LAST)),
    ("stiffness", "in"): _scales("stiffness", ("in·lb/arcmin", " in·lb/arcmin", _LAST)),
    ("inertia", "mm"): _scales("inertia", ("g·cm²", " g·cm²", 1000.0), ("kg·m²", " kg·m²", _LAST)),
    ("inertia", "in"): _scales("inertia", ("oz·in²", " oz·in²", _LAST)),
    ("feed", "mm"): _scales("feed", ("mm/min", " mm/min", 1e4), ("m/min", " m/min", _LAST)),
    ("feed", "in"): _scales("feed", ("in/min", " in/min", 25400.0), ("ft/min", " ft/min", _LAST)),
}


def _scale_and_place(
    size: float, dimension: Dimension, units: System, *, expanded: float, resolution: float
) -> tuple[Scale, int | None]:
    """The unit for a number of that size and the place of its last good digit there.

    A unit so small that whole tens of it would be printed gives way to the next larger one.
    """
    rows = _EITHER.get(dimension) or _SHOWN.get((dimension, units), _NUMBER)
    place: int | None = None
    if not (size or expanded or resolution):
        return rows[-1], place
    for row in rows:
        places = []
        if expanded:
            places.append(place_of_uncertainty(expanded / row.size))
        if resolution:
            places.append(place_of_resolution(resolution / row.size))
        place = max(places, default=None)
        if abs(size) < row.below and (place is None or place <= 0):
            break
    return row, place


def place_of_uncertainty(expanded: float) -> int:
    """Power of ten of the last digit worth printing beside an expanded uncertainty.

    One significant digit of the uncertainty when its leading digit is 3 or more, else two.

    Example:
        >>> place_of_uncertainty(0.42), place_of_uncertainty(0.16)
        (-1, -2)
    """
    lead = floor(log10(expanded))
    if expanded / 10.0**lead >= 9.5:
        lead += 1
    return lead if round(expanded / 10.0**lead, 1) >= 3 else lead - 1


def place_of_resolution(resolution: float) -> int:
    """Power of ten of the last digit that a scale of that resolution carries.

    Example:
        >>> place_of_resolution(0.0005), place_of_resolution(0.01)
        (-4, -2)
    """
    return floor(log10(resolution) + 1e-9)


def _rounded(number: float, place: int) -> str:
    text = f"{round(number, -place):.{max(0, -place)}f}"
    return text.removeprefix("-") if float(text) == 0 else text


def _plain_number(number: float) -> str:
    text = f"{number:.{PLAIN_DIGITS}g}"
    if "e" in text:
        text = f"{float(text):.{12}f}".rstrip("0").rstrip(".") if abs(number) < 1 else text
    if "e" in text:
        text = f"{float(text):.0f}"
    return "0" if float(text) == 0 else text


def shown(
    value: float,
    dimension: Dimension,
    *,
    u: float | None = None,
    resolution: float | None = None,
    units: System = "mm",
) -> str:
    """A number with its unit, to the digit that its standard uncertainty or resolution carries.

    Inputs:
        value, u, resolution: in the core unit of `dimension`.
        units: the job's unit system.

    Example:
        >>> shown(0.4826, "length", u=0.002), shown(0.4826, "length", u=0.002, units="in")
        ('0.483 mm', '19.00 thou')
        >>> shown(0.030, "length", resolution=0.001), shown(2.5e-3, "angle", u=3e-5)
        ('30 µm', '8.59 arcmin')
    """
    if not isfinite(value):
        return "not known"
    expanded = 2 * u if u and u > EXACT * abs(value) else 0.0
    size = max(abs(value), expanded)
    scale, place = _scale_and_place(
        size, dimension, units, expanded=expanded, resolution=resolution or 0.0
    )
    number = (value - scale.shift) / scale.size
    if place is not None:
        return f"{_rounded(number, place)}{scale.unit}"
    return f"{number:.0f}" if dimension == "count" else f"{_plain_number(number)}{scale.unit}"


def shown_estimate(
    estimate: EstimateLike,
    dimension: Dimension | None = None,
    *,
    units: System = "mm",
    like: float = 0.0,
) -> str:
    """An estimate with its 95 % interval: `12.3 ± 0.4 arcmin`, or `0.9 (0.2 to 1.5) arcmin`.

    The half-width after ± is that of the 95 % interval, which is the expanded uncertainty (about
    twice the standard one, more when few readings stand behind it). An interval that is not even
    about the value is written out. `like` asks for the unit that a number of that size (core
    unit) would get, so that figures that are compared stand in one unit.
    """
    kind = dimension or estimate.dimension
    half = (estimate.high - estimate.low) / 2
    size = max(abs(estimate.value), half, like)
    if not half > EXACT * abs(estimate.value):
        alike = _scale_and_place(size, kind, units, expanded=0.0, resolution=0.0)[0]
        if not like:
            return shown(estimate.value, kind, units=units)
        return f"{_plain_number((estimate.value - alike.shift) / alike.size)}{alike.unit}"
    scale, _ = _scale_and_place(size, kind, units, expanded=half, resolution=0.0)
    return f"{_with_interval(estimate, scale)}{scale.unit}"


def _with_interval(estimate: EstimateLike, scale: Scale) -> str:
    """Value and 95 % interval in one scale, without the unit."""
    half = (estimate.high - estimate.low) / 2
    if not half > EXACT * abs(estimate.value):
        return _plain_number((estimate.value - scale.shift) / scale.size)
    place = place_of_uncertainty(half / scale.size)
    value, low, high = (
        _rounded((x - scale.shift) / scale.size, place)
        for x in (estimate.value, estimate.low, estimate.high)
    )
    lopsided = abs(estimate.high + estimate.low - 2 * estimate.value) > _EVEN * 2 * half
    if lopsided:
        return f"{value} ({low} to {high})"
    return f"{value} ± {_rounded(half / scale.size, place)}"


def scale_for(size: float, dimension: Dimension, units: System) -> Scale:
    """The unit that a number of that size (core unit) is shown in."""
    return _scale_and_place(size, dimension, units, expanded=0.0, resolution=0.0)[0]


def shown_at(figure: EstimateLike | float, scale: Scale, *, resolution: float | None = None) -> str:
    """A figure in a given unit, without the unit: an estimate with its interval, or a number."""
    if not isinstance(figure, float | int):
        return _with_interval(figure, scale)
    number = (figure - scale.shift) / scale.size
    if resolution is None:
        return _plain_number(number)
    return _rounded(number, place_of_resolution(resolution / scale.size))


def shown_in_both(
    length: float,
    *,
    u: float | None = None,
    resolution: float | None = None,
    units: System = "mm",
) -> tuple[str, str]:
    """A length in the job's own units and in the other ones.

    Example:
        >>> shown_in_both(31.75, resolution=0.01)
        ('31.75 mm', '1.2500 in')
    """
    other: System = "in" if units == "mm" else "mm"
    return (
        shown(length, "length", u=u, resolution=resolution, units=units),
        shown(length, "length", u=u, resolution=resolution, units=other),
    )


def shown_both(
    length: float,
    *,
    u: float | None = None,
    resolution: float | None = None,
    units: System = "mm",
) -> str:
    """A length with the other unit in brackets.

    Example:
        >>> shown_both(0.4826, u=0.006)
        '0.483 mm (19.0 thou)'
    """
    first, second = shown_in_both(length, u=u, resolution=resolution, units=units)
    return f"{first} ({second})"
