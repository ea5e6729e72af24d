"""The table of units: every spelling the trade uses, with its exact factor to the core unit."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from wormwright.quantities.typed import Dimension

F = Fraction

INCH = F(254, 10)
"""One inch in mm, exact since the 1959 agreement."""
POUND = F("0.45359237")
"""One avoirdupois pound in kg, exact."""
GRAVITY = F("9.80665")
"""Standard gravity in m/s², exact by convention (3rd General Conference, 1901)."""
POUND_FORCE = POUND * GRAVITY
OUNCE_FORCE = POUND_FORCE / 16
PI = F(31415926535897932384626433832795028841971, 10**40)
"""π to 41 digits: far below what the one rounding to a float can see."""
DEGREE = PI / 180


_NONE = F(0)


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit: core value = number·scale + shift. `system` is "mm", "in" or "" (both)."""

    name: str
    scale: Fraction
    shift: Fraction = _NONE
    system: str = ""


def _force_length(force: tuple[str, ...], length: tuple[str, ...], *, turned: bool = False) -> str:
    pairs = [(f, a) for f in force for a in length]
    pairs += [(a, f) for f, a in pairs] if turned else []
    return " ".join(f"{one}{dot}{other}" for one, other in pairs for dot in ("·", ""))


_POUNDS = ("lbf", "lb", "lbs", "pound", "pounds")
_OUNCES = ("ozf", "oz")
_INCHES = ("in", "inch", "inches")


def _stiffness() -> tuple[tuple[Unit, str], ...]:
    """Torque for an angle: every torque of a drive sheet over every angle."""
    torques = (
        ("N·mm", F(1), "mm"),
        ("N·m", F(1000), "mm"),
        ("kgf·m", GRAVITY * 1000, "mm"),
        ("in·lb", POUND_FORCE * INCH, "in"),
        ("ft·lb", POUND_FORCE * INCH * 12, "in"),
    )
    angles = (("arcmin", DEGREE / 60, "arcmin '"), ("deg", DEGREE, "deg °"), ("rad", F(1), "rad"))
    return tuple(
        (
            Unit(f"{torque}/{angle}", scale / size, system=system),
            " ".join(f"{torque}/{word}".casefold() for word in words.split()),
        )
        for torque, scale, system in torques
        for angle, size, words in angles
    )


_SPELLINGS: Mapping[str, tuple[tuple[Unit, str], ...]] = {
    "length": (
        (Unit("mm", F(1), system="mm"), "mm millimetre millimetres millimeter millimeters"),
        (Unit("cm", F(10), system="mm"), "cm"),
        (Unit("m", F(1000), system="mm"), "m metre metres meter meters"),
        (Unit("µm", F(1, 1000), system="mm"), "um u μm μ micron microns micrometre micrometer"),
        (Unit("in", INCH, system="in"), 'in inch inches "'),
        (Unit("ft", INCH * 12, system="in"), "ft foot feet '"),
        (Unit("thou", INCH / 1000, system="in"), "thou thous"),
        (Unit("tenths", INCH / 10_000, system="in"), "tenth tenths t"),
    ),
    "angle": (
        (Unit("arcmin", DEGREE / 60), "arcmin arcmins arcminute arcminutes '"),
        (Unit("arcsec", DEGREE / 3600), 'arcsec arcsecs arcsecond arcseconds "'),
        (Unit("deg", DEGREE), "deg degs degree degrees °"),
        (Unit("rad", F(1)), "rad"),
        (Unit("mrad", F(1, 1000)), "mrad"),
        (Unit("turn", PI * 2), "turn turns rev revs"),
    ),
    "torque": (
        (Unit("N·mm", F(1), system="mm"), _force_length(("n",), ("mm",))),
        (Unit("N·cm", F(10), system="mm"), _force_length(("n",), ("cm",))),
        (Unit("N·m", F(1000), system="mm"), _force_length(("n",), ("m",))),
        (Unit("mN·m", F(1), system="mm"), _force_length(("mn",), ("m",))),
        (Unit("kgf·cm", GRAVITY * 10, system="mm"), _force_length(("kgf", "kp", "kg"), ("cm",))),
        (Unit("kgf·m", GRAVITY * 1000, system="mm"), _force_length(("kgf", "kp", "kg"), ("m",))),
        (Unit("gf·cm", GRAVITY / 100, system="mm"), _force_length(("gf", "g"), ("cm",))),
        (
            Unit("oz·in", OUNCE_FORCE * INCH, system="in"),
            _force_length(_OUNCES, _INCHES, turned=True),
        ),
        (
            Unit("in·lb", POUND_FORCE * INCH, system="in"),
            _force_length(_POUNDS, _INCHES, turned=True),
        ),
        (
            Unit("ft·lb", POUND_FORCE * INCH * 12, system="in"),
            _force_length(_POUNDS, ("ft",), turned=True),
        ),
    ),
    "force": (
        (Unit("N", F(1), system="mm"), "n newton newtons"),
        (Unit("kN", F(1000), system="mm"), "kn"),
        (Unit("kgf", GRAVITY, system="mm"), "kgf kp"),
        (Unit("gf", GRAVITY / 1000, system="mm"), "gf"),
        (Unit("lbf", POUND_FORCE, system="in"), " ".join(_POUNDS)),
        (Unit("ozf", OUNCE_FORCE, system="in"), " ".join(_OUNCES)),
    ),
    "temperature": (
        (Unit("°C", F(1), system="mm"), "°c c degc celsius"),
        (Unit("°F", F(5, 9), F(-160, 9), system="in"), "°f f degf fahrenheit"),
        (Unit("K", F(1), F("-273.15"), system="mm"), "k kelvin"),
    ),
    "rise": (
        (Unit("K", F(1), system="mm"), "k kelvin °c c degc celsius"),
        (Unit("°F", F(5, 9), system="in"), "°f f degf fahrenheit"),
    ),
    "speed": (
        (Unit("rpm", F(1)), "rpm rev/min r/min revs/min turns/min"),
        (Unit("deg/s", F(1, 6)), "deg/s °/s degrees/s"),
    ),
    "mass": (
        (Unit("kg", F(1), system="mm"), "kg kilo kilos"),
        (Unit("g", F(1, 1000), system="mm"), "g gram grams"),
        (Unit("lb", POUND, system="in"), "lb lbs pound pounds"),
        (Unit("oz", POUND / 16, system="in"), "oz ounce ounces"),
    ),
    "stiffness": _stiffness(),
    "inertia": (
        (Unit("kg·mm²", F(1), system="mm"), "kg·mm²"),
        (Unit("kg·cm²", F(100), system="mm"), "kg·cm²"),
        (Unit("kg·m²", F(1_000_000), system="mm"), "kg·m²"),
        (Unit("g·cm²", F(1, 10), system="mm"), "g·cm²"),
        (Unit("oz·in²", POUND / 16 * INCH**2, system="in"), "oz·in²"),
        (Unit("lb·in²", POUND * INCH**2, system="in"), "lb·in²"),
    ),
    "feed": (
        (Unit("mm/min", F(1), system="mm"), "mm/min"),
        (Unit("m/min", F(1000), system="mm"), "m/min"),
        (Unit("m/s", F(60_000), system="mm"), "m/s"),
        (Unit("in/min", INCH, system="in"), "in/min ipm"),
        (Unit("ft/min", INCH * 12, system="in"), "ft/min fpm"),
    ),
    "time": (
        (Unit("s", F(1)), "s sec second seconds"),
        (Unit("ms", F(1, 1000)), "ms"),
        (Unit("µs", F(1, 1_000_000)), "us"),
        (Unit("min", F(60)), "min minute minutes"),
        (Unit("h", F(3600)), "h hour hours"),
    ),
    "frequency": (
        (Unit("Hz", F(1)), "hz pulses/s 1/s"),
        (Unit("kHz", F(1000)), "khz"),
        (Unit("MHz", F(1_000_000)), "mhz"),
    ),
    "power": ((Unit("W", F(1)), "w watt"), (Unit("kW", F(1000)), "kw")),
    "voltage": ((Unit("V", F(1)), "v volt volts"),),
    "current": ((Unit("A", F(1)), "a amp amps"), (Unit("mA", F(1, 1000)), "ma")),
    "resistance": ((Unit("ohm", F(1)), "ohm ohms ω"), (Unit("mohm", F(1, 1000)), "mohm mω")),
    "inductance": ((Unit("mH", F(1, 1000)), "mh"), (Unit("H", F(1)), "h henry")),
    "ratio": ((Unit("", F(1)), ""), (Unit("%", F(1, 100)), "%")),
    "count": (
        (Unit("", F(1)), "off pieces tooth teeth start starts thread threads position positions"),
    ),
}

TABLE: Mapping[str, Mapping[str, Unit]] = {
    dimension: {spelling: unit for unit, words in rows for spelling in words.split()}
    for dimension, rows in _SPELLINGS.items()
}

CHAINS: tuple[tuple[str, ...], ...] = (
    ("deg", "arcmin", "arcsec"),
    ("ft", "in"),
    ("lb", "oz"),
)
"""Units that may follow each other in one quantity, largest first (1 ft 3 in, 5'30")."""

EXAMPLES: Mapping[str, str] = {
    "length": "47 mm, 12 µm, 0.019 in, 19 thou, 2 tenths or 1 1/4 in",
    "angle": "12.5 arcmin, 5'30\", 0.08 deg or 40 arcsec",
    "torque": "0.4 N·m, 20 N·mm, 35 oz·in or 30 in·lb",
    "force": "50 N, 11 lbf or 5 kgf",
    "temperature": "19 °C or 66 °F",
    "rise": "12 K or 22 °F",
    "speed": "25 rpm",
    "mass": "2.5 kg, 400 g or 5 lb",
    "stiffness": "2.6 N·m/arcmin, 1.6e4 N·m/rad or 300 in·lb/deg",
    "inertia": "480 g·cm², 0.005 kg·m² or 2.6 oz·in²",
    "feed": "600 mm/min or 24 in/min",
    "time": "0.2 s, 30 min or 200 ms",
    "frequency": "30 kHz or 5000 Hz",
    "power": "400 W or 0.75 kW",
    "voltage": "48 V",
    "current": "2.8 A",
    "resistance": "1.1 ohm",
    "inductance": "3.6 mH",
    "ratio": "0.9 or 90 %",
    "count": "90",
    "none": "a word",
}

WORDS: Mapping[str, str] = {
    "length": "a length",
    "angle": "an angle",
    "torque": "a torque",
    "force": "a force",
    "temperature": "a temperature",
    "rise": "a rise of temperature",
    "speed": "a speed",
    "mass": "a mass",
    "stiffness": "a stiffness against turning",
    "inertia": "an inertia",
    "feed": "a feed or surface speed",
    "time": "a time",
    "frequency": "a rate",
    "power": "a power",
    "voltage": "a voltage",
    "current": "a current",
    "resistance": "a resistance",
    "inductance": "an inductance",
    "ratio": "a ratio",
    "count": "a whole number",
    "none": "a word",
}

_JOINT = re.compile(r"\s*[·.*\-×]\s*(?=\w)|\s+(?=\w)")


@lru_cache(maxsize=1024)
def unit_named(text: str, dimension: Dimension) -> Unit | None:
    """The unit of that dimension spelled `text`, or None. Spaces, dots and hyphens may join it."""
    table = TABLE.get(dimension, {})
    word = text.strip().casefold()
    found = table.get(word) or table.get(word.rstrip("."))
    if found is not None:
        return found
    return table.get(_JOINT.sub("·", word.strip(". ")))


def dimensions_of(text: str) -> tuple[str, ...]:
    """Every dimension that knows a unit spelled `text`; a rise shares those of a temperature."""
    return tuple(d for d in TABLE if d != "rise" and unit_named(text, d) is not None)
