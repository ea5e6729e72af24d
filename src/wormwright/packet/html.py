"""The document as one HTML file: no script, nothing fetched, prints like the paper traveler."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING

from wormwright.packet.document import Document, Style
from wormwright.packet.inline_svg import inline_svg
from wormwright.packet.laid_out import Data, laid_out
from wormwright.packet.pictures import Pictures

if TYPE_CHECKING:
    import jinja2

_TEMPLATES = Path(__file__).parent / "templates"


def render_html(document: Document, style: Style, pictures: Pictures | None = None) -> str:
    """The document as a self-contained page with its style and pictures inside."""
    return html_of(laid_out(document, style, pictures or Pictures(style, document)))


def html_of(data: Data) -> str:
    """The page of what is laid out."""
    css = (_TEMPLATES / "page.css").read_text(encoding="utf-8")
    return _page().render(**data, css=css)


@lru_cache(maxsize=1)
def _page() -> jinja2.Template:
    import jinja2  # noqa: PLC0415  (heavy)

    maker = jinja2.Environment(
        loader=jinja2.FileSystemLoader(_TEMPLATES),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    maker.filters["inline"] = lambda svg, prefix, label: inline_svg(svg, prefix=prefix, label=label)
    return maker.get_template("page.html")
