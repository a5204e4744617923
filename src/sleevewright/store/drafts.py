"""A draft as it can be kept: checked, with its body as canonical text, before it queues."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from sleevewright.errors import InputError
from sleevewright.jobs.records import KINDS, Draft, canonical

MOST_BYTES = 2_000_000
"""Bytes of one body; photos are kept as files beside the records."""
MOST_NUMBER = 2**53
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
    if not _ID.fullmatch(draft.id):
        raise InputError("id", draft.id, "", "32 hexadecimal digits")
    if draft.kind not in KINDS:
        raise InputError("kind", draft.kind, "", ", ".join(KINDS))
    for field, least in (("device_number", 0), ("version", 1)):
        _count(field, getattr(draft, field), least)
    text = _body_text(draft)
    return Ready(replace(draft, body=json.loads(text)), text)


def _name(field: str, text: str) -> None:
    if not (_NAME.fullmatch(text) and _is_unicode(text)):
        raise InputError(field, repr(text), "", "1 to 64 letters, no control characters")


def _count(field: str, value: int, least: int) -> None:
    if isinstance(value, bool) or not least <= value < MOST_NUMBER:
        raise InputError(field, value, "", f"a whole number from {least}")


def _is_unicode(text: str) -> bool:
    try:
        text.encode()
    except UnicodeEncodeError:
        return False
    return True


def _body_text(draft: Draft) -> str:
    allowed = f"a JSON object of at most {MOST_BYTES} bytes, without NaN or halves of letters"
    try:
        text = canonical(draft.body)
        size = len(text.encode())
    except (ValueError, TypeError, RecursionError) as error:
        raise InputError("body", str(error), "", allowed) from error
    if not isinstance(draft.body, dict) or size > MOST_BYTES:
        raise InputError("body", f"{size}", "bytes", allowed)
    return text
