"""The document as one HTML file: no script, nothing fetched, prints like the paper traveler."""

from __future__ import annotations

from pathlib import Path

from wormwright.packet.document import Document, Style
from wormwright.packet.inline_svg import inline_svg
from wormwright.packet.laid_out import laid_out
from wormwright.packet.pictures import Pictures

_TEMPLATES = Path(__file__).parent / "templates"


def render_html(document: Document, style: Style, pictures: Pictures | None = None) -> str:
    """The document as a self-contained page with its style and pictures inside."""
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
    data = laid_out(document, style, pictures or Pictures(style, document))
    css = (_TEMPLATES / "page.css").read_text(encoding="utf-8")
    return maker.get_template("page.html").render(**data, css=css)
