"""Drawings of the parts to make: dimensioned sheets as DXF, SVG and PDF from one geometry."""

from wormwright.drawings.lettering import fonts_folder
from wormwright.drawings.part_sheet import Drawing, draw_part
from wormwright.drawings.render import printing_fonts
from wormwright.drawings.sheet import TitleBlock
from wormwright.drawings.style import SheetStyle

__all__ = [
    "Drawing",
    "SheetStyle",
    "TitleBlock",
    "draw_part",
    "fonts_folder",
    "printing_fonts",
]
