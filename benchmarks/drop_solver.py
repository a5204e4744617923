"""How much quicker 10,000 drops are than a general solver on the same equations.

The reference is ``solve_ivp`` (RK45, relative tolerance 1e-6, terminal event) with the
right-hand side of twelve cells in plain numpy, one drop at a time; 100 drops are timed and
scaled.  The grip times are compared with a relative tolerance of 1e-8.  The reference is
written here and shares no equation with the package.
"""

from __future__ import annotations

import one_thread  # noqa: F401 - must come before numpy

# isort: split
import math
import time
from collections.abc import Callable

import numpy as np
from scipy.integrate import solve_ivp

from drops import CASES, one_of
from sleevewright.core.heat.drop import grip_times
from sleevewright.core.heat.drop_inputs import DropInputs
from sleevewright.core.heat.unknowns import draw_unknowns, drop_inputs

DROPS, TIMED, COMPARED = 10_000, 100, 200
HORIZON = 60.0
CELLS = 12
LEAST, GOAL = 150.0, 300.0
MOST_APART = 0.020
ZERO = 293.15
Array = np.ndarray


class Reference:
    """One drop in plain numpy: twelve cells of half the sleeve, one casting temperature."""

    def __init__(self, one: DropInputs) -> None:
        """Gather what does not change."""
        self.one = one
        edges = np.linspace(0.0, math.pi, CELLS + 1)
        self.width = math.pi / CELLS
        self.tangents = np.tan(0.5 * edges[1:-1])
        self.first = np.diff(np.sin(edges)) * 2.0 / math.pi
        self.second = np.diff(np.sin(2.0 * edges)) / math.pi
        area = math.pi * one.diameter * one.length
        self.by_area = one.sleeve_capacity / area
        inner = math.pi * (one.diameter - 2.0 * one.wall) * one.length
        self.lost = one.inside_coefficient * inner / one.sleeve_capacity
        self.series = 0.35 * one.casting_depth / one.casting_conductivity + one.wall / (
            3.0 * one.sleeve_conductivity
        )
        around = 0.5 * (one.diameter - one.wall) * one.sleeve_capacity
        around /= 2.0 * math.pi * one.length
        self.around = one.sleeve_conductivity * one.wall / around / self.width**2

    def clearance(self, mean: float, casting: float) -> float:
        """Clearance of the free parts on diameter."""
        one = self.one
        hot, cold = one.casting_law, one.sleeve_law
        bore = (one.diameter - one.interference) * (
            1.0 + (hot.reference + hot.slope * casting) * casting
        )
        return bore - one.diameter * (1.0 + (cold.reference + cold.slope * mean) * mean)

    def rates(self, _: float, state: Array) -> Array:
        """Rates of change of cells and casting."""
        one, sleeve, casting = self.one, state[:-1], state[-1]
        mean = sleeve.mean()
        between = ZERO + 0.5 * (mean + casting)
        gap = 0.5 * max(self.clearance(mean, casting), 0.0)
        film = (-5.5e-4 + (1.019e-4 - 4.0e-8 * between) * between) * one.fluid_factor
        middle = gap + one.stand_off + 0.37e-6 / 323.0 * between
        near, far = middle - one.eccentricity * gap, middle + one.eccentricity * gap
        root = math.sqrt(near * far)
        angles = np.empty(CELLS + 1)
        angles[0], angles[-1] = 0.0, 0.5 * math.pi
        angles[1:-1] = np.arctan(self.tangents * (root / near))
        through = 2.0 * film * np.diff(angles) / (root * self.width)
        through += 4.0 * 5.670374419e-8 * one.radiation_factor * between**3
        through /= 1.0 + through * self.series
        room = one.room - ZERO
        crossing = through * (casting - sleeve) / self.by_area
        change = np.empty_like(state)
        change[:-1] = crossing - self.lost * (sleeve - room)
        flow = self.around * np.diff(sleeve)
        change[:-2] += flow
        change[1:-1] -= flow
        given = crossing.mean() * one.sleeve_capacity
        given += one.outside_loss * one.length * (casting - room)
        change[-1] = -given / one.casting_capacity
        return change

    def margin(self, _: float, state: Array) -> float:
        """Clearance less what shape uses up."""
        one, sleeve = self.one, state[:-1]
        mean = sleeve.mean()
        local = one.sleeve_law.reference + 2.0 * one.sleeve_law.slope * mean
        bow = one.length**2 / (4.0 * one.diameter) * (self.first @ sleeve)
        oval = 2.0 / 3.0 * one.diameter * (self.second @ sleeve)
        return self.clearance(mean, state[-1]) - one.form - one.bending * local * (bow + oval)

    def grip(self, tolerance: float) -> float:
        """Time until it grips, infinite beyond the horizon."""
        first = np.full(CELLS + 1, self.one.sleeve_temperature - ZERO)
        first[-1] = self.one.casting_temperature - ZERO
        if self.margin(0.0, first) <= 0.0:
            return 0.0

        def event(time: float, state: Array) -> float:
            return self.margin(time, state)

        event.terminal = True  # type: ignore[attr-defined] # so the solver wants it
        found = solve_ivp(
            self.rates, (0.0, HORIZON), first, rtol=tolerance, atol=tolerance, events=event
        )
        return float(found.t_events[0][0]) if found.t_events[0].size else math.inf


def spread(count: int) -> range:
    """Places of some drops spread evenly over all."""
    return range(0, DROPS, DROPS // count)


def timed(run: Callable[[], object], repeats: int) -> float:
    """Least processor seconds of some runs."""
    found = []
    for _ in range(repeats):
        begun = time.process_time()
        run()
        found.append(time.process_time() - begun)
    return min(found)


def apart(inputs: DropInputs) -> tuple[float, int, int]:
    """Worst distance in seconds, drops of which one grips and the other not, drops compared."""
    found = grip_times(inputs, horizon=HORIZON, cell_count=CELLS).seconds
    most, differ = 0.0, 0
    for at in spread(COMPARED):
        wanted = Reference(one_of(inputs, at)).grip(1e-8)
        if math.isfinite(wanted) and math.isfinite(found[at]):
            most = max(most, abs(wanted - float(found[at])))
        else:
            differ += math.isfinite(wanted) != math.isfinite(found[at])
    return most, differ, len(spread(COMPARED))


def main() -> None:
    """Print ratios and distances, whether the goals are met or not."""
    for name, case in CASES.items():
        inputs = drop_inputs(case, draw_unknowns(case, count=DROPS), count=DROPS)
        ones = [Reference(one_of(inputs, at)) for at in spread(TIMED)]
        solver = timed(lambda ones=ones: [one.grip(1e-6) for one in ones], 3) * DROPS / TIMED
        most, differ, compared = apart(inputs)
        loose = np.isinf(grip_times(inputs, horizon=HORIZON, cell_count=CELLS).seconds).mean()
        print(f"{name}: {100.0 * loose:.1f} % still loose at {HORIZON:.0f} s")
        for count in (CELLS, 8):
            own = timed(lambda i=inputs, c=count: grip_times(i, horizon=HORIZON, cell_count=c), 7)
            ratio = solver / own
            met = "goal" if ratio >= GOAL else "least" if ratio >= LEAST else "NOT MET"
            print(
                f"  {count} cells: {1e3 * own:.0f} ms against {solver:.1f} s: {ratio:.0f} times "
                f"(least {LEAST:.0f}, goal {GOAL:.0f}: {met})"
            )
        print(
            f"  {compared} grip times within {1e3 * most:.1f} ms of rtol 1e-8 (most "
            f"{1e3 * MOST_APART:.0f}: {'yes' if most <= MOST_APART and not differ else 'NO'}); "
            f"{differ} grip in one and not in the other"
        )


if __name__ == "__main__":
    main()
