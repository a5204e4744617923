"""One word on a sleeve that arrived: accept, turn, read again, or send back, with the reason."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.formulas import formula

GOOD, CLOSE, OUT, UNKNOWN = "good", "too close to call", "out", "not read"
"""What an item may be."""

SOUND, CRACKED, NOT_TRIED = "sound", "cracked", "not tried"
"""What looking for cracks and tapping gave."""


@dataclass(frozen=True)
class Arrived:
    """What was found of a sleeve that arrived, each item as its verdict says."""

    crack: str  # sound, cracked or not tried
    outside: str  # spread and taper of the outside, the worse of both
    flange: str  # spread of the flange's thickness
    wall: str  # wall that is left when finished
    bore: str  # stock in its bore after close-up
    fit: str  # in the bore that is cut already; not read where none is
    has_stock: bool = False  # whether the outside is larger than the cut bore wants


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
    if arrived.crack == CRACKED:
        return "send back: cracked"
    for verdict, why in (
        (arrived.wall, "too thin a wall when it is finished"),
        (arrived.bore, "its bore is too large to clean up"),
        (arrived.fit, "too small for the bore that is cut; see which outside serves"),
    ):
        if verdict == OUT:
            return f"send back: {why}"
    if OUT in (arrived.outside, arrived.flange):
        what = "outside" if arrived.outside == OUT else "flange"
        return f"{'turn' if arrived.has_stock else 'send back'}: {what} not true enough"
    if arrived.has_stock:
        return "turn: larger than the bore that is cut wants"
    named = _named(arrived)
    unread = [name for name, verdict in named if verdict == UNKNOWN]
    if unread:
        return f"read first: {', '.join(unread)}"
    close = [name for name, verdict in named if verdict == CLOSE]
    if close:
        return f"read again, too close to call: {', '.join(close)}"
    return "accept" if arrived.crack == SOUND else "tap it first: a crack sounds dull"


def _named(arrived: Arrived) -> tuple[tuple[str, str], ...]:
    """Items with the words for them; a fit is no item where no bore is cut."""
    items = (
        ("outside", arrived.outside),
        ("flange", arrived.flange),
        ("wall", arrived.wall),
        ("stock in its bore", arrived.bore),
    )
    return items if arrived.fit == UNKNOWN else (*items, ("fit", arrived.fit))
