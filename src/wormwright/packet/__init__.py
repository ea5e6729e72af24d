"""From report blocks to paper, file and screen: one block list, several renderers.

The renderers other than plain text are loaded when they are first used.
"""

from __future__ import annotations

from wormwright.packet.document import Document, Style
from wormwright.packet.text import render_text

__all__ = ["Document", "Style", "render_text"]
