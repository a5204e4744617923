"""A command calls the bench that runs: found by the folder's lock, opened by the folder's token.

The token is written by the server when it starts, readable by the owner of the folder
alone.  Who can read it could write the folder as well, so it gives nobody more than he has.
"""

from __future__ import annotations

import hmac
import json
import os
import secrets
import ssl
import urllib.error
import urllib.request
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

from sleevewright.errors import SleevewrightError
from sleevewright.store.backup import TOKEN
from sleevewright.store.errors import StoreLocked
from sleevewright.store.lock import Writer
from sleevewright.store.wholefile import write_whole

HEADER = "X-Sleevewright-Token"
PATIENCE = 900.0
"""Seconds that a command waits; a drill of a large store takes minutes."""


def write_token(folder: Path) -> str:
    """Make the token of a server that starts; it is good until the next start."""
    token = secrets.token_hex(32)
    place = folder / TOKEN
    with suppress(FileNotFoundError):
        place.unlink()
    write_whole(place, token.encode(), mode=0o600)
    return token


def remove_token(folder: Path) -> None:
    """Take the token away when the server ends."""
    with suppress(OSError):
        (folder / TOKEN).unlink()


def is_token(folder: Path, told: str) -> bool:
    """Whether a request brings the token of the folder."""
    try:
        known = (folder / TOKEN).read_bytes()
    except OSError:
        return False
    return len(known) == 64 and hmac.compare_digest(known, told.encode())


def call(folder: Path, writer: Writer, name: str, told: Mapping[str, Any]) -> dict[str, Any]:
    """Let the process that writes in a folder do a command.

    Raises
    ------
    StoreLocked
        If it answers nowhere.
    SleevewrightError
        If it refuses; the text is its own.
    """
    if not writer.address:
        raise StoreLocked(str(folder), writer.pid)
    try:
        token = (folder / TOKEN).read_text(encoding="ascii")
    except OSError as missing:
        raise StoreLocked(str(folder), writer.pid, writer.address) from missing
    request = urllib.request.Request(  # noqa: S310 - the address is the one of the folder's lock
        f"{writer.address.rstrip('/')}/api/commands/{name}",
        data=json.dumps(told).encode(),
        headers={"Content-Type": "application/json", HEADER: token},
        method="POST",
    )
    return _answered(request, writer)


def _answered(request: urllib.request.Request, writer: Writer) -> dict[str, Any]:
    """The answer of the bench; nothing goes through a proxy on its way."""
    opener = urllib.request.build_opener(
        urllib.request.ProxyHandler({}), urllib.request.HTTPSHandler(context=_own_context())
    )
    try:
        with opener.open(request, timeout=PATIENCE) as answer:
            document: dict[str, Any] = json.load(answer)
            return document
    except urllib.error.HTTPError as refused:
        with refused:
            raise SleevewrightError(_said(refused)) from refused
    except (OSError, ValueError) as broken:
        told = f"The bench at {writer.address} (process {writer.pid}) does not answer: {broken}"
        raise SleevewrightError(f"{told}. Stop it, then try again.") from broken


def _said(refused: urllib.error.HTTPError) -> str:
    try:
        told = json.loads(refused.read(100_000))
        return str(told.get("error") or told["text"])
    except (OSError, ValueError, KeyError, AttributeError):
        return f"The bench refused it with status {refused.code}."


def _own_context() -> ssl.SSLContext:
    """On this machine the token proves the one to the other; no certificate names loopback."""
    context = ssl.create_default_context()
    context.check_hostname = False
    context.verify_mode = ssl.CERT_NONE
    return context


def is_private(folder: Path) -> bool:
    """Whether nobody but its owner may read the token, where the system has modes."""
    return os.name == "nt" or not (folder / TOKEN).stat().st_mode & 0o077
