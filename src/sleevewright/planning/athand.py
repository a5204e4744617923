"""The gauges that are at hand for reading a bore again, and what each setting would bring."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from sleevewright.core.metrology.size import GaugeDoubt
from sleevewright.jobs.gaugesetting import master_words
from sleevewright.jobs.model import Grid, Instrument
from sleevewright.planning.gauges import UNFIT, gauge_of
from sleevewright.planning.ledger import Ledger

BORE_GAUGES = ("dial-bore-gauge", "three-point-gauge")
MASTERS = ("setting-ring", "gauge-block")
"""What a bore gauge may be set on; the list holds no sizes, so whether one fits is seen."""


@dataclass(frozen=True)
class Gauging:
    """A feature as it was read: its set, and the gauges that are at hand."""

    grid: Grid
    instruments: tuple[Instrument, ...]


Candidate = tuple[str, Grid, tuple[Instrument, ...]]
"""What is done in words, the set as it would be, the gauges as they would be."""


def candidates(gauging: Gauging, mate: str) -> Iterator[Candidate]:
    """Other gauges for a bore on the list, and other masters to set them from.

    ``mate`` is what read the other part of a fit: it spans the size, so it may be a master.
    """
    known = {one.name: one for one in reversed(gauging.instruments)}
    now = known.get(gauging.grid.instrument)
    for gauge in sorted(known.values(), key=lambda one: one.name):
        if gauge.kind not in BORE_GAUGES or gauge.kind in UNFIT:
            continue
        if gauge is not now:
            words = f"{gauge.name} set from {gauge.set_from}" if gauge.set_from else gauge.name
            yield words, _as_if(gauging.grid, gauge), tuple(known.values())
        if gauge.kind != "dial-bore-gauge":
            continue
        for master in sorted(known.values(), key=lambda one: one.name):
            is_master = master.kind in MASTERS or master.name == mate
            if is_master and master.name not in (gauge.set_from, gauge.name):
                reset = replace(gauge, set_from=master.name)
                listed = tuple({**known, gauge.name: reset}.values())
                words = f"{gauge.name} set from {master.name}"
                yield words, _as_if(gauging.grid, gauge), listed


def zeroed_on(gauging: Gauging, shares: str) -> Iterator[Candidate]:
    """Bore gauges of the list that could be zeroed on the very part that the bore is for."""
    part = shares.partition("-")[0]
    for gauge in sorted({one.name: one for one in gauging.instruments}.values(), key=_name):
        if gauge.kind == "dial-bore-gauge":
            grid = replace(_as_if(gauging.grid, gauge), set_on=part)
            yield f"{gauge.name} zeroed on {master_words(part)}", grid, gauging.instruments


def _name(gauge: Instrument) -> str:
    return gauge.name


def _as_if(grid: Grid, gauge: Instrument) -> Grid:
    """A set of the same feature with another gauge: nothing of how it was set is carried over."""
    return Grid(grid.feature, gauge.name)


def gauge_as_set(grid: Grid, instruments: tuple[Instrument, ...]) -> GaugeDoubt:
    """What is not known of a gauge, as the plan would enter it."""
    return gauge_of(Ledger(count=1, seed=0), grid, instruments)


def settings_of(gauge: GaugeDoubt) -> dict[str, float]:
    """The errors of setting behind a reading, by name."""
    return {one.name: one.standard for one in gauge.settings}


def apart(one: Mapping[str, float], other: Mapping[str, float]) -> float:
    """What two chains of setting bring to a difference: the links they share cancel."""
    names = set(one) ^ set(other)
    return math.hypot(*(one.get(name, other.get(name, 0.0)) for name in names))
