"""What is printed: a document made of report blocks, and how the reader wants it shown."""

from __future__ import annotations

from dataclasses import dataclass

from wormwright.job.blocks import Block
from wormwright.job.rotary import Sheet, Units


@dataclass(frozen=True, slots=True)
class Document:
    """A document of report blocks.

    `subtitle` names the unit and stands at the head of every page. `made_up` marks a job whose
    readings were invented. `date_text` is printed as given; no clock is read, so the same job
    gives the same bytes. `bench` asks for the big figures of a page that hangs at the machine.
    `unit_id` and `job` go into the title block of the drawings; left empty, subtitle and title do.
    """

    title: str
    subtitle: str
    made_up: bool
    blocks: tuple[Block, ...]
    date_text: str = ""
    bench: bool = False
    unit_id: str = ""
    job: str = ""


@dataclass(frozen=True, slots=True)
class Style:
    """How the reader wants it: the unit system that leads, and the paper in the printer."""

    units: Units = "mm"
    sheet: Sheet = "A4"


MADE_UP = "MADE-UP EXAMPLE: the readings were invented, no such unit was measured"
