"""Ready when?  The forecast of a heat from its readings, with a band that holds what it says.

What decides is the slip on the gauge.  The forecast says when to look, never when to go.
"""

from __future__ import annotations

from typing import cast

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.heat.heating import (
    DoorOpening,
    Heating,
    OvenReading,
    ReadyForecast,
    Remark,
)
from sleevewright.core.heat.oven_course import Openings, course, first_reached, openings
from sleevewright.core.heat.ready_checks import checked_fit, in_order, refuse_impossible
from sleevewright.core.heat.ready_fit import Fitted, Seen, Unknowns, seen

Rows = NDArray[np.float64]

LEVELS = (0.05, 0.25, 0.5, 0.75, 0.95)
LOOK_AGAIN = 0.10
DRAWS = 1500
FAN_DRAWS = 300
FAN_POINTS = 49


@formula(
    name="when a casting is ready",
    expression="least squares of T' = (T_a - T) / tau with priors; first time with slip >= go",
    sources=("incropera-2007", "derived"),
    validity="Biot number below 0.1; an oven whose door events are told",
    unit="record",
)
def ready_forecast(
    heating: Heating,
    readings: tuple[OvenReading, ...],
    doors: tuple[DoorOpening, ...],
    *,
    now: float,
    seed: int = 20,
) -> ReadyForecast:
    """When the slower fit has its slip, as far as the readings say, with a band.

    Parameters
    ----------
    heating : Heating
        What is known beforehand. [record]
    readings : tuple[OvenReading, ...]
        Looks at the casting, in any order. [record]
    doors : tuple[DoorOpening, ...]
        Door openings but for the loading; those later than now are planned. [record]
    now : float
        Time since the casting went in. [s]
    seed : int
        Seed of the draws. [1]

    Returns
    -------
    ReadyForecast
        Ready times, fan and what the readings say of oven and casting. [record]

    Raises
    ------
    InputError
        If a time, size or temperature is impossible.
    NotConverged
        If the fit does not settle.

    Notes
    -----
    Source: ``incropera-2007`` equation 5.6 for one lump, ``derived`` for the rest.
    """
    refuse_impossible(heating, readings, doors, now)
    ordered, remarks = in_order(heating, readings)
    now = _sensible(now, ordered, remarks)
    plan = openings(doors, room=heating.room, air_time_constant=heating.air_time_constant)
    told, fit, odd = checked_fit(heating, plan, seen(heating, ordered))
    drawn = draws(fit, DRAWS, seed)
    unknowns = Unknowns(heating, drawn)
    targets = np.stack([unknowns.target(one) for one in range(len(heating.fits))], axis=-1)
    reached = first_reached(unknowns.belief, plan, targets.max(axis=-1), now=now)
    return _forecast(heating, plan, now, _Found(told, fit, drawn, targets, reached),
                     (*remarks, *odd))  # fmt: skip


def _sensible(now: float, kept: tuple[OvenReading, ...], remarks: tuple[Remark, ...]) -> float:
    """Now, or the newest reading that counts where now is that of one whose time is wrong."""
    wrong = [one.time for one in remarks if one.code == "hours"]
    if not wrong or now > max(wrong) + 1.0:
        return now
    return min(now, max((one.time for one in kept), default=0.0))


class _Found:
    """What was drawn for one forecast."""

    def __init__(self, told: Seen, fit: Fitted, drawn: Rows, targets: Rows, reached: Rows) -> None:
        self.told, self.fit, self.drawn = told, fit, drawn
        self.targets, self.reached = targets, reached


def draws(fit: Fitted, count: int, seed: int) -> Rows:
    """Draws of the unknowns about the most likely ones; the draws come first.

    Parameters
    ----------
    fit : Fitted
        The fit. [record]
    count : int
        How many. [1]
    seed : int
        Seed of the draws. [1]

    Returns
    -------
    NDArray
        Draws, shape (count, n_unknowns). [1]
    """
    normal = np.random.default_rng(seed).standard_normal((count, fit.middle.shape[-1]))
    spread = np.einsum("...ij,cj->c...i", fit.root, normal)
    return cast("Rows", fit.middle + spread)


def _shares(reached: Rows, levels: tuple[float, ...]) -> tuple[float, ...]:
    """Ready times at shares of all draws; infinite where fewer are ever ready.

    Parameters
    ----------
    reached : NDArray
        Ready times of the draws. [s]
    levels : tuple[float, ...]
        Shares wanted. [1]

    Returns
    -------
    tuple[float, ...]
        Ready times. [s]
    """
    ranked = np.sort(reached, axis=0)
    places = [min(int(level * ranked.shape[0]), ranked.shape[0] - 1) for level in levels]
    return tuple(float(ranked[place]) for place in places)


def _forecast(
    heating: Heating, plan: Openings, now: float, found: _Found, remarks: tuple[Remark, ...]
) -> ReadyForecast:
    """Everything that is said of a heat."""
    fit, counts = found.fit, Unknowns(heating, found.fit.middle)
    belief = counts.belief
    targets = [float(counts.target(one)) for one in range(len(heating.fits))]
    last = int(np.argmax(targets))
    ready = _shares(found.reached, LEVELS)
    spread = np.sqrt((fit.root**2).sum(axis=-1))
    times = _times(now, ready, heating)
    at_now = course(Unknowns(heating, found.drawn).belief, plan, (now,))[..., 0]
    return ReadyForecast(
        now=now,
        levels=LEVELS,
        ready=ready,
        look_again=_shares(found.reached, (LOOK_AGAIN,))[0],
        chance_never=float(np.isinf(found.reached).mean()),
        times=times,
        slips=_fan(heating, plan, found, times, last),
        temperatures=tuple(map(float, course(belief, plan, times))),
        temperature_now=float(course(belief, plan, (now,))[..., 0]),
        temperature_now_standard=float(at_now.std()),
        slip_now=_slips_now(heating, found, at_now),
        decides=heating.fits[last][0],
        expansion=float(counts.expansion),
        expansion_standard=float(spread[3] * heating.expansion_standard),
        oven=float(belief.oven),
        oven_standard=float(spread[1] * heating.oven_standard),
        time_constant=float(belief.time_constant),
        time_constant_spread=float(spread[0] * heating.time_constant_spread),
        target=targets[last],
        used=len(found.told.times),
        remarks=remarks,
    )  # fmt: skip


def _times(now: float, ready: tuple[float, ...], heating: Heating) -> tuple[float, ...]:
    """Times of the curves: from the loading to a little past the latest that is likely."""
    known = [one for one in ready if np.isfinite(one)]
    end = max([now, *known]) if known else now + 3.0 * heating.time_constant
    return tuple(float(one) for one in np.linspace(0.0, 1.1 * end + 60.0, FAN_POINTS))


def _fan(
    heating: Heating, plan: Openings, found: _Found, times: tuple[float, ...], last: int
) -> tuple[tuple[float, ...], ...]:
    """Slip of the fit that decides, at each level."""
    unknowns = Unknowns(heating, found.drawn[:FAN_DRAWS])
    castings = course(unknowns.belief, plan, times)
    slips = np.stack(
        [unknowns.slip(last, castings[:, index]) for index in range(len(times))], axis=-1
    )
    return tuple(tuple(map(float, row)) for row in np.quantile(slips, LEVELS, axis=0))


def _slips_now(
    heating: Heating, found: _Found, at_now: Rows
) -> tuple[tuple[str, float, float], ...]:
    """For each fit its slip now and the doubt of it."""
    unknowns, rows = Unknowns(heating, found.drawn), []
    for number, (name, _) in enumerate(heating.fits):
        slips = unknowns.slip(number, at_now)
        rows.append((name, float(np.median(slips)), float(slips.std())))
    return tuple(rows)
