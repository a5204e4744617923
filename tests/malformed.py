"""Deliveries as no page of the bench would send them, from a seed, repeatable.

A sound delivery is taken and spoilt: a part of it is replaced by something of another type,
size or alphabet, left out or put in twice, or the bytes themselves are cut, encoded
otherwise or joined to others.
"""

from __future__ import annotations

import copy
import json
import random
import uuid
from dataclasses import dataclass, field
from typing import Any

from sleevewright.jobs.catalog import sheet_of
from sleevewright.jobs.gaugefit import SWEEPS
from sleevewright.jobs.life import LIFE

JOB = "J-1"

ODD: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 1.0, 0.5, 2**53, 2**53 - 1, 2**63, 2**64, -(2**70), 10**400,
    float("nan"), float("inf"), float("-inf"), 1e308, -0.0, "", " ", "\n", "\t", "\x00", "a\x00b",
    "\x7f", "\x1f", "\u0085", "\u2028", "\ufeff", "\ud800", "\udfff\ud800", "\U0001f600" * 40,
    "e\u0301" * 30, "\u202eabc", "0" * 31, "0" * 32, "0" * 33, "G" * 32, "A" * 32, "x" * 5_000,
    "\\", "'", '"', "<script>", "%00", "../../etc", "{}", "[]", "null", "NaN", "1e999 mm",
    "9" * 400 + " mm", "1" + "0" * 5_000, "0x10", "1_000 mm", "\u0661\u0662 mm", "\u00bd in",
    "1,234.5 mm", "1.234,5 mm", "--5", "5 mm mm", "5 parsec", "\u2212 5 mm", "5\u00a0mm",
    "5 mm\n6 mm",
    "67.3 \u00b1 0.1 mm", "1 kg; DROP TABLE record", "-" * 300, "value", "set", "job", "release",
    "lift", "J-2", "__proto__", "constructor", [], {}, [[]], [None], {"": ""}, {"a": {"b": {}}},
    ["0" * 32], ["0" * 32] * 101, [["0" * 32]], list(range(200)), {"text": 1}, [{}], [[0, 0, 0]],
    [[0, 0]] * 500, [[-1, 0]], [[0.5, 1]], [["0", "1"]], [10**30], {"name": []}, {"name": {"a": 1}},
)  # fmt: skip
"""What is put in the place of a part."""

CELLS = (
    "casting.mass", "sleeve.length", "casting.material", "set", "set/", "set//", "set/a/0/0",
    "set/a/1/1", "set/a/99/0", "set/a/-1/0", "set/a/0", "set/a/0/0/0", "set/a/9999999999/0",
    "set/b/0/0", "set/a/zero-start", "set/a/zero-end", "set/a/void", "set/a/\u0661/0", "port",
    "port//", "port/exhaust/found.roof", "port/%2F/found.roof", "port/../found.roof",
    "old.island/1/from", "old.island/x/from", "old.island/1000000/from", "wanted.cold", ".", "..",
    "casting.", ".mass", "CASTING.MASS", "casting.mass ", "casting.mass.mass", "ready.burrs",
    "fit.wanted", "heat.limit", "price.parts", "intake.date", "casting\u2024mass",
)  # fmt: skip

TEXTS = (
    "1.37 kg", "1.3 lb", "67.3 mm", "2.6360 in", "+1.5", "-0.5 thou", "two tenths over", "yes",
    "no", "2026-11-30", "2026-02-30", "12", "12.5", "12,5", "0.0001 in", "-", "\u2013",
    "aluminium-356", "steel", "450 F", "-300 C", "20 degC", "90 min", "1e3 mm", "1e-3", ".5", "5.",
    ",5", "5,", "+", "",
)  # fmt: skip

KINDS = ("value", "set", "event", "given-up", "value", "set", "job", "lift", "release", "decision")
STAGES = tuple(stage.key for stage in LIFE)
GRIDS = tuple((stage, grid.feature) for stage in STAGES for grid in sheet_of(stage).grids)
FIELDS = tuple(one for stage in STAGES for one in sheet_of(stage).fields)


@dataclass(frozen=True)
class Delivery:
    """What is sent: bytes and headers."""

    content: bytes
    headers: dict[str, str] = field(default_factory=lambda: {"Content-Type": "application/json"})


class Maker:
    """Makes deliveries from a seed."""

    def __init__(self, seed: int) -> None:
        self.chance = random.Random(seed)  # noqa: S311 - repeatable, no secret
        self.count = 0

    def delivery(self) -> Delivery:
        """The next one."""
        chance = self.chance
        told: Any = {
            "device": f"tablet-{chance.randrange(4)}",
            "store": "",
            "entries": [self._entry() for _ in range(chance.choice((0, 1, 1, 1, 2, 5)))],
        }
        for _ in range(chance.choice((0, 1, 1, 2, 3))):
            told = self._spoilt(told)
        content = json.dumps(told, ensure_ascii=chance.random() < 0.7).encode(
            "utf-8", "surrogatepass"
        )
        if chance.random() < 0.25:
            content = self._spoilt_bytes(content)
        headers = {"Content-Type": "application/json"}
        if chance.random() < 0.05:
            headers = {
                "Content-Type": chance.choice(("", "text/plain", "application/json;charset=x"))
            }
        return Delivery(content, headers)

    def _entry(self) -> dict[str, Any]:
        """An entry that is sound or nearly so."""
        self.count += 1
        kind = self.chance.choice(KINDS)
        return {
            "id": uuid.UUID(int=self.chance.getrandbits(128)).hex,
            "job": self.chance.choice((JOB, JOB, JOB, "J-2", "")),
            "n": self.count,
            "kind": kind,
            "version": 1,
            "body": self._body(kind),
        }

    def _body(self, kind: str) -> dict[str, Any]:
        chance = self.chance
        if kind == "set":
            stage, feature = chance.choice(GRIDS)
            gauge = "indicator" if feature in SWEEPS else "micrometer"
            return {
                "cylinder": chance.choice((0, 1, 1, 2, 3)),
                "set": chance.choice(("a", "b", f"c{self.count}")),
                "stage": stage, "feature": feature, "instrument": "mic 2-3",
                "instruments": [{"name": "mic 2-3", "kind": gauge}],
                "nominal": self._or("2.6360 in"), "unit": self._or("thou"),
                "stations": [self._or("0.5 in"), "2 in"], "blank": [[0, 1]],
                "directions": [self._or("0 deg"), "90 deg"],
                "part_temperature": self._or("70 F"), "gauge_temperature": "21 C",
                "entry": chance.choice(("size", "deviation", "last-digits")), "last_digits": 3,
            }  # fmt: skip
        if kind == "event":
            return {"cylinder": 1, "stage": chance.choice((*STAGES, "no")), "what": "wash"}
        if kind == "given-up":
            return {"reason": chance.choice(TEXTS)}
        cell, text = chance.choice(CELLS), chance.choice(TEXTS)
        if chance.random() < 0.5:
            asked = chance.choice(FIELDS)
            cell, text = asked.cell_for(1), asked.example or text
        return {
            "cylinder": chance.choice((0, 1, 2, 3)), "cell": cell, "text": text,
            "kind": "typed", "source": "keyed", "replaces": [],
        }  # fmt: skip

    def _or(self, sound: str) -> str:
        """What is sound, or now and then another text."""
        return sound if self.chance.random() < 0.9 else self.chance.choice(TEXTS)

    def _spoilt(self, told: Any) -> Any:
        """The same with one part of it replaced, left out, put in twice or put deeper."""
        told = copy.deepcopy(told)
        places = list(_places(told))
        if not places:
            return self.chance.choice(ODD)
        holder, key = self.chance.choice(places)
        way = self.chance.random()
        if way < 0.6:
            holder[key] = self.chance.choice(ODD)
        elif way < 0.75:
            del holder[key]
        elif way < 0.85:
            holder[key] = [holder[key]] * self.chance.choice((1, 2, 3))
        elif way < 0.95 and isinstance(holder, dict):
            holder[self.chance.choice(("x", "", "id", "nm", "cell", "é"))] = holder[key]
        else:
            return self.chance.choice(([told], {"entries": told}, holder, holder[key]))
        return told

    def _spoilt_bytes(self, content: bytes) -> bytes:
        """The same bytes cut, encoded otherwise, joined or nested without end."""
        chance = self.chance
        place = chance.randrange(len(content) + 1)
        flipped = bytearray(content)
        flipped[place % len(content)] ^= 1 << chance.randrange(8)
        deep = chance.choice((50, 500, 100_000))
        return chance.choice(
            (
                content[:place],
                content[place:],
                bytes(flipped),
                content + content,
                b"\xef\xbb\xbf" + content,
                content.decode("utf-8", "replace").encode("utf-16"),
                content.decode("utf-8", "replace").encode("utf-32"),
                content[:place] + b"\xff\xfe\x00" + content[place:],
                b"",
                b"[" * deep,
                b'{"device":"t","entries":' + b"[" * deep + b"]" * deep + b"}",
                b'{"device":"t","entries":[{"body":'
                + b'{"a":' * deep
                + b"1"
                + b"}" * deep
                + b"}]}",
                b'{"device":"t","entries":[{"n":' + b"9" * 6_000 + b"}]}",
                b'{"device":"t","device":"u","entries":[],"entries":[{}]}',
                content.replace(b"1", b"1e400"),
            )
        )


def _places(told: Any) -> list[tuple[Any, Any]]:
    """Every part of a structure: what holds it, and under which key."""
    found: list[tuple[Any, Any]] = []
    keys = (
        told.keys()
        if isinstance(told, dict)
        else range(len(told))
        if isinstance(told, list)
        else ()
    )
    for key in list(keys)[:20]:
        found.append((told, key))
        found += _places(told[key])
    return found
