"""Who comes in on a network: this machine's own screen, and devices that were paired.

Whoever else asks for a page is led to the one that asks for the code; whoever else sends
readings is told so, and keeps them in its outbox.  Nothing here ever expires.
"""

from __future__ import annotations

from http.cookies import CookieError, SimpleCookie
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers, MutableHeaders
from starlette.responses import JSONResponse, RedirectResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from sleevewright.services.asker import OWN_SCREEN, asked_by, asked_no_more
from sleevewright.services.devices import PairingDesk
from sleevewright.web.limits import is_from_here
from sleevewright.web.pair.cookies import COOKIE, DeviceCookies, Shown
from sleevewright.web.security import READS

PAIR = "/pair"
OPEN = frozenset({PAIR, "/pair/state", "/pair/root.crt"})
"""Addresses that a device may ask for before it is paired; static files are open too."""

NOT_PAIRED = (
    "This device is not paired with the bench. Open /pair on it and key the code that the "
    "bench's own screen shows; what was entered here is kept on this device until then."
)


class PairingGuard:
    """Let in the bench's own screen and paired devices; note who asks.

    Parameters
    ----------
    app : ASGIApp
        What is guarded.
    desk : PairingDesk
        Knows the devices.
    """

    def __init__(self, app: ASGIApp, desk: PairingDesk) -> None:
        self._app = app
        self._desk = desk
        self._cookies = DeviceCookies(desk.bench.folder)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Pass a request on with who asks noted in its state, or answer it here."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        shown = self._shown(Headers(scope=scope))
        name = await self._name(shown)
        client = scope.get("client")
        host = str(client[0]) if client else ""
        is_own = is_from_here(scope)
        device = shown.device if shown and name is not None else ""
        scope.setdefault("state", {}).update(
            {"device": device, "device_name": name or "", "is_own_screen": is_own}
        )
        asked = asked_by(device or (OWN_SCREEN if is_own else host or "unknown"))
        try:
            if is_own or device or _is_open(scope):
                renewing = self._renewing(scope, send, shown) if device else send
                await self._app(scope, receive, renewing)
            else:
                await _refusal(scope)(scope, receive, send)
        finally:
            asked_no_more(asked)

    async def _name(self, shown: Shown | None) -> str | None:
        """The paired device's name; nothing where the secret is not, or no longer, good."""
        if shown is None:
            return None

        def known() -> str | None:
            name = self._desk.known(shown.device, shown.secret)
            if name is not None:
                self._desk.seen(shown.device)
            return name

        if self._desk.is_known_by_heart(shown.device):
            return self._desk.known(shown.device, shown.secret)
        return await run_in_threadpool(known)

    def _shown(self, headers: Headers) -> Shown | None:
        try:
            found = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
        except CookieError:
            return None
        return None if found is None else self._cookies.read(found.value)

    def _renewing(self, scope: Scope, send: Send, shown: Shown | None) -> Send:
        """Write an old cookie anew with the answer, before the browser forgets it."""
        if shown is None or not shown.is_old:
            return send
        fresh = Response()
        is_tls = scope.get("scheme") == "https"
        self._cookies.put(fresh, shown.device, shown.secret, is_tls=is_tls)

        async def outward(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                headers.append("set-cookie", fresh.headers["set-cookie"])
            await send(message)

        return outward


def _is_open(scope: Scope) -> bool:
    """Whether what is asked for is part of pairing itself."""
    path, method = scope["path"], scope["method"]
    if path in OPEN:
        return method in READS or path == PAIR
    return method in READS and path.startswith("/static/")


def _refusal(scope: Scope) -> Response:
    """A page is led to the pairing page and back; data is told what to do."""
    wants_page = "text/html" in Headers(scope=scope).get("accept", "")
    if scope["method"] not in READS or scope["path"].startswith("/api/") or not wants_page:
        told = {"text": NOT_PAIRED, "error": NOT_PAIRED, "pair": PAIR}
        return JSONResponse(told, status_code=403)
    asked = scope["path"]
    query = scope.get("query_string", b"").decode("latin-1")
    back = quote(f"{asked}?{query}" if query else asked, safe="/")
    return RedirectResponse(f"{PAIR}?back={back}", status_code=303)
