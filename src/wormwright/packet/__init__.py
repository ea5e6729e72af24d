"""From report blocks to paper, file and screen: one block list, several renderers."""

from wormwright.packet.document import Document, Style
from wormwright.packet.text import render_text

__all__ = ["Document", "Style", "render_text"]
