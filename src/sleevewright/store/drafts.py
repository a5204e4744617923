"""A draft as it can be kept: checked, with its body as canonical text, before it queues."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

from sleevewright.errors import InputError
from sleevewright.jobs.records import JOB, KINDS, SET, VALUE, WHOLE_JOB, Draft, canonical

MOST_BYTES = 2_000_000
"""Bytes of one body; photos are kept as files beside the records."""
MOST_NUMBER = 2**53 - 1
MOST_CYLINDERS = 99
_ID = re.compile(r"[0-9a-f]{32}")
_NAME = re.compile(r"\S(?:[^\x00-\x1f\x7f-\x9f\u2028\u2029]{0,62}\S)?")


@dataclass(frozen=True)
class Ready:
    """A draft whose body is what will be read back, with the text that is hashed."""

    draft: Draft
    text: str


def ready(drafts: Sequence[Draft]) -> tuple[Ready, ...]:
    """Drafts as they can be kept.

    Raises
    ------
    InputError
        If one can never be kept; the text says which of its fields and why.
    """
    return tuple(_ready(draft) for draft in drafts)


def _ready(draft: Draft) -> Ready:
    for field in ("job", "device"):
        _name(field, getattr(draft, field))
    if not (isinstance(draft.id, str) and _ID.fullmatch(draft.id)):
        raise InputError("id", draft.id, "", "32 hexadecimal digits")
    if draft.kind not in KINDS:
        raise InputError("kind", draft.kind, "", ", ".join(KINDS))
    for field, least in (("device_number", 0), ("version", 1)):
        _count(field, getattr(draft, field), least, MOST_NUMBER)
    body, text = _read_back(draft.body)
    _fields(draft.kind, body)
    return Ready(replace(draft, body=body), text)


def _name(field: str, text: str) -> None:
    if not (isinstance(text, str) and _NAME.fullmatch(text) and _is_unicode(text)):
        raise InputError(field, repr(text), "", "1 to 64 letters, no control characters")


def _count(field: str, value: object, least: int, most: int) -> None:
    if not isinstance(value, int) or isinstance(value, bool) or not least <= value <= most:
        raise InputError(field, repr(value), "", f"a whole number from {least} to {most}")


def _is_unicode(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def _read_back(body: object) -> tuple[dict[str, Any], str]:
    """A body as it will be read from what is kept, and that."""
    allowed = f"a JSON object of at most {MOST_BYTES} bytes, without NaN or halves of letters"
    if not isinstance(body, dict):
        raise InputError("body", type(body).__name__, "", allowed)
    try:
        text = canonical(body)
        size = len(text.encode())
        told: dict[str, Any] = json.loads(text)
    except (ValueError, TypeError, RecursionError) as error:
        raise InputError("body", str(error), "", allowed) from error
    if size > MOST_BYTES:
        raise InputError("body", size, "bytes", allowed)
    return told, text


def _fields(kind: str, body: dict[str, Any]) -> None:
    """Look at what a fold goes by: one record that it cannot take would close the whole job."""
    _count("body.cylinder", body.get("cylinder", WHOLE_JOB), WHOLE_JOB, MOST_CYLINDERS)
    if kind == JOB:
        _count("body.cylinders", body.get("cylinders", 1), 1, MOST_CYLINDERS)
    for field in {VALUE: ("cell",), SET: ("set",)}.get(kind, ()):
        if not isinstance(body.get(field), str):
            raise InputError(f"body.{field}", repr(body.get(field)), "", "a name")
    replaces = body.get("replaces", [])
    if not (isinstance(replaces, list) and all(isinstance(one, str) for one in replaces)):
        raise InputError("body.replaces", repr(replaces), "", "a list of ids")
