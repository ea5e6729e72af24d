"""From report blocks to paper, file and screen: one block list, several renderers.

Plain text is all that a terminal needs; the other renderers are loaded when first asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from wormwright.packet.document import Document, Style
from wormwright.packet.text import render_text

if TYPE_CHECKING:
    from wormwright.packet.folder import Packet, write_packet
    from wormwright.packet.html import render_html
    from wormwright.packet.pdf import render_pdf
    from wormwright.packet.results import results_json
    from wormwright.packet.setting_chart import setting_chart_csv

_LATE = {
    "Packet": "folder",
    "write_packet": "folder",
    "render_html": "html",
    "render_pdf": "pdf",
    "results_json": "results",
    "setting_chart_csv": "setting_chart",
}

__all__ = [
    "Document",
    "Packet",
    "Style",
    "render_html",
    "render_pdf",
    "render_text",
    "results_json",
    "setting_chart_csv",
    "write_packet",
]


def __getattr__(name: str) -> object:
    """Load a renderer when it is first used."""
    from importlib import import_module  # noqa: PLC0415

    if name not in _LATE:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_LATE[name]}"), name)
