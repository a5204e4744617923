"""What a plan page shows, as an address: units, opened numbers, and the entries of a trial.

The whole state of a page stands in its address, so that it can be kept, sent and opened
without a script.  An opened number is a trail: the row it stands in, then each input that
was opened from there.
"""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

LONGEST_TRAIL = 12
SYSTEMS = ("inch", "metric")

Trail = tuple[str, ...]


def trail_from(text: str) -> Trail:
    """The trail in an address.

    Examples
    --------
    >>> trail_from("fit.running/sleeve.od")
    ('fit.running', 'sleeve.od')
    """
    return tuple(part for part in text.split("/") if part)[-LONGEST_TRAIL:]


def trail_text(trail: Trail) -> str:
    """The trail as an address carries it; the oldest steps but the first drop out."""
    kept = trail if len(trail) <= LONGEST_TRAIL else (trail[0], *trail[1 - LONGEST_TRAIL :])
    return "/".join(kept)


@dataclass(frozen=True)
class Place:
    """Where a page is: its path and everything that its address says."""

    path: str
    units: str
    own_units: str  # those of the job: not said in the address
    opened: Trail = ()  # among the seven
    more: Trail = ()  # among everything else
    entries: tuple[tuple[str, str], ...] = ()  # of a trial
    base: str = ""  # what documents of the plan stand under, where it is not the path
    cylinder: int = 1

    def _query(self, units: str, opened: Trail, more: Trail) -> str:
        pairs = list(self.entries)
        if self.cylinder != 1:
            pairs.append(("cylinder", str(self.cylinder)))
        if units != self.own_units:
            pairs.append(("units", units))
        if opened:
            pairs.append(("open", trail_text(opened)))
        if more:
            pairs.append(("more", trail_text(more)))
        return f"?{urlencode(pairs, safe='/')}" if pairs else ""

    @property
    def closed(self) -> str:
        """The page with nothing opened."""
        return f"{self.path}{self._query(self.units, (), ())}"

    def opening(self, trail: Trail) -> str:
        """The address that opens a number among the seven."""
        return f"{self.path}{self._query(self.units, trail, self.more)}#{trail[0]}"

    def opening_more(self, trail: Trail) -> str:
        """The address that opens a number further down."""
        return f"{self.path}{self._query(self.units, self.opened, trail)}#{trail[0]}-row"

    def turned(self) -> str:
        """The same page in the other system of units."""
        other = SYSTEMS[1 - SYSTEMS.index(self.units)]
        return f"{self.path}{self._query(other, self.opened, self.more)}"

    def beside(self, name: str) -> str:
        """A document of the same plan in the same units, such as its ticket."""
        return f"{self.base or self.path}/{name}{self._query(self.units, (), ())}"
