"""What stands before every page: whose request it is, how large, what a browser may do."""

from __future__ import annotations

import json
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from wormwright.web.address import Address
from wormwright.web.pairing import COOKIE, Pairing

SAFE = frozenset(("GET", "HEAD", "OPTIONS"))
LARGEST_TEXT = 256 * 1024
LARGEST_PHOTO = 12 * 1024 * 1024
PHOTOS = "/photos"
OPEN_TO_ALL = frozenset(("/pair",))

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
"""Nothing from outside, nothing in line: a text that reaches the page can never become a script."""

PICTURE_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox"
"""A picture opened by itself may carry its own style and nothing else."""

HEADERS = {
    "x-content-type-options": "nosniff",
    "referrer-policy": "same-origin",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(), microphone=()",
}


class Guard:
    """Turns away what is not from this page's own windows, before anything looks at it."""

    def __init__(self, app: ASGIApp, address: Address, pairing: Pairing | None) -> None:
        self._app, self._address, self._pairing = app, address, pairing

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it here."""
        if scope["type"] != "http":
            if scope["type"] == "lifespan":
                await self._app(scope, receive, send)
            return
        headers = Headers(scope=scope)
        wrong = self._wrong(scope, headers)
        if wrong is not None:
            await _turned_away(*wrong, scope, send)
            return
        limit = LARGEST_PHOTO if str(scope["path"]).endswith(PHOTOS) else LARGEST_TEXT
        if int(headers.get("content-length") or 0) > limit:
            await _turned_away(413, _too_large(limit), scope, send)
            return
        try:
            await self._app(scope, _limited(receive, limit), _with_headers(send))
        except TooLargeError:
            await _turned_away(413, _too_large(limit), scope, send)

    def _wrong(self, scope: Scope, headers: Headers) -> tuple[int, str] | None:
        if len(headers.getlist("host")) != 1 or headers["host"] not in self._address.hosts:
            return 421, "this page does not answer to that host name; use the address it printed"
        if not _length_is_plain(headers):
            return 400, "the length of the request is not a number"
        if scope["method"] not in SAFE and not self._same_window(headers):
            return 403, "only the page's own windows may change anything (foreign origin)"
        if self._pairing is not None and not self._paired(scope, headers, self._pairing):
            return 401, "this device is not paired yet: open /pair and type the code that is shown"
        return None

    def _same_window(self, headers: Headers) -> bool:
        """A browser names the origin of whatever changes something; other programs name none."""
        if headers.get("sec-fetch-site", "same-origin") != "same-origin":
            return False
        origin = headers.get("origin")
        return origin is None or origin in self._address.origins

    def _paired(self, scope: Scope, headers: Headers, pairing: Pairing) -> bool:
        path = str(scope["path"])
        if path in OPEN_TO_ALL or path.startswith("/static/"):
            return True
        client = scope.get("client")
        if client is not None and client[0] in ("127.0.0.1", "::1"):
            return True
        try:
            token = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
        except CookieError:
            return False
        return pairing.knows(token.value if token else None)


class TooLargeError(Exception):
    """The body of a request grew past what it may hold."""


def _length_is_plain(headers: Headers) -> bool:
    length = headers.get("content-length")
    return length is None or (length.isascii() and length.isdigit() and len(length) < 16)


def _limited(receive: Receive, limit: int) -> Receive:
    seen = 0

    async def counted() -> Message:
        nonlocal seen
        message = await receive()
        seen += len(message.get("body", b""))
        if seen > limit:
            raise TooLargeError
        return message

    return counted


def _with_headers(send: Send) -> Send:
    async def dressed(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                headers[name] = value
            picture = headers.get("content-type", "").startswith("image/svg")
            headers["content-security-policy"] = PICTURE_POLICY if picture else POLICY
            headers.setdefault("cache-control", "no-store")
        await send(message)

    return dressed


def _too_large(limit: int) -> str:
    return f"more than {limit // 1024} kB in one request; send less at a time"


async def _turned_away(status: int, words: str, scope: Scope, send: Send) -> None:
    """A short answer: JSON for the interface, words for a person."""
    api = str(scope["path"]).startswith("/api/")
    kind = "application/json" if api else "text/plain; charset=utf-8"
    body = json.dumps({"refused": words}) if api else f"{words}\n"
    start: Message = {
        "type": "http.response.start",
        "status": status,
        "headers": [(b"content-type", kind.encode()), (b"connection", b"close")],
    }
    dressed = _with_headers(send)
    await dressed(start)
    await dressed({"type": "http.response.body", "body": body.encode()})
