"""What the answers of a plan become when one of them is moved and all else stays.

Every computed entry of a ledger knows its function and what it was computed from, so
moving an entry is reckoning anew whatever rests on it, by the same functions on the same
samples.  What does not rest on it is not touched.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sleevewright.planning.ledger import STATISTIC_PARAMETER, Entry, StageResult
from sleevewright.planning.samples import alike


class Moved:
    """Answers of some stages with other values in the place of some entries.

    ``moved`` holds the new values by id: rows of interferences by columns of samples, or
    whatever else the functions take.  ``count`` samples of everything else are used; with
    ``count`` zero everything else stands at its central value.
    """

    def __init__(
        self, results: Iterable[StageResult], moved: Mapping[str, Any], *, count: int
    ) -> None:
        self._entries = {e.answer.id: e for result in results for e in result.entries}
        self._found: dict[str, Any] = dict(moved)
        self._moved = frozenset(moved)
        self._behind: dict[str, frozenset[str]] = {}
        self._count = count

    def has(self, identity: str) -> bool:
        """Whether this id is an entry whose value is known."""
        entry = self._entries.get(identity)
        return entry is not None and not entry.is_missing

    def entry(self, identity: str) -> Entry:
        """The entry as its stage made it."""
        return self._entries[identity]

    def rests_on_moved(self, identity: str) -> bool:
        """Whether this entry is moved, or computed from one that is."""
        return not self._moved.isdisjoint(self.inputs_of(identity))

    def inputs_of(self, identity: str) -> frozenset[str]:
        """Every entry that this one is computed from, however far back, and itself."""
        if identity not in self._behind:
            own = (one for _, one in self._entries[identity].inputs)
            self._behind[identity] = frozenset({identity}).union(*map(self.inputs_of, own))
        return self._behind[identity]

    def value(self, identity: str) -> Any:
        """The value of this id as moved."""
        if identity not in self._found:
            self._found[identity] = self._reckoned(self._entries[identity])
        return self._found[identity]

    def _reckoned(self, entry: Entry) -> Any:
        """The entry as it is, or computed anew where it rests on what is moved."""
        if not self.rests_on_moved(entry.answer.id):
            return self._kept(entry)
        if entry.function is None or STATISTIC_PARAMETER in dict(entry.inputs):
            raise KeyError(entry.answer.id)
        return entry.function(**{name: self.value(one) for name, one in entry.inputs})

    def _kept(self, entry: Entry) -> Any:
        """The first samples of an entry, or its central value."""
        if not self._count:
            return entry.point
        return alike({"it": entry.samples}, self._count)["it"]
