"""Text as tradesmen write it -> one number in the core unit, exact until the last step."""

from __future__ import annotations

import re
from fractions import Fraction
from math import sqrt
from typing import NamedTuple, NoReturn

from wormwright.quantities.typed import Dimension, System, Typed
from wormwright.quantities.units import CHAINS, WORDS, Unit, dimensions_of, unit_named
from wormwright.quantities.wanted import LONGEST, SPOKEN, SPOKEN_VALUES, Wanted, plain

LARGEST = 1e9
"""Nothing at the bench is larger than this in a core unit."""
LARGEST_EXPONENT = 12

_PART = re.compile(
    r"""\s*
    (?: (?P<whole>[0-9]+)(?:\s+|-)(?P<num>[0-9]+)/(?P<den>[0-9]+)
      | (?P<num1>[0-9]+)\s*/\s*(?P<den1>[0-9]+)
      | (?P<decimal>[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE](?P<power>[+-]?[0-9]+))?
    )
    \s*(?P<unit>[^0-9]*?)\s*(?=\.?[0-9]|$)""",
    re.VERBOSE,
)
_COMMON = re.compile(
    r"([+-]?)\s*(?=[0-9.])([0-9]*)\.?([0-9]*)\s*([^0-9\s,:.±~<>+/-][^0-9,:±~<>+]*|)\s*"
)
_PAIR = re.compile(r"([+-][^/]*?(?:[0-9]+/[0-9]+[^/]*?)?)/\s*([+-].*)")
_SWING = re.compile(r"^TIR\b[\s:=]*|\s*\bTIR$", re.IGNORECASE)
_ABOUT = re.compile(r"(?:~|≈|about\b|approx\b\.?|ca\b\.?)\s*", re.IGNORECASE)


class _Part(NamedTuple):
    number: Fraction
    unit: str


class _Exact(NamedTuple):
    """A quantity in the core unit before it becomes a float; `half` is half its range."""

    value: Fraction
    half: Fraction
    unit: str
    flags: tuple[str, ...]


def read(
    text: str,
    dimension: Dimension,
    *,
    field: str,
    column_unit: str | None = None,
    units: System | None = None,
) -> Typed:
    """The quantity written in `text`, in the core unit of `dimension`.

    A bare number is refused unless `column_unit` says what the column is in (ratios and counts
    need no unit). `units` is the job's unit system: in a metric job or column "tenths" is refused,
    because it means 0.0001 in to some and 0.1 mm to others. `+0.140 / -0.135 mm` is a push and a
    pull: its value is the plus reading less the minus reading. `TIR 3 thou` is the whole swing of
    the needle. A comma is refused, with both readings offered; only in a column that says its
    unit is 0,02 taken for the 0.02 that it must be.

    Raises:
        QuantityError: for anything that is not clearly one such quantity.

    Example:
        >>> read("19 thou", "length", field="end play").value
        0.4826
        >>> read("1 1/4 in", "length", field="worm outside diameter").value
        31.75
        >>> read("5'30\\"", "angle", field="coupling play").unit
        'arcmin'
    """
    wanted = Wanted(dimension, field, column_unit, units)
    common = _common(text, wanted)
    return common if common is not None else _any(text, wanted)


def read_pair(
    text: str,
    dimension: Dimension,
    *,
    field: str,
    column_unit: str | None = None,
    units: System | None = None,
) -> tuple[Typed, Typed] | None:
    """The two halves of a push and pull written as `+0.140 / -0.135 mm`, or None if not a pair.

    Example:
        >>> push, pull = read_pair("+0.14 / -0.13 mm", "length", field="rock")
        >>> push.value, pull.value
        (0.14, -0.13)
    """
    wanted = Wanted(dimension, field, column_unit, units)
    halves = _split_pair(plain(text, wanted))
    if halves is None:
        return None
    push, pull = _both_halves(text, halves, wanted)
    return _typed(text, push), _typed(text, pull)


def _common(text: str, wanted: Wanted) -> Typed | None:
    """The everyday form, sign, decimals, unit, without detours; None if it is anything else."""
    if len(text) > LONGEST:
        return None
    found = _COMMON.fullmatch(text)
    if found is None:
        return None
    sign, whole, tail, word = found.groups()
    digits = whole + tail
    unit = unit_named(word or wanted.column_unit or "", wanted.dimension)
    if not digits or unit is None or unit.shift or unit.name in ("", "tenths"):
        return None
    number = int(digits)
    scale = unit.scale
    value = number * scale.numerator / (10 ** len(tail) * scale.denominator)
    if value > LARGEST or number == 0:
        return None
    return Typed(text, -value if sign == "-" else value, unit.name)


def _any(text: str, wanted: Wanted) -> Typed:
    """Any form the trade writes."""
    clean = plain(text, wanted)
    halves = _split_pair(clean)
    if halves is None:
        return _typed(text, _one(text, clean, wanted))
    plus, minus = _both_halves(text, halves, wanted)
    both = _Exact(
        plus.value - minus.value,
        plus.half**2 + minus.half**2,
        plus.unit or minus.unit,
        tuple(dict.fromkeys(plus.flags + minus.flags)),
    )
    return _typed(text, both._replace(half=Fraction(sqrt(both.half))))


def _typed(text: str, exact: _Exact) -> Typed:
    """The one conversion to floats."""
    return Typed(
        text,
        float(exact.value),
        exact.unit,
        exact.flags,
        2.0 if "approximate" in exact.flags else 1.0,
        float(exact.half) / sqrt(3),
    )


def _split_pair(clean: str) -> tuple[str, str] | None:
    if "/" not in clean or clean[0] not in "+-":
        return None
    found = _PAIR.fullmatch(clean)
    return None if found is None else (found[1].strip(), found[2].strip())


def _both_halves(text: str, halves: tuple[str, str], wanted: Wanted) -> tuple[_Exact, _Exact]:
    minus = _one(text, halves[1], wanted)
    bare = halves[0][-1] in "0123456789."
    shared = wanted._replace(column_unit=minus.unit) if bare and minus.unit else wanted
    return _one(text, halves[0], shared), minus


def _one(text: str, clean: str, wanted: Wanted) -> _Exact:
    """One quantity, with its prefix (~, >, sign), in the core unit."""
    flags: list[str] = []
    about = _ABOUT.match(clean)
    if about is not None:
        flags.append("approximate")
        clean = clean[about.end() :]
    if clean[:1] in "<>≥≤":
        flags.append("off scale")
        clean = clean[1:].lstrip("= ")
    if clean[:1] == "±" and wanted.dimension in ("torque", "force"):
        clean = clean[1:].lstrip()
    if wanted.dimension == "length" and _SWING.search(clean) is not None:
        flags.append("TIR")
        clean = _SWING.sub("", clean)
        if clean[:1] in ("+", "-"):
            wanted.refuse(text, "a TIR is the whole swing of the needle and has no sign")
    sign = -1 if clean[:1] == "-" else 1
    signed = clean[:1] in ("+", "-")
    number, half, unit, is_range = _number(text, clean[1:] if signed else clean, wanted)
    if is_range:
        flags.append("range")
        if signed:
            wanted.refuse(text, "a range with a sign can be read two ways; write its middle value")
    if sign < 0 and number == 0:
        flags.append("signed zero")
    exact = sign * number * unit.scale + unit.shift
    if wanted.dimension == "count" and (exact.denominator != 1 or exact < 0):
        wanted.refuse(text, "write a whole number, zero or more")
    if abs(exact) > LARGEST:
        wanted.refuse(text, f"that is too large for anything on a bench; {wanted.examples}")
    return _Exact(exact, half * unit.scale, unit.name, tuple(flags))


def _number(text: str, clean: str, wanted: Wanted) -> tuple[Fraction, Fraction, Unit, bool]:
    """Number, half-width of its range, unit, and whether it was a range."""
    if wanted.dimension == "ratio" and ":" in clean:
        return _proportion(text, clean, wanted), Fraction(0), Unit("", Fraction(1)), False
    parts = _parts(text, clean, wanted)
    if len(parts) == 1:
        number, unit = parts[0]
        return number, Fraction(0), _unit(text, unit, number, wanted), False
    if len(parts) == 2:
        joint = parts[0].unit
        if joint.endswith(("-", "to")):
            own = joint.removesuffix("to").rstrip("- ")
            low, high = parts
            unit_high = _unit(text, high.unit, high.number, wanted)
            unit_low = _unit(text, own, low.number, wanted) if own else unit_high
            if unit_low.name != unit_high.name or low.number >= high.number:
                wanted.refuse(text, "a range goes from small to large in one unit, like 3-4 thou")
            middle = (low.number + high.number) / 2
            return middle, (high.number - low.number) / 2, unit_high, True
    number, unit_of_sum = _sum(text, parts, wanted)
    return number, Fraction(0), unit_of_sum, False


def _parts(text: str, clean: str, wanted: Wanted) -> list[_Part]:
    """Every number in the text with the unit behind it."""
    spoken = SPOKEN.fullmatch(clean)
    if spoken is not None:
        number = SPOKEN_VALUES[spoken[1].lower()]
        if spoken[2]:
            number *= SPOKEN_VALUES[spoken[2].lower()]
        return [_Part(number, spoken[3])]
    parts: list[_Part] = []
    at = 0
    while at < len(clean):
        found = _PART.match(clean, at)
        if found is None or found.end() == at:
            wanted.refuse(text, f"cannot make sense of {clean[at:][:20]!r}; {wanted.examples}")
        parts.append(_Part(_value(text, found, wanted), found["unit"]))
        at = found.end()
    if not parts:
        wanted.refuse(text, f"there is no number in it; {wanted.examples}")
    return parts


def _value(text: str, found: re.Match[str], wanted: Wanted) -> Fraction:
    decimal = found["decimal"]
    if decimal is not None:
        whole, _, tail = decimal.partition(".")
        number = Fraction(int(whole + tail), 10 ** len(tail))
        power = found["power"]
        if power is None:
            return number
        if len(power) > 3 or abs(int(power)) > LARGEST_EXPONENT:
            wanted.refuse(text, f"the exponent is beyond anything real; {wanted.examples}")
        return number * Fraction(10) ** int(power)
    top, bottom = found["num"] or found["num1"], found["den"] or found["den1"]
    if int(bottom) == 0:
        wanted.refuse(text, "a fraction cannot have 0 below the line")
    fraction = Fraction(int(top), int(bottom))
    if found["whole"] is None:
        return fraction
    if fraction >= 1:
        wanted.refuse(text, "after a whole number write a fraction below one, like 1 1/4 in")
    return int(found["whole"]) + fraction


def _unit(text: str, spelled: str, number: Fraction, wanted: Wanted) -> Unit:
    """The unit as spelled, or the column's; refuses what is missing, strange or two-faced."""
    from_column = not spelled
    word = spelled or wanted.column_unit or ""
    if not word and wanted.dimension in ("ratio", "count"):
        return Unit("", Fraction(1))
    unit = unit_named(word, wanted.dimension)
    if unit is None:
        _refuse_unit(text, word, number, wanted)
    if unit.name == "tenths" and not from_column and _metric(wanted):
        inch, metric = _decimal(number / 10_000), _decimal(number / 10)
        wanted.refuse(
            text,
            f'"tenth" means 0.0001 in to some and 0.1 mm to others: write {inch} in or {metric} mm',
        )
    return unit


def _metric(wanted: Wanted) -> bool:
    if wanted.column_unit:
        column = unit_named(wanted.column_unit, wanted.dimension)
        return column is not None and column.system == "mm"
    return wanted.units == "mm"


def _refuse_unit(text: str, word: str, number: Fraction, wanted: Wanted) -> NoReturn:
    if not word:
        wanted.refuse(text, f"it has no unit; {wanted.examples}")
    if word == wanted.column_unit:
        wanted.refuse(
            word, f"the column's unit is not {WORDS[wanted.dimension]}; {wanted.examples}"
        )
    if word.casefold() in ("mil", "mils") and wanted.dimension == "length":
        shown = _decimal(number)
        wanted.refuse(
            text,
            f'"mil" means 0.001 in to some and 1 mm to others: write {shown} thou or {shown} mm',
        )
    others = [WORDS[d] for d in dimensions_of(word)]
    if others:
        wanted.refuse(text, f"{word!r} is a unit of {' or '.join(others)}; {wanted.examples}")
    wanted.refuse(text, f"{word[:20]!r} is not a unit known here; {wanted.examples}")


def _sum(text: str, parts: list[_Part], wanted: Wanted) -> tuple[Fraction, Unit]:
    """Feet and inches, degrees, minutes and seconds: each part smaller than one of the last."""
    units = [
        _unit(text, part.unit, part.number, wanted._replace(column_unit=None)) for part in parts
    ]
    names = [unit.name for unit in units]
    chain = next((c for c in CHAINS if set(names) <= set(c)), ())
    if not chain or [n for n in chain if n in names] != names:
        wanted.refuse(text, f"these parts do not add up to one quantity; {wanted.examples}")
    total = Fraction(0)
    for place, (part, unit) in enumerate(zip(parts, units, strict=True)):
        value = part.number * unit.scale
        if place and value >= units[place - 1].scale:
            wanted.refuse(text, f"{part.unit} counts past one {names[place - 1]}; write it out")
        if place < len(parts) - 1 and part.number.denominator != 1:
            wanted.refuse(text, "only the last part may have a fraction")
        total += value
    return total / units[0].scale, units[0]


def _proportion(text: str, clean: str, wanted: Wanted) -> Fraction:
    top, _, bottom = clean.partition(":")
    if not (top.strip().isdecimal() and bottom.strip().isdecimal() and int(bottom) > 0):
        wanted.refuse(text, "write a proportion of two whole numbers, like 90:1")
    return Fraction(int(top), int(bottom))


def _decimal(number: Fraction) -> str:
    return f"{float(number):.12g}"
