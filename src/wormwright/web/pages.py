"""The pages: jobs, the traveler as the home of a job, one page a stage, entry and sign-off."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import asdict
from functools import wraps
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from wormwright.app.board import board
from wormwright.app.correct import choose_plan
from wormwright.app.folder import Folder
from wormwright.app.glance import glance
from wormwright.app.sign import traveler_document
from wormwright.app.taken import take
from wormwright.job.kind import ReadingKind
from wormwright.job.sheet import KINDS
from wormwright.store.fault import JobFolderError
from wormwright.web import photos
from wormwright.web.answers import REFUSALS, wrongs_of
from wormwright.web.desk import Desk
from wormwright.web.entry_page import doubts_as_data, entry_page
from wormwright.web.findings_panel import findings_panel
from wormwright.web.live_folder import Snapshot
from wormwright.web.reckonings import PLAN
from wormwright.web.shelf import Shelf
from wormwright.web.show import blocks_of, head_of, page
from wormwright.web.signing import signed
from wormwright.web.stages import StagePage, document_of
from wormwright.web.typed import entry_of_form

Work = Callable[[Request, Desk, Snapshot, FormData], Response]


def _shelf(request: Request) -> Shelf:
    shelf: Shelf = request.app.state.shelf
    return shelf


def of_job(work: Work) -> Callable[[Request], Any]:
    """A page of one job as it stands, made in a thread."""

    @wraps(work)
    async def answer(request: Request) -> Response:
        desk = _shelf(request).desk(request.path_params["job"])
        if desk is None:
            return lost("There is no such job here.")
        async with request.form(max_files=1, max_fields=200) as form:
            for field in form.values():
                if isinstance(field, UploadFile):
                    request.state.upload = await field.read()

            def made() -> Response:
                try:
                    return work(request, desk, desk.snapshot(), form)
                except REFUSALS as error:
                    return refused_page(request, desk, error)

            return await run_in_threadpool(made)

    return answer


def lost(words: str, status: int = 404) -> Response:
    """A page for an address that leads nowhere."""
    title = "Not found" if status == 404 else "Refused"
    return page("message.html", status=status, title=title, words=words, wrongs=[], doubts=[])


def refused_page(request: Request, desk: Desk, error: Exception) -> Response:
    """A refusal as a page, with the way back."""
    head = None
    if not isinstance(error, JobFolderError) or request.method == "POST":
        head = head_of(desk, desk.snapshot())
    doubts = doubts_as_data(tuple(getattr(error, "doubts", ())))
    words = str(getattr(error, "what", "")) or ("" if wrongs_of(error) else str(error))
    wrongs = wrongs_of(error)
    return page(
        "message.html",
        status=422,
        title="Refused",
        job=head,
        words=words,
        wrongs=wrongs,
        doubts=doubts,
    )


def jobs(request: Request) -> Response:
    """The list of jobs with the state of each."""
    listed: list[dict[str, object]] = []
    for key in _shelf(request).places():
        desk = _shelf(request).desk(key)
        assert desk is not None
        try:
            state = asdict(desk.snapshot().kept("glance", glance))
        except JobFolderError as error:
            state = {"name": key, "unit": "", "fault": str(error.faults[0])}
        listed.append({"key": key, "fault": "", **state})
    return page("jobs.html", title="Jobs", jobs=listed)


@of_job
def traveler(_: Request, desk: Desk, now: Snapshot, __: FormData) -> Response:
    """The home of a job: where am I, what next, what is stale, what is blocked and why."""
    stand = desk.standing(PLAN)
    if stand.snapshot is None:
        return _being_reckoned(desk, now, "Traveler", "traveler")
    shown = stand.snapshot
    state = shown.kept("board", board)
    document = shown.kept("traveler", traveler_document)
    return page(
        "traveler.html",
        title="Traveler",
        here="traveler",
        job=head_of(desk, now),
        behind=not stand.current,
        board=state,
        board_doubts=doubts_as_data(state.doubts),
        labels={key: kind.label.lower() for key, kind in KINDS.items()},
        laid_out=blocks_of(desk, "traveler", document, shown),
    )


def _being_reckoned(desk: Desk, now: Snapshot, title: str, here: str) -> Response:
    """A page that has nothing to show yet; it comes by itself when there is."""
    return page("reckoning.html", title=title, here=here, job=head_of(desk, now), nothing_yet=True)


def stage_page(stage: StagePage) -> Callable[[Request], Any]:
    """The page of one stage: its own report, and the tool that belongs to it."""

    @of_job
    def answer(_: Request, desk: Desk, now: Snapshot, __: FormData) -> Response:
        stand = desk.standing(stage.needs)
        if stand.snapshot is None:
            return _being_reckoned(desk, now, stage.key.capitalize(), stage.key)
        shown = stand.snapshot
        document = document_of(stage.key, shown)
        extra = shown.kept(f"tool {stage.key}", stage.extra or _nothing)
        return page(
            "stage.html",
            extra,
            title=stage.key.capitalize(),
            here=stage.key,
            job=head_of(desk, now),
            behind=not stand.current,
            question=stage.question,
            tool=stage.tool,
            laid_out=blocks_of(desk, stage.key, document, shown),
        )

    return answer


def _nothing(_: Folder) -> Mapping[str, object]:
    return {}


def _kind(request: Request) -> ReadingKind | None:
    return KINDS.get(request.path_params["kind"])


def go_to_kind(request: Request) -> Response:
    """From the choice of a kind to its page."""
    kind, job = request.query_params.get("kind", ""), request.path_params["job"]
    if kind not in KINDS:
        return lost("There is no such kind of reading.")
    return RedirectResponse(f"/jobs/{job}/measure/{kind}", status_code=303)


@of_job
def row(request: Request, desk: Desk, now: Snapshot, _: FormData) -> Response:
    """From the number of a row to where it stands."""
    kinds = {str(r.seq): r.kind for r in now.readings}
    seq = request.path_params["seq"]
    if seq not in kinds:
        return lost("There is no such row of readings.")
    return RedirectResponse(f"/jobs/{desk.name}/measure/{kinds[seq]}#row-{seq}", status_code=303)


@of_job
def entry(request: Request, desk: Desk, now: Snapshot, form: FormData) -> Response:
    """The page on which one kind is read; a form sent without a script lands here as well."""
    kind = _kind(request)
    if kind is None:
        return lost("There is no such kind of reading.")
    if request.method == "POST":
        typed = {name: text for name, text in form.items() if isinstance(text, str)}
        entries = entry_of_form(kind.key, typed, at_table=kind.needs_table_angle)
        with desk.lock:
            take(desk.folder(), entries)
        return RedirectResponse(request.url.path, status_code=303)
    now = desk.checked()
    return page(
        "entry.html",
        now.kept(f"entry {kind.key}", lambda folder: entry_page(folder, kind)),
        title=kind.label,
        here="measure",
        job=head_of(desk, now),
        findings=findings_panel(desk),
        photos=photos.about(desk.place, kind.key),
        about=kind.key,
    )


@of_job
def sign(request: Request, desk: Desk, now: Snapshot, form: FormData) -> Response:
    """One operation: what to do, its gates, and its sign-off."""
    key = request.path_params["operation"]
    if request.method == "POST":
        return _signed(desk, key, form)
    stand = desk.standing(PLAN)
    if stand.snapshot is None or not stand.current:  # a limit may have changed: never an old one
        return _being_reckoned(desk, now, "Sign-off", "traveler")
    state = stand.snapshot.kept("board", board)
    op = state.operation(key)
    if op is None:
        return lost("The chosen plan has no such operation.")
    return page(
        "sign.html",
        title=f"{op.number} {op.title}",
        here="traveler",
        job=head_of(desk, now),
        photos=photos.about(desk.place, key),
        about=key,
        op=op,
        labels={kind.key: kind.label for kind in KINDS.values()},
        gates=[{"gate": g, "must": gate_words(g, now.job.units)} for g in op.gates],
        step=next(s for s in state.steps if s.operation.key == key),
    )


def gate_words(gate: Any, units: Any) -> str:
    """What a gate asks for, in the words of the traveler."""
    from wormwright.traveler import limit_text  # noqa: PLC0415

    return f"must be {limit_text(gate, units)}. {gate.how}"


def _signed(desk: Desk, key: str, form: FormData) -> Response:
    texts = {name: text.strip() for name, text in form.items() if isinstance(text, str)}
    document = signed(
        desk,
        operation=key,
        gates={n.removeprefix("gate-"): t for n, t in texts.items() if n[:5] == "gate-" and t},
        **{name: texts.get(name, "") for name in ("initials", "note", "when")},
    )
    if document is None:
        return RedirectResponse(f"/jobs/{desk.name}", status_code=303)
    fresh = desk.snapshot()
    return page(
        "stage.html",
        title=document.title,
        here="traveler",
        job=head_of(desk, fresh),
        behind=False,
        question="Written down.",
        tool="signed",
        laid_out=blocks_of(desk, "signed", document, fresh),
    )


@of_job
def photo_in(request: Request, desk: Desk, _: Snapshot, form: FormData) -> Response:
    """Attach a photo to a kind of reading or to an operation."""
    data: bytes = getattr(request.state, "upload", b"")
    photos.keep(desk.place, str(form.get("about", "")), data)
    back = "/" + request.headers.get("referer", "").partition("//")[2].partition("/")[2]
    here = f"/jobs/{desk.name}"
    return RedirectResponse(back if back.startswith(here) else here, status_code=303)


@of_job
def take_plan(_: Request, desk: Desk, __: Snapshot, form: FormData) -> Response:
    """Write the chosen plan into the job."""
    choose_plan(desk.waited(PLAN), str(form.get("plan", ""))[:200])
    return RedirectResponse(f"/jobs/{desk.name}/correct", status_code=303)
