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
from wormwright.app.folder import Folder
from wormwright.app.glance import glance
from wormwright.app.measure import row_doubts
from wormwright.app.prove import proof_if_read
from wormwright.app.sign import planned_operations
from wormwright.app.taken import Taken, confirmed, take
from wormwright.job.sheet import KINDS
from wormwright.packet import Style, results_json
from wormwright.packet.text import render_text
from wormwright.web.answers import api, refused_in_words
from wormwright.web.desk import Desk
from wormwright.web.entry_page import doubts_as_data, row_of, rows_of
from wormwright.web.live_folder import Snapshot
from wormwright.web.reckonings import PLAN
from wormwright.web.shelf import Shelf
from wormwright.web.signing import signed
from wormwright.web.stages import StagePage, document_of
from wormwright.web.typed import entries_of

Work = Callable[[Desk, Snapshot, Any], Response]


def on_job(work: Work) -> Callable[[Request], Any]:
    """A route about one job as it stands."""

    def found(request: Request, body: Any) -> Response:
        shelf: Shelf = request.app.state.shelf
        desk = shelf.desk(request.path_params["job"])
        if desk is None:
            return refused_in_words("no such job", 404)
        return work(desk, desk.snapshot(), body)

    return api(found)


@api
def jobs(request: Request, _: Any) -> Response:
    """Every job with its state."""
    shelf: Shelf = request.app.state.shelf
    listed = []
    for key in shelf.places():
        desk = shelf.desk(key)
        assert desk is not None
        listed.append({"key": key, **asdict(desk.snapshot().kept("glance", glance))})
    return JSONResponse({"jobs": listed})


def mark(request: Request) -> Response:
    """The mark of a job: it changes when anything in its files does."""
    shelf: Shelf = request.app.state.shelf
    desk = shelf.desk(request.path_params["job"])
    if desk is None:
        return refused_in_words("no such job", 404)
    return JSONResponse({"mark": desk.mark()})


@on_job
def readings(_: Desk, now: Snapshot, __: Any) -> Response:
    """Every reading, the last first."""
    rows = rows_of(now, now.readings, ())
    kinds = {r.seq: r.kind for r in now.readings}
    return JSONResponse(
        {
            "readings": [{**row, "kind": kinds[int(str(row["seq"]))]} for row in rows],
            "mark": now.mark,
        }
    )


@on_job
def enter(desk: Desk, _: Snapshot, body: Any) -> Response:
    """Store readings; sent again they are not stored twice."""
    entries = entries_of(body)
    with desk.lock:
        taken = take(desk.folder(), entries)
    return _stored(desk.checked(), taken)


@on_job
def confirm(desk: Desk, _: Snapshot, body: Any) -> Response:
    """Say that a row about which something is asked is right."""
    seq = body.get("seq") if isinstance(body, dict) else None
    when = body.get("when") if isinstance(body, dict) else None
    if isinstance(seq, bool) or not isinstance(seq, int) or not isinstance(when, str):
        words = "expected seq, the number of a row, and when, the moment as a text"
        return refused_in_words(words, 422)
    with desk.lock:
        taken = confirmed(desk.folder(), seq, when)
    return _stored(desk.checked(), taken)


def _stored(now: Snapshot, taken: Taken) -> Response:
    rows = [row_of(now, r, {}, {}, set()) for r in taken.readings]
    for row, reading in zip(rows, taken.readings, strict=True):
        row["kind"], row["label"] = reading.kind, KINDS[reading.kind].label
    doubts = row_doubts(now, {r.seq for r in taken.readings})
    answer = {
        "stored": rows,
        "doubts": doubts_as_data(doubts),
        "again": taken.again,
        "mark": now.mark,
    }
    return JSONResponse(answer, status_code=200 if taken.again else 201)


@on_job
def results(desk: Desk, _: Snapshot, __: Any) -> Response:
    """The results as the packet writes them: diagnosis, plans, operations, proof."""

    def made(folder: Folder) -> str:
        found = planned(folder)
        operations = planned_operations(folder, found)
        proof = proof_if_read(folder)
        return results_json(folder.job, found.diagnosis, found.remedy, operations, proof)

    return Response(desk.waited(PLAN).kept("results", made), media_type="application/json")


def stage_report(stage: StagePage) -> Callable[[Request], Any]:
    """The report of one stage in plain text, as the verb of that name prints it."""

    @on_job
    def told(desk: Desk, now: Snapshot, _: Any) -> Response:
        on = desk.waited(stage.needs) if stage.needs else now
        words = render_text(document_of(stage.key, on), Style(units=on.job.units))
        answer = {"stage": stage.key, "question": stage.question, "report": words}
        return JSONResponse({**answer, "mark": on.mark})

    return told


@on_job
def operations(desk: Desk, _: Snapshot, __: Any) -> Response:
    """The order of work with the state of each operation."""
    state = desk.waited(PLAN).kept("board", board)
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
def sign(desk: Desk, now: Snapshot, body: Any) -> Response:
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
    document = signed(desk, gates=gates, **wanted)
    if document is None:
        return JSONResponse({"words": "Signed before.", "again": True})
    words = render_text(document, Style(units=now.job.units))
    return JSONResponse({"words": words, "again": False}, 201)


@on_job
def trial(desk: Desk, now: Snapshot, body: Any) -> Response:
    """What a setting of the bushing, a bearing and shims on hand would give; nothing is written."""
    from wormwright.app.tried import FIELDS, trial_bench, tried  # noqa: PLC0415  (late: slow)

    texts: dict[str, Any] = body if isinstance(body, dict) else {"": None}
    if not all(n in FIELDS and isinstance(t, str) and len(t) <= 60 for n, t in texts.items()):
        words = f"expected an object of short texts with their unit: {', '.join(FIELDS)}"
        return refused_in_words(words, 422)
    last = desk.latest(PLAN)
    on = last.snapshot if last is not None else desk.waited(PLAN)
    bench = on.kept("trial bench", trial_bench)
    return JSONResponse(asdict(tried(bench, texts, current=on.number >= now.number)))


def described(_: Request) -> Response:
    """The description of this interface."""
    from wormwright.web.description import openapi  # noqa: PLC0415

    return Response(json.dumps(openapi()), media_type="application/json")
