"""Keys of the job file about gauges and what they read."""

from __future__ import annotations

from dataclasses import replace

from sleevewright.jobs.field import (
    MM,
    UM,
    ZERO_C,
    Field,
    Sort,
    Span,
    assumed,
    choice,
    flag,
    quantity,
    text,
)
from sleevewright.jobs.model import FEATURES
from sleevewright.units import Dimension

INSTRUMENT_KINDS = (
    "micrometer",
    "dial-bore-gauge",
    "three-point-gauge",
    "telescoping-gauge",
    "caliper",
    "depth-micrometer",
    "depth-caliper",
    "indicator",
    "setting-ring",
    "gauge-block",
)

FINE = Span(Dimension.LENGTH, 0.0, 0.2 * MM)
GAUGING = Span(Dimension.TEMPERATURE, ZERO_C - 30.0, ZERO_C + 150.0)
SETTING = Span(Dimension.TEMPERATURE, ZERO_C, ZERO_C + 45.0)
"""A master that a gauge is set on lies in the shop. Common practice, no source."""

SLEEVE_MASTERS = ("sleeve", "flange")
MASTERS = ("micrometer", "setting-ring", "gauge-block", *SLEEVE_MASTERS)
"""What a gauge that compares can be set on; the sleeve and the flange are those of the job."""

ZERO = Span(Dimension.LENGTH, -0.5 * MM, 0.5 * MM)

REPEATED = ("repeatability", "repeatability_freedom", "repeatability_from")
"""What a gauge study says of a gauge; it belongs to the readings and not to the setting."""


def _repeats(table: str) -> tuple[Field, ...]:
    """Keys of what one reading of a gauge repeats to."""
    return (
        quantity(
            f"{table}.repeatability",
            FINE,
            "Standard deviation of one reading of this gauge, from a gauge study of the shop.",
            "1.8 µm",
            without=assumed("reading_repeatability"),
        ),
        quantity(
            f"{table}.repeatability_freedom",
            Span(Dimension.RATIO, 1.0, 10_000.0),
            "Degrees of freedom of that study: how well the standard deviation is known.",
            "18",
            without="8, as of a figure that is known to a quarter of itself",
        ),
        text(
            f"{table}.repeatability_from",
            "The study that it is from, and its day.",
            "study G-3, 2026-11-30",
            without="not said",
        ),
    )


INSTRUMENT = (
    text("instrument.name", "What the shop calls it.", "bore gauge"),
    choice(
        "instrument.kind",
        INSTRUMENT_KINDS,
        "What it is; a two-point gauge does not see three lobes.",
        without="unknown",
    ),
    quantity(
        "instrument.resolution",
        FINE,
        "Smallest step that it shows.",
        "0.0001 in",
        without=assumed("gauge_resolution"),
    ),
    quantity(
        "instrument.setting",
        FINE,
        "Doubt of its setting, plus and minus, about 19 times in 20.",
        "0.2 thou",
        without=assumed("gauge_setting"),
    ),
    text(
        "instrument.set_from",
        "Name of the instrument or master that it was set from; their doubt is then shared.",
        "mic 2-3",
        without="set on its own",
    ),
    quantity(
        "instrument.turn",
        Span(Dimension.LENGTH, 10.0 * UM, 30.0 * MM),
        "What one whole turn of its dial or thimble measures.",
        "0.010 in",
        without="a reading a whole turn off is not recognised as such",
    ),
    *_repeats("instrument"),
)

GRID = (
    choice("grid.feature", FEATURES, "What was gauged.", example="parent-bore"),
    text("grid.instrument", "Name of the instrument.", "bore gauge", without="unknown, assumed"),
    quantity(
        "grid.nominal",
        Span(Dimension.LENGTH, 0.3 * MM, 0.400),
        "The size that readings with a sign are relative to.",
        "2.6360 in",
        without="every reading must be a whole size",
    ),
    quantity(
        "grid.part_temperature",
        GAUGING,
        "Temperature of the part while it was gauged.",
        "73 F",
        without="20 degC within 4 K, assumed",
    ),
    quantity(
        "grid.gauge_temperature",
        GAUGING,
        "Temperature of the gauge.",
        "71 F",
        without="20 degC within 4 K, assumed",
    ),
    quantity(
        "grid.gauge_expansion",
        Span(Dimension.EXPANSION, 0.1e-6, 30e-6),
        "Mean expansion coefficient of the gauge.",
        "11.5e-6/K",
        without=assumed("gauge_expansion"),
    ),
    choice(
        "grid.set_on",
        MASTERS,
        "What a gauge that compares was set on; sleeve and flange are those of this job.",
        without="not known: set from what the gauge's own record names",
        example="setting-ring",
    ),
    text(
        "grid.master",
        "Name of the micrometer, ring or block that it was set on.",
        "ring 2.625",
        without="what the gauge's own record names",
    ),
    quantity(
        "grid.master_temperature",
        SETTING,
        "Temperature of master and gauge while it was set.",
        "70 F",
        without="as warm as the gauge was in the bore",
    ),
    quantity(
        "grid.master_expansion",
        Span(Dimension.EXPANSION, 3e-6, 30e-6),
        "Mean expansion coefficient of the master.",
        "11.5e-6/K",
        without="steel; of the sleeve and its flange their own",
    ),
    text("grid.set_by", "Who set the gauge.", "p1", without="not said"),
    text("grid.set_at", "When the gauge was set.", "09:40", without="not said"),
    replace(
        quantity(
            "grid.zero_start",
            ZERO,
            "What the gauge showed on its master before the readings; plus is the larger bore.",
            "0.0 thou",
            without="nought, where the end is told",
        ),
        kind="measured",
    ),
    replace(
        quantity(
            "grid.zero_end",
            ZERO,
            "What it showed there afterwards.",
            "0.1 thou",
            without="no drift is allowed for",
        ),
        kind="measured",
    ),
    Field(
        "grid.stations",
        Sort.LIST,
        "Depths below the deck, from the top down; one for each row of readings.",
        '["0.40 in", "1.30 in"]',
        Span(Dimension.LENGTH, 0.0, 0.400),
        without="one row, depth unknown",
    ),
    Field(
        "grid.directions",
        Sort.LIST,
        "Angles round the bore; one for each reading of a row.",
        '["0 deg", "90 deg"]',
        Span(Dimension.ANGLE, -6.4, 6.4),
        without="unknown directions",
    ),
    Field(
        "grid.readings",
        Sort.READINGS,
        "A row for each station: a whole size (2.6368 in), or with a sign what it is over the "
        "nominal, in thou (inch) or um (metric); a dash where nothing was read.",
        '[["+0.8", "+0.7"], ["2.6367 in", "-"]]',
        Span(Dimension.LENGTH, 0.3 * MM, 0.400),
        "measured",
        without="a grid without readings is not taken",
    ),
    Field(
        "grid.temperatures",
        Sort.ROWS,
        "Temperature of the part at each reading, where it was noted; shaped as the readings.",
        '[["73 F", "73 F"], ["75 F", "-"]]',
        GAUGING,
        "measured",
        without="part_temperature for all",
    ),
    flag(
        "grid.land_only",
        "Whether the readings were taken on the lands between ports only.",
        without="false",
    ),
    *_repeats("grid"),
)
