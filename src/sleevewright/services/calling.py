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
from collections.abc import Mapping
from contextlib import suppress
from http.client import HTTPConnection, HTTPException, HTTPSConnection
from pathlib import Path
from typing import Any
from urllib.parse import SplitResult, urlsplit

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
    place = urlsplit(writer.address)
    connection = _connection(place)
    try:
        headers = {"Content-Type": "application/json", HEADER: token}
        address = f"{place.path.rstrip('/')}/api/commands/{name}"
        connection.request("POST", address, json.dumps(told).encode(), headers)
        answer = connection.getresponse()
        document = json.loads(answer.read())
    except (OSError, ValueError, HTTPException) as broken:
        said = f"The bench at {writer.address} (process {writer.pid}) does not answer: {broken}"
        raise SleevewrightError(f"{said}. Stop it, then try again.") from broken
    finally:
        connection.close()
    if answer.status >= 400 or not isinstance(document, dict):
        raise SleevewrightError(_refusal(document, answer.status))
    return document


def _connection(place: SplitResult) -> HTTPConnection:
    """A connection to the bench; nothing goes through a proxy on its way."""
    host = place.hostname or ""
    if place.scheme == "https":
        return HTTPSConnection(host, place.port, timeout=PATIENCE, context=_own_context())
    return HTTPConnection(host, place.port, timeout=PATIENCE)


def _refusal(document: object, status: int) -> str:
    """Why the bench refused, in its own words."""
    told = document if isinstance(document, dict) else {}
    return str(told.get("error") or told.get("text") or f"The bench refused it ({status}).")


def _own_context() -> ssl.SSLContext:
    """On this machine the token proves the one to the other; no certificate names loopback."""
    context = ssl.create_default_context()
    context.check_hostname = False
    context.verify_mode = ssl.CERT_NONE
    return context


def is_private(folder: Path) -> bool:
    """Whether nobody but its owner may read the token, where the system has modes."""
    return os.name == "nt" or not (folder / TOKEN).stat().st_mode & 0o077
