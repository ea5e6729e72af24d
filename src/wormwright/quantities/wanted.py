"""What a field wants, and its text brought to plain signs before anything is read from it."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple, NoReturn

from wormwright.quantities.typed import Dimension, QuantityError, System
from wormwright.quantities.units import EXAMPLES, WORDS

LONGEST = 64
"""Characters in the longest text that is looked at."""
_LOOKALIKES = str.maketrans(
    {
        **dict.fromkeys("−–‒—﹣－", "-"),
        **dict.fromkeys("′’‘ʹ´", "'"),
        **dict.fromkeys("″”“ʺ", '"'),
        **dict.fromkeys("µμ", "u"),
        **dict.fromkeys("⋅∙•×*", "·"),
        **dict.fromkeys("º˚", "°"),
        **dict.fromkeys("\u00a0\u2009\u202f\u2007", " "),
        "⁄": "/",
        "½": " 1/2",
        "¼": " 1/4",
        "¾": " 3/4",
        "⅛": " 1/8",
        "⅜": " 3/8",
        "⅝": " 5/8",
        "⅞": " 7/8",
        "⅓": " 1/3",
        "⅔": " 2/3",
        "＋": "+",
    }
)
_DIGIT = re.compile("[0-9]")
_COMMA = re.compile(r"[0-9]*,[0-9]+")
_ONLY_DECIMAL = re.compile(r"(?<![0-9.,])0,(?=[0-9]+(?![0-9.,]))")
"""A comma behind a lone 0 separates no thousands: in a column it can only be a decimal comma."""
_LEADING = re.compile(r"(?<![0-9.])0+(?=[0-9])")
SPOKEN = re.compile(
    r"(half|quarter|one|two|three|four|five|six|seven|eight|nine|ten|an|a)"
    r"(?:\s+(?:of\s+)?an?)?(?:\s+(half|quarter))?(?:\s+(?:of\s+)?an?)?\s+([a-z.]+)",
    re.IGNORECASE,
)
_NUMERALS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
SPOKEN_VALUES = {
    **{word: Fraction(n) for n, word in enumerate(_NUMERALS, 1)},
    "half": Fraction(1, 2),
    "quarter": Fraction(1, 4),
    "a": Fraction(1),
    "an": Fraction(1),
}


class Wanted(NamedTuple):
    """What the field wants; every refusal is worded from here."""

    dimension: Dimension
    field: str
    column_unit: str | None
    units: System | None

    def refuse(self, got: str, do: str) -> NoReturn:
        """Raise the field's error for the text that came, with what to do."""
        expected = f"{WORDS[self.dimension]} with its unit"
        if self.dimension in ("ratio", "count", "none") or self.column_unit:
            expected = WORDS[self.dimension]
        raise QuantityError(self.field, got=got, expected=expected, do=do)

    @property
    def examples(self) -> str:
        """How such a quantity is written."""
        return f"write it like {EXAMPLES[self.dimension]}"


def plain(text: str, wanted: Wanted) -> str:
    """The text trimmed, with the trade's many signs brought to plain ones."""
    if len(text) > LONGEST:
        wanted.refuse(text, f"shorten it to one quantity of at most {LONGEST} characters")
    clean = text if text.isascii() else text.translate(_LOOKALIKES)
    clean = clean.strip().replace("''", '"')
    if not _DIGIT.search(clean) and not SPOKEN.fullmatch(clean):
        wanted.refuse(text, f"there is no number in it; {wanted.examples}")
    if "," in clean and wanted.column_unit:
        clean = _ONLY_DECIMAL.sub("0.", clean)
    comma = _COMMA.search(clean)
    if comma is not None:
        point = clean.replace(",", ".")
        joined = _LEADING.sub("", clean.replace(",", ""))
        wanted.refuse(
            text, f"a comma can be read two ways: did you mean {point} or {joined}? Write that"
        )
    return clean
