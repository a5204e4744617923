"""What is left of the fit when the parts are hot, and where nothing is left.

Interference is diametral: of the free parts, sleeve's outside minus casting's bore, each
at its own temperature.  Strains count from 20 degC.  Iron in iron has no temperature at
which a common heat frees it: then the answer is nan, which the layers above show as none.
"""

from __future__ import annotations

from typing import cast

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, extremes, finite, positive
from sleevewright.core.expansion import REFERENCE_TEMPERATURE, ExpansionLaw, thermal_strain
from sleevewright.core.formulas import formula
from sleevewright.errors import Caution, InputError

_LAWS = "each part at one temperature, within the range of its expansion law"


@formula(
    name="running interference",
    expression="i(T_c, T_s) = D (1 + eps_s(T_s)) - (D - i) (1 + eps_c(T_c))",
    sources=("iso-1", "derived"),
    validity=_LAWS,
    unit="m",
)
def running_interference(
    *,
    diameter: Number,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
    sleeve_temperature: Number,
) -> Number:
    """Diametral interference of the free parts at given temperatures.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Interference at 20 degC, negative for clearance. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    casting_temperature : Number
        Temperature of the casting. [K]
    sleeve_temperature : Number
        Temperature of the sleeve. [K]

    Returns
    -------
    Number
        Interference that is left; negative is the gap, which is the slip at a drop. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or a temperature is below absolute zero.

    Notes
    -----
    Each part grows by its own mean expansion. Source: ``derived``.

    Examples
    --------
    >>> law = ExpansionLaw(22.5e-6, 0.0), ExpansionLaw(11.0e-6, 0.0)
    >>> left = running_interference(diameter=62.0e-3, interference=110e-6, casting_law=law[0],
    ...     sleeve_law=law[1], casting_temperature=393.15, sleeve_temperature=393.15)
    >>> round(left * 1e6, 1)
    38.9
    """
    bore = positive("diameter", diameter, "m") - finite("interference", interference, "m")
    hot_sleeve = diameter * (1.0 + thermal_strain(sleeve_law, temperature=sleeve_temperature))
    hot_bore = bore * (1.0 + thermal_strain(casting_law, temperature=casting_temperature))
    return hot_sleeve - hot_bore


def _opening_rise(interference: Number, linear: Number, quadratic: Number) -> Number:
    """Least rise above zero at which interference = linear x + quadratic x^2, nan for none."""
    # the form of the root that survives a quadratic term of zero
    square = linear * linear + 4.0 * quadratic * interference
    if isinstance(square, np.ndarray):
        with np.errstate(invalid="ignore", divide="ignore"):
            below = linear + square**0.5
            rise = 2.0 * interference / below
            opens = (below > 0.0) & (np.asarray(interference) > 0.0)
        return cast("Number", np.where(opens, rise, np.nan))
    if square < 0.0 or not interference > 0.0:
        return float("nan")
    below = linear + square**0.5
    return 2.0 * interference / below if below > 0.0 else float("nan")


@formula(
    name="casting temperature at which the fit opens",
    expression="i(T, T + e) = 0, the least root above 20 degC, e the sleeve's excess",
    sources=("derived",),
    validity=_LAWS + "; nan where the fit does not open, or is open at 20 degC already",
    unit="K",
)
def opening_casting_temperature(
    *,
    diameter: Number,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    sleeve_excess: Number,
) -> Number:
    """Casting temperature at which nothing is left of the fit, the sleeve being hotter.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Interference at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    sleeve_excess : Number
        Temperature of the sleeve minus that of the casting. [K]

    Returns
    -------
    Number
        Temperature of the casting, nan where there is none. [K]

    Raises
    ------
    InputError
        If the diameter is not positive or a value is not finite.

    Notes
    -----
    With linear laws of the mean expansion the condition is a quadratic in the casting's
    rise, solved without approximation. Source: ``derived``.
    """
    positive("diameter", diameter, "m")
    bore = diameter - finite("interference", interference, "m")
    excess = finite("sleeve excess", sleeve_excess, "K")
    ahead = (sleeve_law.reference + sleeve_law.slope * excess) * excess
    per_kelvin = sleeve_law.reference + 2.0 * sleeve_law.slope * excess
    rise = _opening_rise(
        interference + diameter * ahead,
        bore * casting_law.reference - diameter * per_kelvin,
        bore * casting_law.slope - diameter * sleeve_law.slope,
    )
    return REFERENCE_TEMPERATURE + rise


@formula(
    name="grip temperature",
    expression="i(T, T) = 0, the least root above 20 degC",
    sources=("derived",),
    validity=_LAWS + "; nan where there is none, as for iron in iron",
    unit="K",
)
def grip_temperature(
    *,
    diameter: Number,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
) -> Number:
    """Temperature at which sleeve and casting, equally warm, just let go or are caught.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Interference at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]

    Returns
    -------
    Number
        Common temperature, nan where there is none. [K]

    Raises
    ------
    InputError
        If the diameter is not positive or the interference is not finite.

    Notes
    -----
    It depends on the interference per diameter alone. A cooling job is caught here, but
    all of the difference in length is still to come. Source: ``derived``.

    Examples
    --------
    >>> grip = grip_temperature(diameter=62.0e-3, interference=110e-6,
    ...     casting_law=ExpansionLaw(22.5e-6, 0.0), sleeve_law=ExpansionLaw(11.0e-6, 0.0))
    >>> round(grip - 273.15, 1)
    174.8
    """
    return opening_casting_temperature(
        diameter=diameter,
        interference=interference,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        sleeve_excess=0.0,
    )


def grip_caution(
    temperature: float, *, casting_law: ExpansionLaw, sleeve_law: ExpansionLaw
) -> Caution | None:
    """A caution where a grip temperature lies beyond what either law's sources cover.

    Parameters
    ----------
    temperature : float
        Grip or opening temperature. [K]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]

    Returns
    -------
    Caution or None
        The caution, or nothing within both ranges and where there is no temperature.
        [record]

    Notes
    -----
    Nearly equal metals give a root far beyond any real temperature. Source: ``derived``.
    """
    highest = min(casting_law.high, sleeve_law.high)
    if not temperature > highest:
        return None
    return Caution(
        code="grip-extrapolated",
        text=(
            "This temperature lies above what the expansion data cover "
            f"({highest - 273.15:.0f} degC); read it as: not within any heat the parts may see."
        ),
        source="derived",
    )


@formula(
    name="interference for a wanted rest",
    expression="i = D - (D (1 + eps_s) - rest)/(1 + eps_c) + roughness loss + doubt",
    sources=("derived",),
    validity=_LAWS,
    unit="m",
)
def interference_for_rest(
    *,
    rest: Number,
    diameter: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
    sleeve_temperature: Number,
    roughness_loss: Number = 0.0,
    doubt: Number = 0.0,
) -> Number:
    """Cold interference that leaves a wanted rest in the running engine.

    Parameters
    ----------
    rest : Number
        Interference wanted at the running temperatures. [m]
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    casting_temperature : Number
        Running temperature of the casting. [K]
    sleeve_temperature : Number
        Running temperature of the sleeve. [K]
    roughness_loss : Number
        What flattening takes off. [m]
    doubt : Number
        Allowance for what is not known of the fit. [m]

    Returns
    -------
    Number
        Interference to cut for, at 20 degC. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or a temperature is below absolute zero.

    Notes
    -----
    Inverse of :func:`running_interference`, plus the two allowances. Source: ``derived``.
    """
    positive("diameter", diameter, "m")
    hot_sleeve = diameter * (1.0 + thermal_strain(sleeve_law, temperature=sleeve_temperature))
    growth = 1.0 + thermal_strain(casting_law, temperature=casting_temperature)
    return diameter - (hot_sleeve - rest) / growth + roughness_loss + doubt


@formula(
    name="running interference map",
    expression="i(T_c, T_s) over a grid",
    sources=("derived",),
    validity=_LAWS,
    unit="m",
)
def running_map(
    *,
    diameter: float,
    interference: float,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperatures: NDArray[np.float64],
    sleeve_temperatures: NDArray[np.float64],
) -> NDArray[np.float64]:
    """Interference left over a grid of casting and sleeve temperatures.

    Parameters
    ----------
    diameter : float
        Outside diameter of the sleeve at 20 degC. [m]
    interference : float
        Interference at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    casting_temperatures : NDArray[np.float64]
        Temperatures of the casting, shape (n_casting,). [K]
    sleeve_temperatures : NDArray[np.float64]
        Temperatures of the sleeve, shape (n_sleeve,). [K]

    Returns
    -------
    NDArray[np.float64]
        Interference, shape (n_casting, n_sleeve). [m]

    Raises
    ------
    InputError
        If a list of temperatures is not one-dimensional, or as for
        :func:`running_interference`.

    Notes
    -----
    Source: ``derived``.
    """
    castings = np.asarray(casting_temperatures, dtype=np.float64)
    sleeves = np.asarray(sleeve_temperatures, dtype=np.float64)
    for field, values in (("casting temperatures", castings), ("sleeve temperatures", sleeves)):
        if values.ndim != 1 or not values.size:
            raise InputError(field, extremes(values.size)[0], "values", "a plain list of values")
    grid = running_interference(
        diameter=diameter,
        interference=interference,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        casting_temperature=castings[:, np.newaxis],
        sleeve_temperature=sleeves[np.newaxis, :],
    )
    return np.asarray(grid, dtype=np.float64)
