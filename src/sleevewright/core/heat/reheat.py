"""What frees a sleeve that has gone wrong: the whole reheated, the sleeve cold, a straight pull.

Sizes count at 20 degC.  A common heat frees only a pair whose casting grows more; where it
never does, the answer is nan, which the layers above show as none.
"""

from __future__ import annotations

import numpy as np

from sleevewright.core.checks import Number, finite, positive, within
from sleevewright.core.expansion import ExpansionLaw, temperature_for_strain, thermal_strain
from sleevewright.core.formulas import formula

HOTTEST = 773.15
"""Above it no law here says anything, and aluminium is near its melting. [K]"""

_LAWS = "free parts, each at one temperature, within the range of its expansion law"


@formula(
    name="temperature of the whole for a slip",
    expression="(D - i)(1 + eps_c(T)) = D (1 + eps_s(T)) + c",
    sources=("derived",),
    validity=_LAWS + "; nan where no heat does it, as for iron in iron",
    unit="K",
)
def reheat_temperature(
    *,
    diameter: Number,
    interference: Number,
    slip: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
) -> Number:
    """Temperature at which sleeve and casting, equally warm, have a wanted slip.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Interference at 20 degC, diametral. [m]
    slip : Number
        Clearance that is wanted, diametral. [m]
    casting_law, sleeve_law : ExpansionLaw
        Expansion of both. [1/K]

    Returns
    -------
    Number
        Common temperature, nan where there is none. [K]

    Raises
    ------
    InputError
        If a size is not positive or not finite.

    Notes
    -----
    The difference of both growths is a law of its own, solved as one. At no slip it is
    the grip temperature. Source: ``derived``.

    Examples
    --------
    >>> hot = reheat_temperature(diameter=62.0e-3, interference=110e-6, slip=25e-6,
    ...     casting_law=ExpansionLaw(22.5e-6, 0.0), sleeve_law=ExpansionLaw(11.0e-6, 0.0))
    >>> round(hot - 273.15, 1)
    209.9
    """
    positive("diameter", diameter, "m")
    bore = positive("bore", diameter - finite("interference", interference, "m"), "m")
    apart = ExpansionLaw(
        bore * casting_law.reference - diameter * sleeve_law.reference,
        bore * casting_law.slope - diameter * sleeve_law.slope,
    )
    strain = interference + finite("slip", slip, "m")
    found = np.asarray(temperature_for_strain(apart, strain=strain))
    # A pair that grows alike has a root only far outside every law: that is no temperature.
    is_real = (np.asarray(apart.reference) > 0.0) & (found < HOTTEST)
    found = np.where(is_real, found, np.nan)
    return float(found) if found.ndim == 0 else found


@formula(
    name="sleeve cold enough to be free",
    expression="D (1 + eps_s(T_s)) + c = (D - i)(1 + eps_c(T_c))",
    sources=("derived",),
    validity=_LAWS + "; a closed fit does not let a sleeve become so cold",
    unit="K",
)
def freeing_sleeve_temperature(
    *,
    diameter: Number,
    interference: Number,
    slip: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
) -> Number:
    """Temperature of the sleeve at which it has a slip in a casting of another temperature.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Interference at 20 degC, diametral. [m]
    slip : Number
        Clearance that is wanted, diametral. [m]
    casting_law, sleeve_law : ExpansionLaw
        Expansion of both. [1/K]
    casting_temperature : Number
        Temperature of the casting. [K]

    Returns
    -------
    Number
        Temperature of the whole sleeve. [K]

    Raises
    ------
    InputError
        If a size is not positive or a temperature is below absolute zero.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> cold = freeing_sleeve_temperature(diameter=62.0e-3, interference=55e-6, slip=0.0,
    ...     casting_law=ExpansionLaw(11.0e-6, 0.0), sleeve_law=ExpansionLaw(11.0e-6, 0.0),
    ...     casting_temperature=293.15)
    >>> round(cold - 273.15, 1)
    -60.6
    """
    positive("diameter", diameter, "m")
    bore = positive("bore", diameter - finite("interference", interference, "m"), "m")
    hot = bore * (1.0 + thermal_strain(casting_law, temperature=casting_temperature))
    strain = (hot - finite("slip", slip, "m")) / diameter - 1.0
    return temperature_for_strain(sleeve_law, strain=strain)


@formula(
    name="depth up to which a sleeve can wedge",
    expression="l = mu D",
    sources=("whitney-1982",),
    validity="a stiff round peg in a stiff round hole; below it side load jams, and cannot wedge",
    unit="m",
)
def wedging_depth(*, friction: Number, diameter: Number) -> Number:
    """How deep a sleeve is in before two-point contact can no longer hold it for good.

    Parameters
    ----------
    friction : Number
        Coefficient of friction. [1]
    diameter : Number
        Outside diameter of the sleeve. [m]

    Returns
    -------
    Number
        Depth from the mouth of the bore. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or the friction is not between 0 and 1.

    Notes
    -----
    Source: ``whitney-1982``.

    Examples
    --------
    >>> round(wedging_depth(friction=0.5, diameter=62.0e-3) * 1e3, 1)
    31.0
    """
    return within("friction", friction, "1", 0.0, 1.0) * positive("diameter", diameter, "m")
