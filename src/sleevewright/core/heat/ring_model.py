"""The equations of the drop: half of the sleeve in cells, the casting at one temperature.

Angles count from the side where the sleeve touches.  The state of each sample is the
rise of every sleeve cell and, last, of the casting over 20 degC, shape (n_cells + 1,
n_samples).  Clearances here are diametral; gaps between the faces are radial.

A free ring grows by the mean strain over its area, so no stress has to be known before
the parts touch.  Where the clearance is used up the gap stays at zero with the stand-off
alone: what follows shows how interference builds and is no contact mechanics.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.heat.drop_inputs import DropInputs
from sleevewright.core.heat.gap import (
    AIR_CONDUCTIVITY,
    MOLECULAR_GAP_PER_KELVIN,
    STEFAN_BOLTZMANN,
)

Array = NDArray[np.float64]

CELLS = 8
"""Cells of half the sleeve; 8 put a grip time within 0.6 % of that of 96. [1]"""

CASTING_SHARE = 0.35
"""Share of the casting's radial depth that stands in series with the gap. [1]"""

WALL_SHARE = 1.0 / 3.0
"""Share of the sleeve's wall that stands in series with the gap. [1]"""


@dataclass(frozen=True)
class Cells:
    """The division of half the sleeve, the same for all samples."""

    count: int
    width: float
    half_tangents: Array  # tan(theta / 2) of the inner edges, shape (n_cells - 1, 1)
    operator: Array  # rows: mean, first and second harmonic, then conduction round the sleeve


@lru_cache(maxsize=8)
def cells(count: int) -> Cells:
    """Equal cells from the touching side to the far side, with their weights.

    Parameters
    ----------
    count : int
        Cells of half the sleeve. [1]

    Returns
    -------
    Cells
        The division. [record]

    Notes
    -----
    Source: ``derived``.
    """
    edges = np.linspace(0.0, np.pi, count + 1)
    width = np.pi / count
    mean = np.full(count, 1.0 / count)
    first = 2.0 * np.diff(np.sin(edges)) / np.pi
    second = np.diff(np.sin(2.0 * edges)) / np.pi
    conduction = np.diag(np.ones(count - 1), 1) + np.diag(np.ones(count - 1), -1)
    conduction -= np.diag(conduction.sum(axis=1))
    operator = np.vstack([mean, first, second, conduction / width**2])
    return Cells(count, width, np.tan(0.5 * edges[1:-1])[:, np.newaxis], operator)


@dataclass(frozen=True)
class Constants:
    """What does not change during a drop, one row of samples each; SI, rises over 20 degC."""

    bore: Array
    outside: Array
    interference: Array
    casting_linear: Array
    casting_square: Array
    sleeve_linear: Array
    sleeve_square: Array
    eccentricity: Array
    stand_off: Array
    fluid: Array  # 2 / width times the factor of what fills the gap
    radiation: Array
    series: Array  # resistance of both walls times the sleeve's capacity by area, in seconds
    by_area: Array  # the sleeve's capacity by area of the gap
    conduction: Array
    bore_loss: Array
    capacity_ratio: Array
    outside_loss: Array
    room: Array
    form: Array
    bow: Array
    ovality: Array

    def keep(self, chosen: NDArray[np.intp]) -> Constants:
        """The same for some of the samples only."""
        return _from_rows(np.stack([row[chosen] for row in self.rows()]))

    def rows(self) -> list[Array]:
        """All rows in order."""
        return [getattr(self, one.name) for one in fields(self)]


def _from_rows(table: Array) -> Constants:
    """Constants whose rows are views of one table, shape (n_constants, n_samples)."""
    return Constants(*table)


def constants_of(inputs: DropInputs, division: Cells) -> Constants:
    """Gather the inputs into what the equations need, all of one length.

    Parameters
    ----------
    inputs : DropInputs
        The drops. [record]
    division : Cells
        Cells of half the sleeve. [record]

    Returns
    -------
    Constants
        One row of samples for each constant. [record]

    Notes
    -----
    Heat balances by area of the gap. Source: ``derived``.
    """
    area = np.pi * inputs.diameter * inputs.length
    by_area = inputs.sleeve_capacity / area
    inner = np.pi * (inputs.diameter - 2.0 * inputs.wall) * inputs.length
    resistance = (
        CASTING_SHARE * inputs.casting_depth / inputs.casting_conductivity
        + WALL_SHARE * inputs.wall / inputs.sleeve_conductivity
    )
    middle = 0.5 * (inputs.diameter - inputs.wall)
    by_angle = inputs.sleeve_capacity / (2.0 * np.pi * inputs.length)
    rows = (
        inputs.diameter - inputs.interference,
        inputs.diameter,
        inputs.interference,
        inputs.casting_law.reference,
        inputs.casting_law.slope,
        inputs.sleeve_law.reference,
        inputs.sleeve_law.slope,
        inputs.eccentricity,
        inputs.stand_off,
        inputs.fluid_factor * (2.0 / division.width),
        4.0 * STEFAN_BOLTZMANN * inputs.radiation_factor,
        resistance * by_area,
        by_area,
        inputs.sleeve_conductivity * inputs.wall / (middle * by_angle),
        inputs.inside_coefficient * inner / inputs.sleeve_capacity,
        inputs.sleeve_capacity / inputs.casting_capacity,
        inputs.outside_loss * inputs.length / inputs.casting_capacity,
        inputs.room - REFERENCE_TEMPERATURE,
        inputs.form,
        inputs.bending * inputs.length**2 / (4.0 * inputs.diameter),
        inputs.bending * (2.0 / 3.0) * inputs.diameter,
    )
    return _from_rows(np.stack(np.broadcast_arrays(*(np.atleast_1d(row) for row in rows))))


def first_state(inputs: DropInputs, division: Cells, samples: int) -> Array:
    """Rises over 20 degC as the sleeve enters.

    Parameters
    ----------
    inputs : DropInputs
        The drops. [record]
    division : Cells
        Cells of half the sleeve. [record]
    samples : int
        How many drops there are. [1]

    Returns
    -------
    Array
        State, shape (n_cells + 1, n_samples). [K]

    Notes
    -----
    Source: ``derived``.
    """
    state = np.empty((division.count + 1, samples))
    state[:-1] = inputs.sleeve_temperature - REFERENCE_TEMPERATURE
    state[-1] = inputs.casting_temperature - REFERENCE_TEMPERATURE
    return state


@dataclass(frozen=True)
class Moment:
    """What one evaluation of the equations gives, besides the rates of change.

    ``margin`` is the clearance minus what the shapes of the parts use up: at zero the
    sleeve grips.  ``harmonics`` are mean, first and second harmonic of the sleeve's rise.
    """

    clearance: Array
    margin: Array
    harmonics: Array
    fastest: Array


class Room:
    """Places to compute in, made once for a number of samples and used at every step."""

    def __init__(self, division: Cells, samples: int) -> None:
        shape = (division.count, samples)
        self.samples = samples
        self.angles = np.zeros((division.count + 1, samples))
        self.angles[-1] = 0.5 * np.pi
        self.rate = np.empty(shape)
        self.other = np.empty(shape)
        self.linear = np.empty((division.count + 3, samples))


def _free_clearance(known: Constants, mean: Array, casting: Array) -> Array:
    """Clearance of the free parts on diameter."""
    grown = known.bore * (known.casting_linear + known.casting_square * casting) * casting
    sleeve = known.outside * (known.sleeve_linear + known.sleeve_square * mean) * mean
    return np.asarray(grown - sleeve - known.interference)


def _cell_rates(
    known: Constants, division: Cells, clearance: Array, mean: Array, room: Room
) -> Array:
    """Share of its difference from the casting that each cell makes good per second."""
    gap = np.maximum(clearance, 0.0)
    gap *= 0.5
    between = mean + REFERENCE_TEMPERATURE
    constant, linear, square = AIR_CONDUCTIVITY
    conductivity = (constant + (linear + square * between) * between) * known.fluid
    shift = known.eccentricity * gap
    middle = gap + known.stand_off + MOLECULAR_GAP_PER_KELVIN * between
    near = middle - shift
    root = np.sqrt(near * (middle + shift))
    inner = room.angles[1:-1]
    np.multiply(division.half_tangents, root / near, out=inner)
    np.arctan(inner, out=inner)
    rate = np.subtract(room.angles[1:], room.angles[:-1], out=room.rate)
    rate *= conductivity / root
    rate += known.radiation * between**3
    resisted = np.multiply(rate, known.series, out=room.other)
    resisted += known.by_area
    rate /= resisted
    return rate


def evaluate(known: Constants, division: Cells, state: Array, out: Array, room: Room) -> Moment:
    """Write the rates of change of the state and return what else is known of the moment.

    Parameters
    ----------
    known : Constants
        What does not change. [record]
    division : Cells
        Cells of half the sleeve. [record]
    state : Array
        Rises over 20 degC, shape (n_cells + 1, n_samples). [K]
    out : Array
        Where the rates are written, same shape. [K/s]
    room : Room
        Places to compute in. [record]

    Returns
    -------
    Moment
        Clearance, margin, harmonics and the fastest rate. [m, K, 1/s]

    Notes
    -----
    What the sleeve gains the casting gives: heat is kept to the last digits where
    nothing is lost to the room. Source: ``derived``.
    """
    sleeve, casting = state[:-1], state[-1]
    linear = np.matmul(division.operator, sleeve, out=room.linear)
    harmonics = linear[:3].copy()
    mean = harmonics[0]
    clearance = _free_clearance(known, mean, casting)
    rate = _cell_rates(known, division, clearance, 0.5 * (casting + mean), room)
    fastest = rate[0].copy()
    rate += known.bore_loss
    change = np.subtract(casting, sleeve, out=out[:-1])
    change *= rate
    round_about = linear[3:]
    round_about *= known.conduction
    change += round_about
    above = casting - known.room
    change -= known.bore_loss * above
    # what the sleeve gains, its own loss put back, is what the casting gives
    gained = division.operator[0] @ change + known.bore_loss * (mean - known.room)
    np.negative(known.capacity_ratio * gained + known.outside_loss * above, out=out[-1])
    bent = known.bow * harmonics[1] + known.ovality * harmonics[2]
    local = known.sleeve_linear + 2.0 * known.sleeve_square * mean
    return Moment(clearance, clearance - known.form - local * bent, harmonics, fastest)


def margin_rate(
    known: Constants, division: Cells, moment: Moment, state: Array, change: Array
) -> Array:
    """How fast the margin changes, by the chain rule from the rates of change.

    Parameters
    ----------
    known : Constants
        What does not change. [record]
    division : Cells
        Cells of half the sleeve. [record]
    moment : Moment
        The moment that the rates belong to. [record]
    state : Array
        Rises over 20 degC, shape (n_cells + 1, n_samples). [K]
    change : Array
        Rates of change of the state. [K/s]

    Returns
    -------
    Array
        Rate of change of the margin, negative where it shrinks. [m/s]

    Notes
    -----
    Source: ``derived``.
    """
    mean, first, second = moment.harmonics
    moved = division.operator[:3] @ change[:-1]
    casting = state[-1]
    local = known.sleeve_linear + 2.0 * known.sleeve_square * mean
    bent = known.bow * first + known.ovality * second
    bending = known.bow * moved[1] + known.ovality * moved[2]
    opening = known.bore * (known.casting_linear + 2.0 * known.casting_square * casting)
    return np.asarray(
        opening * change[-1]
        - known.outside * local * moved[0]
        - local * bending
        - 2.0 * known.sleeve_square * moved[0] * bent
    )
