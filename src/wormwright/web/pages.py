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
from wormwright.app.glance import glance
from wormwright.app.sign import sign_off, traveler_document
from wormwright.app.taken import signed_before, take
from wormwright.job.kind import ReadingKind
from wormwright.job.result import StageRefusal
from wormwright.job.sheet import KINDS
from wormwright.packet import Document
from wormwright.store import JobFolder
from wormwright.store.fault import JobFolderError
from wormwright.web import photos
from wormwright.web.answers import REFUSALS, wrongs_of
from wormwright.web.desk import Desk
from wormwright.web.entry_page import doubts_as_data, entry_page
from wormwright.web.shelf import Shelf
from wormwright.web.show import blocks_of, head_of, page
from wormwright.web.stages import StagePage
from wormwright.web.typed import entry_of_form

Work = Callable[[Request, Desk, JobFolder, FormData], Response]


def _shelf(request: Request) -> Shelf:
    shelf: Shelf = request.app.state.shelf
    return shelf


def of_job(work: Work) -> Callable[[Request], Any]:
    """A page of one job, made in a thread while nobody else works on that job."""

    @wraps(work)
    async def answer(request: Request) -> Response:
        desk = _shelf(request).desk(request.path_params["job"])
        if desk is None:
            return lost("There is no such job here.")
        async with request.form(max_files=1, max_fields=200) as form:
            for field in form.values():
                if isinstance(field, UploadFile):
                    request.state.upload = await field.read()

            def locked() -> Response:
                with desk.lock:
                    try:
                        return work(request, desk, desk.folder(), form)
                    except REFUSALS as error:
                        return refused_page(request, desk, error)

            return await run_in_threadpool(locked)

    return answer


def lost(words: str) -> Response:
    """A page for an address that leads nowhere."""
    return page("message.html", status=404, title="Not found", words=words, wrongs=[], doubts=[])


def refused_page(request: Request, desk: Desk, error: Exception) -> Response:
    """A refusal as a page, with the way back."""
    head = None
    if not isinstance(error, JobFolderError) or request.method == "POST":
        head = head_of(desk, desk.folder())
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
        with desk.lock:
            try:
                state = asdict(desk.kept("glance", glance))
            except JobFolderError as error:
                state = {"name": key, "unit": "", "fault": str(error.faults[0])}
        listed.append({"key": key, "fault": "", **state})
    return page("jobs.html", title="Jobs", jobs=listed)


@of_job
def traveler(_: Request, desk: Desk, folder: JobFolder, __: FormData) -> Response:
    """The home of a job: where am I, what next, what is stale, what is blocked and why."""
    state = desk.kept("board", board)
    document = desk.kept("traveler", traveler_document)
    return page(
        "traveler.html",
        title="Traveler",
        here="traveler",
        job=head_of(desk, folder),
        board=state,
        board_doubts=doubts_as_data(state.doubts),
        labels={key: kind.label.lower() for key, kind in KINDS.items()},
        laid_out=blocks_of(desk, "traveler", document, folder),
    )


def stage_page(stage: StagePage) -> Callable[[Request], Any]:
    """The page of one stage: its own report, and the tool that belongs to it."""

    @of_job
    def answer(_: Request, desk: Desk, folder: JobFolder, __: FormData) -> Response:
        try:
            document = desk.kept(f"stage {stage.key}", stage.document)
        except StageRefusal as refusal:
            document = _not_yet(stage, refusal)
        extra = desk.kept(f"tool {stage.key}", stage.extra or _nothing)
        return page(
            "stage.html",
            extra,
            title=stage.key.capitalize(),
            here=stage.key,
            job=head_of(desk, folder),
            question=stage.question,
            tool=stage.tool,
            laid_out=blocks_of(desk, stage.key, document, folder),
        )

    return answer


def _nothing(_: JobFolder) -> Mapping[str, object]:
    return {}


def _not_yet(stage: StagePage, refusal: StageRefusal) -> Document:
    from wormwright.job.blocks import Doubts, Paragraph  # noqa: PLC0415

    words = "The readings are not enough for an honest answer yet. What is missing:"
    blocks = (Paragraph(words, strong=True), Doubts(refusal.doubts))
    return Document(stage.key, "", False, blocks)


def _kind(request: Request) -> ReadingKind | None:
    return KINDS.get(request.path_params["kind"])


def go_to_kind(request: Request) -> Response:
    """From the choice of a kind to its page."""
    kind, job = request.query_params.get("kind", ""), request.path_params["job"]
    if kind not in KINDS:
        return lost("There is no such kind of reading.")
    return RedirectResponse(f"/jobs/{job}/measure/{kind}", status_code=303)


@of_job
def entry(request: Request, desk: Desk, folder: JobFolder, form: FormData) -> Response:
    """The page on which one kind is read; a form sent without a script lands here as well."""
    kind = _kind(request)
    if kind is None:
        return lost("There is no such kind of reading.")
    if request.method == "POST":
        typed = {name: text for name, text in form.items() if isinstance(text, str)}
        take(folder, entry_of_form(kind.key, typed, at_table=kind.needs_table_angle))
        return RedirectResponse(request.url.path, status_code=303)
    return page(
        "entry.html",
        entry_page(folder, kind),
        title=kind.label,
        here="measure",
        job=head_of(desk, folder),
        photos=photos.about(desk.place, kind.key),
        about=kind.key,
    )


@of_job
def sign(request: Request, desk: Desk, folder: JobFolder, form: FormData) -> Response:
    """One operation: what to do, its gates, and its sign-off."""
    key = request.path_params["operation"]
    state = desk.kept("board", board)
    op = state.operation(key)
    if op is None:
        return lost("The chosen plan has no such operation.")
    if request.method == "POST":
        return _signed(desk, folder, key, form)
    return page(
        "sign.html",
        title=f"{op.number} {op.title}",
        here="traveler",
        job=head_of(desk, folder),
        photos=photos.about(desk.place, key),
        about=key,
        op=op,
        gates=[{"gate": g, "must": gate_words(g, folder.job.units)} for g in op.gates],
        step=next(s for s in state.steps if s.operation.key == key),
    )


def gate_words(gate: Any, units: Any) -> str:
    """What a gate asks for, in the words of the traveler."""
    from wormwright.traveler import limit_text  # noqa: PLC0415

    return f"must be {limit_text(gate, units)}. {gate.how}"


def _signed(desk: Desk, folder: JobFolder, key: str, form: FormData) -> Response:
    texts = {name: text.strip() for name, text in form.items() if isinstance(text, str)}
    gates = {n.removeprefix("gate-"): t for n, t in texts.items() if n.startswith("gate-") and t}
    initials, when = texts.get("initials", ""), texts.get("when", "")
    if when and signed_before(folder, key, initials, when):
        return RedirectResponse(f"/jobs/{desk.name}", status_code=303)
    document = sign_off(
        folder, key, initials=initials, gates=gates, note=texts.get("note", ""), when=when
    )
    fresh = desk.folder()
    return page(
        "stage.html",
        title=document.title,
        here="traveler",
        job=head_of(desk, fresh),
        question="Written down.",
        tool="signed",
        laid_out=blocks_of(desk, "signed", document, fresh),
    )


@of_job
def photo_in(request: Request, desk: Desk, _: JobFolder, form: FormData) -> Response:
    """Attach a photo to a kind of reading or to an operation."""
    data: bytes = getattr(request.state, "upload", b"")
    photos.keep(desk.place, str(form.get("about", "")), data)
    back = "/" + request.headers.get("referer", "").partition("//")[2].partition("/")[2]
    here = f"/jobs/{desk.name}"
    return RedirectResponse(back if back.startswith(here) else here, status_code=303)


@of_job
def take_plan(_: Request, desk: Desk, folder: JobFolder, form: FormData) -> Response:
    """Write the chosen plan into the job."""
    from wormwright.app.correct import remedy_document  # noqa: PLC0415

    remedy_document(folder, str(form.get("plan", ""))[:200])
    return RedirectResponse(f"/jobs/{desk.name}/correct", status_code=303)
