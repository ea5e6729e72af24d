"""The document as PDF. Text reaches the typesetter as data, never as markup."""

from __future__ import annotations

import json
import re
from pathlib import Path

from wormwright.drawings import printing_fonts
from wormwright.packet.document import Document, Style
from wormwright.packet.laid_out import Data, laid_out
from wormwright.packet.pictures import Pictures

TEMPLATE = Path(__file__).parent / "templates" / "page.typ"

_LONG = re.compile(r"\S{20}(?=\S)")
_BIG_LONG = re.compile(r"\S{12}(?=\S)")
_MAY_BREAK = "\u200b"
_PER_CENT = re.compile(r"(?<=\d) (?=%)")
_AS_IT_IS = ("lettered", "sign")
"""Pictures, and the command that somebody may copy."""
_FOR_THE_SCREEN = "svg"
_BIG_LETTERS = ("limit", "read", "number")


def render_pdf(document: Document, style: Style, pictures: Pictures | None = None) -> bytes:
    """The document as PDF, A4 or letter, set in the font that ships with the drawings.

    The file carries no making time, so the same document gives the same bytes.
    """
    return pdf_of(laid_out(document, style, pictures or Pictures(style, document)))


def pdf_of(data: Data) -> bytes:
    """The PDF of what is laid out. The typesetter lets other threads run meanwhile."""
    import typst  # noqa: PLC0415  (heavy)

    return typst.compile(
        TEMPLATE.read_bytes(),
        font_paths=printing_fonts(),
        format="pdf",
        sys_inputs=inputs_of(data),
    )


def inputs_of(data: Data) -> dict[str, str]:
    """What the page template is given."""
    return {"data": json.dumps(_breakable(data))}


def _breakable(data: object, long: re.Pattern[str] = _LONG) -> object:
    """The same data with places in long words where a line may end, so that none runs off."""
    if isinstance(data, str):
        return _PER_CENT.sub("\u00a0", long.sub(lambda found: found.group() + _MAY_BREAK, data))
    if isinstance(data, dict):
        return {
            key: value
            if key in _AS_IT_IS
            else _breakable(value, _BIG_LONG if key in _BIG_LETTERS else long)
            for key, value in data.items()
            if key != _FOR_THE_SCREEN
        }
    if isinstance(data, list | tuple):
        return [_breakable(item, long) for item in data]
    return data
