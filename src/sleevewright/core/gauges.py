"""Kinds of gauges: what a reading of each is honestly worth before the one at hand is known.

Doubts are half-widths of about 95 %, SI.  They are starting values of common practice, for
the shop to change; the planner's own defaults for a setting are the same figures.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from sleevewright.core.metals import EVIDENCE
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError, NotFound

UNITS = ("m", "rad", "K", "kg", "m3", "1")
"""SI units that a gauge may read in; 1 is a share of the reading."""


@dataclass(frozen=True)
class GaugeKind:
    """One kind of gauge with its starting doubt, range of that doubt, and the step it shows."""

    kind: str
    title: str
    value: float
    low: float
    high: float
    unit: str
    resolution: float | None
    stated: str
    resolution_stated: str
    source: str
    evidence: str
    note: str


def gauge_kinds() -> tuple[GaugeKind, ...]:
    """Every kind of gauge, in the order of the table.

    Returns
    -------
    tuple[GaugeKind, ...]
        Kinds. [record]
    """
    return tuple(_kinds().values())


def gauge_kind(name: str) -> GaugeKind:
    """The kind of gauge of this name.

    Parameters
    ----------
    name : str
        Name as ``micrometer`` or ``dial-bore-gauge``. [text]

    Returns
    -------
    GaugeKind
        What a reading of it is worth. [record]

    Raises
    ------
    NotFound
        With all names, where there is none of this name.

    Examples
    --------
    >>> gauge_kind("micrometer").stated
    '0.2 thou'
    """
    known = _kinds()
    if name not in known:
        raise NotFound("kind of gauge", name, tuple(known))
    return known[name]


@lru_cache(maxsize=1)
def _kinds() -> dict[str, GaugeKind]:
    """Every kind by name, read once."""
    place = resources.files("sleevewright") / "data" / "instruments.csv"
    return _kinds_from(place.read_text(encoding="utf-8"))


def _kinds_from(text: str) -> dict[str, GaugeKind]:
    """Kinds from the text of their table."""
    found: dict[str, GaugeKind] = {}
    for row in rows_of(text, name="instruments.csv"):
        one = _kind_of(row)
        if one.kind in found:
            raise InputError(f"{row.place}, kind", one.kind, "", "each kind once")
        found[one.kind] = one
    return found


def _kind_of(row: Row) -> GaugeKind:
    """The kind that a row states."""
    value, low, high = row.ranged()
    resolution = row.number("resolution") if row.text("resolution") else None
    if low <= 0.0 or (resolution is not None and resolution <= 0.0):
        raise InputError(f"{row.place}, doubt", low, "", "more than zero")
    return GaugeKind(
        row.text("kind"),
        row.text("title"),
        value,
        low,
        high,
        row.text("unit", UNITS),
        resolution,
        row.text("stated"),
        row.text("resolution_stated"),
        row.text("source"),
        row.text("evidence", EVIDENCE),
        row.text("note"),
    )
