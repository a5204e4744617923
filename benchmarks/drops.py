"""How much 2,000 drops cost against R, and how far their grip times are from an exact solver.

The drops are those of two invented castings with everything drawn that is not known; the
grip times of some of them are compared with ``solve_ivp`` at a relative tolerance of 1e-8
on the same equations.
"""

from __future__ import annotations

from reference import interleaved, reference_draw, table

# isort: split

import math
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np
from scipy.integrate import solve_ivp

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.chances import drop_chances
from sleevewright.core.heat.drop import HORIZON, grip_times
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.drop_inputs import DropInputs
from sleevewright.core.heat.ring_model import (
    CELLS,
    Room,
    cells,
    constants_of,
    evaluate,
    first_state,
)
from sleevewright.core.heat.unknowns import draw_unknowns, drop_inputs
from sleevewright.core.uncertainty.inputs import clear_draws

THOU = 25.4e-6
DROPS = 2_000
GOAL = 3.0
COMPARED = 60
MOST_APART = 0.020
IRON = ExpansionLaw(10.6894e-6, 5.97e-9)
ALUMINIUM = DropCase(
    diameter=62.992e-3,
    inside_diameter=55.88e-3,
    length=95.0e-3,
    interference=3.2 * THOU,
    slip=5.4 * THOU,
    casting_law=ExpansionLaw(20.7e-6, 10.0e-9),
    sleeve_law=IRON,
    sleeve_temperature=294.15,
    room=294.15,
    casting_mass=1.37,
    sleeve_mass=0.45,
    casting_density=2680.0,
    casting_specific_heat=930.0,
    casting_conductivity=150.0,
    sleeve_specific_heat=490.0,
    sleeve_conductivity=48.0,
)
CASES = {
    "aluminium, 3.2 thou tight, 5.4 thou of slip": ALUMINIUM,
    "aluminium, 1.6 thou tight: many never grip": replace(ALUMINIUM, interference=1.6 * THOU),
    "iron at its limit, 2.2 thou tight": replace(
        ALUMINIUM,
        interference=2.2 * THOU,
        slip=3.99 * THOU,
        casting_law=IRON,
        casting_mass=2.42,
        casting_density=7200.0,
        casting_specific_heat=500.0,
        casting_conductivity=48.0,
    ),
}


@dataclass(frozen=True)
class Apart:
    """How far grip times are from the exact ones, and whether the same drops grip."""

    most: float
    differ: int


def one_of(inputs: DropInputs, at: int) -> DropInputs:
    """One drop of many."""

    def pick(value: Any) -> Any:
        if isinstance(value, ExpansionLaw):
            return ExpansionLaw(pick(value.reference), pick(value.slope))
        return float(value[at]) if isinstance(value, np.ndarray) else value

    return DropInputs(**{one.name: pick(getattr(inputs, one.name)) for one in fields(inputs)})


def exact(inputs: DropInputs) -> float:
    """Grip time by the adaptive solver."""
    division = cells(CELLS)
    known = constants_of(inputs, division)
    places, out = Room(division, 1), np.empty((CELLS + 1, 1))

    def rates(_: float, state: np.ndarray) -> np.ndarray:
        evaluate(known, division, state[:, np.newaxis], out, places)
        return out[:, 0].copy()

    def margin(_: float, state: np.ndarray) -> float:
        return float(evaluate(known, division, state[:, np.newaxis], out, places).margin[0])

    margin.terminal = True
    first = first_state(inputs, division, 1)[:, 0]
    if margin(0.0, first) <= 0.0:
        return 0.0
    found = solve_ivp(rates, (0.0, HORIZON), first, rtol=1e-8, atol=1e-8, events=margin)
    return float(found.t_events[0][0]) if found.t_events[0].size else math.inf


def distance(inputs: DropInputs) -> Apart:
    """Compare drops spread evenly over all of them."""
    found = grip_times(inputs).seconds
    most, differ = 0.0, 0
    for at in range(0, DROPS, DROPS // COMPARED):
        wanted = exact(one_of(inputs, at))
        if math.isfinite(wanted) and math.isfinite(found[at]):
            most = max(most, abs(found[at] - wanted))
        elif math.isfinite(wanted) != math.isfinite(found[at]):
            differ += 1
    return Apart(most, differ)


def main() -> None:
    """Print ratios and distances."""
    rows: list[tuple[str, float, float | None]] = []
    notes = []
    for name, case in CASES.items():
        inputs = drop_inputs(case, draw_unknowns(case, count=DROPS), count=DROPS)

        def drops(inputs: DropInputs = inputs) -> object:
            return grip_times(inputs)

        def chances(case: DropCase = case) -> object:
            clear_draws()
            return drop_chances(case, count=DROPS)

        only, whole, reference = interleaved((drops, chances, reference_draw))
        rows.append((name, only / reference, GOAL))
        rows.append(("  the same, its draws and its ranking", whole / reference, None))
        apart = distance(inputs)
        met = "yes" if apart.most <= MOST_APART and not apart.differ else "no"
        notes.append(
            f"{name}: R {1e3 * reference:.1f} ms, drops {1e3 * only:.1f} ms; grip times within "
            f"{1e3 * apart.most:.0f} ms of solve_ivp (goal {1e3 * MOST_APART:.0f}: {met})"
        )
    print(table(f"{DROPS} drops against R, one BLAS thread", rows))
    print("\n".join(notes))


if __name__ == "__main__":
    main()
