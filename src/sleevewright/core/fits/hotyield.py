"""Hot castings are soft: yield strength at a temperature, and how near a fit comes to it.

Only metals whose table gives strengths at several temperatures can be asked.  The figures
are those after a long time at the temperature, with a wide range.
"""

from __future__ import annotations

import numpy as np

from sleevewright.core.checks import Number, positive
from sleevewright.core.fits.limits import casting_yield_pressure
from sleevewright.core.fits.rings import RingPair, contact_pressure
from sleevewright.core.formulas import formula
from sleevewright.core.metals import Material
from sleevewright.errors import InputError


@formula(
    name="yield strength at a temperature",
    expression="straight line between the rows of the table, held at its ends",
    sources=("kaufman-1999", "from-memory", "derived"),
    validity="between the first and the last temperature of the metal's table; long at heat",
    unit="Pa",
)
def yield_at(metal: Material, *, temperature: Number) -> Number:
    """Yield strength of a metal after a long time at a temperature.

    Parameters
    ----------
    metal : Material
        The metal. [record]
    temperature : Number
        Temperature of the part. [K]

    Returns
    -------
    Number
        Yield strength. [Pa]

    Raises
    ------
    InputError
        If the table knows the metal at one temperature only, or a temperature is not positive.

    Notes
    -----
    The figures hold after thousands of hours at the temperature, so that a short time leaves
    more. Source: ``kaufman-1999``, ``from-memory``.

    Examples
    --------
    >>> from sleevewright.core.materials import material
    >>> f"{yield_at(material('aluminium-356'), temperature=450.65):.3e}"
    '1.050e+08'
    """
    positive("temperature", temperature, "K")
    if len(metal.yield_table) < 2:
        raise InputError("metal", metal.title, "", "one with yield strengths at several heats")
    temperatures, strengths = zip(*metal.yield_table, strict=True)
    found = np.interp(temperature, temperatures, strengths)
    return found if isinstance(temperature, np.ndarray) else float(found)


@formula(
    name="range of the yield strength at a temperature",
    expression="straight lines between the least and between the greatest of the table",
    sources=("kaufman-1999", "from-memory", "derived"),
    validity="as for the yield strength at a temperature",
    unit="Pa",
)
def yield_band_at(metal: Material, *, temperature: float) -> tuple[float, float]:
    """Least and greatest yield strength that the table gives for a temperature.

    Parameters
    ----------
    metal : Material
        The metal. [record]
    temperature : float
        Temperature of the part. [K]

    Returns
    -------
    tuple[float, float]
        Least and greatest. [Pa]

    Raises
    ------
    InputError
        As for :func:`yield_at`.

    Notes
    -----
    Source: ``kaufman-1999``, ``from-memory``.
    """
    yield_at(metal, temperature=temperature)
    cells = sorted(metal.cells_of("yield_strength"), key=lambda cell: cell.temperature or 0.0)
    temperatures = [cell.temperature or 0.0 for cell in cells]
    low = np.interp(temperature, temperatures, [cell.low for cell in cells])
    high = np.interp(temperature, temperatures, [cell.high for cell in cells])
    return float(low), float(high)


@formula(
    name="share of first yield",
    expression="s = p/p_yield at the strength of the casting",
    sources=("timoshenko-1956", "din-7190-1", "from-memory"),
    validity="ductile casting, elastic, plane stress; with cold stiffness a little too high",
    unit="1",
)
def yield_share(pair: RingPair, *, interference: Number, yield_strength: Number) -> Number:
    """Pressure in the fit as a share of that at which the casting first yields.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    interference : Number
        Interference that is left, diametral. [m]
    yield_strength : Number
        Yield strength of the casting as hot as it is. [Pa]

    Returns
    -------
    Number
        Share, zero where the fit is loose. [1]

    Raises
    ------
    InputError
        If the interference is not finite or the strength is not positive.

    Notes
    -----
    Both moduli fall with heat, so that cold ones give too much pressure. Source:
    ``timoshenko-1956``, ``din-7190-1``.
    """
    pressure = contact_pressure(pair, interference=interference)
    return pressure / casting_yield_pressure(pair, yield_strength=yield_strength)
