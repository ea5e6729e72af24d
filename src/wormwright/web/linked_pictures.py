"""Pictures of a page as links: drawn when a browser asks for one, kept while the job holds."""

from __future__ import annotations

from collections.abc import Callable
from threading import Lock
from typing import TypeVar

from wormwright.job.blocks import PartDrawing
from wormwright.job.parts import Part
from wormwright.packet import Document, Style
from wormwright.packet.pictured import Pictured
from wormwright.packet.pictures import Pictures
from wormwright.web.reckoner import Call

Answer = TypeVar("Answer")


class LinkedPictures(Pictures):
    """Hands a page the address of each picture instead of the picture itself.

    `address` is the start of every picture's address. It holds a mark that changes with the job,
    so that a browser may keep what it has. `head` is the whole document. `call` is where the
    pictures are drawn.
    """

    def __init__(self, style: Style, head: Document, address: str, call: Call) -> None:
        super().__init__(style, head)
        self._address, self._call = address, call
        pictured = [b for b in head.blocks if isinstance(b, Pictured)]
        self._blocks: dict[str, Pictured] = {
            b.name if isinstance(b, PartDrawing) else f"{place}": b
            for place, b in enumerate(pictured, 1)
        }
        self._pencil = Lock()

    def svg(self, block: Pictured, *, outlined: bool = False) -> str:  # noqa: ARG002
        """The address of the picture."""
        known = next(name for name, b in self._blocks.items() if b is block)
        return f"{self._address}/{known}.svg"

    def number(self, part: Part) -> str:
        """The number that the sheet of a part will have: its place among the parts of the page."""
        parts = [b.part for b in self._blocks.values() if isinstance(b, PartDrawing)]
        return f"{parts.index(part) + 1:02d}"

    def file(self, name: str, form: str) -> bytes | None:
        """A picture as a file: `form` svg, and for a part dxf and pdf; None if there is none."""
        block = self._blocks.get(name)
        if block is None or (form != "svg" and not isinstance(block, PartDrawing)):
            return None
        with self._pencil:
            if isinstance(block, PartDrawing):
                return self._part(block, form)
            return super().svg(block).encode()

    def draw_charts(self) -> None:
        """Draw every picture that is no drawing of a part, before anybody asks."""
        for name, block in tuple(self._blocks.items()):
            if not isinstance(block, PartDrawing):
                self.file(name, "svg")

    def _done(self, work: Callable[..., Answer], *given: object) -> Answer:
        answer: Answer = self._call(work, *given)
        return answer

    def _part(self, wanted: PartDrawing, form: str) -> bytes | None:
        """The sheet of a part; those before it are drawn first, so that its number is right."""
        for block in self._blocks.values():
            if isinstance(block, PartDrawing):
                sheet = self.drawing(block.part)
            if block is wanted:
                break
        if form == "pdf":
            return sheet.pdf
        return {"svg": sheet.svg, "dxf": sheet.dxf}[form].encode()
