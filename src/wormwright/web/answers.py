"""From what happened to an answer: every refusal says what was expected, what came, what to do."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response

from wormwright.app.refused import Refused
from wormwright.job.result import StageRefusal
from wormwright.quantities import QuantityError
from wormwright.store.fault import JobFolderError
from wormwright.web.entry_page import doubts_as_data

Wrongs = list[dict[str, object]]


def wrongs_of(error: Exception) -> Wrongs:
    """What was wrong, one entry a fault."""
    if isinstance(error, JobFolderError):
        return [
            {
                "file": f.file,
                "line": f.line,
                "field": f.field,
                "expected": f.expected,
                "got": f.got,
                "do": f.do,
            }
            for f in error.faults
        ]
    if isinstance(error, QuantityError):
        return [
            {"field": error.field, "expected": error.expected, "got": error.got, "do": error.do}
        ]
    return []


REFUSALS = (Refused, StageRefusal, JobFolderError, QuantityError)


def refusal(error: Exception, status: int = 422) -> JSONResponse:
    """A refusal as JSON."""
    doubts = error.doubts if isinstance(error, (Refused, StageRefusal)) else ()
    words = error.what if isinstance(error, Refused) else str(error)
    return JSONResponse(
        {"refused": words, "wrongs": wrongs_of(error), "doubts": doubts_as_data(tuple(doubts))},
        status_code=status,
    )


def refused_in_words(words: str, status: int) -> JSONResponse:
    """A refusal that needs no more than a sentence, in the same shape."""
    return JSONResponse({"refused": words, "wrongs": [], "doubts": []}, status)


def api(work: Callable[[Request, Any], Response]) -> Callable[[Request], Any]:
    """A route of the interface: the body is read as JSON, the work is done in a thread."""

    @wraps(work)
    async def answer(request: Request) -> Response:
        body: Any = None
        if request.method == "POST":
            kind = request.headers.get("content-type", "").partition(";")[0].strip()
            if kind != "application/json":
                return refused_in_words("the body must be application/json", 415)
            try:
                body = await request.json()
            except (ValueError, RecursionError):
                return refused_in_words("the body is not JSON", 400)
        try:
            return await run_in_threadpool(work, request, body)
        except REFUSALS as error:
            return refusal(error)

    return answer
