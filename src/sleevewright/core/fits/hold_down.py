"""What keeps a flange down while the casting cools: friction against it, studs that pull.

Threads are of the basic profile of ISO 68-1, which the unified threads share.
"""

from __future__ import annotations

import math
from typing import cast

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.formulas import formula

METRIC_DEPTH, UNIFIED_DEPTH = 0.938194, 0.9743
"""What the stress diameter is less than the nominal one, in pitches: as ISO and ASME have it."""

SHEAR_SHARE = 0.875
"""Share of the cylinder of the nominal diameter that shears in the nut thread, basic profile."""


@formula(
    name="stress area of a thread",
    expression="A_t = pi / 4 (d - k P)^2",
    sources=("iso-898-1", "asme-b1-1"),
    validity="thread of the 60 degree profile of ISO 68-1, metric or unified",
    unit="m^2",
)
def stress_area(*, diameter: Number, pitch: Number, depth: Number = METRIC_DEPTH) -> Number:
    """Area of a threaded stud that carries its pull.

    Parameters
    ----------
    diameter : Number
        Nominal diameter of the thread. [m]
    pitch : Number
        Pitch. [m]
    depth : Number
        Share of the pitch: 0.938194 of metric threads, 0.9743 of unified ones. [1]

    Returns
    -------
    Number
        Stress area. [m^2]

    Raises
    ------
    InputError
        If a length is not positive.

    Notes
    -----
    Source: ``iso-898-1`` for metric threads, ``asme-b1-1`` for unified ones.

    Examples
    --------
    >>> round(stress_area(diameter=8e-3, pitch=1.25e-3) * 1e6, 1)
    36.6
    """
    positive("pitch", pitch, "m")
    core = positive("stress diameter", diameter - depth * pitch, "m")
    return math.pi / 4.0 * core**2


@formula(
    name="pull of a stud by its torque",
    expression="F = T / (K d)",
    sources=("practice", "budynas-2011"),
    validity="K 0.15 to 0.25: oiled to dry; within a quarter at best",
    unit="N",
)
def stud_pull(*, torque: Number, nut_factor: Number, diameter: Number) -> Number:
    """Pull of one stud that its nut was tightened to.

    Parameters
    ----------
    torque : Number
        On the nut. [N m]
    nut_factor : Number
        Torque over pull and diameter. [1]
    diameter : Number
        Nominal diameter of the thread. [m]

    Returns
    -------
    Number
        Pull. [N]

    Raises
    ------
    InputError
        If the torque is negative, or factor or diameter is not positive.

    Notes
    -----
    Source: ``practice`` for the factor, ``budynas-2011`` for the relation.

    Examples
    --------
    >>> round(stud_pull(torque=11.2, nut_factor=0.2, diameter=8e-3))
    7000
    """
    not_negative("torque", torque, "N m")
    return torque / (positive("nut factor", nut_factor, "") * positive("diameter", diameter, "m"))


@formula(
    name="pull that strips a tapped hole",
    expression="F = tau 0.875 pi d L_e",
    sources=("iso-68-1", "budynas-2011"),
    validity="basic profile, nut thread weaker than the stud, load even along the engagement",
    unit="N",
)
def stripping_pull(*, diameter: Number, engagement: Number, shear_strength: Number) -> Number:
    """Pull at which the thread of a tapped hole shears off.

    Parameters
    ----------
    diameter : Number
        Nominal diameter of the thread. [m]
    engagement : Number
        Length of thread that is engaged. [m]
    shear_strength : Number
        Of the metal that is tapped. [Pa]

    Returns
    -------
    Number
        Pull. [N]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    In each pitch the basic profile shears over P/2 + (d - d_2) tan 30 deg = 7/8 P at the
    nominal diameter. Source: ``iso-68-1``; ``budynas-2011``.

    Examples
    --------
    >>> pull = stripping_pull(diameter=8e-3, engagement=12e-3, shear_strength=110e6)
    >>> round(pull / 1e3, 1)
    29.0
    """
    positive("engagement", engagement, "m")
    positive("shear strength", shear_strength, "Pa")
    return shear_strength * SHEAR_SHARE * math.pi * positive("diameter", diameter, "m") * engagement


@formula(
    name="stretch of a stud",
    expression="s = F L / (A_t E)",
    sources=("timoshenko-1956", "derived"),
    validity="elastic, stud threaded over its free length",
    unit="m",
)
def stud_stretch(*, pull: Number, free_length: Number, area: Number, modulus: Number) -> Number:
    """How much longer a stud is under its pull.

    Parameters
    ----------
    pull : Number
        Pull of the stud. [N]
    free_length : Number
        Length between nut and hole. [m]
    area : Number
        Area that carries. [m^2]
    modulus : Number
        Of its steel. [Pa]

    Returns
    -------
    Number
        Stretch. [m]

    Raises
    ------
    InputError
        If the pull is negative or another input is not positive.

    Notes
    -----
    Source: ``timoshenko-1956``, ``derived``.

    Examples
    --------
    >>> stretch = stud_stretch(pull=7e3, free_length=0.11, area=36.6e-6, modulus=206e9)
    >>> round(stretch * 1e3, 2)
    0.1
    """
    positive("free length", free_length, "m")
    give = positive("area", area, "m2") * positive("modulus", modulus, "Pa")
    return not_negative("pull", pull, "N") * free_length / give


@formula(
    name="pull that is left after a shortening",
    expression="F = F_0 max(0, 1 - d / (s + t))",
    sources=("derived",),
    validity="stud and springs straight lines of force over travel",
    unit="N",
)
def pull_left(*, pull: Number, stretch: Number, travel: Number, shortening: Number) -> Number:
    """Pull of a stud when what it clamps has become shorter than the stud did.

    Parameters
    ----------
    pull : Number
        Pull when it was tightened. [N]
    stretch : Number
        Stretch of the stud under it. [m]
    travel : Number
        How far disc springs under the nut are pressed at that pull; 0 without. [m]
    shortening : Number
        How much more the clamped length shrank than the stud. [m]

    Returns
    -------
    Number
        Pull that is left, never below nought. [N]

    Raises
    ------
    InputError
        If the stretch is not positive, or pull or travel is negative.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(pull_left(pull=7e3, stretch=0.10e-3, travel=0.2e-3, shortening=0.12e-3))
    4200
    """
    not_negative("pull", pull, "N")
    spring = positive("stretch", stretch, "m") + not_negative("travel", travel, "m")
    share = 1.0 - finite("shortening", shortening, "m") / spring
    return cast("Number", pull * np.maximum(share, 0.0))
