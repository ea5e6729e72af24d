"""The pictures of a packet, each drawn once however many documents show it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

from wormwright.charts import ChartBlock, chart_svg
from wormwright.job.blocks import PartDrawing
from wormwright.job.parts import Part
from wormwright.packet.document import Document, Style
from wormwright.packet.pictured import Pictured

if TYPE_CHECKING:
    from wormwright.charts.second_process import ChartProcess
    from wormwright.drawings import Drawing

Answer = TypeVar("Answer")


class Pictures:
    """Draws on demand and remembers.

    One `Pictures` serves all documents of a packet, so that a part has the same drawing number
    and the same bytes in the traveler, in the report and in its own file. Charts of the
    documents to come are drawn in `beside` meanwhile, where it is given and able to.
    """

    def __init__(
        self,
        style: Style,
        head: Document,
        to_come: tuple[Document, ...] = (),
        beside: ChartProcess | None = None,
    ) -> None:
        self._style = style
        self._head = head
        self._beside = beside
        self._asked = tuple(
            b for document in to_come for b in document.blocks if isinstance(b, ChartBlock)
        )
        if beside is not None:
            beside.draw(self._asked, style.units)
        self._charts: dict[int, tuple[Pictured, str]] = {}
        self._drawings: dict[Part, Drawing] = {}

    def svg(self, block: Pictured, *, outlined: bool = True) -> str:
        """The picture of a block as SVG; the letters of a drawing as outlines or as letters."""
        if isinstance(block, PartDrawing):
            drawing = self.drawing(block.part)
            return drawing.svg if outlined else drawing.lettered
        if self._beside is not None:
            drawn = zip(self._asked, self._beside.svgs(), strict=False)
            self._charts.update((id(asked), (asked, svg)) for asked, svg in drawn)
            self._beside = None
        known = self._charts.get(id(block))
        if known is None:
            known = (block, self._done(chart_svg, block, self._style.units))
            self._charts[id(block)] = known
        return known[1]

    def drawing(self, part: Part) -> Drawing:
        """The sheet of a part; drawings are numbered in the order they are first asked for."""
        from wormwright.drawings import SheetStyle, TitleBlock, draw_part  # noqa: PLC0415  (slow)

        if part not in self._drawings:
            head = self._head
            title = TitleBlock(
                unit_id=head.unit_id or head.subtitle,
                job=head.job or head.title,
                drawing_number=_number(len(self._drawings)),
                date_text=head.date_text,
                made_up=head.made_up,
            )
            sheet = SheetStyle(units=self._style.units, sheet=self._style.sheet)
            self._drawings[part] = self._done(draw_part, part, title, sheet)
        return self._drawings[part]

    def _done(self, work: Callable[..., Answer], *given: object) -> Answer:
        """What `work(*given)` gives; where it is done may be another process."""
        return work(*given)

    def number(self, part: Part) -> str:
        """The number of the drawing of a part, as in its title block."""
        self.drawing(part)
        return _number(list(self._drawings).index(part))

    @property
    def drawings(self) -> tuple[Drawing, ...]:
        """Every part drawing made so far, in order."""
        return tuple(self._drawings.values())


def _number(place: int) -> str:
    return f"{place + 1:02d}"
