"""Whether the lines of a crosshatch fall into the tracks of those before, and strokes beside them.

Where the turns of the spindle by one full cycle are a ratio of small whole numbers, each grit
runs in its own track again.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import not_negative
from sleevewright.core.cutting.strokes import turns_in_cycle
from sleevewright.core.formulas import formula

MOST_CYCLES = 6
"""A track that repeats after more cycles than this is none: stones wear and feed meanwhile."""

SAME_TRACK = 0.02
"""Share of a turn below which lines fall into the tracks of those before: judgement."""

_STEP, _FARTHEST = 0.002, 0.10


@dataclass(frozen=True)
class Repeat:
    """The whole-number ratio that turns and cycles come nearest to."""

    cycles: int
    turns: int
    gap: float  # how far beside its first track a grit then runs, in turns; not signed


def nearest_repeat(ratio: float) -> Repeat:
    """After how many cycles a grit comes nearest to its own track.

    Parameters
    ----------
    ratio : float
        Turns in one cycle. [1]

    Returns
    -------
    Repeat
        Cycles, turns, and how far it then is beside its track. [record]

    Raises
    ------
    InputError
        If the ratio is negative.

    Notes
    -----
    Of several that come equally near, the one after the fewest cycles. Source: ``derived``.

    Examples
    --------
    >>> nearest_repeat(2.5)
    Repeat(cycles=2, turns=5, gap=0.0)
    """
    not_negative("ratio", ratio, "1")
    found = [
        Repeat(count, round(count * ratio), round(abs(count * ratio - round(count * ratio)), 9))
        for count in range(1, MOST_CYCLES + 1)
    ]
    return min(found, key=lambda one: (one.gap, one.cycles))


@formula(
    name="cycles off the track",
    expression="n' near n with the largest gap of N / n'",
    sources=("derived",),
    validity="within a tenth of the cycles; stones alike and at even distances",
    unit="1/s",
)
def cycles_off_track(*, turns: float, cycles: float) -> float:
    """Cycles near some others at which lines fall between those that were cut before.

    Parameters
    ----------
    turns : float
        Turns of the spindle in a second. [1/s]
    cycles : float
        Full cycles in a second that make the wanted angle. [1/s]

    Returns
    -------
    float
        The nearest cycles in a second that keep at least twice the gap of a same track. [1/s]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    Steps of a fifth of a per cent to either side. Source: ``derived``.

    Examples
    --------
    >>> round(60.0 * cycles_off_track(turns=3.0, cycles=1.5), 2)
    88.2
    """
    turns_in_cycle(turns=turns, cycles=cycles)
    steps = np.arange(0.0, _FARTHEST + _STEP / 2.0, _STEP)
    for step in steps:
        for side in (1.0, -1.0):
            tried = cycles * (1.0 + side * float(step))
            if nearest_repeat(turns / tried).gap >= 2.0 * SAME_TRACK:
                return tried
    return cycles


@formula(
    name="cycles to set",
    expression="n where its tracks lie apart, else the nearest n' off the track",
    sources=("derived",),
    validity="as of the cycles off the track",
    unit="1/s",
)
def cycles_to_set(*, turns: float, cycles: float) -> float:
    """The cycles for an angle, moved off the track where each grit would run in its own.

    Parameters
    ----------
    turns : float
        Turns of the spindle in a second. [1/s]
    cycles : float
        Full cycles in a second that make the wanted angle. [1/s]

    Returns
    -------
    float
        Full cycles in a second. [1/s]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(60.0 * cycles_to_set(turns=3.0, cycles=1.5), 2)
    88.2
    >>> round(60.0 * cycles_to_set(turns=2.5, cycles=1.491), 2)
    89.46
    """
    ratio = float(turns_in_cycle(turns=turns, cycles=cycles))
    if nearest_repeat(ratio).gap >= SAME_TRACK:
        return float(cycles)
    return cycles_off_track(turns=turns, cycles=cycles)
