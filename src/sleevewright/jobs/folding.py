"""From the records of a job to where it stands: folded one by one, in their order.

The value of a cell is the reading that nobody replaces.  Two such are a conflict: both
are kept and shown, and no clock decides between them.  Numbers that a device has used and
that are not here yet are told as missing; what depends on completeness counts them.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import TypeVar, cast

from sleevewright.jobs.records import (
    ATTACHMENT,
    DECISION,
    EVENT,
    JOB,
    LIFT,
    RELEASE,
    SET,
    VALUE,
    WHOLE_JOB,
    Body,
    Record,
)

Made = TypeVar("Made")


@dataclass(frozen=True)
class Told:
    """One value of a cell as it was told."""

    id: str
    number: int
    text: str
    body: Body
    received: str
    device: str

    @property
    def person(self) -> str:
        """Who told it, where that is known."""
        return str(self.body.get("person", ""))

    @property
    def kind(self) -> str:
        """Measured, typed, chosen or assumed."""
        return str(self.body.get("kind", "typed"))


@dataclass
class _Cell:
    """All that was told for one cell, and which of it nobody replaces."""

    told: dict[str, Told] = field(default_factory=dict)
    replaced: set[str] = field(default_factory=set)

    def heads(self) -> tuple[Told, ...]:
        return tuple(one for one in self.told.values() if one.id not in self.replaced)


_IN_DOUBT = ("\N{PLUS-MINUS SIGN}", "+/-", "+-")
"""How a text says how far it may be off; two such are equal only where their texts are."""


def _say_the_same(heads: tuple[Told, ...]) -> bool:
    """Whether values are one, however they were keyed: 0.5 and +0.5 come to the same nanometres."""
    if len({one.text for one in heads}) <= 1:
        return bool(heads)
    if any(sign in one.text for one in heads for sign in _IN_DOUBT):
        return False
    exact = {(one.body.get("nm"), one.body.get("mk")) for one in heads}
    return len(exact) == 1 and exact != {(None, None)}


class Folded:
    """A job as its records tell it; ``add`` takes the next record."""

    def __init__(self, records: Iterable[Record] = ()) -> None:
        self.job = ""
        self.last = 0
        self.opened: Body = {}
        self.opened_at = ""
        self.sets: dict[str, Record] = {}
        self.lifts: list[Record] = []
        self.decisions: list[Record] = []
        self.events: list[Record] = []
        self.attachments: list[Record] = []
        self.releases: list[Record] = []
        self._cells: dict[tuple[int, str], _Cell] = {}
        self._seen: dict[str, set[int]] = {}
        self._made: dict[Hashable, object] = {}
        for record in records:
            self.add(record)

    def add(self, record: Record) -> None:
        """Take the next record of the job."""
        self._made = {}
        self.job = record.job
        self.last = max(self.last, record.number)
        self._seen.setdefault(record.device, set()).add(record.device_number)
        if record.kind == JOB:
            self.opened = {**self.opened, **record.body}
            self.opened_at = self.opened_at or record.received
        elif record.kind == VALUE:
            self._tell(record)
        elif record.kind == SET:
            self.sets[str(record.body["set"])] = record
        else:
            kept = {
                LIFT: self.lifts,
                DECISION: self.decisions,
                EVENT: self.events,
                ATTACHMENT: self.attachments,
                RELEASE: self.releases,
            }.get(record.kind)
            if kept is not None:
                kept.append(record)

    def copy(self) -> Folded:
        """One that can be added to while others still read this one."""
        twin = Folded()
        twin.__dict__.update(self.__dict__)
        twin._made = {}
        twin.sets = dict(self.sets)
        twin._cells = dict(self._cells)
        twin._seen = {device: set(seen) for device, seen in self._seen.items()}
        for name in ("lifts", "decisions", "events", "attachments", "releases"):
            setattr(twin, name, list(getattr(self, name)))
        return twin

    def once(self, key: Hashable, make: Callable[[], Made]) -> Made:
        """What was made from these records under a key; made anew after the next record."""
        made = self._made
        if key not in made:
            made[key] = make()
        return cast("Made", made[key])

    def _tell(self, record: Record) -> None:
        body = record.body
        key = (record.cylinder, str(body["cell"]))
        cell = self._cells.get(key, _Cell())
        told = Told(
            record.id, record.number, str(body.get("text", "")), body, record.received,
            record.device,
        )  # fmt: skip
        earlier = cell.told.keys() & set(body.get("replaces", ()))  # never itself, nor a later one
        replaced = cell.replaced | earlier
        self._cells[key] = _Cell({**cell.told, record.id: told}, replaced)  # copies share cells

    @property
    def cylinders(self) -> int:
        """How many cylinders the job has; each walks a route of its own."""
        return max(1, int(self.opened.get("cylinders", 1)))

    def heads(self, cell: str, *, cylinder: int = 1) -> tuple[Told, ...]:
        """What stands for a cell: nothing, one value, or several that contradict.

        A cylinder that was told nothing of its own has what was told of the whole job.
        Equal values are no contradiction; of a job's own and a cylinder's, the latter holds.
        """
        own = self._cells.get((cylinder, cell))
        if own is None and cylinder != WHOLE_JOB:
            own = self._cells.get((WHOLE_JOB, cell))
        if own is None:
            return ()
        heads = own.heads()
        return heads[-1:] if _say_the_same(heads) else heads

    def value(self, cell: str, *, cylinder: int = 1) -> Told | None:
        """The one value of a cell; nothing where none stands, was taken back, or two differ."""
        heads = self.heads(cell, cylinder=cylinder)
        return heads[0] if len(heads) == 1 and heads[0].text.strip() else None

    def text(self, cell: str, *, cylinder: int = 1) -> str:
        """Text of the one value; empty where there is none."""
        told = self.value(cell, cylinder=cylinder)
        return "" if told is None else told.text

    def conflicts(self, *, cylinder: int = 1) -> Mapping[str, tuple[Told, ...]]:
        """Cells for which several values stand, with all of them."""
        found: dict[str, tuple[Told, ...]] = {}
        for owner, cell in self._cells:
            if owner in (WHOLE_JOB, cylinder):
                heads = self.heads(cell, cylinder=cylinder)
                if len(heads) > 1:
                    found[cell] = heads
        return found

    def cells(self, prefix: str = "", *, cylinder: int = 1) -> tuple[str, ...]:
        """Names of the cells of which something was told, in the order of the telling."""
        names = (
            cell
            for owner, cell in self._cells
            if owner in (WHOLE_JOB, cylinder) and cell.startswith(prefix)
        )
        return tuple(dict.fromkeys(names))

    def history(self, cell: str, *, cylinder: int = 1) -> tuple[Told, ...]:
        """Everything that was ever told for a cell, also what was replaced."""
        found = self._cells.get((cylinder, cell)) or self._cells.get((WHOLE_JOB, cell))
        return () if found is None else tuple(found.told.values())

    def last_number_of(self, device: str) -> int:
        """The highest number of a device that is here; 0 where nothing of it is."""
        return max(self._seen.get(device, ()), default=0)

    def count_of(self, device: str) -> int:
        """How many records of a device are here."""
        return len(self._seen.get(device, ()))

    def missing(self) -> Mapping[str, int]:
        """How many records of each device are not here yet, where any are not."""
        gaps = {device: max(seen) - len(seen) for device, seen in self._seen.items() if seen}
        return {device: count for device, count in gaps.items() if count > 0}

    def missing_numbers(self, device: str) -> tuple[int, ...]:
        """The numbers of a device that are not here, up to the last that is."""
        seen = self._seen.get(device, set())
        return tuple(sorted(set(range(1, max(seen, default=0))) - seen))
