"""When a part may be treated as one lump, and what a thick part does instead.

Exact series for a long cylinder and for a wall that is insulated on one side, both heated
or cooled from outside with a constant coefficient.  Answers are shares of the first
temperature difference that are left: 1 at the start, 0 at the end.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, not_negative, positive, within
from sleevewright.core.formulas import formula

LUMP_LIMIT = 0.1
"""Biot number below which one temperature stands for the part. [1]"""


@formula(
    name="Biot number",
    expression="Bi = h L / k",
    sources=("incropera-2007",),
    validity="L the length that the shape asks for: radius, wall, or volume over surface",
    unit="1",
)
def biot_number(*, coefficient: Number, length: Number, conductivity: Number) -> Number:
    """Resistance inside a part against that at its surface.

    Parameters
    ----------
    coefficient : Number
        Heat transfer at the surface. [W/(m^2 K)]
    length : Number
        Length that belongs to the shape. [m]
    conductivity : Number
        Conductivity of the part. [W/(m K)]

    Returns
    -------
    Number
        Biot number; below 0.1 one temperature stands for the part. [1]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.9.

    Examples
    --------
    >>> round(biot_number(coefficient=500.0, length=0.04, conductivity=63.9), 3)
    0.313
    """
    positive("coefficient", coefficient, "W/(m2 K)")
    positive("length", length, "m")
    return coefficient * length / positive("conductivity", conductivity, "W/(m K)")


def _roots(biot: float, terms: int, *, round_shape: bool) -> NDArray[np.float64]:
    """First eigenvalues: z J1(z) = Bi J0(z) of a cylinder, z tan z = Bi of a wall."""
    from scipy.optimize import brentq
    from scipy.special import j0, j1, jn_zeros

    positive("Biot number", biot, "")
    if round_shape:
        # each root lies between a zero of J1 and the next zero of J0
        lows, highs = np.concatenate([[0.0], jn_zeros(1, terms)[:-1]]), jn_zeros(0, terms)

        def balance(z: float) -> float:
            return float(z * j1(z) - biot * j0(z))
    else:
        lows = math.pi * np.arange(terms)
        highs = lows + 0.5 * math.pi

        def balance(z: float) -> float:
            return z * math.sin(z) - biot * math.cos(z)

    pairs = zip(lows, highs, strict=True)
    return np.array([brentq(balance, low, high, xtol=1e-14) for low, high in pairs])


@formula(
    name="transient cylinder",
    expression="theta = sum C J0(z r/R) exp(-z^2 Fo), C = 2 J1/(z (J0^2 + J1^2)), z J1 = Bi J0",
    sources=("incropera-2007", "cengel-2002"),
    validity="long cylinder, constant coefficient; all terms, so from Fo about 0.01",
    unit="1",
)
def transient_cylinder(
    *, fourier: float, biot: float, position: float = 0.0, terms: int = 30
) -> float:
    """Share of the first difference that is left in a long solid cylinder.

    Parameters
    ----------
    fourier : float
        Diffusivity times time over the radius squared. [1]
    biot : float
        Biot number on the radius. [1]
    position : float
        Distance from the axis over the radius. [1]
    terms : int
        Terms of the series. [1]

    Returns
    -------
    float
        Temperature above the surroundings over its first value. [1]

    Raises
    ------
    InputError
        If the Biot number is not positive, the Fourier number negative or the position
        not between 0 and 1.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.47, ``cengel-2002`` section 4-2.

    Examples
    --------
    >>> round(transient_cylinder(fourier=1.0665, biot=0.53691), 3)
    0.411
    """
    from scipy.special import j0, j1

    not_negative("Fourier number", fourier, "")
    within("position", position, "", 0.0, 1.0)
    z = _roots(biot, terms, round_shape=True)
    weight = 2.0 * j1(z) / (z * (j0(z) ** 2 + j1(z) ** 2))
    return float(np.sum(weight * j0(z * position) * np.exp(-z * z * fourier)))


@formula(
    name="transient wall",
    expression="theta = sum C cos(z x/L) exp(-z^2 Fo), C = 4 sin z/(2 z + sin 2z), z tan z = Bi",
    sources=("incropera-2007",),
    validity="plane wall insulated on one side, constant coefficient; from Fo about 0.01",
    unit="1",
)
def transient_wall(*, fourier: float, biot: float, position: float = 0.0, terms: int = 30) -> float:
    """Share of the first difference that is left in a wall, insulated on one side.

    Parameters
    ----------
    fourier : float
        Diffusivity times time over the thickness squared. [1]
    biot : float
        Biot number on the thickness. [1]
    position : float
        Distance from the insulated face over the thickness. [1]
    terms : int
        Terms of the series. [1]

    Returns
    -------
    float
        Temperature above the surroundings over its first value. [1]

    Raises
    ------
    InputError
        If the Biot number is not positive, the Fourier number negative or the position
        not between 0 and 1.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.39.

    Examples
    --------
    >>> round(transient_wall(fourier=5.64, biot=0.313), 3)
    0.212
    """
    not_negative("Fourier number", fourier, "")
    within("position", position, "", 0.0, 1.0)
    z = _roots(biot, terms, round_shape=False)
    weight = 4.0 * np.sin(z) / (2.0 * z + np.sin(2.0 * z))
    return float(np.sum(weight * np.cos(z * position) * np.exp(-z * z * fourier)))
