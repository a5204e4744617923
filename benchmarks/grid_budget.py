"""How much a grid costs that is sampled reading by reading, against drawing its own numbers.

A grid of 6 stations by 8 directions with a full budget: 100,000 samples of every reading,
each with its scatter and its rounding, and of everything that all of them share.  Size,
taper, slope and out-of-round come out, with the interval of the size and the chance of
less than a limit.  The plan's own path samples the same size as one mean.  Both pay for
their own numbers, and all is measured in one run.
"""

from __future__ import annotations

from reference import interleaved, reference_draw, table

# isort: split

from dataclasses import replace

import numpy as np

from sleevewright.core.metrology.grid import GridReadings, sizes_at_reference
from sleevewright.core.metrology.gridsamples import grid_errors, sample_grid
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.size import (
    GaugeDoubt,
    TemperatureDoubt,
    size_inputs,
    size_of,
)
from sleevewright.core.uncertainty.inputs import (
    BUDGET_COUNT,
    InputQuantity,
    Streams,
    clear_draws,
    draw,
)
from sleevewright.core.uncertainty.sampled import Sampled, Share, probability_below, summarise

THOU = 25.4e-6
STEP = 0.1 * THOU
STATIONS, DIRECTIONS = 6, 8
GOAL = 2.0
GOAL_MS = 150.0
GOAL_PLAN_MS = 20.0
IRON = InputQuantity("sleeve: expansion", 10.7e-6, 0.3e-6)
STEEL = InputQuantity("gauge: expansion", 11.5e-6, 0.5e-6)
MASTER = InputQuantity("micrometer: setting", 0.0, 0.1 * THOU)
TRANSFER = InputQuantity("bore gauge: transfer", 0.0, 0.15 * THOU)
DRIFT = InputQuantity("bore gauge: drift", 0.0, 0.05 * THOU)
PART = InputQuantity("temperature of the part", 0.0, 0.5)
GAUGE = InputQuantity("temperature of the gauge", 0.0, 0.5)
KNOWN = Repeatability(0.1 * THOU, 8.0)


def grid() -> GridReadings:
    """An invented part with taper and oval, rounded to a tenth of a thou."""
    stations = (np.arange(STATIONS) + 0.5) * 90e-3 / STATIONS
    directions = np.arange(DIRECTIONS) * np.pi / DIRECTIONS
    form = 3e-6 * np.cos(2.0 * directions)[None, :] + 4e-6 * (stations / 90e-3)[:, None]
    scatter = np.random.default_rng(3).standard_normal(form.shape) * 0.08 * THOU
    read = np.round((67.06e-3 + form + scatter) / STEP) * STEP
    return GridReadings(stations, directions, read, 295.0, 294.6)


READ = grid()
SIZES = sizes_at_reference(READ, part_expansion=IRON.value, gauge_expansion=STEEL.value)
INPUTS = size_inputs(
    READ,
    SIZES,
    feature="sleeve",
    gauge=GaugeDoubt((MASTER, TRANSFER), STEP, KNOWN),
    temperature=TemperatureDoubt(PART, GAUGE),
    part_expansion=IRON.value,
    gauge_expansion=STEEL.value,
)
LEAST = float(np.mean(SIZES.sizes)) - 2e-6


def draws() -> None:
    """Draw the numbers of the grid and nothing else: in the blocks that it is drawn in."""
    clear_draws()
    for quantity in (*INPUTS.settings, DRIFT, PART, GAUGE, IRON, STEEL, INPUTS.form):
        draw(quantity)
    readings = STATIONS * DIRECTIONS
    streams, row = Streams(), np.empty(BUDGET_COUNT // 100)
    names = [f"reading {index}" for index in range(readings)]
    for _ in range(100):
        streams.scale("grid", INPUTS.reading.degrees_of_freedom, row.size)
        for name in names:
            streams.spread(name).standard_normal(out=row)
            streams.spread(f"{name}, rounding").random(out=row)


def reading_by_reading() -> tuple[Sampled, Share]:
    """Everything about the size, with every reading drawn."""
    clear_draws()
    errors = grid_errors(
        READ,
        INPUTS,
        feature="sleeve",
        of=draw,
        part_expansion=draw(IRON),
        gauge_expansion=draw(STEEL),
    )
    found = sample_grid(replace(errors, drift_error=draw(DRIFT)))
    return summarise(found.size), probability_below(found.size, LEAST)


def as_one_mean() -> tuple[Sampled, Share]:
    """The same by the plan's path: the mean as one quantity, with its contributors."""
    clear_draws()
    size = np.asarray(
        size_of(INPUTS, of=draw, part_expansion=draw(IRON), gauge_expansion=draw(STEEL))
    )
    size += 0.5 * draw(DRIFT)  # an even drift is half of itself in the mean
    named = (*INPUTS.quantities(), IRON, STEEL, DRIFT)
    return summarise(size, quantities=named), probability_below(size, LEAST)


def main() -> None:
    """Print the ratios, the times, and that both roads say the same."""
    own, whole, plan, reference = interleaved(
        (draws, reading_by_reading, as_one_mean, reference_draw)
    )
    rows = [
        ("reading by reading against drawing its own numbers", whole / own, GOAL),
        ("reading by reading, ms", 1e3 * whole, GOAL_MS),
        ("the plan's path, ms", 1e3 * plan, GOAL_PLAN_MS),
        ("reading by reading against R", whole / reference, None),
        ("the plan's path against R", plan / reference, None),
    ]
    print(table(f"Grid of {STATIONS} by {DIRECTIONS}, {BUDGET_COUNT} samples", rows))
    print(f"R {1e3 * reference:.1f} ms, its own numbers {1e3 * own:.1f} ms")
    (one, below), (other, beneath) = reading_by_reading(), as_one_mean()
    print(f"u {1e6 * one.standard:.4f} and {1e6 * other.standard:.4f} um;", end=" ")
    print(f"chance below {100 * below.value:.2f} and {100 * beneath.value:.2f} %")


if __name__ == "__main__":
    main()
