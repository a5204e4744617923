"""How the gauge of a set was set, in words that stand over its readings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sleevewright.jobs.gaugesetting import PLUS_SMALLER, master_words, masters_of
from sleevewright.jobs.sets import said_in


@dataclass(frozen=True)
class MasterChoice:
    """Something that a gauge can be set on."""

    key: str
    words: str
    nominal: str = ""  # size that the dial then shows nought at, where it is known


DIALS = {
    False: "plus: larger",
    True: "plus: smaller",
}
"""Which way a dial runs, as it stands at every reading."""

BACKWARDS = "This dial runs backwards: plus is the smaller bore. Key what it shows."


def setting_views(body: Mapping[str, Any], feature: str) -> dict[str, Any]:
    """Sign, its words and the setting of a set, as its table takes them.

    Examples
    --------
    >>> seen = setting_views({"set_on": "sleeve", "nominal": "2.6393 in"}, "parent-bore")
    >>> seen["dial"], seen["setting"]
    ('plus: larger', ('Set on this sleeve.', 'Dial at nought: 2.6393 in.'))
    """
    sign, entry = str(body.get("sign", "")), str(body.get("entry") or "size")
    compares = bool(masters_of(feature)) and bool(said_in(body, "nominal"))
    compares = compares and (entry == "deviation" or bool(sign or body.get("set_on")))
    is_backwards = sign == PLUS_SMALLER
    is_told = any(body.get(key) for key in ("set_on", "master_size")) or is_backwards
    said = _said(body) if is_told else []
    return {
        "sign": sign,
        "dial": DIALS[is_backwards] if compares else "",
        "setting": (*said, *((BACKWARDS,) if is_backwards else ())),
    }


def _said(body: Mapping[str, Any]) -> list[str]:
    """The setting sentence by sentence, as far as it was told."""
    found: list[str] = []
    if body.get("set_on"):
        words = f"Set on {master_words(str(body['set_on']))} {body.get('master', '')}".strip()
        at = said_in(body, "master_temperature")
        by = " ".join(str(body[key]) for key in ("set_by", "set_at") if body.get(key))
        parts = [words, f"at {at}" if at else "", f"by {by}" if by else ""]
        found.append(f"{', '.join(part for part in parts if part)}.")
    if body.get("master_size"):
        reads = body.get("master_reads")
        showed = f", on which the dial showed {reads}" if reads else ""
        found.append(f"The master is {said_in(body, 'master_size')}{showed}.")
    if said_in(body, "nominal"):
        found.append(f"Dial at nought: {said_in(body, 'nominal')}.")
    return found
