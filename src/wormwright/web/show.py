"""Pages from templates: the frame with the job's head, and a document laid out as blocks."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

from starlette.responses import HTMLResponse

from wormwright.app.folder import Folder
from wormwright.packet import Document, Style
from wormwright.packet.document import MADE_UP
from wormwright.packet.laid_out import laid_out
from wormwright.web.desk import Desk
from wormwright.web.live_folder import Snapshot
from wormwright.web.stages import STAGES

if TYPE_CHECKING:
    import jinja2

NOTHING: Mapping[str, object] = MappingProxyType({})
HERE = Path(__file__).parent


@cache
def _maker() -> jinja2.Environment:
    import jinja2  # noqa: PLC0415  (late: costs start-up)

    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(HERE / "templates"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )


def page(
    template: str, data: Mapping[str, object] = NOTHING, /, *, status: int = 200, **more: object
) -> HTMLResponse:
    """A page of the frame. Every text in it is escaped by the template maker."""
    full = {
        "stages": STAGES,
        "job": None,
        "here": "",
        "behind": False,
        "nothing_yet": False,
        **data,
        **more,
    }
    return HTMLResponse(_maker().get_template(template).render(full), status_code=status)


def head_of(desk: Desk, folder: Folder) -> dict[str, object]:
    """What the frame says about the job."""
    job = folder.job
    return {
        "key": desk.name,
        "name": job.name,
        "unit": job.rotary.marked,
        "made_up": MADE_UP if job.made_up else "",
        "mark": desk.mark(),
    }


def blocks_of(
    desk: Desk, key: str, document: Document, snapshot: Snapshot, part: Document | None = None
) -> object:
    """A document, or a part of it, as the blocks template wants it: its pictures are links."""
    style = Style(units=snapshot.job.units, sheet=snapshot.job.sheet)
    return laid_out(part or document, style, desk.album(key, snapshot, document))["blocks"]
