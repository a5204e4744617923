"""The short way of a reading: one value, as a device at work hands it in.

It is judged in the loop of events, beside the job as it is known by heart, and handed to the
writer; the answer goes out when it is committed.  Whatever is not exactly that (several
entries, the beginning of a set, a refusal, a delivery of another form) takes the address of
the interface as if it had come there first, so that each answer is given in one place only.
"""

from __future__ import annotations

import asyncio
import json
from dataclasses import dataclass
from typing import Any

from starlette.responses import JSONResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from sleevewright.errors import SleevewrightError
from sleevewright.services.bench import Bench
from sleevewright.services.devices import PairingDesk
from sleevewright.services.entry import hand_on
from sleevewright.store.errors import StoreUnavailable

PATH = "/api/records"
LONGEST = 10_000
"""Bytes of a delivery that is looked at here; one value has some hundreds."""

_FIELDS = frozenset({"id", "job", "n", "kind", "version", "body"})


@dataclass(frozen=True)
class Single:
    """A delivery of one entry."""

    device: str
    entry: dict[str, Any]


class Shortcut:
    """Answer a value that comes alone; pass on everything else as it came.

    Parameters
    ----------
    app : ASGIApp
        What answers the rest.
    bench : Bench
        Where readings are kept.
    desk : PairingDesk | None
        Pairs devices on a network; nothing where only this machine is answered.
    """

    def __init__(self, app: ASGIApp, bench: Bench, desk: PairingDesk | None) -> None:
        self._app = app
        self._bench = bench
        self._desk = desk

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer here, or pass on."""
        if scope["type"] != "http" or scope["path"] != PATH or scope["method"] != "POST":
            await self._app(scope, receive, send)
            return
        first = await receive()
        single = single_of(first)
        if single is not None and self._speaks_for_itself(scope, single.device):
            answer = await self._answer(single)
            if answer is not None:
                await answer(scope, receive, send)
                return
        await self._app(scope, _once_more(first, receive), send)

    def _speaks_for_itself(self, scope: Scope, told: str) -> bool:
        """Whether it is sure without a question that no other device is spoken for."""
        own = scope.get("state", {}).get("device", "")
        return self._desk is None or not own or told == own

    async def _answer(self, single: Single) -> Response | None:
        """The answer once it is committed; nothing where it has to go the long way."""
        handed = hand_on(self._bench, single.device, single.entry)
        if handed is None:
            return None
        try:
            kept = (await asyncio.wrap_future(handed))[0]
        except StoreUnavailable as refused:
            return JSONResponse({"text": str(refused)}, status_code=503)
        except SleevewrightError:
            return None
        store, job = self._bench.store, kept.draft.job
        one = {"id": kept.draft.id, "state": "kept", "number": kept.number}
        last = {job: store.last(job)}
        return JSONResponse({"store": store.identity, "answers": [one], "last": last})


def single_of(message: Message) -> Single | None:
    """The one entry of a delivery that came whole and plain; nothing of any other."""
    body = message.get("body", b"")
    if message.get("more_body") or not 0 < len(body) <= LONGEST:
        return None
    try:
        told = json.loads(body)
    except (ValueError, RecursionError):
        return None
    if not isinstance(told, dict):
        return None
    device, store, entries = told.get("device"), told.get("store", ""), told.get("entries")
    if not (isinstance(entries, list) and len(entries) == 1 and isinstance(entries[0], dict)):
        return None
    plain = all(isinstance(one, str) and one.isascii() and len(one) <= 64 for one in (device, store))
    if not plain or not entries[0].keys() <= _FIELDS:
        return None
    return Single(str(device), entries[0])


def _once_more(first: Message, receive: Receive) -> Receive:
    """Receive what was looked at already, then the rest."""
    waiting = [first]

    async def received() -> Message:
        return waiting.pop() if waiting else await receive()

    return received
