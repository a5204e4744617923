"""When does it grip: the reduced model of a cold sleeve in a hot casting.

Time counts from an instant full entry.  Slip and form are diametral.  The sleeve grips
when its clearance is no more than what the shapes of the real parts use up: hot
out-of-round, taper and burr (the form allowance), the bow and the ovality of a sleeve
that is heated on one side.  Nothing here knows of tilt: a tilted sleeve can wedge at any
clearance.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive, within
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.formulas import formula
from sleevewright.core.heat.drop_inputs import DropInputs
from sleevewright.core.heat.ring_model import (
    CELLS,
    Array,
    Cells,
    Constants,
    Room,
    cells,
    constants_of,
    evaluate,
    first_state,
)
from sleevewright.core.heat.stepping import MOST_STEPS, Fleet, Scratch, advance, grips, start
from sleevewright.errors import InputError, NotConverged

__all__ = [
    "HORIZON",
    "ClearanceHistory",
    "DropInputs",
    "GripTimes",
    "clearance_history",
    "entry_shift",
    "grip_times",
    "time_from_entry",
]

HORIZON = 120.0
"""Time up to which a drop is followed. [s]"""

_POSITIVE = (
    ("diameter", "m"), ("length", "m"), ("wall", "m"), ("casting_temperature", "K"),
    ("sleeve_temperature", "K"), ("room", "K"), ("casting_capacity", "J/K"),
    ("sleeve_capacity", "J/K"), ("casting_depth", "m"), ("casting_conductivity", "W/(m K)"),
    ("sleeve_conductivity", "W/(m K)"), ("stand_off", "m"), ("fluid_factor", ""),
)  # fmt: skip
_NOT_NEGATIVE = (
    ("form", "m"), ("bending", ""), ("outside_loss", "W/(m K)"),
    ("inside_coefficient", "W/(m2 K)"), ("radiation_factor", ""),
)  # fmt: skip


@dataclass(frozen=True)
class GripTimes:
    """Time until each sample grips; infinite where it is still loose at the horizon.

    Parameters
    ----------
    seconds : NDArray[np.float64]
        Times, shape (n_samples,). [s]
    horizon : float
        Time up to which the drops were followed. [s]
    """

    seconds: Array
    horizon: float


@dataclass(frozen=True)
class ClearanceHistory:
    """A drop over time; rows are times, shape (n_times, n_samples).

    Parameters
    ----------
    times : NDArray[np.float64]
        Time since entry, shape (n_times,). [s]
    clearance : NDArray[np.float64]
        Diametral clearance, negative for interference. [m]
    used_up : NDArray[np.float64]
        What form, bow and ovality use of it. [m]
    sleeve, casting : NDArray[np.float64]
        Mean temperature of the sleeve, temperature of the casting. [K]
    """

    times: Array
    clearance: Array
    used_up: Array
    sleeve: Array
    casting: Array


def _checked(inputs: DropInputs) -> DropInputs:
    """The same inputs, or an error that names the one that cannot be right."""
    for name, unit in _POSITIVE:
        positive(name.replace("_", " "), getattr(inputs, name), unit)
    for name, unit in _NOT_NEGATIVE:
        not_negative(name.replace("_", " "), getattr(inputs, name), unit)
    within("eccentricity", inputs.eccentricity, "", 0.0, 1.0)
    finite("interference", inputs.interference, "m")
    positive("bore", inputs.diameter - inputs.interference, "m")
    positive("inside of the sleeve", inputs.diameter - 2.0 * inputs.wall, "m")
    lengths = {
        value.size
        for one in fields(inputs)
        if isinstance(value := getattr(inputs, one.name), np.ndarray) and value.size > 1
    }
    if len(lengths) > 1:
        raise InputError("samples", sorted(lengths), "", "arrays of one length")
    return inputs


def _set_up(inputs: DropInputs, count: int) -> tuple[Constants, Cells, Array]:
    """Constants, cells and first state of all samples."""
    if count < 2:
        raise InputError("cells", count, "", "two or more")
    division = cells(count)
    known = constants_of(_checked(inputs), division)
    return known, division, first_state(inputs, division, known.bore.size)


@formula(
    name="time until it grips",
    expression="c(t) <= f + bow + ovality, c = (D - i)(1 + eps_c) - D (1 + eps_s); "
    "dT_j/dt = h_j (T_c - T_j) / (rho c w), h_j = k / (gap + d) in series with both walls; "
    "bow = alpha T_1 L^2 / (4 D), ovality = 2 D alpha T_2 / 3",
    sources=("timoshenko-goodier-1970", "incropera-2007", "derived"),
    validity="still gas, whole sleeve in at once, no tilt, casting as a ring at one "
    "temperature; checked against a finer model of our own, against no measured drop",
    unit="s",
)
def grip_times(
    inputs: DropInputs, *, horizon: float = HORIZON, cell_count: int = CELLS, pace: float = 1.0
) -> GripTimes:
    """Time from entry until the sleeve grips, for each sample.

    Parameters
    ----------
    inputs : DropInputs
        The drops, numbers or arrays of one length. [record]
    horizon : float
        Time up to which they are followed. [s]
    cell_count : int
        Cells of half the sleeve. [1]
    pace : float
        Step lengths over the usual ones; less is finer. [1]

    Returns
    -------
    GripTimes
        Times, infinite beyond the horizon, zero where it cannot enter. [s]

    Raises
    ------
    InputError
        If an input cannot be right; its name is in the message.
    NotConverged
        If the steps do not reach grip or horizon.

    Notes
    -----
    A free ring grows by its area-mean strain. Source: ``timoshenko-goodier-1970`` for
    that, ``incropera-2007`` for conduction, ``derived`` for the cells.
    """
    positive("horizon", horizon, "s")
    within("pace", pace, "", 1e-3, 1.5)
    known, division, state = _set_up(inputs, cell_count)
    fleet = start(known, division, state)
    return GripTimes(grips(fleet, division, horizon=horizon, pace=pace), horizon)


@formula(
    name="clearance over time",
    expression="c(t) = (D - i)(1 + eps_c(T_c)) - D (1 + eps_s(mean T_s))",
    sources=("timoshenko-goodier-1970", "incropera-2007", "derived"),
    validity="as the time until it grips; below zero gap no contact mechanics",
    unit="m",
)
def clearance_history(
    inputs: DropInputs, *, times: Array, cell_count: int = CELLS
) -> ClearanceHistory:
    """Clearance and temperatures at given times after entry.

    Parameters
    ----------
    inputs : DropInputs
        The drops, numbers or arrays of one length. [record]
    times : NDArray[np.float64]
        Times, rising from zero or more, shape (n_times,). [s]
    cell_count : int
        Cells of half the sleeve. [1]

    Returns
    -------
    ClearanceHistory
        Rows of the times. [m, K]

    Raises
    ------
    InputError
        If an input cannot be right or the times do not rise.
    NotConverged
        If a sleeve that conducts without end would take too many steps.

    Notes
    -----
    For pictures and checks; grip times come from :func:`grip_times`. Source:
    ``timoshenko-goodier-1970``, ``incropera-2007``, ``derived``.
    """
    wanted = np.asarray(times, dtype=np.float64)
    if wanted.ndim != 1 or not wanted.size or wanted[0] < 0.0 or (np.diff(wanted) <= 0.0).any():
        raise InputError("times", wanted.size, "values", "times that rise from zero")
    known, division, state = _set_up(inputs, cell_count)
    fleet = start(known, division, state)
    scratch = Scratch(division, state.shape[1])
    rows: list[tuple[Array, Array, Array, Array]] = []
    now = 0.0
    for time in wanted:
        fleet = _until(fleet, division, scratch, float(time) - now)
        now = float(time)
        rows.append(_seen(fleet, division))
    columns = (np.stack(column) for column in zip(*rows, strict=True))
    return ClearanceHistory(wanted, *columns)


def _until(fleet: Fleet, division: Cells, scratch: Scratch, span: float) -> Fleet:
    """The fleet after a span of time, in equal steps that suit the fastest sample."""
    if span <= 0.0:
        return fleet
    known = fleet.known
    closed = 4.0 / (known.series + 1e-30)  # no gap conducts better than both walls let it
    conducted = known.fluid * division.width * 0.02 / known.stand_off / known.by_area
    fastest = np.minimum(closed, 2.0 * conducted) + 8.0 / division.width**2 * known.conduction
    count = max(1, int(np.ceil(span * float(fastest.max()))))
    if count > MOST_STEPS:
        raise NotConverged("clearance over time", MOST_STEPS, span, 0.0)
    lengths = np.full(fleet.time.size, span / count)
    state, change = fleet.state, fleet.change
    for _ in range(count):
        fleet = Fleet(
            known, state, change, fleet.time + lengths, fleet.margin, fleet.rate, fleet.fastest,
            fleet.index,
        )  # fmt: skip
        state, change, moment = advance(fleet, division, lengths, scratch)
    return Fleet(
        known, state, change, fleet.time, moment.margin, fleet.rate, moment.fastest, fleet.index
    )


def _seen(fleet: Fleet, division: Cells) -> tuple[Array, Array, Array, Array]:
    """Clearance, what is used of it, and both temperatures of a fleet."""
    samples = fleet.time.size
    again = np.empty_like(fleet.state)
    moment = evaluate(fleet.known, division, fleet.state, again, Room(division, samples))
    mean = moment.harmonics[0] + REFERENCE_TEMPERATURE
    used = moment.clearance - moment.margin
    return moment.clearance, used, mean, fleet.state[-1] + REFERENCE_TEMPERATURE


@formula(
    name="lag of a slow entry",
    expression="shift = share t_entry",
    sources=("derived",),
    validity="entries of up to about 3 s; share 0.5 to 0.9 in a model along the axis, 0.35 "
    "taken on the cautious side",
    unit="s",
)
def entry_shift(*, entry_time: Number, share: Number = 0.35) -> Number:
    """How much later a sleeve grips because it did not enter at once.

    Parameters
    ----------
    entry_time : Number
        Time from first entry to seated. [s]
    share : Number
        Shift for each second of entry. [1]

    Returns
    -------
    Number
        Shift of the grip, counted from first entry. [s]

    Raises
    ------
    InputError
        If the time is negative or the share is not between 0 and 1.

    Notes
    -----
    The upper end is in first and the lower end last, so the mean clock starts late.
    Source: ``derived``.

    Examples
    --------
    >>> round(entry_shift(entry_time=2.0), 2)
    0.7
    """
    within("share of the entry time", share, "", 0.0, 1.0)
    return not_negative("entry time", entry_time, "s") * share


@formula(
    name="grip counted from first entry",
    expression="t = t_grip + share t_entry",
    sources=("derived",),
    validity="as the lag of a slow entry",
    unit="s",
)
def time_from_entry(*, grip: Number, entry_time: Number, share: Number = 0.35) -> Number:
    """Grip time on the clock that starts as the sleeve first enters.

    Parameters
    ----------
    grip : Number
        Time until grip after an instant entry. [s]
    entry_time : Number
        Time from first entry to seated. [s]
    share : Number
        Shift for each second of entry. [1]

    Returns
    -------
    Number
        Time from first entry to grip. [s]

    Raises
    ------
    InputError
        If the entry time is negative or the share is not between 0 and 1.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(time_from_entry(grip=4.0, entry_time=1.0), 2)
    4.35
    """
    return grip + entry_shift(entry_time=entry_time, share=share)
