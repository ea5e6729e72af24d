"""The document as PDF. Text reaches the typesetter as data, never as markup."""

from __future__ import annotations

import json
import re
from pathlib import Path

from wormwright.drawings import fonts_folder
from wormwright.packet.document import Document, Style
from wormwright.packet.laid_out import laid_out, reworded
from wormwright.packet.pictures import Pictures

_TEMPLATE = Path(__file__).parent / "templates" / "page.typ"
_LONG = re.compile(r"\S{16}(?=\S)")
_MAY_BREAK = "\u200b"


def render_pdf(document: Document, style: Style, pictures: Pictures | None = None) -> bytes:
    """The document as PDF, A4 or letter, set in the font that ships with the drawings.

    The file carries no making time, so the same document gives the same bytes.
    """
    import typst  # noqa: PLC0415  (heavy)

    data = laid_out(document, style, pictures or Pictures(style, document))
    return typst.compile(
        _TEMPLATE.read_bytes(),
        font_paths=typst.Fonts(include_system_fonts=False, font_paths=[str(fonts_folder())]),
        format="pdf",
        sys_inputs={"data": json.dumps(reworded(data, _breakable))},
    )


def _breakable(text: str) -> str:
    """Long words may be broken, so that no text runs off the paper."""
    return _LONG.sub(lambda found: found.group() + _MAY_BREAK, text)
