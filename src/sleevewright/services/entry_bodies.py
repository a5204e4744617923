"""Bodies that devices hand in: what is known of each kind is taken, and nothing else.

Keyed text and unit are the truth.  Beside them the server writes the value as a whole
number of nanometres or millikelvin, or in SI where it is neither; what a device says of
that is never believed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.life import LIFE
from sleevewright.jobs.records import EVENT, GIVEN_UP, SET, VALUE
from sleevewright.jobs.told import read_cell, read_set
from sleevewright.jobs.toldset import refuse_other_gauge

TAKEN_KINDS = (VALUE, SET, EVENT, GIVEN_UP)
"""Kinds that a device may hand in; what is signed goes through its own use case."""

LONGEST_WORDS = 4000
VALUE_KINDS = ("measured", "typed", "chosen", "assumed")
SOURCES = ("keyed", "gauge", "dictated", "file", "paper", "drag")

_STAGES = tuple(stage.key for stage in LIFE)
_FIRST_YEAR, _LAST_YEAR = 2000, 2200

_ID = re.compile(r"[0-9a-f]{32}")
_KEY = re.compile(r"[A-Za-z0-9_\-]{1,40}")


def body_of(kind: str, body: Mapping[str, Any], folded: Folded, *, own: str = "") -> dict[str, Any]:
    """The body as it is kept; ``own`` is the id under which it is told.

    Raises
    ------
    SleevewrightError
        If it cannot be taken; the text names the field, what is allowed and what to do.
    """
    made = _MAKERS[kind](body, folded)
    if own and own in made.get("replaces", ()):
        raise InputError("replaces", own, "", "ids of earlier values, not the own one")
    return made


def _value(body: Mapping[str, Any], folded: Folded) -> dict[str, Any]:
    """A value of a cell, with what it comes to."""
    cell, text = _words(body, "cell", 200), _words(body, "text", LONGEST_WORDS, may_be_empty=True)
    cylinder = _cylinder(body, folded)
    made: dict[str, Any] = {"cylinder": cylinder, "cell": cell, "text": text}
    if text.strip():
        made |= read_cell(cell, text, folded=folded, cylinder=cylinder).kept
    made["kind"] = _one_of(body, "kind", VALUE_KINDS, made.get("kind", "typed"))
    made["source"] = _one_of(body, "source", SOURCES, "keyed")
    made["replaces"] = _replaced(body)
    if text.strip():
        refuse_other_gauge(cell, body.get("instrument"), folded)
    return made | _extras(body, ("instrument", "person", "said", "note"))


def _set(body: Mapping[str, Any], folded: Folded) -> dict[str, Any]:
    """A set of readings that is begun."""
    name = _words(body, "set", 40)
    if not _KEY.fullmatch(name):
        raise InputError("set", clipped(name), "", "letters and digits")
    if name in folded.sets:
        raise InputError("set", clipped(name), "", "a name that no other set of the job has")
    made = {
        "cylinder": _cylinder(body, folded),
        "set": name,
        "stage": _words(body, "stage", 40),
        "feature": _words(body, "feature", 40),
        **read_set(body, folded=folded),
    }
    return made | _extras(body, ("person", "said", "note"))


def _event(body: Mapping[str, Any], folded: Folded) -> dict[str, Any]:
    """Something that happened."""
    made = {
        "cylinder": _cylinder(body, folded),
        "stage": _words(body, "stage", 40),
        "what": _words(body, "what", 40),
    }
    if made["stage"] not in _STAGES:
        raise InputError("stage", clipped(str(made["stage"])), "", ", ".join(_STAGES))
    if body.get("at") not in (None, ""):
        _refuse_moment(_words(body, "at", 40))
    return made | _extras(body, ("result", "at", "text", "person", "said"))


def _refuse_moment(text: str) -> None:
    """A moment is a day and a time of it, of years in which this bench can have run."""
    try:
        year = datetime.fromisoformat(text).year
    except ValueError:
        year = 0
    if not (_FIRST_YEAR <= year <= _LAST_YEAR and "T" in text):
        allowed = "a moment as 2026-11-24T09:30:00Z"
        raise InputError("at", clipped(text), "", allowed, "Look at the clock of the device.")


def _given_up(body: Mapping[str, Any], _folded: Folded) -> dict[str, Any]:
    """The place of an entry that never comes."""
    return {"reason": _words(body, "reason", LONGEST_WORDS)} | _extras(body, ("said", "person"))


_MAKERS: Mapping[str, Callable[[Mapping[str, Any], Folded], dict[str, Any]]] = {
    VALUE: _value,
    SET: _set,
    EVENT: _event,
    GIVEN_UP: _given_up,
}


def _words(body: Mapping[str, Any], key: str, longest: int, *, may_be_empty: bool = False) -> str:
    """A text of the body."""
    said = body.get(key, "" if may_be_empty else None)
    if not isinstance(said, str) or (not said.strip() and not may_be_empty):
        raise InputError(key, clipped(repr(said)), "", "words")
    if len(said) > longest:
        raise InputError(key, f"{len(said)} letters", "", f"at most {longest}")
    if any(ord(letter) < 32 and letter not in "\n\t" for letter in said) or "\x7f" in said:
        raise InputError(key, clipped(repr(said)), "", "letters that can be printed")
    try:
        said.encode("utf-8")
    except UnicodeEncodeError:
        raise InputError(key, clipped(repr(said)), "", "letters that can be written") from None
    return said


def _cylinder(body: Mapping[str, Any], folded: Folded) -> int:
    """Which cylinder is meant; 0 is the whole job."""
    said = body.get("cylinder", 1)
    if not isinstance(said, int) or isinstance(said, bool) or not 0 <= said <= folded.cylinders:
        allowed = f"0 for the whole job, or 1 to {folded.cylinders}"
        raise InputError("cylinder", clipped(repr(said)), "", allowed)
    return said


def _one_of(body: Mapping[str, Any], key: str, allowed: tuple[str, ...], usual: str) -> str:
    said = body.get(key, usual)
    if said not in allowed:
        raise InputError(key, clipped(repr(said)), "", ", ".join(allowed))
    return str(said)


def _replaced(body: Mapping[str, Any]) -> list[str]:
    """Ids of what a value replaces."""
    said = body.get("replaces", [])
    if not isinstance(said, list) or len(said) > 100:
        raise InputError("replaces", clipped(repr(said)), "", "at most 100 ids in a list")
    if not all(isinstance(one, str) and _ID.fullmatch(one) for one in said):
        raise InputError("replaces", clipped(repr(said)), "", "ids of 32 hexadecimal digits")
    return list(dict.fromkeys(said))


def _extras(body: Mapping[str, Any], keys: tuple[str, ...]) -> dict[str, Any]:
    """Optional texts, kept where they were given."""
    return {key: _words(body, key, 400) for key in keys if body.get(key) not in (None, "")}
