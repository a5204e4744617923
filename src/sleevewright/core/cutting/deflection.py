"""How far a boring bar gives way at its edge by the force there, and how it swings.

A bar is a cantilever that is held stiffly at its root; the give of holder and spindle is added
where the cut is reckoned.  Deflections are radial.
"""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.checks import Number, positive
from sleevewright.core.formulas import formula


@formula(
    name="give of a straight bar",
    expression="C = 64 L^3 / (3 pi E d^4)",
    sources=("isakov-2019",),
    validity="round solid bar held stiffly, slender (L over d of 3 and more)",
    unit="m/N",
)
def bar_give(*, overhang: Number, bar: Number, bar_modulus: Number) -> Number:
    """Deflection at the edge by the force there.

    Parameters
    ----------
    overhang : Number
        Free length from the holder to the edge. [m], > 0
    bar : Number
        Diameter of the bar. [m], > 0
    bar_modulus : Number
        Young's modulus of the bar. [Pa], > 0

    Returns
    -------
    Number
        Deflection by force. [m/N]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    F L^3 / (3 E I) with I = pi d^4 / 64. Source: ``isakov-2019``.

    Examples
    --------
    >>> give = bar_give(overhang=0.1016, bar=0.0254, bar_modulus=2.06e11)
    >>> round(1e3 * 911.1 * give, 4)
    0.0757
    """
    return tapered_bar_give(
        overhang=overhang, end_diameter=bar, root_diameter=bar, bar_modulus=bar_modulus
    )


@formula(
    name="give of a tapered bar",
    expression="C = 64 L^3 / (3 pi E d_end d_root^3)",
    sources=("derived",),
    validity="round solid bar, diameter straight from end to root, slender",
    unit="m/N",
)
def tapered_bar_give(
    *, overhang: Number, end_diameter: Number, root_diameter: Number, bar_modulus: Number
) -> Number:
    """Deflection at the edge of a bar that grows thicker toward its holder.

    Parameters
    ----------
    overhang : Number
        Free length. [m], > 0
    end_diameter, root_diameter : Number
        Diameter at the edge and at the holder. [m], > 0
    bar_modulus : Number
        Young's modulus. [Pa], > 0

    Returns
    -------
    Number
        Deflection by force. [m/N]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    The integral of x^2 / (E I(x)) from the edge to the holder. Source: ``derived``.

    Examples
    --------
    >>> pair = {"end_diameter": 0.02, "root_diameter": 0.04}
    >>> round(1e9 * tapered_bar_give(overhang=0.1, bar_modulus=2e11, **pair), 3)
    26.526
    """
    for name, value in (
        ("overhang", overhang), ("diameter at the edge", end_diameter),
        ("diameter at the holder", root_diameter),
    ):  # fmt: skip
        positive(name, value, "m")
    positive("modulus of the bar", bar_modulus, "Pa")
    section = end_diameter * root_diameter**3
    return 64.0 * overhang**3 / (3.0 * math.pi * bar_modulus * section)


@formula(
    name="overhang by the bar's thickness",
    expression="L / d",
    sources=("practice",),
    validity="to 4 with steel, 6 with heavy metal, 6 to 8 with carbide; beyond it chatters",
    unit="1",
)
def overhang_ratio(*, overhang: Number, bar: Number) -> Number:
    """Free length of a bar by its diameter.

    Parameters
    ----------
    overhang, bar : Number
        Free length and diameter. [m], > 0

    Returns
    -------
    Number
        Ratio. [1]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> overhang_ratio(overhang=0.1016, bar=0.0254)
    4.0
    """
    positive("overhang", overhang, "m")
    positive("bar", bar, "m")
    return overhang / bar


@formula(
    name="lowest swing of a bar",
    expression="f = 1.8751^2 / (2 pi L^2) sqrt(E d^2 / (16 rho))",
    sources=("blevins-1979",),
    validity="straight round bar held stiffly, no head at its end; a real one swings slower",
    unit="Hz",
)
def bar_frequency(
    *, overhang: Number, bar: Number, bar_modulus: Number, bar_density: float
) -> Number:
    """Lowest natural frequency of a bar.

    Parameters
    ----------
    overhang, bar : Number
        Free length and diameter. [m], > 0
    bar_modulus : Number
        Young's modulus. [Pa], > 0
    bar_density : float
        Density. [kg/m^3], > 0

    Returns
    -------
    Number
        Swings by the second. [Hz]

    Raises
    ------
    InputError
        If a value is not positive and finite.

    Notes
    -----
    Source: ``blevins-1979``.

    Examples
    --------
    >>> bar = {"overhang": 0.1016, "bar": 0.0254, "bar_modulus": 2.06e11, "bar_density": 7850.0}
    >>> round(float(bar_frequency(**bar)), -1)
    1760.0
    """
    overhang_ratio(overhang=overhang, bar=bar)
    positive("modulus of the bar", bar_modulus, "Pa")
    positive("density", bar_density, "kg/m3")
    wave = np.sqrt(bar_modulus * bar**2 / (16.0 * bar_density))
    return 1.875104**2 / (2.0 * math.pi * overhang**2) * wave
