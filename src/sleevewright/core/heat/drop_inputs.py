"""What one drop, or many, are computed from.

Clearances are diametral.  The *thermal mass* of the casting, the heat capacity that the
sleeve can draw on, is no stiffness and says nothing of stresses.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.checks import Number
from sleevewright.core.expansion import ExpansionLaw


@dataclass(frozen=True)
class DropInputs:
    """What a drop is computed from; each number a float or an array of samples.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Diametral interference at 20 degC. [m]
    length : Number
        Length of the sleeve in the casting. [m]
    wall : Number
        Wall of the sleeve. [m]
    casting_law, sleeve_law : ExpansionLaw
        Expansion of both. [1/K]
    casting_temperature, sleeve_temperature, room : Number
        Temperatures as the sleeve enters. [K]
    casting_capacity : Number
        Heat capacity of the metal that the sleeve draws on, the thermal mass. [J/K]
    sleeve_capacity : Number
        Heat capacity of the sleeve. [J/K]
    casting_depth : Number
        Radial depth of that metal, thermal radius minus half the bore. [m]
    casting_conductivity, sleeve_conductivity : Number
        Conductivity of both. [W/(m K)]
    eccentricity : Number
        0 where the sleeve hangs in the middle, 1 where it lies against one side. [1]
    stand_off : Number
        What roughness and waviness keep open where the faces touch. [m]
    form : Number
        Slip that hot out-of-round, taper and burr use up, on diameter. [m]
    fluid_factor : Number
        Conductivity of what fills the gap over that of air. [1]
    bending : Number
        Share of bow and ovality that counts against the slip; 0 leaves them out. [1]
    outside_loss : Number
        Heat that the outside loses to the room, by length. [W/(m K)]
    inside_coefficient : Number
        Heat transfer inside the sleeve. [W/(m^2 K)]
    radiation_factor : Number
        Exchange factor of the two faces. [1]
    """

    diameter: Number
    interference: Number
    length: Number
    wall: Number
    casting_law: ExpansionLaw
    sleeve_law: ExpansionLaw
    casting_temperature: Number
    sleeve_temperature: Number
    room: Number
    casting_capacity: Number
    sleeve_capacity: Number
    casting_depth: Number
    casting_conductivity: Number
    sleeve_conductivity: Number
    eccentricity: Number = 1.0
    stand_off: Number = 8.0e-6
    form: Number = 25.4e-6
    fluid_factor: Number = 1.0
    bending: Number = 1.0
    outside_loss: Number = 24.0
    inside_coefficient: Number = 8.0
    radiation_factor: Number = 0.3
