"""Where the hand of the chooser can stand: fits that their figures tell exactly."""

from __future__ import annotations

import numpy as np

from sleevewright.units import from_unit

MOST_PLACES = 100
"""Steps of the hand at most; a step is then as wide as a thumb can tell apart."""

SMALLEST = {"inch": 0.1, "metric": 1.0}
"""Smallest step by the units of the job, in thou or micrometres: the last figure shown."""

UNITS = {"inch": "thou", "metric": "µm"}
STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)


def places_of_hand(reach: float, *, system: str) -> tuple[float, ...]:
    """Fits from nothing to a reach, at whole steps of the last figure that is shown.

    Parameters
    ----------
    reach : float
        Largest interference, diametral. [m]
    system : str
        ``inch`` or ``metric``.

    Returns
    -------
    tuple of float
        Interferences, rising, the first of them nothing. [m]

    Examples
    --------
    >>> places = places_of_hand(203.2e-6, system="inch")
    >>> len(places), round(places[35] / 25.4e-6, 9)
    (81, 3.5)
    """
    unit = from_unit(1.0, UNITS[system])
    smallest = SMALLEST[system]
    counted = reach / unit / smallest
    step = next((one for one in STEPS if counted / one <= MOST_PLACES), STEPS[-1])
    number = int(np.floor(counted / step + 1e-6))
    return tuple(unit * (smallest * step * at) for at in range(number + 1))
