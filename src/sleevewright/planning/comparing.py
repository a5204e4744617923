"""Readings over a master: the size that they say, the zero's drift, the growth of both.

Where the master is the sleeve of this job, the size of the bore is reckoned from the
sleeve's own, so that what is not known of the micrometer cancels in the fit by itself.
"""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

import numpy as np

from sleevewright.core.allowances import rest_of
from sleevewright.core.expansion import REFERENCE_TEMPERATURE, scaled_expansion
from sleevewright.core.materials import default
from sleevewright.core.metrology.answers import setting_chain
from sleevewright.core.metrology.comparator import size_over_master, zero_error
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.jobs.gaugesetting import is_on_sleeve, master_words
from sleevewright.jobs.model import Entry as Told
from sleevewright.jobs.model import Grid, Instrument
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.gauges import (
    keyed_with,
    known_repeatability,
    temperature_error,
    temperature_of,
)
from sleevewright.planning.ledger import DEEPLY, SHALLOWLY, Given, Ledger, Line

if TYPE_CHECKING:
    from sleevewright.planning.sizes import Feature

Q = Quantity

GAUGE_EXPANSION = Line(
    "gauge.expansion", "growth of the gauges' steel", Q.EXPANSION, is_detail=True
)
GAUGE_GROWTH = Line(
    "gauge.growth", "growth of the gauges' steel, in doubt", Q.EXPANSION, is_detail=True
)
ON_PART = {"sleeve": "sleeve.od", "flange": "flange.od"}
"""The size that stands for the master where a gauge was zeroed on the part itself."""

ERRORS = ("resolution", "repeat", "form")


def is_on_part(ledger: Ledger, grid: Grid) -> bool:
    """Whether the gauge was zeroed on the sleeve or flange of this job, whose size is known."""
    return ledger.has(ON_PART.get(grid.set_on, ""))


def enter_gauge_expansion(ledger: Ledger) -> str:
    """Enter the growth of the gauges' steel as it is tabulated; return its id."""
    steel = default("gauge_expansion")
    ledger.fact(GAUGE_EXPANSION, Given(steel.value, Kind.ASSUMED, source=steel.source))
    return GAUGE_EXPANSION.id


def own_growth(ledger: Ledger, feature: Feature, grid: Grid) -> str:
    """The id of the growth of the gauge that read: its own where it was told."""
    if grid.gauge_expansion is None:
        return gauge_growth(ledger, f"{feature.id}.gauge_rise")
    return _enter_told(ledger, feature, "gauge", grid.gauge_expansion)


def _enter_told(ledger: Ledger, feature: Feature, whose: str, told: Told) -> str:
    """Enter a coefficient that was told, with its own doubt or that of the usual steel."""
    usual = default("gauge_expansion").doubt or 0.0
    standard = usual if told.doubt is None else told.doubt / STATED_COVERAGE_FACTOR
    line = Line(
        f"{feature.id}.{whose}_expansion",
        f"growth of the {whose}, {feature.label}",
        Q.EXPANSION,
        is_detail=True,
    )
    given = Given(told.value, Kind(told.kind), "the job", told.text, standard=standard)
    ledger.fact(line, given)
    return line.id


def gauge_growth(ledger: Ledger, rise: str) -> str:
    """The id of the gauges' growth: with its doubt where the gauge was not near 20 degC."""
    if _is_near(ledger, rise):
        return GAUGE_EXPANSION.id
    steel = default("gauge_expansion")
    ledger.fact(
        GAUGE_GROWTH,
        Given(steel.value, Kind.ASSUMED, source=steel.source, standard=steel.doubt or 0.0),
    )
    return GAUGE_GROWTH.id


def part_growth(ledger: Ledger, part: str, rise: str) -> str:
    """The id of a part's growth: with its doubt where the part was not near 20 degC."""
    if _is_near(ledger, rise) or not ledger.has(f"{part}.growth_scale"):
        return f"{part}.expansion"
    ledger.compute(
        Line(f"{part}.growth", f"growth of the {part}, in doubt", Q.EXPANSION, is_detail=True),
        scaled_expansion,
        DEEPLY,
        reference=f"{part}.expansion",
        scale=f"{part}.growth_scale",
    )
    return f"{part}.growth"


def _is_near(ledger: Ledger, rise: str) -> bool:
    """Whether a rise is so small that the doubt of a coefficient is worth nothing beside it."""
    return abs(float(ledger.value(rise))) <= default("soak_within").value


def enter_zero(ledger: Ledger, feature: Feature, grid: Grid, setting: str) -> str:
    """Enter what the zero did between start and end; return the id of the whole setting."""
    if grid.zero_start is None and grid.zero_end is None:
        return setting
    start = 0.0 if grid.zero_start is None else grid.zero_start.value
    end = start if grid.zero_end is None else grid.zero_end.value
    correction, standard = zero_error(zero_start=start, zero_end=end)
    told = [one.text for one in (grid.zero_start, grid.zero_end) if one is not None]
    line = Line(
        f"{feature.id}.zero",
        f"drift of the gauge's zero, {feature.label}",
        Q.DEVIATION,
        of="error",
        is_detail=True,
    )
    ledger.fact(
        line,
        Given(
            correction,
            Kind.MEASURED,
            source="jcgm-100",
            typed=", then ".join(told),
            standard=standard,
            shape=Shape.RECTANGULAR,
        ),
    )
    return chained(ledger, feature, "drifted", setting, line.id)


def chained(ledger: Ledger, feature: Feature, key: str, own: str, master: str) -> str:
    """Enter the sum of two errors of a setting; return its id."""
    line = Line(f"{feature.id}.{key}", f"setting, {feature.label}", Q.DEVIATION, of="error",
                is_detail=True)  # fmt: skip
    ledger.compute(line, setting_chain, _how(feature), own=own, master=master)
    return line.id


def enter_rise(ledger: Ledger, feature: Feature, whose: str, told: Told | None, rise: float) -> str:
    """Enter how far something is above 20 degC, as read and with what that may be off."""
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
    line = Line(true, f"{words}, {feature.label}", kelvin, is_detail=True)
    ledger.compute(line, setting_chain, _how(feature), own=read, master=error)
    return true


def enter_over_master(
    ledger: Ledger, feature: Feature, line: Line, grid: Grid, setting: str
) -> None:
    """Enter the size of a feature that was compared with a master."""
    _enter_over(ledger, feature, grid)
    rise, expansion = _enter_master(ledger, feature, grid)
    ids = {
        "on_dial": f"{feature.id}.over",
        **{f"{key}_error": f"{feature.id}.{key}" for key in ERRORS},
        "part_expansion": part_growth(ledger, feature.part, f"{feature.id}.part_rise"),
        "part_rise": f"{feature.id}.part_rise",
        "gauge_expansion": own_growth(ledger, feature, grid),
        "gauge_rise": f"{feature.id}.gauge_rise",
        "master_expansion": expansion,
        "master_rise": rise,
    }
    zero = f"{feature.id}.zero_size"
    keyed = f"{feature.id}.keyed_setting" if is_on_sleeve(grid.set_on) else setting
    if not is_on_part(ledger, grid):
        ledger.compute(
            line, size_over_master, _how(feature), master_size=zero, setting_error=keyed, **ids
        )
        return
    placed = _enter_place(ledger, feature, ON_PART[grid.set_on], setting)
    ledger.compute(
        line,
        size_over_master,
        _how(feature),
        master_size=ON_PART[grid.set_on],
        setting_error=placed,
        **ids,
    )
    by_size = Line(f"{feature.id}.by_size", f"{feature.label}, from the size keyed", Q.SIZE,
                   feature.sense, "the size that the gauge was zeroed at, and the readings over it",
                   is_detail=True)  # fmt: skip
    ledger.compute(
        by_size, size_over_master, _how(feature), master_size=zero, setting_error=keyed, **ids
    )


def _enter_over(ledger: Ledger, feature: Feature, grid: Grid) -> None:
    """Enter the size at nought, and the mean of the readings over it."""
    nominal = grid.nominal
    ledger.fact(
        Line(f"{feature.id}.zero_size", f"dial at nought, {feature.label}", Q.SIZE, feature.sense,
             of=f"set on {master_words(grid.set_on)} {grid.master}".strip(), is_detail=True),
        Given(
            None if nominal is None else nominal.value,
            Kind.TYPED if nominal is None else Kind(nominal.kind),
            source="the job",
            typed="" if nominal is None else nominal.text,
            need="size of the master",
        ),
    )  # fmt: skip
    ledger.compute(
        Line(f"{feature.id}.over", f"{feature.label}, on the dial", Q.READING, feature.sense,
             of="mean over the master, as read; plus is the larger bore", is_detail=True),
        rest_of,
        whole=f"{feature.id}.mean",
        part=f"{feature.id}.zero_size",
    )  # fmt: skip


def _enter_master(ledger: Ledger, feature: Feature, grid: Grid) -> tuple[str, str]:
    """Enter temperature and growth of the master; return the ids of both."""
    rise = f"{feature.id}.gauge_rise"
    if grid.master_temperature is not None:
        words = f"temperature of the master, {feature.label}"
        told = grid.master_temperature
        temperature_error(ledger, told, f"{feature.id}.master_temperature", words)
        off = temperature_of(told) - REFERENCE_TEMPERATURE
        rise = enter_rise(ledger, feature, "master", told, off)
    grown = grid.master_expansion
    if grown is None:
        on_sleeve = is_on_sleeve(grid.set_on) and ledger.has("sleeve.expansion")
        own_part = part_growth(ledger, "sleeve", rise) if on_sleeve else ""
        return rise, own_part or gauge_growth(ledger, rise)
    return rise, _enter_told(ledger, feature, "master", grown)


def _enter_place(ledger: Ledger, feature: Feature, part: str, setting: str) -> str:
    """Enter how far the place that was zeroed on may lie off the part's mean; return the sum."""
    shape: Any = ledger.value(f"{part}.map")
    usual = ledger.default("form_most").value  # of a sleeve whose form was not gauged
    spread = usual if shape is None else float(np.ptp(shape.sizes[shape.present]))
    line = Line(f"{feature.id}.place", f"place on the sleeve, {feature.label}", Q.DEVIATION,
                of="error", is_detail=True)  # fmt: skip
    standard = 0.5 * spread / math.sqrt(3.0)
    given = Given(0.0, Kind.MEASURED, "the readings", standard=standard, shape=Shape.RECTANGULAR)
    ledger.fact(line, given)
    return chained(ledger, feature, "zeroed", setting, line.id)


def enter_keyed(
    ledger: Ledger,
    feature: Feature,
    grid: Grid,
    setting: str,
    instruments: tuple[Instrument, ...],
) -> None:
    """Enter what the keyed size of a sleeve that was zeroed on may be off by, setting and all.

    One reading with a micrometer: its scatter and step, and its setting.  The setting of a
    micrometer that is known stands under its own name, so that it cancels in the fit where
    the same one measured the sleeve.
    """
    if not is_on_sleeve(grid.set_on):
        return
    micrometer = keyed_with(ledger, grid, instruments)
    alone = math.hypot(
        known_repeatability().standard, default("gauge_resolution").value / math.sqrt(12.0)
    )
    usual = default("micrometer_setting")
    words = f"reading at the place zeroed on, {feature.label}"
    if not micrometer:
        words = f"micrometer at the place zeroed on, {feature.label}"
        alone = math.hypot(alone, usual.value / STATED_COVERAGE_FACTOR)
    line = Line(f"{feature.id}.keyed", words, Q.DEVIATION, of="error", is_detail=True)
    ledger.fact(line, Given(0.0, Kind.ASSUMED, usual.source, standard=alone))
    own = line.id
    if micrometer:
        own = chained(ledger, feature, "keyed_chain", line.id, micrometer)
    chained(ledger, feature, "keyed_setting", setting, own)


def _how(feature: Feature) -> Any:
    return DEEPLY if feature.is_fitted else SHALLOWLY
