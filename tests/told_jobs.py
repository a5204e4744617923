"""Jobs told record by record, as tests of the life of a job need them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import (
    DECISION,
    EVENT,
    GIVEN_UP,
    JOB,
    LIFT,
    RELEASE,
    SET,
    VALUE,
    Record,
)
from sleevewright.jobs.told import read_cell, read_set

MIC = {"name": "mic 2-3", "kind": "micrometer", "resolution": "0.0001 in", "setting": "0.2 thou",
       "turn": "0.025 in"}  # fmt: skip
GAUGE = {"name": "bore gauge", "kind": "dial-bore-gauge", "resolution": "0.0001 in",
         "setting": "0.3 thou", "set_from": "mic 2-3", "turn": "0.010 in"}  # fmt: skip


class Teller:
    """A job that is told one record after the other."""

    def __init__(self, kind: str = "two-stroke", *, units: str = "inch", cylinders: int = 1,
                 cooling: str = "air", number: str = "J-1") -> None:  # fmt: skip
        self.number = number
        self.records: list[Record] = []
        self.folded = Folded()
        self.counts: dict[str, int] = {}
        self.tell(
            JOB,
            {"title": "barrel", "units": units, "engine_kind": kind, "cooling": cooling,
             "cylinders": cylinders, "invented": True},
        )  # fmt: skip

    def tell(self, kind: str, body: Mapping[str, Any], *, device: str = "tablet",
             skip: int = 0, received: str = "") -> Record:  # fmt: skip
        """Keep one more record; ``skip`` leaves numbers of the device out."""
        number = len(self.records) + 1
        count = self.counts.get(device, 0) + 1 + skip
        self.counts[device] = count
        at = received or f"2026-11-24T09:{number // 60 % 60:02d}:{number % 60:02d}.000Z"
        record = Record(
            self.number, number, f"{number:032x}", device, count, at, kind, 1, dict(body)
        )
        self.records.append(record)
        self.folded.add(record)
        return record

    def value(self, cell: str, text: str, *, cylinder: int = 1, replaces: Sequence[str] = (),
              **more: Any) -> Record:  # fmt: skip
        """Tell a value as the server would keep it."""
        body: dict[str, Any] = {"cylinder": cylinder, "cell": cell, "text": text}
        if text.strip():
            body |= read_cell(cell, text, folded=self.folded, cylinder=cylinder).kept
        body |= {"replaces": list(replaces), "source": "keyed"}
        return self.tell(VALUE, body, **more)

    def begin(self, name: str, feature: str, stage: str, *, cylinder: int = 1,
              **body: Any) -> Record:  # fmt: skip
        """Begin a set of readings."""
        said = {"stage": stage, "feature": feature, "instrument": "bore gauge",
                "instruments": [GAUGE, MIC], **body}  # fmt: skip
        kept = {"cylinder": cylinder, "set": name, "stage": stage, "feature": feature,
                **read_set(said, folded=self.folded)}  # fmt: skip
        return self.tell(SET, kept)

    def grid(self, name: str, feature: str, stage: str, rows: Sequence[Sequence[str]], *,
             cylinder: int = 1, **body: Any) -> None:  # fmt: skip
        """Begin a set and tell all its readings."""
        self.begin(name, feature, stage, cylinder=cylinder, **body)
        for down, row in enumerate(rows):
            for across, text in enumerate(row):
                if text:
                    self.value(f"set/{name}/{down}/{across}", text, cylinder=cylinder)

    def event(self, stage: str, what: str, *, cylinder: int = 1, **more: Any) -> Record:
        """Tell that something happened."""
        return self.tell(EVENT, {"cylinder": cylinder, "stage": stage, "what": what, **more})

    def agree(self, option: str = "sleeve", by: str = "p1") -> Record:
        """Tell that an option is agreed."""
        body = {"cylinder": 0, "option": option, "agreed_by": by, "how": "by telephone"}
        return self.tell(DECISION, body)

    def lift(self, stage: str, *, cylinder: int = 1, person: str = "p1",
             reason: str = "seen and accepted by the customer") -> Record:  # fmt: skip
        """Lift a hold."""
        return self.tell(
            LIFT, {"cylinder": cylinder, "stage": stage, "person": person, "reason": reason}
        )

    def release(self, *, cylinder: int = 1) -> Record:
        """Sign a cylinder out."""
        return self.tell(RELEASE, {"cylinder": cylinder, "person": "p1", "plan": {}})

    def give_up(self, **more: Any) -> Record:
        """Fill the place of a record that never comes."""
        return self.tell(GIVEN_UP, {"reason": "the tablet broke"}, **more)
