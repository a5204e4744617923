"""Where a casting in the oven is hotter or colder than its bore: fins ahead, the bore behind.

What the gauge sees is the bore.  What the part's limit is for is the hottest thin spot.
"""

from __future__ import annotations

import numpy as np

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


@formula(
    name="how far a fin runs ahead",
    expression="share = 1 - 1 / cosh(m L), m = (2 h / (k w))^(1/2)",
    sources=("incropera-2007",),
    validity="straight fin of even thickness, tip insulated, fin at rest against its root",
    unit="1",
)
def fin_lead(
    *, coefficient: Number, conductivity: Number, thickness: Number, length: Number
) -> Number:
    """Share of the difference between oven and root by which a fin's tip is hotter.

    Parameters
    ----------
    coefficient : Number
        Heat transfer on either face. [W/(m^2 K)]
    conductivity : Number
        Conductivity of the metal. [W/(m K)]
    thickness : Number
        Thickness of the fin. [m]
    length : Number
        Height of the fin from its root. [m]

    Returns
    -------
    Number
        Share, 0 to 1. [1]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    A thin web that hangs at one end does the same. Source: ``incropera-2007`` table 3.4, case B.

    Examples
    --------
    >>> lead = fin_lead(coefficient=20.0, conductivity=150.0, thickness=3e-3, length=30e-3)
    >>> round(float(lead), 3)
    0.039
    """
    positive("coefficient", coefficient, "W/(m2 K)")
    positive("conductivity", conductivity, "W/(m K)")
    positive("thickness", thickness, "m")
    slope = (2.0 * coefficient / (conductivity * thickness)) ** 0.5
    return 1.0 - 1.0 / np.cosh(slope * positive("length", length, "m"))


@formula(
    name="how far the bore lags",
    expression="dT = (dT/dt) / (2 a) ((R^2 - b^2) / 2 - b^2 ln(R / b))",
    sources=("derived",),
    validity="plain ring heated outside at a steady rate, bore insulated",
    unit="K",
)
def bore_lag(
    *, rate: float, diffusivity: float, inside_radius: float, outside_radius: float
) -> float:
    """How much colder the bore is than the outside of a ring that warms steadily.

    Parameters
    ----------
    rate : float
        Rise of temperature. [K/s]
    diffusivity : float
        Thermal diffusivity of the metal. [m^2/s]
    inside_radius : float
        Radius of the bore. [m]
    outside_radius : float
        Radius of the ring's outside. [m]

    Returns
    -------
    float
        Outside less bore. [K]

    Raises
    ------
    InputError
        If the rate is negative, a radius or the diffusivity is not positive, or the ring
        has no wall.

    Notes
    -----
    Conduction with the same rise everywhere. Source: ``derived``.

    Examples
    --------
    >>> lag = bore_lag(rate=0.25, diffusivity=6.2e-5, inside_radius=31.5e-3,
    ...     outside_radius=52e-3)
    >>> round(lag, 2)
    0.72
    """
    not_negative("rate", rate, "K/s")
    positive("diffusivity", diffusivity, "m2/s")
    inner = positive("inside radius", inside_radius, "m")
    if not outside_radius > inner:
        raise InputError("outside radius", outside_radius, "m", "more than the inside radius")
    square = 0.5 * (outside_radius**2 - inner**2)
    share = square - inner**2 * float(np.log(outside_radius / inner))
    return rate / (2.0 * diffusivity) * share


@formula(
    name="fin hotter than the bore",
    expression="dT = share (T_a - T)",
    sources=("incropera-2007",),
    validity="as the share of a fin at rest against its root",
    unit="K",
)
def fin_ahead(*, difference: Number, share: Number) -> Number:
    """How much hotter the tip of a fin is than its root.

    Parameters
    ----------
    difference : Number
        Oven's air less the root. [K]
    share : Number
        Share by which the fin runs ahead, see :func:`fin_lead`. [1]

    Returns
    -------
    Number
        Tip less root, zero where the oven is no hotter. [K]

    Raises
    ------
    InputError
        If the share is negative.

    Notes
    -----
    Source: ``incropera-2007`` table 3.4.

    Examples
    --------
    >>> round(float(fin_ahead(difference=191.0, share=0.039)), 1)
    7.4
    """
    return np.maximum(difference, 0.0) * not_negative("share", share, "1")
