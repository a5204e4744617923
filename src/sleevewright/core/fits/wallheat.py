"""What a wall that is hotter inside does to itself: thermal stress of a hollow cylinder."""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, positive, within
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

_SOURCES = ("timoshenko-goodier-1970", "from-memory")
_VALIDITY = "long hollow cylinder with free ends, steady, elastic, constants of the metal constant"


def _wall(
    inside_diameter: Number, outside_diameter: Number, modulus: Number, poisson: Number
) -> None:
    """Refuse walls that cannot exist."""
    positive("inside diameter", inside_diameter, "m")
    if not extremes(outside_diameter - inside_diameter)[0] > 0.0:
        raise InputError("outside diameter", outside_diameter, "m", "more than the inside diameter")
    positive("modulus", modulus, "Pa")
    within("Poisson's ratio", poisson, "1", 0.0, 0.49)


@formula(
    name="hoop stress inside a wall that is hotter inside",
    expression="sigma = E alpha dT/(2 (1 - nu) ln(b/a)) (1 - 2 b^2/(b^2 - a^2) ln(b/a))",
    sources=_SOURCES,
    validity=_VALIDITY,
    unit="Pa",
)
def hot_wall_hoop_inside(
    *,
    inside_diameter: Number,
    outside_diameter: Number,
    temperature_difference: Number,
    modulus: Number,
    poisson: Number,
    expansion: Number,
) -> Number:
    """Hoop stress at the inner surface of a wall through which heat flows outwards.

    Parameters
    ----------
    inside_diameter : Number
        Inside diameter of the wall. [m]
    outside_diameter : Number
        Outside diameter of the wall. [m]
    temperature_difference : Number
        How much hotter the inner surface is than the outer. [K]
    modulus : Number
        Young's modulus. [Pa]
    poisson : Number
        Poisson's ratio. [1]
    expansion : Number
        Mean expansion of the metal. [1/K]

    Returns
    -------
    Number
        Hoop stress, negative (squeezed) where the inside is hotter. [Pa]

    Raises
    ------
    InputError
        If a length or the modulus is not positive, or the wall is none.

    Notes
    -----
    The temperature falls with the logarithm of the radius. Source: ``timoshenko-goodier-1970``,
    long circular cylinder, ``from-memory``.

    Examples
    --------
    >>> hoop = hot_wall_hoop_inside(inside_diameter=0.06, outside_diameter=0.12,
    ...     temperature_difference=100.0, modulus=72e9, poisson=0.33, expansion=22e-6)
    >>> round(hoop / 1e6, 2)
    -144.68
    """
    _wall(inside_diameter, outside_diameter, modulus, poisson)
    finite("temperature difference", temperature_difference, "K")
    log = np.log(outside_diameter / inside_diameter)
    inner, outer = inside_diameter**2, outside_diameter**2
    scale = modulus * expansion * temperature_difference / (2.0 * (1.0 - poisson) * log)
    found = scale * (1.0 - 2.0 * outer / (outer - inner) * log)
    return cast("Number", found if isinstance(found, np.ndarray) else float(found))


@formula(
    name="hoop stress outside a wall that is hotter inside",
    expression="sigma = E alpha dT/(2 (1 - nu) ln(b/a)) (1 - 2 a^2/(b^2 - a^2) ln(b/a))",
    sources=_SOURCES,
    validity=_VALIDITY,
    unit="Pa",
)
def hot_wall_hoop_outside(
    *,
    inside_diameter: Number,
    outside_diameter: Number,
    temperature_difference: Number,
    modulus: Number,
    poisson: Number,
    expansion: Number,
) -> Number:
    """Hoop stress at the outer surface of a wall through which heat flows outwards.

    Parameters
    ----------
    inside_diameter : Number
        Inside diameter of the wall. [m]
    outside_diameter : Number
        Outside diameter of the wall. [m]
    temperature_difference : Number
        How much hotter the inner surface is than the outer. [K]
    modulus : Number
        Young's modulus. [Pa]
    poisson : Number
        Poisson's ratio. [1]
    expansion : Number
        Mean expansion of the metal. [1/K]

    Returns
    -------
    Number
        Hoop stress, positive (pulled) where the inside is hotter. [Pa]

    Raises
    ------
    InputError
        As for :func:`hot_wall_hoop_inside`.

    Notes
    -----
    A thin wall has E alpha dT/(2 (1 - nu)) at either surface, with opposite signs. Source:
    ``timoshenko-goodier-1970``, long circular cylinder, ``from-memory``.
    """
    _wall(inside_diameter, outside_diameter, modulus, poisson)
    finite("temperature difference", temperature_difference, "K")
    log = np.log(outside_diameter / inside_diameter)
    inner, outer = inside_diameter**2, outside_diameter**2
    scale = modulus * expansion * temperature_difference / (2.0 * (1.0 - poisson) * log)
    found = scale * (1.0 - 2.0 * inner / (outer - inner) * log)
    return cast("Number", found if isinstance(found, np.ndarray) else float(found))
