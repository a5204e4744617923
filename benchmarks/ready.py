"""What a forecast of the oven costs after each look, against R and against a loop over draws.

The loop walks the same course draw by draw; the forecast walks all draws together.
"""

from __future__ import annotations

from reference import interleaved, reference_draw, table

# isort: split

import numpy as np

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.heating import DoorOpening, HeatedFit, Heating, OvenReading
from sleevewright.core.heat.oven_course import Belief, first_reached, openings
from sleevewright.core.heat.ready import DRAWS, ready_forecast

THOU = 25.4e-6
LOOPED = 50
LOOKS = ((300.0, -0.9, 349.0), (540.0, 1.0, 382.0), (780.0, 2.4, 405.0), (1020.0, 3.5, 422.0))
HEATING = Heating(
    (("body", HeatedFit(0.062992, 3.2 * THOU, 5.4 * THOU)),),
    ExpansionLaw(20.7e-6, 10.0e-9),
    ExpansionLaw(10.6894e-6, 5.97e-9),
    294.15, 294.15, 294.15, 485.15, 503.15,
)  # fmt: skip
READINGS = tuple(OvenReading(time, slip * THOU, hot) for time, slip, hot in LOOKS)
DOORS = tuple(DoorOpening(time) for time, _, _ in LOOKS)


def _forecast() -> object:
    return ready_forecast(HEATING, READINGS, DOORS, now=1020.0)


def _one_by_one() -> object:
    plan = openings(DOORS, room=294.15, air_time_constant=560.0)
    one = np.ones(1)
    belief = Belief(294.15 * one, 485.15 * one, 900.0 * one, np.ones((1, len(plan.doors))))
    return [first_reached(belief, plan, 449.0 * one, now=1020.0) for _ in range(LOOPED)]


def main() -> None:
    """Print the table."""
    reference, forecast, loop = interleaved((reference_draw, _forecast, _one_by_one))
    whole = loop * DRAWS / LOOPED
    print(f"forecast after four looks: {forecast * 1e3:.1f} ms; R {reference * 1e3:.1f} ms")
    print(
        table(
            "ready when, against R",
            (
                ("forecast after four looks, 1,500 draws", forecast / reference, 5.0),
                ("first slip of 1,500 draws, one by one", whole / reference, None),
            ),
        )
    )


if __name__ == "__main__":
    main()
