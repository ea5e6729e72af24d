"""Cells of the CSV files: control characters escaped, formulas guarded, every text exact again.

A cell holds its text in one physical line: backslash, line ends, tabs and other control
characters are written as \\\\, \\n, \\r, \\t or \\uXXXX. A cell that a spreadsheet would run as a
formula, and a cell that begins with an apostrophe, gets one apostrophe in front.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import lru_cache
from types import MappingProxyType
from zlib import crc32

FORMULA_STARTS = frozenset("=+-@＝＋－＠'")
_CONTROL = re.compile("[\\\\\x00-\x1f\x7f-\x9f\u2028\u2029\ufeff\ud800-\udfff]")
_ESCAPED = re.compile(r"\\(?:([\\nrt])|u([0-9a-f]{4}))")
_SHORT = {"\\": "\\\\", "\n": "\\n", "\r": "\\r", "\t": "\\t"}
_LONG = {short[1]: sign for sign, short in _SHORT.items()}
_PAIR = re.compile(r"\s*((?:[^\\;=]|\\.)*?)\s*=((?:[^\\;]|\\.)*)(?:;|$)", re.DOTALL)
_UNQUOTE = re.compile(r"\\(.)", re.DOTALL)


def escaped(text: str) -> str:
    """The text in one line, without control characters."""
    return _CONTROL.sub(_escape, text) if _CONTROL.search(text) else text


def _escape(found: re.Match[str]) -> str:
    sign = found[0]
    return _SHORT.get(sign) or f"\\u{ord(sign):04x}"


def cell_of(text: str) -> str:
    """The cell that holds this text, safe to open in a spreadsheet.

    Example:
        >>> cell_of("+0.140 / -0.135 mm"), cell_of("1/4 in")
        ("'+0.140 / -0.135 mm", '1/4 in')
    """
    cell = escaped(text)
    start = cell[:1] if cell[:1] == "'" else cell.lstrip()[:1]
    return "'" + cell if start in FORMULA_STARTS and start else cell


def unguarded(cells: Iterable[str]) -> list[str]:
    """The cells without the apostrophe that guards them."""
    return [cell[1:] if cell[:1] == "'" else cell for cell in cells]


def unescaped(cell: str) -> str:
    """The text of an unguarded cell."""
    if "\\" not in cell:
        return cell
    return _ESCAPED.sub(lambda m: _LONG[m[1]] if m[1] else chr(int(m[2], 16)), cell)


def text_of(cell: str) -> str:
    """The text that `cell_of` put into this cell."""
    return unescaped(unguarded([cell])[0])


def check_of(cells: Iterable[str]) -> str:
    """The check value of a row of unguarded cells: c and their CRC-32 as eight hex digits.

    The letter in front keeps a spreadsheet from taking it for a number.
    """
    joined = "\x1f".join(cells)
    return f"c{crc32(joined.encode('utf-8', 'surrogateescape')):08x}"


def mapping_cell(pairs: Mapping[str, str]) -> str:
    r"""Named texts in one cell: `key=text; key=text`, with \ before ; = and \ inside a text.

    Example:
        >>> mapping_cell({"pin_radius": "80 mm", "worm_held": "at the worm"})
        'pin_radius=80 mm; worm_held=at the worm'
    """
    return "; ".join(f"{_quoted(key)}={_quoted(text)}" for key, text in pairs.items())


def _quoted(text: str) -> str:
    return text.replace("\\", "\\\\").replace(";", "\\;").replace("=", "\\=")


@lru_cache(maxsize=256)
def mapping_of(cell: str) -> Mapping[str, str]:
    """The named texts of such a cell.

    Raises:
        ValueError: a piece has no name, or a name comes twice.
    """
    pairs: dict[str, str] = {}
    at = 0
    while at < len(cell) and cell[at:].strip():
        found = _PAIR.match(cell, at)
        if found is None or not found[1]:
            raise ValueError(f"{cell[at:].strip()[:40]!r} is not key=text")
        key = _UNQUOTE.sub(r"\1", found[1])
        if key in pairs:
            raise ValueError(f"{key!r} is given twice")
        pairs[key] = _UNQUOTE.sub(r"\1", found[2])
        at = found.end()
    return MappingProxyType(pairs)
