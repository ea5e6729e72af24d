"""One part, one sheet: the door of this package."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, NamedTuple

from wormwright.drawings import (
    bushing,
    bushing_profile,
    bushing_words,
    centre_shim,
    chuck_adapter,
    chuck_adapter_words,
    journal_bush,
    journal_bush_words,
    motor_plate,
    motor_plate_words,
    mount_plate,
    render,
    set_up,
    setting_key,
    setting_key_words,
    setting_spanner,
    setting_spanner_words,
    shim_ring,
    wheel_seat,
    wheel_seat_words,
    worm_relief,
)
from wormwright.drawings.canvas import Canvas
from wormwright.drawings.sheet import PartText, TitleBlock, draw_sheet, rooms
from wormwright.drawings.style import PAPERS, Box, Paper, SheetStyle
from wormwright.drawings.svg_writer import svg_text
from wormwright.job.parts import (
    CentreShim,
    ChuckAdapter,
    EccentricBushing,
    JournalBush,
    MotorPlate,
    MountPlate,
    Part,
    SettingKey,
    SettingSpanner,
    SetUp,
    ShimRing,
    WheelSeat,
    WormRelief,
)
from wormwright.job.rotary import Units


@dataclass(frozen=True, slots=True)
class Drawing:
    """A finished sheet. `name` is a file name without ending, ASCII only.

    `lettered` is the SVG with letters in place of their outlines, for paper.
    """

    name: str
    dxf: str
    svg: str
    lettered: str
    title: str
    paper: Paper

    @property
    def pdf(self) -> bytes:
        """The sheet as PDF, typeset whenever it is asked for; another thread may ask."""
        return render.pdf_bytes(self.lettered, self.paper, self.title)


def draw_part(part: Part, title: TitleBlock, style: SheetStyle) -> Drawing:
    """The dimensioned sheet of a part, as DXF, SVG and PDF from one geometry."""
    paper = PAPERS[style.sheet]
    views = rooms(paper).views
    kind, text = _KINDS[type(part)], part_text(part, style)
    with render.repeatable():
        canvas = Canvas(kind.scale(part, views, style))
        draw_sheet(canvas, paper, title, text, style)
        kind.views(canvas, part, views, style)
        svg = svg_text(canvas, paper)
        lettered = svg_text(canvas, paper, outlined=False)
        dxf = render.dxf_text(canvas)
    name = _file_name(f"{title.drawing_number} {text.name}")
    return Drawing(name, dxf, svg, lettered, text.name, paper)


def part_text(part: Part, style: SheetStyle) -> PartText:
    """What is written on the sheet of a part; refuses a part that cannot be made."""
    kind = _KINDS[type(part)]
    return kind.text(kind.checked(part), style.units)


class _Kind(NamedTuple):
    """What one kind of part needs to be drawn."""

    checked: Callable[[Any], Any]
    text: Callable[[Any, Units], PartText]
    scale: Callable[[Any, Box, SheetStyle], Fraction]
    views: Callable[[Canvas, Any, Box, SheetStyle], None]


def _any_projection(scale_for: Callable[[Any, Box], Fraction]) -> Callable[..., Fraction]:
    """The scale of a sheet that is laid out alike in first and third angle."""
    return lambda part, views, _: scale_for(part, views)


_KINDS: dict[type, _Kind] = {
    EccentricBushing: _Kind(
        bushing_profile.checked,
        bushing_words.bushing_text,
        bushing.scale_for,
        bushing.draw_views,
    ),
    ShimRing: _Kind(
        shim_ring.checked,
        shim_ring.shim_text,
        _any_projection(shim_ring.scale_for),
        shim_ring.draw_views,
    ),
    WormRelief: _Kind(
        worm_relief.checked,
        worm_relief.relief_text,
        _any_projection(worm_relief.scale_for),
        worm_relief.draw_views,
    ),
    CentreShim: _Kind(
        centre_shim.checked,
        centre_shim.packing_text,
        _any_projection(centre_shim.scale_for),
        centre_shim.draw_views,
    ),
    ChuckAdapter: _Kind(
        chuck_adapter.checked,
        chuck_adapter_words.adapter_text,
        _any_projection(chuck_adapter.scale_for),
        chuck_adapter.draw_views,
    ),
    WheelSeat: _Kind(
        wheel_seat.checked,
        wheel_seat_words.seat_text,
        _any_projection(wheel_seat.scale_for),
        wheel_seat.draw_views,
    ),
    JournalBush: _Kind(
        journal_bush.checked,
        journal_bush_words.bush_text,
        _any_projection(journal_bush.scale_for),
        journal_bush.draw_views,
    ),
    MountPlate: _Kind(
        mount_plate.checked,
        mount_plate.plate_text,
        _any_projection(mount_plate.scale_for),
        mount_plate.draw_views,
    ),
    SetUp: _Kind(
        set_up.checked,
        set_up.set_up_text,
        _any_projection(set_up.scale_for),
        set_up.draw_views,
    ),
    SettingKey: _Kind(
        setting_key.checked,
        setting_key_words.key_text,
        _any_projection(setting_key.scale_for),
        setting_key.draw_views,
    ),
    MotorPlate: _Kind(
        motor_plate.checked,
        motor_plate_words.plate_text,
        _any_projection(motor_plate.scale_for),
        motor_plate.draw_views,
    ),
    SettingSpanner: _Kind(
        setting_spanner.checked,
        setting_spanner_words.spanner_text,
        _any_projection(setting_spanner.scale_for),
        setting_spanner.draw_views,
    ),
}


def _file_name(words: str) -> str:
    plain = unicodedata.normalize("NFKD", words).encode("ascii", "ignore").decode()
    return re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-") or "part"
