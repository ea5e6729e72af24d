"""The interface in JSON: the same use cases for programs, and for the page's own script."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import asdict
from typing import Any

from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from wormwright.app.board import board
from wormwright.app.correct import planned
from wormwright.app.glance import glance
from wormwright.app.sign import planned_operations, sign_off
from wormwright.app.taken import Taken, confirmed, signed_before, take
from wormwright.app.tried import FIELDS, tried
from wormwright.job.sheet import KINDS
from wormwright.packet import Style, results_json
from wormwright.packet.text import render_text
from wormwright.store import JobFolder
from wormwright.web.answers import api, refused_in_words
from wormwright.web.desk import Desk
from wormwright.web.entry_page import doubts_as_data, row_of, rows_of
from wormwright.web.shelf import Shelf
from wormwright.web.typed import entries_of

Work = Callable[[Desk, JobFolder, Any], Response]


def on_job(work: Work) -> Callable[[Request], Any]:
    """A route about one job, with its folder fresh and nobody else at work on it."""

    def found(request: Request, body: Any) -> Response:
        shelf: Shelf = request.app.state.shelf
        desk = shelf.desk(request.path_params["job"])
        if desk is None:
            return refused_in_words("no such job", 404)
        with desk.lock:
            return work(desk, desk.folder(), body)

    return api(found)


@api
def jobs(request: Request, _: Any) -> Response:
    """Every job with its state."""
    shelf: Shelf = request.app.state.shelf
    listed = []
    for key in shelf.places():
        desk = shelf.desk(key)
        assert desk is not None
        with desk.lock:
            listed.append({"key": key, **asdict(desk.kept("glance", glance))})
    return JSONResponse({"jobs": listed})


def mark(request: Request) -> Response:
    """The mark of a job: it changes when anything in its files does."""
    shelf: Shelf = request.app.state.shelf
    desk = shelf.desk(request.path_params["job"])
    if desk is None:
        return refused_in_words("no such job", 404)
    return JSONResponse({"mark": desk.mark()})


@on_job
def readings(desk: Desk, folder: JobFolder, _: Any) -> Response:
    """Every reading, the last first."""
    rows = rows_of(folder, folder.readings, ())
    kinds = {r.seq: r.kind for r in folder.readings}
    return JSONResponse(
        {
            "readings": [{**row, "kind": kinds[int(str(row["seq"]))]} for row in rows],
            "mark": desk.mark(),
        }
    )


@on_job
def enter(desk: Desk, folder: JobFolder, body: Any) -> Response:
    """Store readings; sent again they are not stored twice."""
    return _stored(desk, take(folder, entries_of(body)))


@on_job
def confirm(desk: Desk, folder: JobFolder, body: Any) -> Response:
    """Say that a row about which something is asked is right."""
    seq = body.get("seq") if isinstance(body, dict) else None
    when = body.get("when") if isinstance(body, dict) else None
    if isinstance(seq, bool) or not isinstance(seq, int) or not isinstance(when, str):
        words = "expected seq, the number of a row, and when, the moment as a text"
        return refused_in_words(words, 422)
    return _stored(desk, confirmed(folder, seq, when))


def _stored(desk: Desk, taken: Taken) -> Response:
    folder = desk.folder()
    rows = [row_of(folder, r, {}, {}, set()) for r in taken.readings]
    for row, reading in zip(rows, taken.readings, strict=True):
        row["kind"], row["label"] = reading.kind, KINDS[reading.kind].label
    answer = {
        "stored": rows,
        "doubts": doubts_as_data(taken.doubts),
        "again": taken.again,
        "mark": desk.mark(),
    }
    return JSONResponse(answer, status_code=200 if taken.again else 201)


@on_job
def results(desk: Desk, _: JobFolder, __: Any) -> Response:
    """The results as the packet writes them: diagnosis, plans, operations."""

    def made(folder: JobFolder) -> str:
        found = planned(folder)
        operations = planned_operations(folder, found)
        return results_json(folder.job, found.diagnosis, found.remedy, operations)

    return Response(desk.kept("results", made), media_type="application/json")


@on_job
def operations(desk: Desk, _: JobFolder, __: Any) -> Response:
    """The order of work with the state of each operation."""
    state = desk.kept("board", board)
    steps = [
        {
            "key": s.operation.key,
            "number": s.operation.number,
            "title": s.operation.title,
            "state": s.state,
            "why": s.why,
            "gates": [{"key": g.key, "label": g.label} for g in s.operation.gates],
        }
        for s in state.steps
    ]
    stale = [{"seq": r.seq, "kind": r.kind, "since": title} for r, title in state.stale]
    return JSONResponse(
        {
            "next": state.next_words,
            "operations": steps,
            "stale": stale,
            "doubts": doubts_as_data(state.doubts),
        }
    )


@on_job
def sign(_: Desk, folder: JobFolder, body: Any) -> Response:
    """Sign an operation off."""
    texts = body if isinstance(body, dict) else {}
    wanted = {name: texts.get(name, "") for name in ("operation", "initials", "note", "when")}
    gates = texts.get("gates", {})
    sound = all(isinstance(t, str) and len(t) <= 500 for t in wanted.values())
    if (
        not sound
        or not isinstance(gates, dict)
        or not all(isinstance(t, str) for t in gates.values())
    ):
        words = "expected operation, initials, note, when as texts and gates as an object of texts"
        return refused_in_words(words, 422)
    operation, initials, when = wanted["operation"], wanted["initials"], wanted["when"]
    if when and signed_before(folder, operation, initials, when):
        return JSONResponse({"words": "Signed before.", "again": True})
    document = sign_off(
        folder, operation, initials=initials, gates=gates, note=wanted["note"], when=when
    )
    return JSONResponse(
        {"words": render_text(document, Style(units=folder.job.units)), "again": False}, 201
    )


@on_job
def trial(_: Desk, folder: JobFolder, body: Any) -> Response:
    """What a setting of the bushing, a bearing and shims on hand would give; nothing is written."""
    texts: dict[str, Any] = body if isinstance(body, dict) else {"": None}
    if not all(n in FIELDS and isinstance(t, str) and len(t) <= 60 for n, t in texts.items()):
        words = f"expected an object of short texts with their unit: {', '.join(FIELDS)}"
        return refused_in_words(words, 422)
    return JSONResponse(asdict(tried(folder, texts)))


def described(_: Request) -> Response:
    """The description of this interface."""
    from wormwright.web.description import openapi  # noqa: PLC0415

    return Response(json.dumps(openapi()), media_type="application/json")
