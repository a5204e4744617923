"""One word on a sleeve that arrived: accept, turn, read again, or send back, with the reason."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.errors import InputError

GOOD, CLOSE, OUT, UNKNOWN = "good", "too close to call", "out", "not read"
"""What an item may be."""

SOUND, CRACKED, NOT_TRIED = "sound", "cracked", "not tried"
"""What looking for cracks and tapping gave."""

TOO_TIGHT = "turn: tighter than the parts bear; choose a lighter fit, then turn to that"
"""Word on a sleeve whose fit the parts do not bear, though it is the fit that was wanted."""


@dataclass(frozen=True)
class Arrived:
    """What was found of a sleeve that arrived, each item as its verdict says."""

    crack: str  # sound, cracked or not tried
    outside: str  # spread and taper of the outside, the worse of both
    flange: str  # spread of the flange's thickness
    wall: str  # wall that is left when finished
    bore: str  # stock in its bore after close-up
    fit: str  # in the bore that is cut already, the worse of what is wanted and what parts bear
    has_stock: bool = False  # whether the outside is larger than the cut bore wants
    is_blank: bool = False  # whether it was ordered with stock to turn
    is_too_tight: bool = False  # whether a fit that is out is more than the parts bear


@formula(
    name="spread of all readings",
    expression="largest less smallest, every station and direction",
    sources=("practice",),
    validity="readings at one temperature; scatter alone makes it larger",
    unit="m",
)
def spread_of_all(*, readings: GridReadings) -> float:
    """Largest less smallest of everything that was read of a feature.

    Parameters
    ----------
    readings : GridReadings
        What was read, blanks as NaN. [m]

    Returns
    -------
    float
        Spread. [m]

    Raises
    ------
    InputError
        If there are fewer than two readings.

    Notes
    -----
    Taper and out-of-round are both in it. Source: ``practice``.
    """
    read = readings.readings[np.isfinite(readings.readings)]
    if read.size < 2:
        raise InputError("readings", int(read.size), "", "two or more")
    return float(np.ptp(read))


@formula(
    name="word on a sleeve that arrived",
    expression="the worst item decides; stock outside may be turned, all else goes back",
    sources=("practice",),
    validity="items judged one by one before",
    unit="text",
)
def arrival_word(*, arrived: Arrived) -> str:
    """Accept, turn, read again or send back, and why.

    Parameters
    ----------
    arrived : Arrived
        What was found, item by item. [record]

    Returns
    -------
    str
        The word and its reason. [text]

    Notes
    -----
    A slightly oval thin sleeve conforms to its bore and is accepted for that. Source:
    ``practice``.

    Examples
    --------
    >>> arrival_word(arrived=Arrived("sound", "good", "good", "good", "good", "not read"))
    'accept'
    """
    return _back_or_turned(arrived) or _still_open(arrived) or "accept"


def _back_or_turned(arrived: Arrived) -> str:
    """What goes back or to the lathe, and why; empty where nothing does."""
    backs = (
        (arrived.crack == CRACKED, "cracked"),
        (arrived.wall == OUT, "too thin a wall when it is finished"),
        (arrived.bore == OUT, "its bore is too large to clean up"),
        (
            arrived.fit == OUT and not arrived.is_too_tight,
            "too small for the bore that is cut; see which outside serves",
        ),
    )
    why = next((words for is_so, words in backs if is_so), "")
    if why:
        return f"send back: {why}"
    if OUT in (arrived.outside, arrived.flange):
        can_be_turned = arrived.has_stock or (arrived.is_blank and arrived.outside == OUT)
        what = "outside" if arrived.outside == OUT else "flange"
        return f"{'turn' if can_be_turned else 'send back'}: {what} not true enough"
    if arrived.has_stock:
        return "turn: larger than the bore that is cut wants"
    return TOO_TIGHT if arrived.fit == OUT else ""


def _still_open(arrived: Arrived) -> str:
    """What is to be read or tried before there is a word; empty where all is known."""
    named = _named(arrived)
    for verdict, words in ((UNKNOWN, "read first"), (CLOSE, "read again, too close to call")):
        open_items = [name for name, said in named if said == verdict]
        if open_items:
            return f"{words}: {', '.join(open_items)}"
    return "" if arrived.crack == SOUND else "tap it first: a crack sounds dull"


def _named(arrived: Arrived) -> tuple[tuple[str, str], ...]:
    """Items with the words for them; a fit is no item where no bore is cut."""
    items = (
        ("outside", arrived.outside),
        ("flange", arrived.flange),
        ("wall", arrived.wall),
        ("stock in its bore", arrived.bore),
    )
    return items if arrived.fit == UNKNOWN else (*items, ("fit", arrived.fit))
