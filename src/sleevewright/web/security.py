"""What guards the door: who is answered, what may be sent here, how much of it.

The bench listens on loopback, or on a network of the shop.  A page of another site could
still make a browser call it by a name that resolves here, so only known host names are
answered; what is sent here must come from a page of the bench, as JSON, and be of a size
that a person could have meant.  A page may load nothing that the bench does not serve.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import ClientDisconnect
from starlette.responses import JSONResponse, PlainTextResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LOOPBACK = ("localhost", "127.0.0.1", "::1")

POLICY = (
    "default-src 'self'; img-src 'self' data: blob:; style-src 'self'; object-src 'none'; "
    "frame-ancestors 'none'; base-uri 'none'; form-action 'self'"
)

OPENER = "Cross-Origin-Opener-Policy"
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    OPENER: "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}

READS = frozenset({"GET", "HEAD", "OPTIONS"})
JSON = "application/json"
MULTIPART = "multipart/form-data"
UPLOADS = re.compile(r"/api/jobs/[^/]+/attachments")
"""Addresses that take a file; everywhere else a write is JSON."""

STRANGE = re.compile(r"[\x00-\x1f\\]|(?:^|/)\.\.?(?:/|$)")
"""Never part of an address of the bench: steps upwards, control characters, backslashes."""

MEGABYTE = 1_000_000
NOTHING_THERE = 404


@dataclass(frozen=True)
class BodyLimits:
    """Bytes that one delivery may have."""

    data: int = 2 * MEGABYTE
    upload: int = 25 * MEGABYTE


@dataclass(frozen=True)
class Refusal:
    """Why a request goes no further, and what would be accepted."""

    status: int
    text: str


def host_name(header: str) -> str:
    """The name in a Host header, without its port.

    Examples
    --------
    >>> host_name("[::1]:8000"), host_name("LocalHost:80")
    ('::1', 'localhost')
    """
    name = header.strip().lower()
    if name.startswith("["):
        return name[1:].partition("]")[0]
    return name.partition(":")[0]


class Door:
    """Refuse what does not come from the bench's own pages; put the headers on all answers.

    Parameters
    ----------
    app : ASGIApp
        What is guarded.
    hosts : tuple[str, ...]
        Names, beside the loopback ones, that are answered.
    limits : BodyLimits
        How much one delivery may have.
    """

    def __init__(
        self, app: ASGIApp, hosts: tuple[str, ...] = (), limits: BodyLimits | None = None
    ) -> None:
        self._app = app
        self._hosts = frozenset((*LOOPBACK, *(name.lower() for name in hosts)))
        self._limits = limits or BodyLimits()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or answer it here."""
        if scope["type"] == "websocket":
            # No page of the bench opens one; a page of another site could.
            await send({"type": "websocket.close", "code": 1008})
            return
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        outward = _with_headers(scope, send)
        refusal = self._refusal(scope)
        if refusal is not None:
            await answer_of(refusal, scope)(scope, receive, outward)
            return
        if scope["method"] in READS:
            await self._app(scope, receive, outward)
            return
        most = self._most(scope)
        counted = _Counted(scope, receive, outward, most)
        try:
            await self._app(scope, counted.receive, counted.send)
        except ClientDisconnect:
            if not counted.is_over:
                raise

    def _most(self, scope: Scope) -> int:
        """Bytes that may be sent to this address."""
        is_upload = UPLOADS.fullmatch(scope["path"]) is not None
        return self._limits.upload if is_upload else self._limits.data

    def _refusal(self, scope: Scope) -> Refusal | None:
        """Why this is not passed on; nothing where it may be."""
        headers = Headers(scope=scope)
        if host_name(headers.get("host", "")) not in self._hosts:
            text = (
                "This bench is not known by that name. Open it as localhost on its own machine, "
                "elsewhere by the address that its window shows."
            )
            return Refusal(400, text)
        if STRANGE.search(scope["path"]):
            text = "An address of the bench goes only downwards. The shelf lists every job."
            return Refusal(NOTHING_THERE, text)
        if scope["method"] in READS:
            return None
        return _foreign(scope, headers) or self._unfit(scope, headers)

    def _unfit(self, scope: Scope, headers: Headers) -> Refusal | None:
        """What is sent in another form than is taken, or is too much."""
        form = headers.get("content-type", "").partition(";")[0].strip().lower()
        is_upload = UPLOADS.fullmatch(scope["path"]) is not None
        if form != JSON and not (is_upload and form == MULTIPART):
            told = form or "nothing"
            text = (
                f"Content-Type: {told[:60]} cannot be used; allowed is {JSON}"
                f"{f' or {MULTIPART}' if is_upload else ''}. Send it from a page of the bench."
            )
            return Refusal(415, text)
        length = headers.get("content-length", "")
        most = self._most(scope)
        if length.isdigit() and int(length) > most:
            return too_large(int(length), most)
        return None


def _foreign(scope: Scope, headers: Headers) -> Refusal | None:
    """What a page of another site sends; browsers tell where a write comes from.

    Sec-Fetch-Site is told only to addresses that the browser trusts, so on plain http in
    the shop the Origin is what counts.  A command or a gauge sends neither.
    """
    site = headers.get("sec-fetch-site", "same-origin")
    if site not in ("same-origin", "none"):
        return Refusal(403, "A page of another site may not send anything here.")
    origin = headers.get("origin")
    if origin is None:
        return None
    told = urlsplit(origin)
    is_ours = told.scheme == scope.get("scheme", "http") and bool(told.netloc)
    if not is_ours or told.netloc.lower() != headers.get("host", "").strip().lower():
        text = (
            f"Origin: {origin[:60]} cannot be used; allowed is the address that the bench was "
            "opened by. Open its page anew and send it from there."
        )
        return Refusal(403, text)
    return None


def too_large(size: int, most: int) -> Refusal:
    """The refusal of a delivery that is larger than is taken."""
    return Refusal(
        413,
        f"This has {_megabytes(size)}; at most {_megabytes(most)} are taken at once. "
        "Make the photo smaller or send it in parts; what was entered is kept on this device.",
    )


def _megabytes(size: int) -> str:
    return f"{max(size / MEGABYTE, 0.1):.1f} MB"


def answer_of(refusal: Refusal, scope: Scope) -> Response:
    """A refusal as data to whoever sends or asks for data, else as plain words."""
    if scope["method"] not in READS or scope["path"].startswith("/api/"):
        told = {"text": refusal.text, "error": refusal.text}
        return JSONResponse(told, status_code=refusal.status)
    if refusal.status == NOTHING_THERE:
        from sleevewright.web.render import page  # a stranger to the house gets no page of it

        context = {"heading": "There is nothing at this address", "lines": (refusal.text,)}
        return page("shared/message.html", status=404, choices=(), place="", **context)
    return PlainTextResponse(f"{refusal.text}\n", status_code=refusal.status)


def _with_headers(scope: Scope, send: Send) -> Send:
    """Put the headers on an answer, without the one that plain http in the shop cannot have.

    Browsers take the opener policy from trusted addresses only, and complain elsewhere.
    """
    is_trusted = scope.get("scheme") == "https" or (
        host_name(Headers(scope=scope).get("host", "")) in LOOPBACK
    )

    async def outward(message: Message) -> None:
        if message["type"] == "http.response.start":
            headers = MutableHeaders(scope=message)
            for name, value in HEADERS.items():
                if is_trusted or name != OPENER:
                    headers.setdefault(name, value)
        await send(message)

    return outward


class _Counted:
    """A body that is counted while it comes in: a sender need not tell its length.

    Once it is too much, the application is told that the sender has gone, and whatever it
    answers is replaced by the refusal.
    """

    def __init__(self, scope: Scope, receive: Receive, send: Send, most: int) -> None:
        self._scope = scope
        self._receive = receive
        self._send = send
        self._most = most
        self._size = 0
        self.is_over = False
        self._has_started = False

    async def receive(self) -> Message:
        """The next part of the body, as long as it is not too much."""
        if self.is_over:
            return {"type": "http.disconnect"}
        message = await self._receive()
        if message["type"] == "http.request":
            self._size += len(message.get("body", b""))
            if self._size > self._most:
                self.is_over = True
                await self._refuse()
                return {"type": "http.disconnect"}
        return message

    async def send(self, message: Message) -> None:
        """Pass the answer on, unless the refusal went out already."""
        if self.is_over:
            return
        self._has_started = True
        await self._send(message)

    async def _refuse(self) -> None:
        if self._has_started:
            return
        answer = answer_of(too_large(self._size, self._most), self._scope)
        await answer(self._scope, self._receive, self._send)
