"""What would change the seconds of a drop: the same drops again, with one thing changed.

Every drop keeps all its other unknowns, so that what differs is the change alone; what does
not rise above the noise of so many drops is left out.  Slip and form are diametral, seconds
count from first entry.  Changed by chances of the model, fitted to no measured drop.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import cast

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number
from sleevewright.core.expansion import thermal_strain
from sleevewright.core.formulas import formula
from sleevewright.core.heat.drop import HORIZON, grip_times, time_from_entry
from sleevewright.core.heat.drop_case import DropCase, DropDraws
from sleevewright.core.heat.joining import casting_temperature_for_slip
from sleevewright.core.heat.unknowns import draw_unknowns, drop_inputs
from sleevewright.core.heat.wave import joined
from sleevewright.core.materials import default
from sleevewright.core.uncertainty.inputs import DEFAULT_SEED
from sleevewright.errors import InputError

Array = NDArray[np.float64]

PAIRED_DROPS = 1_000
"""Drops of each change, the same ones. [1]"""

BATCHES = 20
"""Parts that the drops are dealt into to see how far chance alone moves an answer. [1]"""

ABOVE_NOISE = 3.0
"""Least change over its sampling error for it to be named. [1]"""

STEP = 25.4e-6
"""One thou, the step of slip and form. [m]"""

COOLER = 20.0
"""Step of the casting's temperature. [K]"""

FREEZER = 255.15
"""A sleeve out of a household freezer, -18 degC. [K]"""


@dataclass(frozen=True)
class Change:
    """One thing that is otherwise: another case, or other samples of the same one."""

    key: str
    case: DropCase
    added_form: float = 0.0
    is_centred: bool = False


@dataclass(frozen=True)
class Band:
    """Seconds that 19 in 20 stay free at least, the median, and 19 in 20 have gripped by."""

    low: float
    middle: float
    high: float


@dataclass(frozen=True)
class Sensitivity:
    """What one change does; infinite seconds are beyond the horizon.

    Parameters
    ----------
    key : str
        Name of the change.
    before, after : Band
        Seconds as it is and as it would be. [s]
    noise : float
        Sampling error of the change of the median. [s]
    """

    key: str
    before: Band
    after: Band
    noise: float

    @property
    def strength(self) -> float:
        """Logarithm of the ratio of both medians, without its sign."""
        if not (math.isfinite(self.after.middle) and math.isfinite(self.before.middle)):
            return math.inf
        return abs(math.log(max(self.after.middle, 1e-3) / max(self.before.middle, 1e-3)))


def _added_slip(case: DropCase, *, casting: float, sleeve: float | None) -> Number:
    """Slip once the casting is so much hotter, or the sleeve has another temperature."""
    hot = casting_temperature_for_slip(
        diameter=case.diameter,
        interference=case.interference,
        slip=case.slip,
        casting_law=case.casting_law,
        sleeve_law=case.sleeve_law,
        sleeve_temperature=case.sleeve_temperature,
    )
    bore = case.diameter - case.interference
    grown = thermal_strain(case.casting_law, temperature=hot + casting) - thermal_strain(
        case.casting_law, temperature=hot
    )
    added = bore * grown
    if sleeve is not None:
        shrunk = thermal_strain(
            case.sleeve_law, temperature=case.sleeve_temperature
        ) - thermal_strain(case.sleeve_law, temperature=sleeve)
        added = added + case.diameter * shrunk
    return case.slip + added


def usual_changes(case: DropCase) -> tuple[Change, ...]:
    """The changes that a shop can make, or may meet, of this drop.

    Parameters
    ----------
    case : DropCase
        The drop as it is planned. [record]

    Returns
    -------
    tuple[Change, ...]
        Changes, those that do not apply left out. [record]

    Raises
    ------
    InputError
        If the slip cannot be had from any temperature.

    Notes
    -----
    A cooler casting and a chilled sleeve change the slip by what each part grows or
    shrinks; the casting of a chilled sleeve keeps its temperature. Source: ``derived``.
    """
    measured = replace(
        case,
        form=default("form_allowance").value if case.form is None else _median(case.form),
        is_weighed=True,
        dry=True,
    )
    found = [
        Change("oil", replace(case, dry=False)),
        Change("dry", replace(case, dry=True)),
        Change("more-slip", replace(case, slip=case.slip + STEP)),
        Change("cooler", replace(case, slip=_added_slip(case, casting=-COOLER, sleeve=None))),
        Change("more-form", case, added_form=STEP),
        Change("centred", case, is_centred=True),
        Change("measured", measured),
    ]
    if _median(case.sleeve_temperature) > FREEZER + 5.0:
        slip = _added_slip(case, casting=0.0, sleeve=FREEZER)
        found.append(Change("chilled", replace(case, slip=slip, sleeve_temperature=FREEZER)))
    return tuple(one for one in found if one.key not in ("dry", "oil") or one.case.dry != case.dry)


def _median(value: Number) -> float:
    """One number for a number or its samples."""
    return float(np.median(value))


def _drawn(change: Change, count: int, seed: int) -> DropDraws:
    """The samples of a change: those of the drop itself but for what is otherwise."""
    draws = draw_unknowns(change.case, count=count, seed=seed)
    if change.is_centred:
        draws = replace(draws, eccentricity=np.zeros(count))
    return replace(draws, form=draws.form + change.added_form)


def _band(seconds: Array) -> Band:
    """Three quantiles, infinite beyond the horizon; nothing is averaged across it."""
    low, middle, high = np.quantile(seconds, (0.05, 0.5, 0.95), method="inverted_cdf")
    return Band(float(low), float(middle), float(high))


def _noise(before: Array, after: Array) -> float:
    """Sampling error of the change of the median, from the same batches of both."""
    parts = before.size // BATCHES * BATCHES
    medians = [
        np.quantile(row[:parts].reshape(BATCHES, -1), 0.5, axis=1, method="inverted_cdf")
        for row in (before, after)
    ]
    both = np.isfinite(medians[0]) & np.isfinite(medians[1])
    if both.sum() < BATCHES // 2:
        return math.inf
    differences = medians[1][both] - medians[0][both]
    return float(np.std(differences, ddof=1) / math.sqrt(both.sum()))


def _is_clear(found: Sensitivity, before: Array, after: Array) -> bool:
    """Whether a change rises above the noise; a narrower band counts where that is the aim.

    A median that passes the horizon has no seconds: there the drops still loose are counted.
    """
    if found.key == "measured":
        wide, narrow = (one.high / max(one.low, 1e-3) for one in (found.before, found.after))
        return math.isfinite(narrow) and narrow < 0.9 * wide
    ends = (found.before.middle, found.after.middle)
    if not any(map(math.isfinite, ends)):
        return False
    if not all(map(math.isfinite, ends)):
        changed = np.isinf(before).astype(float) - np.isinf(after)
        error = float(np.std(changed)) / math.sqrt(changed.size)
        return abs(float(np.mean(changed))) > ABOVE_NOISE * error
    return abs(ends[1] - ends[0]) > ABOVE_NOISE * found.noise


@formula(
    name="what changes the seconds",
    expression="quantiles of grip times of the same drops with one thing changed",
    sources=("jcgm-101", "practice", "derived"),
    validity="within the model and its judged priors, fitted to no measured drop; tilt left out",
    unit="record",
)
def sensitivities(
    case: DropCase,
    changes: Sequence[Change],
    *,
    count: int = PAIRED_DROPS,
    seed: int = DEFAULT_SEED,
    horizon: float = HORIZON,
) -> tuple[Sensitivity, ...]:
    """What each change does to the seconds, strongest first.

    Parameters
    ----------
    case : DropCase
        The drop as it is planned. [record]
    changes : Sequence[Change]
        What could be otherwise. [record]
    count : int
        Drops of each, the same ones. [1]
    seed : int
        Seed that all streams share. [1]
    horizon : float
        Time up to which they are followed. [s]

    Returns
    -------
    tuple[Sensitivity, ...]
        Those that rise above the noise. [s]

    Raises
    ------
    InputError
        If there are fewer than 200 drops or a value cannot be right.
    NotConverged
        If the steps do not reach grip or horizon.

    Notes
    -----
    Paired: every drop has its own unknowns in all rows. Source: ``jcgm-101`` for
    sampling, ``practice`` for the priors, ``derived``.
    """
    if count < 10 * BATCHES:
        raise InputError("drops", count, "", f"{10 * BATCHES} or more")
    rows = (Change("as it is", case), *changes)
    draws = [_drawn(one, count, seed) for one in rows]
    inputs = [
        drop_inputs(one.case, drawn, count=count, seed=seed)
        for one, drawn in zip(rows, draws, strict=True)
    ]
    grip = grip_times(joined(inputs, count), horizon=horizon).seconds
    entry = np.concatenate([drawn.entry_time for drawn in draws])
    seconds = time_from_entry(grip=grip, entry_time=entry, share=default("entry_lag").value)
    table = cast("Array", seconds).reshape(len(rows), count)
    base, before = table[0], _band(table[0])
    found = [
        (Sensitivity(one.key, before, _band(row), _noise(base, row)), row)
        for one, row in zip(changes, table[1:], strict=True)
    ]
    clear = [one for one, row in found if _is_clear(one, base, row)]
    return tuple(sorted(clear, key=lambda one: -one.strength))
