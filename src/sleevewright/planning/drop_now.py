"""The seconds of a drop once it is known how long the casting has been out of the oven."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sleevewright.core.checks import within
from sleevewright.core.heat.chances import drop_chances
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.materials import default

DROPS = 1_000
"""Drops of one answer: a tenth of a second at most. [1]"""

LONGEST = 600.0
"""Longest carry that is followed; after ten minutes the slip is gauged again. [s]"""


@dataclass(frozen=True)
class Now:
    """Seconds from first entry; not a number or nothing where they are beyond the horizon.

    Parameters
    ----------
    carried : float
        Time out of the oven. [s]
    line_up : float
        What 19 in 20 stay free at least, never above the longest that is shown. [s]
    expected : float
        As many sooner as later. [s]
    before_seated : float
        Chance that it grips before it is seated. [1]
    """

    carried: float
    line_up: float
    expected: float
    before_seated: float


def after_carry(case: DropCase, *, carried: float, seed: int, count: int = DROPS) -> Now:
    """The seconds of a drop whose casting has been out for so long, known by a clock.

    Parameters
    ----------
    case : DropCase
        The drop as it is planned. [record]
    carried : float
        Time out of the oven. [s]
    seed : int
        Seed that all streams share. [1]
    count : int
        How many drops. [1]

    Returns
    -------
    Now
        Seconds and the chance. [s, 1]

    Raises
    ------
    InputError
        If the time is negative or above ten minutes.
    """
    within("time out of the oven", carried, "s", 0.0, LONGEST)
    known = replace(case, carry_time=np.full(count, carried))
    found = drop_chances(known, count=count, seed=seed)
    most = default("line_up_most").value
    free = found.free_p05.value  # infinite where 19 in 20 outlast the forecast
    return Now(
        carried,
        min(free, most),
        found.expected.value,
        found.before_seated.value,
    )
