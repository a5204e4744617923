"""How much a whole budget costs against drawing its own numbers, in one run.

The budget: the interference of two grids that share a micrometer, 16 inputs, 100,000
samples; value, doubt, interval, ranked contributors and the chance of less than the least.
Draws are forgotten before every run, so that none is had for nothing.
"""

from __future__ import annotations

from reference import interleaved, reference_draw, table

# isort: split

import numpy as np

from sleevewright.core.metrology.grid import GridReadings, sizes_at_reference
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.size import (
    GaugeDoubt,
    SizeInputs,
    TemperatureDoubt,
    size_inputs,
    size_of,
)
from sleevewright.core.uncertainty.inputs import (
    BUDGET_COUNT,
    InputQuantity,
    clear_draws,
    draw,
)
from sleevewright.core.uncertainty.sampled import Sampled, Share, probability_below, summarise

THOU = 25.4e-6
LEAST = 3.4 * THOU
GOAL = 2.5
IRON = InputQuantity("sleeve: expansion", 10.7e-6, 0.4e-6)
ALUMINIUM = InputQuantity("casting: expansion", 20.7e-6, 0.8e-6)
STEEL = InputQuantity("gauge: expansion", 11.5e-6, 0.5e-6)
ROUGHNESS = InputQuantity("roughness of both", 6.0e-6, 0.25)


def grid(mean: float, seed: int) -> GridReadings:
    """Four stations by four directions of an invented part, rounded to a tenth of a thou."""
    scatter = np.random.default_rng(seed).standard_normal((4, 4)) * 0.08 * THOU
    step = 0.1 * THOU
    readings = np.round((mean + scatter) / step) * step
    stations = np.array([10e-3, 33e-3, 56e-3, 79e-3])
    return GridReadings(stations, np.arange(4) * np.pi / 4.0, readings, 295.0, 294.6)


def inputs_of(
    feature: str, mean: float, alpha: float, own: tuple[InputQuantity, ...]
) -> SizeInputs:
    """Named inputs of one feature."""
    master = InputQuantity("micrometer: setting", 0.0, 0.1 * THOU)
    readings = grid(mean, 3)
    sizes = sizes_at_reference(readings, part_expansion=alpha, gauge_expansion=STEEL.value)
    known = Repeatability(0.1 * THOU, 8.0)
    return size_inputs(
        readings,
        sizes,
        feature=feature,
        gauge=GaugeDoubt((master, *own), 0.1 * THOU, known),
        temperature=TemperatureDoubt(
            InputQuantity(f"{feature}: temperature", 0.0, 1.0),
            InputQuantity(f"{feature}: gauge temperature", 0.0, 1.0),
        ),
        part_expansion=alpha,
        gauge_expansion=STEEL.value,
    )


TRANSFER = (InputQuantity("bore gauge: transfer", 0.0, 0.15 * THOU),)
SLEEVE = inputs_of("sleeve", 67.06e-3, IRON.value, ())
BORE = inputs_of("bore", 66.97e-3, ALUMINIUM.value, TRANSFER)
NAMED = (*SLEEVE.quantities(), *BORE.quantities(), IRON, ALUMINIUM, STEEL, ROUGHNESS)
INPUTS = tuple({one.name: one for one in NAMED}.values())


def draws() -> None:
    """Draw the numbers of the budget and nothing else."""
    clear_draws()
    for quantity in INPUTS:
        draw(quantity)


def whole_budget() -> tuple[Sampled, Share]:
    """Everything that is said about the interference."""
    clear_draws()
    steel = draw(STEEL)
    sleeve = size_of(SLEEVE, of=draw, part_expansion=draw(IRON), gauge_expansion=steel)
    bore = size_of(BORE, of=draw, part_expansion=draw(ALUMINIUM), gauge_expansion=steel)
    fit = np.asarray(sleeve - bore)
    return summarise(fit, quantities=INPUTS), probability_below(fit, LEAST)


def main() -> None:
    """Print the ratios."""
    own, whole, reference = interleaved((draws, whole_budget, reference_draw))
    found, below = whole_budget()
    rows = [
        ("budget against drawing its own numbers", whole / own, GOAL),
        ("budget against R", whole / reference, None),
        ("drawing its numbers against R", own / reference, None),
    ]
    print(table(f"Budget: {len(INPUTS)} inputs, {BUDGET_COUNT} samples", rows))
    print(f"R {1e3 * reference:.1f} ms, draws {1e3 * own:.1f} ms, budget {1e3 * whole:.1f} ms")
    named = ", ".join(one.name for one in found.contributors[:3])
    print(f"u {found.standard / THOU:.3f} thou, chance below {100 * below.value:.2f} %, by {named}")


if __name__ == "__main__":
    main()
