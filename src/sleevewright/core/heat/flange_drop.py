"""Which end grips first in the drop: the sleeve along its length, its flange on the ledge.

A second reduced model beside the one round the bore: each place along the sleeve has its own
temperature and, at its own time of entry, its own gap; the flange has the gap of its own fit
and, once it is seated, heat through the ledge.  Clearances are diametral and local: nothing
couples one place to the next but heat, while a real shell evens out over about a centimetre.
The sign of a difference is worth more than its seconds.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.expansion import REFERENCE_TEMPERATURE, ExpansionLaw
from sleevewright.core.formulas import formula
from sleevewright.core.heat.drop_inputs import DropInputs
from sleevewright.core.heat.gap import (
    AIR_CONDUCTIVITY,
    MOLECULAR_GAP_PER_KELVIN,
    STEFAN_BOLTZMANN,
)
from sleevewright.core.heat.ring_model import CASTING_SHARE, WALL_SHARE

Array = NDArray[np.float64]

PLACES = (0.02, 0.03, 0.04, 0.06, 0.08, 0.12, 0.15, 0.15, 0.15, 0.20)
"""Parts of the length from the flange down, fine where the flange is felt. [1]"""

MIDDLE = 7
"""The row that ends at the middle of the length, the flange being row 0. [1]"""

STEP = 0.2
"""Step of the scheme, a third of what the finest part allows at most. [s]"""


@dataclass(frozen=True)
class FlangeEnd:
    """The flange and its seat.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the flange at 20 degC. [m]
    interference : Number
        Diametral interference in the counterbore at 20 degC. [m]
    thickness : Number
        Thickness of the flange. [m]
    seat : Number
        Conductance of the ledge once the flange sits; 0 where it does not touch. [W/(m^2 K)]
    """

    diameter: Number
    interference: Number
    thickness: Number
    seat: Number = 3000.0


@dataclass(frozen=True)
class EndTimes:
    """Seconds from first entry until each place grips, infinite beyond the horizon.

    Parameters
    ----------
    flange, top, middle, bottom : NDArray[np.float64]
        Flange in its counterbore; three places of the body, shape (n_samples,). [s]
    body : NDArray[np.float64]
        The first place of the body that grips. [s]
    """

    flange: Array
    top: Array
    middle: Array
    bottom: Array
    body: Array


@dataclass(frozen=True)
class _Column:
    """Rows: the flange, then the parts of the sleeve from it down; SI, samples along."""

    diameter: Array
    interference: Array
    area: Array
    capacity: Array
    entry: Array
    between: Array  # conductance from each row to the next
    seat: Array


def _column(inputs: DropInputs, end: FlangeEnd, entry: Array) -> _Column:
    """Areas, heat capacities and times of entry of flange and sleeve."""
    lengths = np.array(PLACES)[:, np.newaxis] * np.broadcast_to(inputs.length, entry.shape)
    ring = np.pi * (inputs.diameter - inputs.wall) * inputs.wall
    inside = inputs.diameter - 2.0 * inputs.wall
    by_volume = inputs.sleeve_capacity / (ring * inputs.length)
    flange = 0.25 * np.pi * (end.diameter**2 - inside**2) * end.thickness
    reach = np.vstack([np.broadcast_to(end.thickness, entry.shape), lengths])
    apart = 0.5 * (reach[1:] + reach[:-1])
    above = np.cumsum(lengths, axis=0) - 0.5 * lengths
    ledge = 0.25 * np.pi * (end.diameter**2 - inputs.diameter**2)
    through = 0.5 * end.thickness / inputs.sleeve_conductivity
    under = entry * (1.0 - above / inputs.length)

    def rows(flange_row: Number, body: Number) -> Array:
        top = np.broadcast_to(flange_row, entry.shape)
        return np.vstack([top, np.broadcast_to(body, lengths.shape)])

    seat = ledge * np.asarray(end.seat) / (1.0 + np.asarray(end.seat) * through)
    return _Column(
        diameter=rows(end.diameter, inputs.diameter),
        interference=rows(end.interference, inputs.interference),
        area=rows(np.pi * end.diameter * end.thickness, np.pi * inputs.diameter * lengths),
        capacity=rows(by_volume * flange, by_volume * ring * lengths),
        entry=rows(entry, under),
        between=np.broadcast_to(inputs.sleeve_conductivity * ring / apart, lengths.shape),
        seat=np.broadcast_to(seat, entry.shape),
    )


def _grown(law: ExpansionLaw, rise: Array) -> Array:
    """Strain of a rise over 20 degC."""
    return (law.reference + law.slope * rise) * rise


def _clearance(inputs: DropInputs, rows: _Column, sleeve: Array, casting: Array) -> Array:
    """Local clearance of every row on diameter."""
    bore = (rows.diameter - rows.interference) * (1.0 + _grown(inputs.casting_law, casting))
    return bore - rows.diameter * (1.0 + _grown(inputs.sleeve_law, sleeve))


def _rates(inputs: DropInputs, rows: _Column, state: Array, time: float) -> tuple[Array, Array]:
    """Rates of change, sleeve rows first and casting last, and the clearances."""
    sleeve, casting = state[:-1], state[-1]
    clearance = _clearance(inputs, rows, sleeve, casting)
    gap = 0.5 * np.maximum(clearance, 0.0)
    between = REFERENCE_TEMPERATURE + 0.5 * (sleeve + casting)
    constant, linear, square = AIR_CONDUCTIVITY
    air = (constant + (linear + square * between) * between) * inputs.fluid_factor
    middle = gap + inputs.stand_off + MOLECULAR_GAP_PER_KELVIN * between
    shift = inputs.eccentricity * gap
    through = air / np.sqrt((middle - shift) * (middle + shift))
    through += 4.0 * STEFAN_BOLTZMANN * inputs.radiation_factor * between**3
    walls = CASTING_SHARE * inputs.casting_depth / inputs.casting_conductivity
    walls = walls + WALL_SHARE * inputs.wall / inputs.sleeve_conductivity
    crossing = rows.area * through / (1.0 + through * walls) * (casting - sleeve)
    crossing *= time >= rows.entry
    crossing[0] += rows.seat * (casting - sleeve[0]) * (time >= rows.entry[0])
    heat = crossing.copy()
    flow = rows.between * (sleeve[1:] - sleeve[:-1])
    heat[:-1] += flow
    heat[1:] -= flow
    room = inputs.room - REFERENCE_TEMPERATURE
    heat -= inputs.inside_coefficient * rows.area * (sleeve - room)
    lost = inputs.outside_loss * inputs.length * (casting - room)
    given = -(crossing.sum(axis=0) + lost) / inputs.casting_capacity
    return np.vstack([heat / rows.capacity, given]), clearance


@formula(
    name="which end grips first",
    expression="c_z(t) <= f at each place z, C_z dT_z/dt = h_z A_z (T_c - T_z) + conduction "
    "along the sleeve + h_seat A_ledge (T_c - T_flange)",
    sources=("incropera-2007", "derived"),
    validity="no hoop coupling along the length, no bow, casting at one temperature; sign "
    "good, seconds poor",
    unit="s",
)
def end_times(
    inputs: DropInputs, flange: FlangeEnd, *, entry_time: Number, horizon: float = 60.0
) -> EndTimes:
    """Seconds until flange, top, middle and bottom grip.

    Parameters
    ----------
    inputs : DropInputs
        The drops, numbers or arrays of one length. [record]
    flange : FlangeEnd
        The flange and its seat. [record]
    entry_time : Number
        From first entry to seated. [s]
    horizon : float
        Time up to which they are followed. [s]

    Returns
    -------
    EndTimes
        Times from first entry; no place grips before it is in. [s]

    Raises
    ------
    InputError
        If the flange has no size or a time is negative.

    Notes
    -----
    Scheme of Heun; a grip is interpolated inside its step. Source: ``incropera-2007`` for
    conduction, ``derived`` for the rest.
    """
    positive("flange thickness", flange.thickness, "m")
    positive("flange over sleeve", flange.diameter - inputs.diameter, "m")
    not_negative("seat conductance", flange.seat, "W/(m2 K)")
    not_negative("entry time", entry_time, "s")
    count = max(
        np.size(one)
        for one in (inputs.interference, inputs.form, inputs.casting_temperature, entry_time)
    )
    rows = _column(inputs, flange, np.broadcast_to(np.asarray(entry_time, float), (count,)))
    return _followed(inputs, rows, count, horizon)


def _followed(inputs: DropInputs, rows: _Column, count: int, horizon: float) -> EndTimes:
    """March to the horizon and note where each row's margin is used up."""
    state = np.empty((len(PLACES) + 2, count))
    state[:-1] = inputs.sleeve_temperature - REFERENCE_TEMPERATURE
    state[-1] = inputs.casting_temperature - REFERENCE_TEMPERATURE
    found = np.full((len(PLACES) + 1, count), np.inf)
    change, clearance = _rates(inputs, rows, state, 0.0)
    before = clearance - inputs.form
    found[(before <= 0.0) & (rows.entry <= 0.0)] = 0.0
    for step in range(round(horizon / STEP)):
        time = step * STEP
        later, _ = _rates(inputs, rows, state + STEP * change, time + STEP)
        state = state + 0.5 * STEP * (change + later)
        change, clearance = _rates(inputs, rows, state, time + STEP)
        after = clearance - inputs.form
        closed = (after <= 0.0) & np.isinf(found) & (rows.entry <= time + STEP)
        share = np.clip(before / np.maximum(before - after, 1e-30), 0.0, 1.0)
        found = np.where(closed, np.maximum(time + STEP * share, rows.entry), found)
        before = after
        if np.isfinite(found).all():
            break
    return EndTimes(found[0], found[1], found[MIDDLE], found[-1], found[1:].min(axis=0))
