"""What was read and with what: told grids as the core takes them, gauges with their doubt.

Errors are entered under names of their own, once for the whole job, so that what two
features share cancels between them.
"""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.materials import default
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.rounding import without_rounding
from sleevewright.core.metrology.size import (
    GaugeDoubt,
)
from sleevewright.core.uncertainty.inputs import InputQuantity
from sleevewright.jobs.gaugesetting import is_on_sleeve
from sleevewright.jobs.model import Entry as Told
from sleevewright.jobs.model import Grid, Instrument
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, find_instrument
from sleevewright.planning.ledger import Given, Ledger, Line

SETTINGS = {
    "micrometer": "micrometer_setting",
    "dial-bore-gauge": "gauge_setting",
    "three-point-gauge": "three_point_setting",
    "telescoping-gauge": "telescoping_setting",
    "depth-micrometer": "depth_micrometer_setting",
    "depth-caliper": "depth_caliper_setting",
    "indicator": "indicator_setting",
    "setting-ring": "ring_setting",
    "gauge-block": "micrometer_setting",
}
"""Default of the setting by the kind of gauge; a stated one goes before it."""

UNFIT = ("caliper", "telescoping-gauge", "depth-caliper")
FITTED = ("sleeve-od", "parent-bore", "flange-od", "counterbore")
LEAST_SCATTER = 1.0 / 20.0
"""The least scatter that a study leaves, in steps of its gauge.

Repeats that are all equal say that the scatter hides below a step, not that there is none. A
twentieth of a step changes what all readings share of their rounding by 5 % at most.
"""
STATED_FREEDOM = 8.0
"""A stated repeatability is known to about a quarter of itself (JCGM 100, G.4.2)."""


def readings_of(grid: Grid) -> GridReadings:
    """A told grid as the core takes it: blanks as NaN, one temperature or one for each."""
    shape = (len(grid.readings), max((len(row) for row in grid.readings), default=0))
    read = np.full(shape, np.nan)
    for s, row in enumerate(grid.readings):
        for d, cell in enumerate(row):
            if cell is not None:
                read[s, d] = cell.value
    warm: float | NDArray[np.float64] = temperature_of(grid.part_temperature)
    if any(cell is not None for row in grid.temperatures for cell in row):
        warm = np.full(shape, warm)
        for s, row in enumerate(grid.temperatures):
            for d, cell in enumerate(row):
                if cell is not None:
                    warm[s, d] = cell.value
    stations = np.array([one.value for one in grid.stations] or list(range(shape[0])), float)
    directions = np.array(
        [one.value for one in grid.directions] or [math.pi * k / shape[1] for k in range(shape[1])],
        float,
    )
    return GridReadings(stations, directions, read, warm, temperature_of(grid.gauge_temperature))


def temperature_of(told: Told | None) -> float:
    """A told temperature, else that of the reference."""
    return REFERENCE_TEMPERATURE if told is None else told.value


def gauge_of(ledger: Ledger, grid: Grid, instruments: tuple[Instrument, ...]) -> GaugeDoubt:
    """What is not known of the gauge, its setting entered under its own name."""
    instrument = find_instrument(grid.instrument, instruments)
    chain: list[Instrument] = []
    while instrument is not None and instrument.name not in [one.name for one in chain]:
        chain.append(instrument)
        instrument = _next_of(chain, grid, instruments)
    if not chain:
        chain = [Instrument(grid.instrument or "gauge")]
    settings = tuple(_setting(ledger, one, _honest(one, grid, instruments), grid) for one in chain)
    if chain[0].kind in UNFIT and grid.feature in FITTED:
        ledger.caution(
            f"unfit-{chain[0].kind}",
            f"{chain[0].name}: a {chain[0].kind.replace('-', ' ')} is not a gauge for a fit. "
            "Read it again with a micrometer or a bore gauge before metal is cut.",
            "practice",
        )
    step = chain[0].resolution
    resolution = default("gauge_resolution").value if step is None else step.value
    known = known_repeatability(grid, chain[0])
    if repeatability_source(grid, chain[0]):
        # A study is read to the same steps: its figure holds a rounding that the budget adds.
        left = without_rounding(known, rounding=resolution)
        known = replace(left, standard=max(left.standard, LEAST_SCATTER * resolution))
    return GaugeDoubt(settings, resolution, known)


def known_repeatability(*told: Grid | Instrument) -> Repeatability:
    """What one reading repeats to: by the first that carries a study, else as is usual.

    Readings carry what their gauge was known to repeat to when they were begun.
    """
    for one in told:
        if one.repeatability is not None:
            freedom = one.repeatability_freedom
            worth = STATED_FREEDOM if freedom is None else freedom.value
            return Repeatability(one.repeatability.value, worth)
    return Repeatability(default("reading_repeatability").value, STATED_FREEDOM)


def repeatability_source(*told: Grid | Instrument) -> str:
    """The study behind :func:`known_repeatability`; empty where there is none."""
    found = next((one for one in told if one.repeatability is not None), None)
    return "" if found is None else found.repeatability_from or "a gauge study"


def _next_of(
    chain: list[Instrument], grid: Grid, instruments: tuple[Instrument, ...]
) -> Instrument | None:
    """What the last of a chain was set from: the set's own word goes before the gauge's record.

    A gauge that was set on a ring this once does not carry the micrometer of its record.
    """
    recorded = find_instrument(chain[-1].set_from, instruments)
    if len(chain) > 1 or not grid.set_on:
        return recorded
    if is_on_sleeve(grid.set_on):
        return None
    if grid.master:
        return find_instrument(grid.master, instruments)
    return recorded if recorded is not None and recorded.kind == grid.set_on else None


def keyed_with(ledger: Ledger, grid: Grid, instruments: tuple[Instrument, ...]) -> str:
    """The id of the setting of the micrometer that a sleeve's size was keyed from.

    That of the master that was named, else of what the gauge's record was set from; empty
    where neither is a micrometer of the list.
    """
    gauge = find_instrument(grid.instrument, instruments)
    for name in (grid.master, "" if gauge is None else gauge.set_from):
        found = find_instrument(name, instruments)
        if found is not None and found.kind == "micrometer":
            return _setting(ledger, found, SETTINGS[found.kind], grid).name
    return ""


def _honest(instrument: Instrument, grid: Grid, instruments: tuple[Instrument, ...]) -> str:
    """Name of the default for what the setting of such a gauge is honestly worth."""
    if is_on_sleeve(grid.set_on) and instrument.name in (grid.instrument, "gauge"):
        return "sleeve_zero_setting"
    if instrument.kind == "caliper":
        inside = grid.feature in ("sleeve-id", "parent-bore", "counterbore", "as-found-bore")
        return "caliper_inside_setting" if inside else "caliper_outside_setting"
    if instrument.kind == "dial-bore-gauge":
        master = find_instrument(grid.master or instrument.set_from, instruments)
        kind = "" if master is None else master.kind
        if "setting-ring" in (kind, grid.set_on):
            return "ring_setting"
    return SETTINGS.get(instrument.kind, "gauge_setting")


def _setting(ledger: Ledger, instrument: Instrument, name: str, grid: Grid) -> InputQuantity:
    """The error of one gauge's setting, entered once for the whole job.

    A gauge that is zeroed on the sleeve, and again on its flange, was set twice.
    """
    on = f"_on_{grid.set_on}" if name == "sleeve_zero_setting" else ""
    identity = f"{setting_id(instrument.name)}{on}"
    fallback = default(name)
    told = instrument.setting
    half = fallback.value if told is None else told.value
    standard = half / STATED_COVERAGE_FACTOR
    if ledger.has(identity):
        return ledger.entry(identity).roots[identity]
    entry = ledger.fact(
        Line(
            identity, instrument.name, Quantity.DEVIATION, of="error of its setting", is_detail=True
        ),
        Given(
            0.0,
            Kind.ASSUMED if told is None else Kind(told.kind),
            source=fallback.source if told is None else "the job",
            typed="" if told is None else f"within {told.text}",
            standard=standard,
        ),
    )
    return entry.roots[identity]


def setting_id(gauge: str) -> str:
    """Name of the error of a gauge's setting: one and the same in whatever it was set from."""
    return f"gauge.{slug(gauge)}.setting"


def slug(name: str) -> str:
    """A name as part of an id."""
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "gauge"


def temperature_error(
    ledger: Ledger, told: Told | None, identity: str, label: str
) -> InputQuantity:
    """How far a temperature may be off: stated, or the room's where nothing was said.

    An unstated temperature is the room's for every part and gauge, so its error is one
    and the same, and most of it cancels between parts of like growth.
    """
    if told is None:
        fallback = default("room_temperature")
        identity, label = "gauge.room_temperature", "temperature of the room"
        standard, source, kind = fallback.doubt or 0.0, fallback.source, Kind.ASSUMED
    else:
        probe = default("probe_temperature")
        standard = probe.doubt or 0.0
        if told.doubt is not None:
            standard = told.doubt / STATED_COVERAGE_FACTOR
        source, kind = "the job" if told.doubt is not None else probe.source, Kind(told.kind)
    if ledger.has(identity):
        return ledger.entry(identity).roots[identity]
    entry = ledger.fact(
        Line(identity, label, Quantity.TEMPERATURE_DIFFERENCE, of="error", is_detail=True),
        Given(0.0, kind, source=source, standard=standard),
    )
    return entry.roots[identity]


def repeat_doubt(resolution: float | None, repeats: float | None = None) -> float:
    """Standard uncertainty of the difference of two readings of one place with one gauge.

    Parameters
    ----------
    resolution : float | None
        The step that the gauge is read to; nothing for the usual one. [m]
    repeats : float | None
        Standard deviation of one reading by a study; nothing for the usual one. [m]

    Returns
    -------
    float
        What they may differ by; the setting is common to both and takes no part. [m]
    """
    step = default("gauge_resolution").value if resolution is None else resolution
    known = default("reading_repeatability").value if repeats is None else repeats
    one = math.hypot(known, step / math.sqrt(12.0))
    return math.sqrt(2.0) * one
