"""Which end of the sleeve grips first, by what the hot casting stands on and what blows on it.

Sleeve and casting are two bars side by side, each with a temperature along its length, joined
by the gap at each place; no ring of one place helps its neighbour.  Whether the top or the
bottom is first is well known that way, the seconds are not.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import not_negative, positive
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.formulas import formula
from sleevewright.core.heat.gap import air_conductivity

Array = NDArray[np.float64]

PLACES = 20
"""Places along the length; the middle ones are the tenth and the eleventh."""

STEP = 0.08
"""Longest step of time. [s]"""

HORIZON = 60.0
"""No grip is looked for later than this. [s]"""

ECCENTRIC = 0.9
"""How far the sleeve lies to one side. [1]"""

CLOSED = 3000.0
"""Conductance of a fit that has just closed. [W/(m^2 K)]"""

INSIDE = 8.0
"""Loss from the bore of the sleeve to the air. [W/(m^2 K)]"""

TOP, MIDDLE, BOTTOM = "top", "middle", "bottom"


@dataclass(frozen=True)
class Standing:
    """How the casting stands.

    Parameters
    ----------
    under, above : float
        Coefficient at the bottom face and at the top face, to the room. [W/(m^2 K)]
    seat : float
        Conductance between flange and ledge; 0 where it is not pressed home. [W/(m^2 K)]
    ledge : float
        Area of the ledge. [m^2]
    """

    under: float = 5.0
    above: float = 10.0
    seat: float = 0.0
    ledge: float = 0.0


@dataclass(frozen=True)
class TwoBars:
    """A sleeve in a casting, as far as the end that grips first rests on it.

    Parameters
    ----------
    diameter, interference, length : float
        Interface at 20 degC, diametral. [m]
    wall : float
        Of the sleeve, radial. [m]
    form : float
        Slip that shape uses up: a place grips when no more is left, diametral. [m]
    stand_off : float
        What roughness keeps open, radial. [m]
    casting_law, sleeve_law : ExpansionLaw
        Expansion of both. [1/K]
    casting_temperature, sleeve_temperature, room : float
        As the sleeve enters. [K]
    casting_mass : float
        Metal that the sleeve draws on, even along the length. [kg]
    casting_density, casting_specific_heat, casting_conductivity : float
        Of the casting. [kg/m^3], [J/(kg K)], [W/(m K)]
    sleeve_density, sleeve_specific_heat, sleeve_conductivity : float
        Of the sleeve. [kg/m^3], [J/(kg K)], [W/(m K)]
    entry : float
        First entry to seated. [s]
    flange : float
        Heat that the flange holds beside the wall at its place. [J/K]
    """

    diameter: float
    interference: float
    length: float
    wall: float
    form: float
    stand_off: float
    casting_law: ExpansionLaw
    sleeve_law: ExpansionLaw
    casting_temperature: float
    sleeve_temperature: float
    room: float
    casting_mass: float
    casting_density: float
    casting_specific_heat: float
    casting_conductivity: float
    sleeve_density: float
    sleeve_specific_heat: float
    sleeve_conductivity: float
    entry: float
    flange: float = 0.0


@dataclass(frozen=True)
class EndsGrip:
    """When each place grips, and which is first.

    Parameters
    ----------
    top, middle, bottom : float
        Time since first entry; infinite where it does not within the horizon. [s]
    first : str
        The first of them, or the one with least slip where none grips. [text]
    """

    top: float
    middle: float
    bottom: float
    first: str


@formula(
    name="end that grips first",
    expression="rho c A dT/dt = k A d2T/dz2 + gap(z) + faces, sleeve and casting side by side",
    sources=("derived",),
    validity="sign of the order; the seconds are poor: no hoop between places, uniform air in gaps",
    unit="record",
)
def ends_grip(bars: TwoBars, *, standing: Standing) -> EndsGrip:
    """When top, middle and bottom of the sleeve grip.

    Parameters
    ----------
    bars : TwoBars
        Sleeve and casting. [record]
    standing : Standing
        What it stands on, what blows on it, whether the flange sits. [record]

    Returns
    -------
    EndsGrip
        Times and the first end. [record]

    Raises
    ------
    InputError
        If a size, a mass or a coefficient is impossible.

    Notes
    -----
    Explicit steps, short enough for the conduction along both. Source: ``derived``, a model
    of our own against which no drop was measured.
    """
    _check(bars, standing)
    metal = _Bars.of(bars)
    casting = np.full(PLACES, bars.casting_temperature)
    sleeve = np.full(PLACES, bars.sleeve_temperature)
    grips = np.full(PLACES, math.inf)
    step = min(STEP, 0.4 * metal.pitch**2 / metal.spread)
    slip = _slip(bars, casting, sleeve)
    for count in range(int(HORIZON / step)):
        time = count * step
        out = _places_out(bars, time)
        across = np.zeros(PLACES)  # into the sleeve, by its own places
        facing = casting[: PLACES - out]
        joined = metal.side * _conductance(bars, slip[out:], facing, sleeve[out:])
        across[out:] = joined * (facing - sleeve[out:])
        at_seat = 0.0
        if standing.seat > 0.0 and time >= bars.entry:
            at_seat = standing.seat * standing.ledge * (casting[0] - sleeve[0])
        lost = metal.bore * INSIDE * (sleeve - bars.room)
        gained = across - lost + metal.sleeve_along * _along(sleeve)
        given = metal.casting_along * _along(casting)
        given[: PLACES - out] -= across[out:]
        gained[0] += at_seat
        given[0] -= at_seat + standing.above * metal.face * (casting[0] - bars.room)
        given[-1] -= standing.under * metal.face * (casting[-1] - bars.room)
        sleeve = sleeve + step * gained / metal.sleeve_holds
        casting = casting + step * given / metal.casting_holds
        before, slip = slip, _slip(bars, np.roll(casting, out), sleeve)
        crossed = np.isinf(grips) & (slip <= bars.form) & (np.arange(PLACES) >= out)
        if crossed.any():
            part = (before - bars.form) / np.maximum(before - slip, 1e-12)
            grips = np.where(crossed, time + step * np.clip(part, 0.0, 1.0), grips)
            if not np.isinf(grips[[0, PLACES // 2, -1]]).any():
                break
    return _answered(grips, slip)


def _places_out(bars: TwoBars, time: float) -> int:
    """How many places of the sleeve still stand out: each enters past the top of the casting."""
    return min(math.ceil(PLACES * max(1.0 - time / bars.entry, 0.0) - 1e-9), PLACES - 1)


def _check(bars: TwoBars, standing: Standing) -> None:
    """Refuse what cannot be."""
    for field, value, unit in (
        ("diameter", bars.diameter, "m"),
        ("length", bars.length, "m"),
        ("wall", bars.wall, "m"),
        ("stand-off", bars.stand_off, "m"),
        ("mass of the casting", bars.casting_mass, "kg"),
        ("entry", bars.entry, "s"),
    ):
        positive(field, value, unit)
    for field, value in (
        ("coefficient below", standing.under),
        ("coefficient above", standing.above),
        ("conductance of the seat", standing.seat),
        ("area of the ledge", standing.ledge),
    ):
        not_negative(field, value, "")


@dataclass(frozen=True, eq=False)
class _Bars:
    """What each place holds and passes on; heat in J/K, conductance in W/K."""

    pitch: float
    spread: float
    side: float
    bore: float
    face: float
    sleeve_holds: Array
    casting_holds: Array
    sleeve_along: float
    casting_along: float

    @classmethod
    def of(cls, bars: TwoBars) -> _Bars:
        """The places of a sleeve in a casting."""
        pitch = bars.length / PLACES
        ring = math.pi * (bars.diameter - bars.wall) * bars.wall
        face = bars.casting_mass / (bars.casting_density * bars.length)
        heat = bars.casting_density * bars.casting_specific_heat
        sleeve_heat = bars.sleeve_density * bars.sleeve_specific_heat
        holds = np.full(PLACES, sleeve_heat * ring * pitch)
        holds[0] += bars.flange
        return cls(
            pitch=pitch,
            spread=max(bars.casting_conductivity / heat, bars.sleeve_conductivity / sleeve_heat),
            side=math.pi * bars.diameter * pitch,
            bore=math.pi * (bars.diameter - 2.0 * bars.wall) * pitch,
            face=face,
            sleeve_holds=holds,
            casting_holds=np.full(PLACES, heat * face * pitch),
            sleeve_along=bars.sleeve_conductivity * ring / pitch,
            casting_along=bars.casting_conductivity * face / pitch,
        )


def _slip(bars: TwoBars, casting: Array, sleeve: Array) -> Array:
    """Diametral slip at each place, negative where it presses."""
    bore = bars.diameter - bars.interference
    grown = bore * (1.0 + thermal_strain(bars.casting_law, temperature=casting))
    return np.asarray(
        grown - bars.diameter * (1.0 + thermal_strain(bars.sleeve_law, temperature=sleeve))
    )


def _conductance(bars: TwoBars, slip: Array, casting: Array, sleeve: Array) -> Array:
    """Mean conductance round a sleeve that lies to one side, or of a fit that has closed."""
    half = 0.5 * np.maximum(slip, 0.0)
    air = air_conductivity(temperature=0.5 * (casting + sleeve))
    open_gap = air / np.sqrt((half + bars.stand_off) ** 2 - (ECCENTRIC * half) ** 2)
    return np.where(slip <= 0.0, CLOSED, np.minimum(open_gap, CLOSED))


def _along(temperatures: Array) -> Array:
    """Sum of the differences to the neighbours, nothing through the ends."""
    falls = np.diff(temperatures)
    return np.concatenate((falls[:1], falls[1:] - falls[:-1], -falls[-1:]))


def _answered(grips: Array, slip: Array) -> EndsGrip:
    """Times of the three places and the first of them."""
    places = {TOP: 0, MIDDLE: PLACES // 2, BOTTOM: PLACES - 1}
    times = {name: float(grips[place]) for name, place in places.items()}
    first = min(places, key=lambda name: (times[name], slip[places[name]]))
    return EndsGrip(times[TOP], times[MIDDLE], times[BOTTOM], first)
