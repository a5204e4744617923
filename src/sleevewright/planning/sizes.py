"""From a grid of readings to a size with its doubt, and to what had to be held back.

Every error has a name of its own.  A bore gauge that was set from a micrometer carries the
micrometer's setting under the micrometer's name, so that it cancels in the fit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.materials import default
from sleevewright.core.metrology.answers import (
    deviations,
    mean_as_read,
    out_of_round_spread,
    part_rise_of,
    readings_kept,
    setting_chain,
    taper_spread,
)
from sleevewright.core.metrology.form import Range, form_doubt
from sleevewright.core.metrology.grid import GridReadings, sizes_at_reference
from sleevewright.core.metrology.size import (
    GaugeDoubt,
    SizeInputs,
    TemperatureDoubt,
    size_inputs,
    size_with_errors,
)
from sleevewright.core.metrology.suspects import Suspect, suspects
from sleevewright.jobs.model import Entry as Told
from sleevewright.jobs.model import Grid, Instrument
from sleevewright.planning.answers import Doubt, Kind, Quantity
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, find_instrument, given
from sleevewright.planning.gauges import gauge_of, readings_of, temperature_error, temperature_of
from sleevewright.planning.held import held_caution
from sleevewright.planning.ledger import DEEPLY, SHALLOWLY, Given, Ledger, Line

Q = Quantity
LESS = "largest less smallest"


GAUGE_EXPANSION = Line(
    "gauge.expansion", "growth of the gauges' steel", Q.EXPANSION, is_detail=True
)


@dataclass(frozen=True)
class Feature:
    """One measured feature: its id, words, and the part whose growth corrects it."""

    id: str
    label: str
    part: str  # prefix of the part: "sleeve" or "casting"
    sense: str = "diametral"
    of: str = "at 20 °C"
    has_form: bool = True
    is_fitted: bool = False  # a long surface whose taper matters
    setting: str = ""  # default for what one typed number of it is honestly worth
    would_change: str = "more readings, or a gauge set from a ring"


@dataclass(frozen=True)
class Bench:
    """The gauges that are known, and the units that words are in."""

    instruments: tuple[Instrument, ...]
    system: str


@dataclass(frozen=True)
class _Gauging:
    """How one feature was read: the gauge's doubt and both expansions."""

    gauge: GaugeDoubt
    part_expansion: float
    gauge_expansion: float


def enter_size(
    ledger: Ledger, feature: Feature, grid: Grid | None, told: Told | None, bench: Bench
) -> None:
    """Enter the size of a feature: from its grid, else from one typed number."""
    line = Line(feature.id, feature.label, Q.SIZE, feature.sense, feature.of, feature.would_change)
    if grid is None:
        size = given(told, need=feature.label)
        if feature.setting and told is not None and not size.standard:
            honest = default(feature.setting).value / STATED_COVERAGE_FACTOR
            size = replace(size, standard=honest)
        ledger.fact(line, size)
        return
    readings = readings_of(grid)
    gauge = gauge_of(ledger, grid, bench.instruments)
    expansion = float(ledger.value(f"{feature.part}.expansion"))
    gauge_expansion = default("gauge_expansion").value
    gauging = _Gauging(gauge, expansion, gauge_expansion)
    held = _find_suspects(readings, grid, gauging, bench.instruments)
    _enter_readings(ledger, feature, grid, readings, held)
    ledger.fact(
        GAUGE_EXPANSION,
        Given(gauge_expansion, Kind.ASSUMED, source=default("gauge_expansion").source),
    )
    used = ledger.value(f"{feature.id}.used")
    inputs = _inputs(ledger, feature, grid, used, gauging)
    setting = _enter_errors(ledger, feature, inputs)
    _enter_mean(ledger, feature, line, grid, setting)
    if feature.has_form:
        _enter_form(ledger, feature, used, inputs)
    for suspect in held:
        code, text, source = held_caution(feature.label, readings, suspect, bench.system)
        ledger.caution(f"{code}:{feature.id}", text, source)
    for caution in inputs.cautions:
        if feature.is_fitted or caution.code != "one-station":
            text = caution.text.replace(feature.id, feature.label)
            ledger.caution(f"{feature.id}-{caution.code}", text, caution.source)


def _find_suspects(
    readings: GridReadings,
    grid: Grid,
    gauging: _Gauging,
    instruments: tuple[Instrument, ...],
) -> tuple[Suspect, ...]:
    """Readings that differ from the rest by more than three times their doubt."""
    gauge = gauging.gauge
    sizes = sizes_at_reference(
        readings,
        part_expansion=gauging.part_expansion,
        gauge_expansion=gauging.gauge_expansion,
    )
    spread = math.hypot(gauge.repeatability.standard, gauge.resolution / math.sqrt(12.0))
    instrument = find_instrument(grid.instrument, instruments)
    turn = None if instrument is None or instrument.turn is None else instrument.turn.value
    return suspects(
        sizes,
        standard=spread,
        turn=turn,
        part_expansion=gauging.part_expansion,
        nominal=None if grid.nominal is None else grid.nominal.value,
    )


def _enter_readings(
    ledger: Ledger,
    feature: Feature,
    grid: Grid,
    readings: GridReadings,
    held: tuple[Suspect, ...],
) -> None:
    """Enter what was read, which of it is held back, and what is left."""
    count = int(np.isfinite(readings.readings).sum())
    ledger.fact(
        Line(
            f"{feature.id}.readings",
            f"{feature.label}, readings",
            Q.RECORD,
            of=f"{count} readings with {grid.instrument or 'a gauge'}",
            is_detail=True,
        ),
        Given(readings, Kind.MEASURED, source=grid.instrument),
    )
    places = tuple((float(one.station_index), float(one.direction_index)) for one in held)
    ledger.fact(
        Line(
            f"{feature.id}.held",
            f"{feature.label}, held back",
            Q.RECORD,
            of="station and direction of readings to take again",
            is_detail=True,
        ),
        Given(places, Kind.CHOSEN, source="practice"),
    )
    ledger.compute(
        Line(
            f"{feature.id}.used", f"{feature.label}, readings that count", Q.RECORD, is_detail=True
        ),
        readings_kept,
        readings=f"{feature.id}.readings",
        held=f"{feature.id}.held",
    )


def _inputs(
    ledger: Ledger,
    feature: Feature,
    grid: Grid,
    used: GridReadings,
    gauging: _Gauging,
) -> SizeInputs:
    """The named errors of the mean size."""
    expansions = {
        "part_expansion": gauging.part_expansion,
        "gauge_expansion": gauging.gauge_expansion,
    }
    sizes = sizes_at_reference(used, **expansions)
    part = temperature_error(
        ledger,
        grid.part_temperature,
        f"{feature.id}.part_temperature",
        f"temperature of the part, {feature.label}",
    )
    own = temperature_error(
        ledger,
        grid.gauge_temperature,
        f"{feature.id}.gauge_temperature",
        f"temperature of the gauge, {feature.label}",
    )
    return size_inputs(
        used,
        sizes,
        feature=feature.id,
        gauge=gauging.gauge,
        temperature=TemperatureDoubt(part, own),
        **expansions,
    )


def _enter_errors(ledger: Ledger, feature: Feature, inputs: SizeInputs) -> str:
    """Enter the errors of this feature alone; return the id of its whole setting error."""
    own = (
        ("resolution", "resolution", inputs.resolution),
        ("repeat", "repeatability", inputs.repeat),
        ("form", "form between stations", inputs.form),
    )
    for part, label, quantity in own:
        ledger.fact(
            Line(
                f"{feature.id}.{part}",
                f"{label}, {feature.label}",
                Q.DEVIATION,
                of="error",
                is_detail=True,
            ),
            Given(
                quantity.value,
                Kind.MEASURED,
                source="the readings",
                standard=quantity.standard,
                degrees_of_freedom=quantity.degrees_of_freedom,
                shape=quantity.shape,
            ),
        )
    _enter_rounding(ledger, feature, inputs)
    names = [one.name for one in inputs.settings]
    total = names[0]
    for position, master in enumerate(names[1:]):
        chain = f"{feature.id}.setting{position or ''}"
        ledger.compute(
            Line(chain, f"setting, {feature.label}", Q.DEVIATION, of="error", is_detail=True),
            setting_chain,
            DEEPLY if feature.is_fitted else SHALLOWLY,
            own=total,
            master=master,
        )
        total = chain
    return total


def _enter_rounding(ledger: Ledger, feature: Feature, inputs: SizeInputs) -> None:
    """Enter what each reading is rounded by for itself: it is part of the scatter."""
    words = f"rounding of each reading, {feature.label}"
    line = Line(f"{feature.id}.rounding", words, Q.DEVIATION, of="from end to end", is_detail=True)
    ledger.fact(line, Given(inputs.rounding, Kind.MEASURED, source="the readings"))


def _enter_rises(ledger: Ledger, feature: Feature, grid: Grid) -> None:
    """Enter how far part and gauge are above 20 degC, as read and with what that may be off."""
    gauge = temperature_of(grid.gauge_temperature) - REFERENCE_TEMPERATURE
    rises = (
        ("part", part_rise_of(ledger.value(f"{feature.id}.used")), grid.part_temperature),
        ("gauge", gauge, grid.gauge_temperature),
    )
    for whose, rise, told in rises:
        own = f"{feature.id}.{whose}_temperature"
        error = own if ledger.has(own) else "gauge.room_temperature"
        words = f"the {whose} above 20 °C"
        read, true = f"{feature.id}.{whose}_rise_read", f"{feature.id}.{whose}_rise"
        kelvin = Q.TEMPERATURE_DIFFERENCE
        ledger.fact(
            Line(read, f"{words}, as read, {feature.label}", kelvin, is_detail=True),
            Given(
                rise,
                Kind.ASSUMED if told is None else Kind(told.kind),
                source="practice" if told is None else "the job",
                typed="" if told is None else told.text,
            ),
        )
        ledger.compute(
            Line(true, f"{words}, {feature.label}", kelvin, is_detail=True),
            setting_chain,
            DEEPLY if feature.is_fitted else SHALLOWLY,
            own=read,
            master=error,
        )


def _enter_mean(ledger: Ledger, feature: Feature, line: Line, grid: Grid, setting: str) -> None:
    """Enter the mean as read and the size at 20 degC with everything that is in doubt."""
    expansions = {
        "part_expansion": f"{feature.part}.expansion",
        "gauge_expansion": "gauge.expansion",
    }
    ledger.compute(
        Line(
            f"{feature.id}.mean",
            f"{feature.label}, mean as read",
            Q.SIZE,
            feature.sense,
            is_detail=True,
        ),
        mean_as_read,
        readings=f"{feature.id}.used",
        **expansions,
    )
    _enter_rises(ledger, feature, grid)
    ledger.compute(
        line,
        size_with_errors,
        DEEPLY if feature.is_fitted else SHALLOWLY,
        mean=f"{feature.id}.mean",
        setting_error=setting,
        resolution_error=f"{feature.id}.resolution",
        repeat_error=f"{feature.id}.repeat",
        form_error=f"{feature.id}.form",
        part_expansion=f"{feature.part}.expansion",
        part_rise=f"{feature.id}.part_rise",
        gauge_expansion="gauge.expansion",
        gauge_rise=f"{feature.id}.gauge_rise",
    )


def _enter_form(ledger: Ledger, feature: Feature, used: GridReadings, inputs: SizeInputs) -> None:
    """Enter taper, out-of-round and the map, the first two with honest bounds."""
    stations, directions = _read_of(used)
    expansions = {
        "readings": f"{feature.id}.used",
        "part_expansion": f"{feature.part}.expansion",
        "gauge_expansion": "gauge.expansion",
    }
    base = feature.id.removesuffix(".size")
    for name, label, function, kind, enough in (
        ("taper", "taper", taper_spread, Range.TAPER, stations > 1),
        ("out_of_round", "out-of-round", out_of_round_spread, Range.OUT_OF_ROUND, directions > 1),
    ):
        if not enough:
            continue
        line = Line(f"{base}.{name}", f"{feature.label}, {label}", Q.DEVIATION, feature.sense, LESS)
        entry = ledger.compute(line, function, **expansions)
        bounds = form_doubt(
            entry.point,
            kind=kind,
            stations=stations,
            directions=directions,
            reading=inputs.reading,
        )
        doubt = Doubt(bounds.standard, bounds.low, bounds.high, bounds.coverage, "linear")
        ledger.amend(f"{base}.{name}", doubt=doubt)
    ledger.compute(
        Line(
            f"{base}.map",
            f"{feature.label}, reading by reading",
            Q.RECORD,
            feature.sense,
            of="deviation from the mean",
            is_detail=True,
        ),
        deviations,
        **expansions,
    )


def _read_of(used: GridReadings) -> tuple[int, int]:
    """How many stations were read, and directions at the fullest: of a grid that is begun."""
    read = np.isfinite(used.readings)
    depths = np.unique(used.stations[read.any(axis=1)])
    return int(depths.size), int(read.sum(axis=1).max())
