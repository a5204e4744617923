"""Steps through the drop: the classical Runge-Kutta scheme, each sample at its own pace.

The steps of a sample are short while its touching side warms, then as long as stability
and the closing of its gap allow, and never much beyond the predicted grip.  The grip is
interpolated inside the step, from margin and rate of change at both ends: a grip on the
step grid would be half a step late.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.heat.ring_model import (
    Array,
    Cells,
    Constants,
    Moment,
    Room,
    evaluate,
    margin_rate,
)
from sleevewright.errors import NotConverged

MOST_STEPS = 20_000
"""Steps after which a drop is given up; a hundred are usual. [1]"""

_EARLY = 0.4  # of the time constant of the touching cell, while that cell warms
_STABLE = 1.8  # of the fastest rate: the scheme is stable to 2.78
_GROWTH = 0.08  # of the time since entry, once the first fast change is over
_CLOSING = 0.28  # of the gap that may close in one step
_BEYOND = 1.02  # past the predicted grip
_LEAST = 2e-3  # seconds beyond it, lest the steps creep up to the grip for ever
_PACKED = 0.9  # share of samples on their way below which the others are dropped


@dataclass(frozen=True)
class Fleet:
    """The samples that are still on their way, each with its own clock."""

    known: Constants
    state: Array
    change: Array
    time: Array
    margin: Array
    rate: Array
    fastest: Array
    index: NDArray[np.intp]

    def keep(self, chosen: NDArray[np.intp]) -> Fleet:
        """Some of the samples only, packed together."""
        return Fleet(
            self.known.keep(chosen),
            np.ascontiguousarray(self.state[:, chosen]),
            np.ascontiguousarray(self.change[:, chosen]),
            self.time[chosen],
            self.margin[chosen],
            self.rate[chosen],
            self.fastest[chosen],
            self.index[chosen],
        )


class Scratch:
    """Places for the stages of a step."""

    def __init__(self, division: Cells, samples: int) -> None:
        shape = (division.count + 1, samples)
        self.room = Room(division, samples)
        self.stage = np.empty(shape)
        self.second = np.empty(shape)
        self.third = np.empty(shape)


def start(known: Constants, division: Cells, state: Array) -> Fleet:
    """All samples at first entry.

    Parameters
    ----------
    known : Constants
        What does not change. [record]
    division : Cells
        Cells of half the sleeve. [record]
    state : Array
        Rises over 20 degC, shape (n_cells + 1, n_samples). [K]

    Returns
    -------
    Fleet
        The samples, their clocks at zero. [record]

    Notes
    -----
    Source: ``derived``.
    """
    samples = state.shape[1]
    change = np.empty_like(state)
    moment = evaluate(known, division, state, change, Room(division, samples))
    rate = margin_rate(known, division, moment, state, change)
    return Fleet(
        known, state, change, np.zeros(samples), moment.margin, rate, moment.fastest,
        np.arange(samples),
    )  # fmt: skip


def _step_lengths(fleet: Fleet, division: Cells, *, pace: float) -> Array:
    """How far each sample may go in one step; smaller ``pace``, shorter steps."""
    known = fleet.known
    spectral = 1.2 * fleet.fastest + 3.0 / division.width**2 * known.conduction
    early = np.maximum(_EARLY / fleet.fastest, _GROWTH * fleet.time)
    lengths = np.minimum(_STABLE / spectral, early)
    closing = np.abs(fleet.rate)
    closing += 1e-300  # a margin that stands still may take any step
    open_now = np.maximum(fleet.margin, 0.0) + 2.0 * known.stand_off
    np.minimum(lengths, _CLOSING * open_now / closing, out=lengths)
    lengths *= pace
    shrinking = np.where(fleet.rate < 0.0, fleet.margin / closing, np.inf)
    np.minimum(lengths, _BEYOND * shrinking + _LEAST, out=lengths)
    lengths[fleet.margin <= 0.0] = 0.0  # gripped already, not packed away yet
    return lengths


def advance(
    fleet: Fleet, division: Cells, lengths: Array, scratch: Scratch
) -> tuple[Array, Array, Moment]:
    """State, rates of change and moment of each sample after one step of its length.

    Parameters
    ----------
    fleet : Fleet
        The samples. [record]
    division : Cells
        Cells of half the sleeve. [record]
    lengths : Array
        Step of each sample. [s]
    scratch : Scratch
        Places for the stages. [record]

    Returns
    -------
    tuple[Array, Array, Moment]
        State, its rates of change and the moment at the end of the step. [K, K/s, m]

    Notes
    -----
    Classical scheme of Runge and Kutta, fourth order. Source: ``derived``.
    """
    known, state, first = fleet.known, fleet.state, fleet.change
    stage, second, third = scratch.stage, scratch.second, scratch.third
    half = 0.5 * lengths
    np.multiply(first, half, out=stage)
    stage += state
    evaluate(known, division, stage, second, scratch.room)
    np.multiply(second, half, out=stage)
    stage += state
    evaluate(known, division, stage, third, scratch.room)
    np.multiply(third, lengths, out=stage)
    stage += state
    second += third
    evaluate(known, division, stage, third, scratch.room)
    second *= 2.0
    second += first
    second += third
    second *= lengths / 6.0
    later = state + second
    change = np.empty_like(later)
    return later, change, evaluate(known, division, later, change, scratch.room)


def _crossings(before: Array, after: Array, slope_before: Array, slope_after: Array) -> Array:
    """Where in a step of unit length a falling cubic through both ends passes zero."""
    cubic = 2.0 * (before - after) + slope_before + slope_after
    square = 3.0 * (after - before) - 2.0 * slope_before - slope_after
    low, high = np.zeros_like(before), np.ones_like(before)
    place = before / (before - after)
    for _ in range(12):  # Newton kept between two bounds: twelve reach the last digit
        value = ((cubic * place + square) * place + slope_before) * place + before
        slope = (3.0 * cubic * place + 2.0 * square) * place + slope_before
        low = np.where(value > 0.0, place, low)
        high = np.where(value > 0.0, high, place)
        with np.errstate(divide="ignore", invalid="ignore"):
            newton = place - value / slope
        inside = (newton > low) & (newton < high)
        place = np.where(inside, newton, 0.5 * (low + high))
    return place


@dataclass(frozen=True)
class _Crossed:
    """The step in which some samples grip: margin and its rate at both ends."""

    index: NDArray[np.intp]
    begun: Array
    span: Array
    margins: tuple[Array, Array]
    rates: tuple[Array, Array]


def _crossed(fleet: Fleet, lengths: Array, margin: Array, rate: Array) -> _Crossed:
    """Those of a fleet whose margin was used up within the step just made."""
    chosen = np.flatnonzero((margin <= 0.0) & (fleet.margin > 0.0))
    return _Crossed(
        fleet.index[chosen],
        fleet.time[chosen],
        lengths[chosen],
        (fleet.margin[chosen], margin[chosen]),
        (fleet.rate[chosen], rate[chosen]),
    )


def _enter_times(found: Array, steps: list[_Crossed]) -> None:
    """Interpolate all grips at once: many small calls would cost more than the steps."""
    if not steps:
        return
    index, begun, span = (
        np.concatenate([getattr(one, name) for one in steps]) for name in ("index", "begun", "span")
    )
    before, after = (np.concatenate([one.margins[end] for one in steps]) for end in (0, 1))
    falling, later = (np.concatenate([one.rates[end] for one in steps]) for end in (0, 1))
    found[index] = begun + span * _crossings(before, after, falling * span, later * span)


def grips(fleet: Fleet, division: Cells, *, horizon: float, pace: float = 1.0) -> Array:
    """Time until each sample grips, infinite where it does not within the horizon.

    Parameters
    ----------
    fleet : Fleet
        The samples at first entry. [record]
    division : Cells
        Cells of half the sleeve. [record]
    horizon : float
        Time up to which they are followed. [s]
    pace : float
        Step lengths over the usual ones. [1]

    Returns
    -------
    Array
        Times, zero where the sleeve cannot enter. [s]

    Raises
    ------
    NotConverged
        If grip or horizon are not reached.

    Notes
    -----
    Source: ``derived``.
    """
    found = np.full(fleet.index.size, np.inf)
    found[fleet.margin <= 0.0] = 0.0
    fleet = fleet.keep(np.flatnonzero(fleet.margin > 0.0))
    scratch = Scratch(division, fleet.index.size)
    steps: list[_Crossed] = []
    most = int(MOST_STEPS / pace)
    for _ in range(most):
        if not fleet.index.size:
            _enter_times(found, steps)
            found[found > horizon] = np.inf
            return found
        if fleet.index.size != scratch.room.samples:
            scratch = Scratch(division, fleet.index.size)
        lengths = _step_lengths(fleet, division, pace=pace)
        state, change, moment = advance(fleet, division, lengths, scratch)
        rate = margin_rate(fleet.known, division, moment, state, change)
        steps.append(_crossed(fleet, lengths, moment.margin, rate))
        fleet = replace(
            fleet, state=state, change=change, time=fleet.time + lengths,
            margin=moment.margin, rate=rate, fastest=moment.fastest,
        )  # fmt: skip
        going = np.flatnonzero((fleet.margin > 0.0) & (fleet.time < horizon))
        if going.size < _PACKED * fleet.index.size or not going.size:
            fleet = fleet.keep(going)
    raise NotConverged("drop", most, float(fleet.margin.max()), 0.0)
