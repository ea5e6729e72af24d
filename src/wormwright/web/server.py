"""The routes, in one table: pages for people, files, and the interface for programs."""

from __future__ import annotations

from pathlib import Path

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles

from wormwright.web import files, interface, pages
from wormwright.web.address import Address
from wormwright.web.answers import refused_in_words
from wormwright.web.guard import Guard
from wormwright.web.pairing import COOKIE, Pairing, TooManyTriesError
from wormwright.web.reckoner import Call, Reckoner, here
from wormwright.web.shelf import Shelf
from wormwright.web.show import HERE, page
from wormwright.web.stages import STAGES


def application(
    root: Path, address: Address, pairing: Pairing | None = None, *, call: Call = here
) -> Starlette:
    """The page over the job folder, or the folder of jobs, at `root`.

    `call` is where long reckonings are done: here, unless told otherwise.

    Raises:
        Refused: there is no job at `root`.
    """
    app = Starlette(
        routes=[*_pages(), *_interface(), *_static()],
        middleware=[Middleware(Guard, address=address, pairing=pairing)],
        exception_handlers={404: _lost, 405: _lost},
    )
    app.state.shelf = Shelf(root, Reckoner(call))
    app.state.pairing = pairing
    return app


def _pages() -> list[Route]:
    job = "/jobs/{job}"
    both = ["GET", "POST"]
    stages = [Route(f"{job}/{s.key}", pages.stage_page(s)) for s in STAGES]
    return [
        Route("/", _jobs),
        Route("/pair", _pair, methods=both),
        Route(job, pages.traveler),
        *stages,
        Route(f"{job}/measure/go", pages.go_to_kind),
        Route(f"{job}/measure/{{kind}}", pages.entry, methods=both),
        Route(f"{job}/rows/{{seq}}", pages.row),
        Route(f"{job}/correct/section-{{layer}}.svg", files.section),
        Route(f"{job}/correct/blue.svg", files.blue),
        Route(f"{job}/correct/plan", pages.take_plan, methods=["POST"]),
        Route(f"{job}/sign/{{operation}}", pages.sign, methods=both),
        Route(f"{job}/photos", pages.photo_in, methods=["POST"]),
        Route(f"{job}/photos/{{name}}", files.photo),
        Route(f"{job}/pictures/{{page}}/{{mark}}/{{name}}", files.picture),
        Route(f"{job}/packet", files.packet, methods=both),
        Route(f"{job}/packet.zip", files.packet_zip),
        Route(f"{job}/packet/{{path:path}}", files.packet_file),
    ]


def _interface() -> list[Route]:
    job = "/api/jobs/{job}"
    return [
        Route("/api/openapi.json", interface.described),
        Route("/api/jobs", interface.jobs),
        Route(f"{job}/mark", interface.mark),
        Route(f"{job}/readings", _readings, methods=["GET", "POST"]),
        Route(f"{job}/confirmations", interface.confirm, methods=["POST"]),
        Route(f"{job}/results", interface.results),
        *(Route(f"{job}/stages/{s.key}", interface.stage_report(s)) for s in STAGES),
        Route(f"{job}/operations", interface.operations),
        Route(f"{job}/trials", interface.trial, methods=["POST"]),
        Route(f"{job}/sign-offs", interface.sign, methods=["POST"]),
    ]


def _static() -> list[Mount]:
    return [Mount("/static", StaticFiles(directory=HERE / "static"))]


async def _readings(request: Request) -> Response:
    """What is on file, or what is to go there."""
    work = interface.enter if request.method == "POST" else interface.readings
    answer: Response = await work(request)
    return answer


async def _jobs(request: Request) -> Response:
    return await run_in_threadpool(pages.jobs, request)


async def _pair(request: Request) -> Response:
    """Pair this device: the code is on the screen of the computer that serves."""
    pairing: Pairing | None = request.app.state.pairing
    said, status = "", 200
    if pairing is None:
        return RedirectResponse("/", status_code=303)
    if request.method == "POST":
        async with request.form(max_fields=5) as form:
            code = str(form.get("code", ""))[:40]
        try:
            token = pairing.pair(code)
        except TooManyTriesError:
            said, status = "Too many tries. Wait a minute.", 429
        else:
            if token is not None:
                done = RedirectResponse("/", status_code=303)
                done.set_cookie(COOKIE, token, httponly=True, samesite="strict", path="/")
                return done
            said, status = "That is not the code.", 403
    return page("pair.html", status=status, title="Pair this device", said=said)


async def _lost(request: Request, error: Exception) -> Response:
    """There is nothing there, or nothing that answers to this method."""
    status = error.status_code if isinstance(error, HTTPException) else 404
    words = "There is nothing at this address."
    if status == 405:
        words = f"Nothing at this address answers to {request.method}."
    if request.url.path.startswith("/api/"):
        answer: Response = refused_in_words(words, status)
    else:
        answer = pages.lost(words, status)
    if isinstance(error, HTTPException):
        answer.headers.update(error.headers or {})
    return answer
