"""Inlets that the piston's skirt opens about top dead centre."""

from __future__ import annotations

import math

from sleevewright.core.checks import Number, within
from sleevewright.core.formulas import formula


@formula(
    name="time that an inlet is open",
    expression="t = t_opens + t_closes",
    sources=("derived",),
    validity="opened before and closed after top dead centre by one edge of the skirt",
    unit="rad",
)
def inlet_lasts(*, opens: Number, closes: Number) -> Number:
    """Crank angle for which the skirt leaves an inlet open.

    Parameters
    ----------
    opens : Number
        Crank angle before top dead centre at which it opens. [rad]
    closes : Number
        Crank angle after top dead centre at which it closes. [rad]

    Returns
    -------
    Number
        Duration. [rad]

    Raises
    ------
    InputError
        If an angle is not between 0 and pi.

    Notes
    -----
    The skirt's edge passes the floor when the crown stands at the floor's depth less the length
    of the skirt. Source: ``derived``.
    """
    within("opens", opens, "rad", 0.0, math.pi)
    within("closes", closes, "rad", 0.0, math.pi)
    return opens + closes
