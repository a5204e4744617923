"""The short way of a reading: one value, or a set and its first value, from a device at work.

It is judged in the loop of events, beside the job as it is known by heart, and handed to the
writer; the answer goes out when it is committed.  Whatever is not exactly that (more
entries, a refusal, a delivery of another form) takes the address of the interface as if it
had come there first: what was kept here by then is known there, and answered as kept.
"""

from __future__ import annotations

import asyncio
import json
from dataclasses import dataclass
from typing import Any

from starlette.responses import JSONResponse, Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from sleevewright.errors import SleevewrightError
from sleevewright.jobs.records import SET, VALUE
from sleevewright.services.bench import Bench
from sleevewright.services.devices import PairingDesk
from sleevewright.services.entry import hand_on
from sleevewright.store.errors import StoreUnavailable

PATH = "/api/records"
LONGEST = 4_000
"""Bytes of a delivery that is looked at here; a value has some hundreds, a set a thousand."""

MOST = 2
"""Entries of it: the beginning of a set comes with its first value."""

_FIELDS = frozenset({"id", "job", "n", "kind", "version", "body"})


@dataclass(frozen=True)
class Plain:
    """A delivery as it is taken here."""

    device: str
    entries: list[dict[str, Any]]


class Shortcut:
    """Answer what a device at work hands in; pass on everything else as it came.

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
        told = plain_delivery(first)
        if told is not None and self._speaks_for_itself(scope, told.device):
            answer = await self._answer(told)
            if answer is not None:
                await answer(scope, receive, send)
                return
        await self._app(scope, _once_more(first, receive), send)

    def _speaks_for_itself(self, scope: Scope, told: str) -> bool:
        """Whether it is sure without a question that no other device is spoken for."""
        own = scope.get("state", {}).get("device", "")
        return self._desk is None or not own or told == own

    async def _answer(self, told: Plain) -> Response | None:
        """The answer once all is committed; nothing where it has to go the long way."""
        answers: list[dict[str, object]] = []
        last: dict[str, int] = {}
        store = self._bench.store
        for entry in told.entries:
            handed = hand_on(self._bench, told.device, entry)
            if handed is None:
                return None
            try:
                (kept,) = await asyncio.wrap_future(handed)
            except StoreUnavailable as refused:
                return JSONResponse({"text": str(refused)}, status_code=503)
            except SleevewrightError:
                return None
            answers.append({"id": kept.draft.id, "state": "kept", "number": kept.number})
            last[kept.draft.job] = store.last(kept.draft.job)
        return JSONResponse({"store": store.identity, "answers": answers, "last": last})


def plain_delivery(message: Message) -> Plain | None:
    """What a device at work hands in, where it came whole; nothing of anything else."""
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
    names = all(
        isinstance(one, str) and one.isascii() and len(one) <= 64 for one in (device, store)
    )
    if not names or not isinstance(entries, list) or not _is_a_set_begun_or_a_value(entries):
        return None
    return Plain(str(device), entries)


def _is_a_set_begun_or_a_value(entries: list[Any]) -> bool:
    """Whether these are a value alone, or a set and a value behind it in the same job."""
    if not (1 <= len(entries) <= MOST and all(isinstance(one, dict) for one in entries)):
        return False
    if not all(one.keys() <= _FIELDS for one in entries):
        return False
    first, last = entries[0], entries[-1]
    if len(entries) == 1:
        return bool(last.get("kind") == VALUE)
    counts = [one.get("n") for one in entries]
    return (
        (first.get("kind"), last.get("kind")) == (SET, VALUE)
        and first.get("job") == last.get("job")
        and all(isinstance(one, int) for one in counts)
        and counts[0] < counts[1]
    )


def _once_more(first: Message, receive: Receive) -> Receive:
    """Receive what was looked at already, then the rest."""
    waiting = [first]

    async def received() -> Message:
        return waiting.pop() if waiting else await receive()

    return received
