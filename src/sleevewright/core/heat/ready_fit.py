"""What the readings of a heat say: batch least squares with priors on everything in doubt.

Every unknown is counted in its own prior standard uncertainties, so that its prior is one
residual like any reading.  Many heats of one schedule can be fitted together: the leading
axis counts them.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import cast

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.expansion import ExpansionLaw, temperature_for_strain, thermal_strain
from sleevewright.core.heat.heating import Heating, OvenReading
from sleevewright.core.heat.oven_course import DIP_SPREAD, Belief, Openings, course
from sleevewright.errors import NotConverged

Rows = NDArray[np.float64]

MODEL_ERROR = 1.0
"""What a casting is off the course of one lump in steady air, standard uncertainty. [K]"""

MOST_STEPS = 40
CLOSE = 1e-3
_NUDGE = 1e-4
_FIXED = 4  # time constant, oven, start, expansion; then interferences, then dips


@dataclass(frozen=True, eq=False)
class Seen:
    """The values that are fitted: for each its time, its channel and its own doubt.

    Parameters
    ----------
    times : tuple[float, ...]
        Times of the values, rising. [s]
    channels : tuple[int, ...]
        -1 for a temperature, else the number of the fit. [1]
    values : NDArray
        Values, the last axis counts them. [m, K]
    standards : NDArray
        Their standard uncertainties. [m, K]
    """

    times: tuple[float, ...]
    channels: tuple[int, ...]
    values: Rows
    standards: Rows


@dataclass(frozen=True, eq=False)
class Fitted:
    """The most likely course and how far it may be off, in prior standard uncertainties.

    Parameters
    ----------
    middle : NDArray
        Unknowns at the most likely course. [1]
    root : NDArray
        Square root of their covariance, lower triangle. [1]
    surprises : NDArray
        What each reading is off what all the others say, over the doubt of both. [1]
    """

    middle: Rows
    root: Rows
    surprises: Rows


def seen(heating: Heating, readings: tuple[OvenReading, ...]) -> Seen:
    """The values of readings that are in order of time, growth and temperature apart.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    readings : tuple[OvenReading, ...]
        Looks at the casting. [record]

    Returns
    -------
    Seen
        The values. [record]
    """
    names = [name for name, _ in heating.fits]
    found: list[tuple[float, int, float, float]] = []
    for one in readings:
        if one.growth is not None and one.fit in names:
            found.append((one.time, names.index(one.fit), one.growth, one.growth_standard))
        if one.temperature is not None:
            found.append((one.time, -1, one.temperature, one.temperature_standard))
    return Seen(
        tuple(one[0] for one in found),
        tuple(one[1] for one in found),
        np.array([one[2] for one in found], dtype=float),
        np.array([one[3] for one in found], dtype=float),
    )


@dataclass(frozen=True, eq=False)
class Unknowns:
    """Unknowns in the units of the shop, from their counts of prior uncertainties."""

    heating: Heating
    counts: Rows

    @property
    def belief(self) -> Belief:
        """Oven and casting of every row."""
        known, counts = self.heating, self.counts
        first = _FIXED + len(known.fits)
        return Belief(
            known.start + known.start_standard * counts[..., 2],
            known.oven + known.oven_standard * counts[..., 1],
            known.time_constant * np.exp(known.time_constant_spread * counts[..., 0]),
            1.0 + DIP_SPREAD * counts[..., first:],
        )

    @property
    def expansion(self) -> Rows:
        """Growth over that of the alloy in the book."""
        return 1.0 + self.heating.expansion_standard * self.counts[..., 3]

    def interference(self, number: int) -> Rows:
        """Interference of one fit."""
        fit = self.heating.fits[number][1]
        return fit.interference + fit.interference_standard * self.counts[..., _FIXED + number]

    def slip(self, number: int, casting: Rows) -> Rows:
        """Slip on the gauge of one fit with the casting so hot."""
        fit, tight = self.heating.fits[number][1], self.interference(number)
        strain = self.expansion * cast(
            "Rows", thermal_strain(self.heating.casting_law, temperature=casting)
        )
        return (fit.diameter - tight) * strain - self._sleeve(number) - tight

    def target(self, number: int) -> Rows:
        """Casting temperature at which the needle of one fit is at its go."""
        fit, tight = self.heating.fits[number][1], self.interference(number)
        strain = (fit.go + tight + self._sleeve(number)) / (fit.diameter - tight)
        return cast(
            "Rows", temperature_for_strain(self.heating.casting_law, strain=strain / self.expansion)
        )

    def _sleeve(self, number: int) -> float:
        """How much the sleeve is over its size at 20 degC where the gauge was zeroed."""
        law: ExpansionLaw = self.heating.sleeve_law
        zero = thermal_strain(law, temperature=self.heating.zero_temperature)
        return self.heating.fits[number][1].diameter * float(cast("float", zero))


def count_of(heating: Heating, plan: Openings) -> int:
    """How many unknowns there are.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    plan : Openings
        Door openings in their order. [record]

    Returns
    -------
    int
        Number of unknowns. [1]
    """
    return _FIXED + len(heating.fits) + len(plan.doors)


def modelled(heating: Heating, plan: Openings, told: Seen, counts: Rows) -> Rows:
    """What the readings would be for these unknowns, the last axis counts readings.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    plan : Openings
        Door openings in their order. [record]
    told : Seen
        The values that are fitted. [record]
    counts : NDArray
        Unknowns in prior standard uncertainties. [1]

    Returns
    -------
    NDArray
        Values, the last axis counts them. [m, K]
    """
    unknowns = Unknowns(heating, counts)
    times = tuple(dict.fromkeys(told.times))
    castings = course(unknowns.belief, plan, times)
    columns = []
    for time, channel in zip(told.times, told.channels, strict=True):
        casting = castings[..., times.index(time)]
        columns.append(casting if channel < 0 else unknowns.slip(channel, casting))
    return np.stack(columns, axis=-1) if columns else np.zeros((*counts.shape[:-1], 0))


def doubts(heating: Heating, told: Seen) -> Rows:
    """Doubt of every value with the model's own error in it.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    told : Seen
        The values that are fitted. [record]

    Returns
    -------
    NDArray
        Standard uncertainty of each value. [m, K]
    """
    wide = []
    for standard, channel in zip(told.standards, told.channels, strict=True):
        per_kelvin = 1.0
        if channel >= 0:
            law = heating.casting_law
            per_kelvin = heating.fits[channel][1].diameter * float(np.mean(law.reference))
        wide.append(np.hypot(standard, MODEL_ERROR * per_kelvin))
    return np.array(wide, dtype=float)


def fitted(heating: Heating, plan: Openings, told: Seen) -> Fitted:
    """The most likely unknowns and their covariance, by damped Gauss-Newton steps.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    plan : Openings
        Door openings in their order. [record]
    told : Seen
        The values that are fitted. [record]

    Returns
    -------
    Fitted
        The fit. [record]

    Raises
    ------
    NotConverged
        If the steps do not die out.
    """
    size, widths = count_of(heating, plan), doubts(heating, told)
    counts = np.zeros((*told.values.shape[:-1], size))
    damping = np.full(counts.shape[:-1], 1e-3)
    worst = 0.0
    for _ in range(MOST_STEPS):
        off, slopes = _linear(heating, plan, told, widths, counts)
        normal = np.swapaxes(slopes, -1, -2) @ slopes + np.eye(size)
        down = counts + (np.swapaxes(slopes, -1, -2) @ off[..., None])[..., 0]
        eased = normal + damping[..., None, None] * np.eye(size)
        step = -np.linalg.solve(eased, down[..., None])[..., 0]
        trial = counts + step
        later = (modelled(heating, plan, told, trial) - told.values) / widths
        is_better = _cost(later, trial) <= _cost(off, counts) * (1.0 + 1e-12)
        counts = np.where(is_better[..., None], trial, counts)
        damping = np.where(is_better, np.maximum(damping * 0.1, 1e-9), damping * 10.0)
        worst = float(np.abs(step).max(initial=0.0))
        if worst < CLOSE:
            spread = np.linalg.inv(normal)
            own = np.einsum("...ij,...jk,...ik->...i", slopes, spread, slopes)
            left = np.sqrt(np.maximum(1.0 - own, 1e-9))
            return Fitted(counts, np.linalg.cholesky(spread), -off / left)
    raise NotConverged("course of the heat", MOST_STEPS, worst, CLOSE)


def _cost(off: Rows, counts: Rows) -> Rows:
    """Sum of squares of readings and priors."""
    return cast("Rows", (off**2).sum(axis=-1) + (counts**2).sum(axis=-1))


def _linear(
    heating: Heating, plan: Openings, told: Seen, widths: Rows, counts: Rows
) -> tuple[Rows, Rows]:
    """Residuals of the readings over their doubts, and their slopes by the unknowns."""
    size = counts.shape[-1]
    nudged = np.repeat(counts[..., None, :], size + 1, axis=-2)
    nudged[..., np.arange(1, size + 1), np.arange(size)] += _NUDGE
    values = modelled(heating, plan, told, nudged)
    off = (values[..., 0, :] - told.values) / widths
    slopes = (values[..., 1:, :] - values[..., :1, :]) / _NUDGE / widths
    return off, np.swapaxes(slopes, -1, -2)


def without(told: Seen, number: int) -> Seen:
    """The values without one of them.

    Parameters
    ----------
    told : Seen
        The values that are fitted. [record]
    number : int
        Which of them. [1]

    Returns
    -------
    Seen
        The others. [record]
    """
    kept = [index for index in range(len(told.times)) if index != number]
    return replace(
        told,
        times=tuple(told.times[index] for index in kept),
        channels=tuple(told.channels[index] for index in kept),
        values=told.values[..., kept],
        standards=told.standards[..., kept],
    )
