"""What a body must hold before records from elsewhere are taken: keys, their sorts, no more.

Records that this store writes are made by their use cases.  Those of an export come from
another store, perhaps of another day; a key that is not known here is left as it is.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from typing import Any

from sleevewright.jobs.records import (
    ATTACHMENT,
    DECISION,
    EVENT,
    GIVEN_UP,
    JOB,
    LIFT,
    RELEASE,
    SET,
    VALUE,
    VERSION,
    Body,
)

_HEX32 = re.compile(r"[0-9a-f]{32}")
_HEX64 = re.compile(r"[0-9a-f]{64}")
Rule = Callable[[Any], bool]


def _is_text(said: Any) -> bool:
    return isinstance(said, str)


def _is_named(said: Any) -> bool:
    return isinstance(said, str) and bool(said.strip())


def _is_count(said: Any) -> bool:
    return isinstance(said, int) and not isinstance(said, bool) and 0 <= said < 2**53


def _is_whole(said: Any) -> bool:
    return isinstance(said, int) and not isinstance(said, bool) and abs(said) < 2**53


def _is_number(said: Any) -> bool:
    return isinstance(said, int | float) and not isinstance(said, bool) and math.isfinite(said)


def _is_sha256(said: Any) -> bool:
    return isinstance(said, str) and bool(_HEX64.fullmatch(said))


def _is_ids(said: Any) -> bool:
    return isinstance(said, list) and all(
        isinstance(one, str) and _HEX32.fullmatch(one) for one in said
    )


def _is_texts(said: Any) -> bool:
    return isinstance(said, list) and all(isinstance(one, str) for one in said)


def _is_list(said: Any) -> bool:
    return isinstance(said, list)


NEEDED: Mapping[str, Mapping[str, Rule]] = {
    JOB: {},
    VALUE: {"cell": _is_named, "text": _is_text},
    SET: {"set": _is_named, "stage": _is_named, "feature": _is_named},
    LIFT: {"stage": _is_named, "reason": _is_named},
    DECISION: {"option": _is_named},
    EVENT: {"stage": _is_named, "what": _is_named},
    ATTACHMENT: {"sha256": _is_sha256, "size": _is_count, "type": _is_named},
    RELEASE: {"code_version": _is_named},
    GIVEN_UP: {"reason": _is_named},
}
"""Keys that a body of each kind must have."""

WHERE_GIVEN: Mapping[str, Rule] = {
    "blank": _is_list,
    "caption": _is_text,
    "cylinder": _is_count,
    "directions": _is_texts,
    "instrument": _is_text,
    "instruments": _is_list,
    "mk": _is_whole,
    "nm": _is_whole,
    "person": _is_text,
    "replaces": _is_ids,
    "said": _is_text,
    "si": _is_number,
    "source": _is_text,
    "stations": _is_texts,
    "title": _is_text,
    "unit": _is_text,
    "units": _is_text,
}
"""Keys that a body may have, and what they then are."""


def body_problem(kind: str, version: int, body: Body) -> str:
    """What is wrong with a body; empty where nothing is.

    Examples
    --------
    >>> body_problem("value", 1, {"cell": "casting.mass"})
    'a value without a usable text'
    """
    if kind not in NEEDED:
        return f"a kind that is not known here, {kind[:40]!r}"
    if version != VERSION:
        return f"a body of version {version}; this bench reads version {VERSION}"
    for key, rule in NEEDED[kind].items():
        if not rule(body.get(key)):
            return f"a {kind} without a usable {key}"
    for key, rule in WHERE_GIVEN.items():
        if key in body and not rule(body[key]):
            return f"a {kind} whose {key} cannot be read"
    if kind == JOB and "cylinders" in body and not 1 <= _whole(body["cylinders"]) <= 64:
        return "a job whose cylinders cannot be counted"
    return ""


def _whole(said: Any) -> int:
    return said if _is_whole(said) else 0
