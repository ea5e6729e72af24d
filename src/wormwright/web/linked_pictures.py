"""Pictures of a page as links: drawn when a browser asks for one, kept while the job holds."""

from __future__ import annotations

from threading import Lock

from wormwright.job.blocks import PartDrawing
from wormwright.job.parts import Part
from wormwright.packet import Document, Style
from wormwright.packet.pictured import Pictured
from wormwright.packet.pictures import Pictures


class LinkedPictures(Pictures):
    """Hands a page the address of each picture instead of the picture itself.

    `address` is the start of every picture's address. It holds a mark that changes with the job,
    so that a browser may keep what it has.
    """

    def __init__(self, style: Style, head: Document, address: str) -> None:
        super().__init__(style, head)
        self._address = address
        self._blocks: dict[str, Pictured] = {}
        self._svg: dict[str, str] = {}
        self._pencil = Lock()

    def svg(self, block: Pictured, *, outlined: bool = False) -> str:  # noqa: ARG002
        """The address of the picture."""
        known = next((name for name, b in self._blocks.items() if b is block), None)
        if known is None:
            known = block.name if isinstance(block, PartDrawing) else f"{len(self._blocks) + 1}"
            self._blocks[known] = block
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
            if name not in self._svg:
                self._svg[name] = super().svg(block)
            return self._svg[name].encode()

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
