"""How much a free part grows: mean expansion from 20 degC, and the temperatures it asks for.

Strains are relative to the reference temperature of ISO 1, 293.15 K.  The mean
coefficient of a metal rises with temperature; a law is a straight line through published
means.  Mean and instantaneous coefficients are different things: everything here is mean.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import Number, positive
from sleevewright.core.formulas import formula

REFERENCE_TEMPERATURE = 293.15
"""Temperature at which sizes are stated, ISO 1. [K]"""


@dataclass(frozen=True)
class ExpansionLaw:
    """Mean coefficient from 293.15 K to T: ``reference + slope * (T - 293.15)``.

    Parameters
    ----------
    reference : Number
        Mean coefficient as the temperature nears 293.15 K. [1/K]
    slope : Number
        Change of the mean coefficient with temperature. [1/K^2]
    low : float
        Lowest temperature that the sources cover. [K]
    high : float
        Highest temperature that the sources cover. [K]
    """

    reference: Number
    slope: Number
    low: float = 273.15
    high: float = 573.15

    def covers(self, temperature: float) -> bool:
        """Whether the sources of this law say something at ``temperature``."""
        return self.low <= temperature <= self.high


@formula(
    name="free thermal strain",
    expression="strain = (reference + slope (T - 293.15)) (T - 293.15)",
    sources=("iso-1", "derived"),
    validity="free part at one temperature, within the range of the law",
    unit="1",
)
def thermal_strain(law: ExpansionLaw, *, temperature: Number) -> Number:
    """Strain of a free part against its size at 20 degC.

    Parameters
    ----------
    law : ExpansionLaw
        Mean expansion of the metal. [1/K]
    temperature : Number
        Temperature of the part. [K]

    Returns
    -------
    Number
        Relative growth, negative when colder than 20 degC. [1]

    Raises
    ------
    InputError
        If a temperature is at or below absolute zero.

    Notes
    -----
    Definition of the mean coefficient. Source: ``iso-1`` for the reference, ``derived``.
    """
    rise = positive("temperature", temperature, "K") - REFERENCE_TEMPERATURE
    return (law.reference + law.slope * rise) * rise


@formula(
    name="temperature that gives a strain",
    expression="T = 293.15 + 2 strain / (a + (a^2 + 4 b strain)^(1/2)), a reference, b slope",
    sources=("derived",),
    validity="strain that the law can reach; extrapolates as the law does",
    unit="K",
)
def temperature_for_strain(law: ExpansionLaw, *, strain: Number) -> Number:
    """Temperature at which a free part has a given strain.

    Parameters
    ----------
    law : ExpansionLaw
        Mean expansion of the metal. [1/K]
    strain : Number
        Wanted relative growth against 20 degC. [1]

    Returns
    -------
    Number
        Temperature of the part; not a number where the law never gives that strain. [K]

    Notes
    -----
    Inverse of :func:`thermal_strain`; the form of the quadratic's root that survives a
    slope of zero. Source: ``derived``.
    """
    square = law.reference * law.reference + 4.0 * law.slope * strain
    if isinstance(square, np.ndarray):
        square = np.where(square < 0.0, np.nan, square)
    elif isinstance(square, float) and square < 0.0:
        square = math.nan  # Python would make a complex number of its root
    root = square**0.5
    return REFERENCE_TEMPERATURE + 2.0 * strain / (law.reference + root)


@formula(
    name="expansion law of this very part",
    expression="law of the alloy, both coefficients times scale",
    sources=("derived",),
    validity="alloys whose means differ by a common factor",
    unit="1/K",
)
def scaled_law(
    *, reference: float, slope: float, scale: Number, low: float, high: float
) -> ExpansionLaw:
    """Law of an alloy, scaled by one factor that stands for what is not known of it.

    Parameters
    ----------
    reference : float
        Mean coefficient of the alloy as the temperature nears 293.15 K. [1/K]
    slope : float
        Change of the mean coefficient with temperature. [1/K^2]
    scale : Number
        Factor on both, 1 for the tabulated alloy. [1]
    low : float
        Lowest temperature that the sources cover. [K]
    high : float
        Highest temperature that the sources cover. [K]

    Returns
    -------
    ExpansionLaw
        Law of this part. [1/K]

    Raises
    ------
    InputError
        If ``scale`` is not positive.

    Notes
    -----
    One factor serves every use of the part, so that its doubt is common to all of them.
    Source: ``derived``.
    """
    positive("expansion scale", scale, "")
    return ExpansionLaw(reference * scale, slope * scale, low, high)


@formula(
    name="growth of this very part near 20 degC",
    expression="a = reference scale",
    sources=("derived",),
    validity="within about 50 K of 20 degC",
    unit="1/K",
)
def scaled_expansion(*, reference: Number, scale: Number) -> Number:
    """Mean coefficient near 20 degC of a part, with what is not known of its alloy.

    Parameters
    ----------
    reference : Number
        Mean coefficient of the alloy as the temperature nears 293.15 K. [1/K]
    scale : Number
        Factor that stands for what is not known of this part, 1 for the tabulated alloy. [1]

    Returns
    -------
    Number
        Mean coefficient. [1/K]

    Raises
    ------
    InputError
        If ``scale`` is not positive.

    Notes
    -----
    The same factor as in the law of the part, so that cold and hot share it.
    Source: ``derived``.
    """
    return reference * positive("expansion scale", scale, "")


@formula(
    name="mean expansion coefficient",
    expression="mean = reference + slope (T - 293.15)",
    sources=("derived",),
    validity="within the range of the law",
    unit="1/K",
)
def mean_expansion(law: ExpansionLaw, *, temperature: Number) -> Number:
    """Mean coefficient of expansion between 20 degC and a temperature.

    Parameters
    ----------
    law : ExpansionLaw
        Mean expansion of the metal. [1/K]
    temperature : Number
        Upper temperature of the mean. [K]

    Returns
    -------
    Number
        Mean coefficient. [1/K]

    Raises
    ------
    InputError
        If a temperature is at or below absolute zero.

    Notes
    -----
    Definition of :class:`ExpansionLaw`. Source: ``derived``.
    """
    rise = positive("temperature", temperature, "K") - REFERENCE_TEMPERATURE
    return law.reference + law.slope * rise
