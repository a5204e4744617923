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
    mean_as_read,
    part_rise_of,
    readings_kept,
    setting_chain,
)
from sleevewright.core.metrology.grid import GridReadings, sizes_at_reference
from sleevewright.core.metrology.profile import NO_PORTS, Ports
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
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.comparing import (
    enter_gauge_expansion,
    enter_keyed,
    enter_over_master,
    enter_rise,
    enter_zero,
    own_growth,
    part_growth,
)
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, find_instrument, given
from sleevewright.planning.form import THREE_CONTACTS, Formed, enter_form
from sleevewright.planning.gauges import (
    gauge_of,
    readings_of,
    repeatability_source,
    temperature_error,
    temperature_of,
)
from sleevewright.planning.held import HELD, HeldWords, held_caution
from sleevewright.planning.ledger import DEEPLY, SHALLOWLY, Given, Ledger, Line

Q = Quantity


@dataclass(frozen=True)
class Feature:
    """One measured feature: its id, words, and the part whose growth corrects it."""

    id: str
    label: str
    part: str  # prefix of the part: "sleeve" or "casting"
    sense: str = "diametral"
    of: str = "at 20 °C"
    has_form: bool = True
    is_bore: bool = False  # an inside, whose ends can be bell-mouthed
    is_fitted: bool = False  # a long surface whose taper matters
    setting: str = ""  # default for what one typed number of it is honestly worth
    would_change: str = "more readings, or a gauge set from a ring"
    held: str = HELD  # what is done with a reading that is held back


@dataclass(frozen=True)
class Bench:
    """The gauges that are known, and the units that words are in."""

    instruments: tuple[Instrument, ...]
    system: str
    ports: Ports = NO_PORTS


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
    enter_gauge_expansion(ledger)
    used = ledger.value(f"{feature.id}.used")
    inputs = _inputs(ledger, feature, grid, used, gauging)
    errors = _enter_errors(ledger, feature, inputs, _studied(grid, bench.instruments))
    setting = enter_zero(ledger, feature, grid, errors)
    enter_keyed(ledger, feature, grid, setting, bench.instruments)
    _enter_mean(ledger, feature, line, grid, setting)
    if feature.has_form:
        enter_form(ledger, _formed(feature, grid, inputs, bench), used)
    for suspect in held:
        words = HeldWords(feature.label, bench.system, feature.held)
        code, text, source = held_caution(words, grid, suspect)
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


def _studied(grid: Grid, instruments: tuple[Instrument, ...]) -> str:
    """The gauge study behind the repeatability of a grid; empty where it is the usual one."""
    instrument = find_instrument(grid.instrument, instruments)
    return repeatability_source(grid, *(() if instrument is None else (instrument,)))


def _enter_errors(ledger: Ledger, feature: Feature, inputs: SizeInputs, study: str) -> str:
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
                source=f"the readings, and {study}"
                if study and part == "repeat"
                else "the readings",
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
    part = part_rise_of(ledger.value(f"{feature.id}.used"))
    gauge = temperature_of(grid.gauge_temperature) - REFERENCE_TEMPERATURE
    enter_rise(ledger, feature, "part", grid.part_temperature, part)
    enter_rise(ledger, feature, "gauge", grid.gauge_temperature, gauge)


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
            of="at the temperature that it had, not yet corrected",
            is_detail=True,
        ),
        mean_as_read,
        readings=f"{feature.id}.used",
        **expansions,
    )
    _enter_rises(ledger, feature, grid)
    if grid.set_on:
        enter_over_master(ledger, feature, line, grid, setting)
        return
    ledger.compute(
        line,
        size_with_errors,
        DEEPLY if feature.is_fitted else SHALLOWLY,
        mean=f"{feature.id}.mean",
        setting_error=setting,
        resolution_error=f"{feature.id}.resolution",
        repeat_error=f"{feature.id}.repeat",
        form_error=f"{feature.id}.form",
        part_expansion=part_growth(ledger, feature.part, f"{feature.id}.part_rise"),
        part_rise=f"{feature.id}.part_rise",
        gauge_expansion=own_growth(ledger, feature, grid),
        gauge_rise=f"{feature.id}.gauge_rise",
    )


def _formed(feature: Feature, grid: Grid, inputs: SizeInputs, bench: Bench) -> Formed:
    """A feature as its form is told: its words, its gauge's contacts, its scatter."""
    instrument = find_instrument(grid.instrument, bench.instruments)
    is_three = instrument is not None and instrument.kind == THREE_CONTACTS
    return Formed(
        feature.id,
        feature.label,
        feature.part,
        feature.sense,
        is_bore=feature.is_bore,
        contacts=3 if is_three else 2,
        scatter=inputs.reading,
        ports=bench.ports,
    )
