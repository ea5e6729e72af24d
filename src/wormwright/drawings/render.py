"""From one drawn document to DXF and PDF. The same drawing gives the same bytes."""

from __future__ import annotations

import datetime
import io
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from typing import TYPE_CHECKING

from wormwright.drawings.lettering import drawing_library, fonts_folder

if TYPE_CHECKING:
    import typst

    from wormwright.drawings.canvas import Canvas
    from wormwright.drawings.style import Paper

_lock = threading.Lock()
_FIXED_DAY = datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC)
"""Written into the PDF as its making time: a clock would make every file differ."""


@contextmanager
def repeatable() -> Iterator[None]:
    """Fixed dates and identity marks in the DXF; the options are put back afterwards."""
    options = drawing_library().options
    with _lock:
        before = options.write_fixed_meta_data_for_testing
        options.write_fixed_meta_data_for_testing = True
        try:
            yield
        finally:
            options.write_fixed_meta_data_for_testing = before


def dxf_text(canvas: Canvas) -> str:
    """The DXF file. Its classes come from a set in the library, so they are put in order first."""
    classes = canvas.document.classes
    classes.add_required_classes(canvas.document.dxfversion)
    classes.classes = dict(sorted(classes.classes.items()))
    stream = io.StringIO()
    canvas.document.write(stream)
    return stream.getvalue()


def pdf_bytes(svg: str, paper: Paper, title: str) -> bytes:
    """A one-page PDF of the SVG at its own size."""
    import typst  # noqa: PLC0415  (slow)

    source = (
        "#let given = sys.inputs\n"
        "#set document(title: given.title, date: datetime("
        f"year: {_FIXED_DAY.year}, month: {_FIXED_DAY.month}, day: {_FIXED_DAY.day}))\n"
        f"#set page(width: {paper.width}mm, height: {paper.height}mm, margin: 0mm)\n"
        f'#image(bytes(given.svg), format: "svg", width: {paper.width}mm, '
        f"height: {paper.height}mm)\n"
    )
    return typst.compile(
        source.encode(),
        format="pdf",
        font_paths=printing_fonts(),
        sys_inputs={"title": title, "svg": svg},
        timestamp=int(_FIXED_DAY.timestamp()),
    )


@lru_cache(maxsize=1)
def printing_fonts() -> typst.Fonts:
    """The shipped face only: no font of the machine may change what is printed."""
    import typst  # noqa: PLC0415  (slow)

    return typst.Fonts(include_system_fonts=False, font_paths=[str(fonts_folder())])
