"""How tight a flange may be in its counterbore: what the ledge bears, with the body fitted too."""

from __future__ import annotations

import math

from sleevewright.core.checks import finite, positive
from sleevewright.core.fits.coupled import body_pressure, flange_pressure, ledge_hoop
from sleevewright.core.fits.flanged import FlangedEnd
from sleevewright.core.formulas import formula

TIGHTEST = 1e-3
"""No flange is fitted tighter than this above what the body opens, diametral. [m]"""


@formula(
    name="flange fit at which the ledge comes to its limit",
    expression="sigma(i) = allowed, i above the opening by the body",
    sources=("timoshenko-1956", "derived"),
    validity="ledge tension rises with the flange's fit; mean over the ledge, corners apart",
    unit="m",
)
def flange_fit_at_ledge(
    flanged: FlangedEnd, *, opening: float, pressure: float, ledge_allowed: float
) -> float:
    """Flange fit that pulls the ledge to what it may see.

    Parameters
    ----------
    flanged : FlangedEnd
        The flanged end. [record]
    opening : float
        What the body opens the counterbore by, diametral. [m]
    pressure : float
        Pressure of the body alone. [Pa]
    ledge_allowed : float
        Hoop tension that the ledge may see. [Pa]

    Returns
    -------
    float
        Interference of the flange, diametral; endless where no flange brings the ledge there,
        the opening itself where the body alone does. [m]

    Raises
    ------
    InputError
        If the opening is not finite or the tension allowed is not positive.

    Notes
    -----
    Below the opening the flange carries nothing.  Source: ``timoshenko-1956`` for the rings;
    ``derived``.
    """
    from scipy.optimize import brentq

    finite("opening of the counterbore", opening, "m")
    positive("tension that the ledge may see", ledge_allowed, "Pa")

    def beyond(fit: float) -> float:
        flange = flange_pressure(flanged, flange_interference=fit, opening=opening)
        body = body_pressure(flanged, pressure=pressure, opening=opening, flange_pressure=flange)
        pull = ledge_hoop(flanged, body_pressure=body, flange_pressure=flange)
        return float(pull) - ledge_allowed

    if beyond(opening) >= 0.0:
        return opening
    if beyond(opening + TIGHTEST) < 0.0:
        return math.inf
    return float(brentq(beyond, opening, opening + TIGHTEST, xtol=1e-9))
