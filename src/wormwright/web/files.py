"""Files of a job that a browser may have: pictures, drawings, the packet, photos."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from wormwright.web import photos
from wormwright.web.desk import Desk
from wormwright.web.live_folder import Snapshot
from wormwright.web.pages import lost, of_job
from wormwright.web.plan_page import section_of
from wormwright.web.reckonings import PLAN
from wormwright.web.shelf import Shelf
from wormwright.web.show import head_of, page

TYPES = {
    "svg": "image/svg+xml",
    "pdf": "application/pdf",
    "dxf": "image/vnd.dxf",
    "html": "text/html; charset=utf-8",
    "txt": "text/plain; charset=utf-8",
    "json": "application/json",
    "csv": "text/csv; charset=utf-8",
}
KEEP = {"cache-control": "private, max-age=86400, immutable"}
"""A picture's address holds the mark of the job, so what it shows never changes."""


async def picture(request: Request) -> Response:
    """A picture of a page, or the drawing of a part as a file."""
    shelf: Shelf = request.app.state.shelf
    desk = shelf.desk(request.path_params["job"])
    if desk is None:
        return lost("There is no such job here.")
    name, _, form = request.path_params["name"].rpartition(".")
    key, mark = request.path_params["page"], request.path_params["mark"]

    def found() -> bytes | None:
        pictures = desk.pictures(key, mark)
        if pictures is None or form not in ("svg", "pdf", "dxf"):
            return None
        return pictures.file(name, form)

    data = await run_in_threadpool(found)
    if data is None:
        return Response("The job has changed since; look at the page again.\n", status_code=404)
    headers = dict(KEEP)
    if form != "svg":
        headers["content-disposition"] = f'attachment; filename="{name}.{form}"'
    return Response(data, media_type=TYPES[form], headers=headers)


@of_job
def section(request: Request, desk: Desk, _: Snapshot, __: FormData) -> Response:
    """One of the two layers of the bushing in its bore, for the page to turn."""
    from wormwright.charts.section_layers import still_layer, turning_layer  # noqa: PLC0415

    last = desk.latest(PLAN)
    on = last.snapshot if last is not None else desk.waited(PLAN)
    block = on.kept("section", section_of)
    name, layers = request.path_params["layer"], {"still": still_layer, "turning": turning_layer}
    if block is None or name not in layers:
        return lost("There is no bushing in the plan that is taken.")
    drawn = on.kept(f"section {name}", lambda _: layers[name](block))
    return Response(drawn, media_type=TYPES["svg"])


@of_job
def blue(request: Request, desk: Desk, _: Snapshot, __: FormData) -> Response:
    """The marks of blue at a setting that is tried, where the mesh model provides them."""
    from wormwright.app.tried import FIELDS, blue_svg, stands, trial_bench  # noqa: PLC0415

    last = desk.latest(PLAN)
    on = last.snapshot if last is not None else desk.waited(PLAN)
    texts = {n: t for n, t in request.query_params.items() if n in FIELDS and len(t) <= 60}
    pair, at = stands(on.kept("trial bench", trial_bench), texts)
    try:
        drawn = desk.call(blue_svg, pair, at, on.job.units)
    except ValueError:
        return lost("The marks of this pair cannot be drawn.")
    return Response(drawn, media_type=TYPES["svg"])


@of_job
def packet(request: Request, desk: Desk, now: Snapshot, _: FormData) -> Response:
    """Make the packet afresh, and list what is in it."""
    if request.method == "POST":
        from wormwright.app.packet import packet_document  # noqa: PLC0415  (late: slow)

        on = desk.waited(PLAN)
        with desk.packing:
            packet_document(on)
        return RedirectResponse(request.url.path, status_code=303)
    return page(
        "packet.html",
        title="Packet",
        here="packet",
        job=head_of(desk, now),
        files=[name for name, _ in _packet_files(desk)],
    )


def _packet_files(desk: Desk) -> list[tuple[str, Path]]:
    """Every file of the packet by its place in it."""
    from wormwright.app.packet import PACKET  # noqa: PLC0415  (late: slow)

    place = desk.place / PACKET
    found = sorted(p for p in place.rglob("*") if p.is_file() and not p.is_symlink())
    return [(p.relative_to(place).as_posix(), p) for p in found]


@of_job
def packet_file(request: Request, desk: Desk, _: Snapshot, __: FormData) -> Response:
    """One file of the packet; only what the packet holds can be named."""
    path = dict(_packet_files(desk)).get(request.path_params["path"])
    if path is None:
        return lost("The packet holds no such file.")
    kind = TYPES.get(path.suffix[1:], "application/octet-stream")
    headers = {"content-disposition": f'attachment; filename="{path.name}"'}
    return Response(path.read_bytes(), media_type=kind, headers=headers)


@of_job
def packet_zip(_request: Request, desk: Desk, _now: Snapshot, _form: FormData) -> Response:
    """The whole packet in one file."""
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for _, path in _packet_files(desk):
            archive.write(path, path.relative_to(desk.place).as_posix())
    headers = {"content-disposition": f'attachment; filename="{desk.name}-packet.zip"'}
    return Response(held.getvalue(), media_type="application/zip", headers=headers)


@of_job
def photo(request: Request, desk: Desk, _: Snapshot, __: FormData) -> Response:
    """A photo of the job."""
    found = photos.read(desk.place, request.path_params["name"])
    if found is None:
        return lost("There is no such photo.")
    return Response(found[0], media_type=found[1], headers=KEEP)
