"""A drop as it is planned, and the samples of what is not known of it.

Two things with two names: the *thermal radius* is that of the ring whose metal gives up
heat within seconds; the radius that stresses are computed with is another.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number
from sleevewright.core.expansion import ExpansionLaw

Array = NDArray[np.float64]


@dataclass(frozen=True)
class DropCase:
    """A drop as it is planned; every number a float or samples of one length.

    Parameters
    ----------
    diameter, inside_diameter, length : Number
        Sleeve at 20 degC: outside, inside, length in the casting. [m]
    interference : Number
        Diametral interference at 20 degC. [m]
    slip : Number
        Diametral clearance at entry that is aimed at. [m]
    casting_law, sleeve_law : ExpansionLaw
        Expansion of both. [1/K]
    sleeve_temperature, room : Number
        Sleeve as it enters, and the room. [K]
    casting_mass, sleeve_mass : Number
        Masses; the casting's is the metal that the sleeve can draw on. [kg]
    casting_density, casting_specific_heat, casting_conductivity : Number
        Of the casting. [kg/m^3], [J/(kg K)], [W/(m K)]
    sleeve_specific_heat, sleeve_conductivity : Number
        Of the sleeve. [J/(kg K)], [W/(m K)]
    carry_allowed : Number
        Clearance that was added on the gauge for the carry, one number: the median is
        taken of samples. [m]
    limit : Number or None
        Highest temperature that the casting may have; no drop starts hotter. [K]
    casting_expansion_doubt, sleeve_expansion_doubt : float
        Relative standard uncertainty where a law comes without samples. [1]
    form : Number or None
        Form allowance measured hot, on diameter; ``None`` takes the default. [m]
    stand_off, carry_time, entry_time : Number or None
        As their names say; ``None`` takes the default. [m], [s], [s]
    lean_share, oily_share : float or None
        Chances that the sleeve lies against one side, that the gap is not dry. [1]
    dry : bool or None
        ``True``: both parts were dried. ``False``: the gap is wet for certain.
    is_weighed : bool
        Whether the casting was weighed.
    """

    diameter: Number
    inside_diameter: Number
    length: Number
    interference: Number
    slip: Number
    casting_law: ExpansionLaw
    sleeve_law: ExpansionLaw
    sleeve_temperature: Number
    room: Number
    casting_mass: Number
    sleeve_mass: Number
    casting_density: Number
    casting_specific_heat: Number
    casting_conductivity: Number
    sleeve_specific_heat: Number
    sleeve_conductivity: Number
    carry_allowed: Number = 0.0
    limit: Number | None = None
    casting_expansion_doubt: float = 0.04
    sleeve_expansion_doubt: float = 0.04
    form: Number | None = None
    stand_off: Number | None = None
    carry_time: Number | None = None
    entry_time: Number | None = None
    lean_share: float | None = None
    oily_share: float | None = None
    dry: bool | None = None
    is_weighed: bool = False


@dataclass(frozen=True)
class DropDraws:
    """Samples of what is not known, each of shape (n_samples,).

    Parameters
    ----------
    slip_error, interference : NDArray[np.float64]
        Error of the slip gauged hot; interference at 20 degC. [m]
    casting_expansion, sleeve_expansion : NDArray[np.float64]
        Factors on the laws of both. [1]
    thermal_radius : NDArray[np.float64]
        Factor on the thermal radius. [1]
    form, stand_off : NDArray[np.float64]
        Form allowance on diameter; stand-off of touching faces. [m]
    carry_time, entry_time : NDArray[np.float64]
        Oven to entry; first entry to seated. [s]
    eccentricity : NDArray[np.float64]
        1 where the sleeve leans, else an even chance up to 1. [1]
    fluid_factor : NDArray[np.float64]
        Conductivity of what fills the gap over that of air. [1]
    """

    slip_error: Array
    interference: Array
    casting_expansion: Array
    sleeve_expansion: Array
    thermal_radius: Array
    form: Array
    stand_off: Array
    carry_time: Array
    entry_time: Array
    eccentricity: Array
    fluid_factor: Array

    def named(self) -> dict[str, Array]:
        """Samples by the words that a ranking shows."""
        return {one.name.replace("_", " "): getattr(self, one.name) for one in fields(self)}
