"""What guards the door: the hosts that are answered and the headers of every answer.

The bench listens on loopback.  A page of another site could still make a browser call it
by a name that resolves here, so only known host names are answered, and a page may load
nothing that the bench itself does not serve.
"""

from __future__ import annotations

from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

LOOPBACK = ("localhost", "127.0.0.1", "::1")

POLICY = (
    "default-src 'self'; img-src 'self' data: blob:; style-src 'self'; object-src 'none'; "
    "frame-ancestors 'none'; base-uri 'none'; form-action 'self'"
)

HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}


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
    """Refuse unknown hosts; put the headers on everything that is answered."""

    def __init__(self, app: ASGIApp, hosts: tuple[str, ...] = ()) -> None:
        self._app = app
        self._hosts = frozenset((*LOOPBACK, *(name.lower() for name in hosts)))

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on, or answer it here."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in HEADERS.items():
                    headers.setdefault(name, value)
            await send(message)

        headers = Headers(scope=scope)
        if host_name(headers.get("host", "")) not in self._hosts:
            text = "This bench is not known by that name. Open it as localhost.\n"
            await PlainTextResponse(text, status_code=400)(scope, receive, send_with_headers)
            return
        if headers.get("sec-fetch-site") == "cross-site" and scope["method"] != "GET":
            text = "A page of another site may not send anything here.\n"
            await PlainTextResponse(text, status_code=403)(scope, receive, send_with_headers)
            return
        await self._app(scope, receive, send_with_headers)
