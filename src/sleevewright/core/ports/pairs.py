"""Which ports are each other's mirror, by their names alone."""

from __future__ import annotations

import re
from collections.abc import Iterable

LEFT, RIGHT = "left", "right"
_OTHER = {LEFT: RIGHT, RIGHT: LEFT}
_SIDE = re.compile(r"\b(left|right)\b", re.IGNORECASE)


def twin_name(port: str) -> str:
    """What the port across the bore is called; empty where a name has no side.

    Parameters
    ----------
    port : str
        Name of a port.

    Returns
    -------
    str
        The name with left and right exchanged, in the case of what stands there.

    Examples
    --------
    >>> twin_name("rear left"), twin_name("Rear Left"), twin_name("boost")
    ('rear right', 'Rear Right', '')
    """
    swapped = _SIDE.sub(_swapped, port)
    return "" if swapped == port else swapped


def _swapped(found: re.Match[str]) -> str:
    """The other side, written as the one was."""
    word = found[0]
    other = _OTHER[word.lower()]
    if word.isupper():
        return other.upper()
    return other.capitalize() if word[0].isupper() else other


def side_of(port: str) -> str:
    """The side that a name says, ``left`` or ``right``; empty where it says none or both.

    Parameters
    ----------
    port : str
        Name of a port.

    Returns
    -------
    str
        The side as seen from inside.

    Examples
    --------
    >>> side_of("Rear Left"), side_of("boost")
    ('left', '')
    """
    found = {one.lower() for one in _SIDE.findall(port)}
    return found.pop() if len(found) == 1 else ""


def pairs_by_name(names: Iterable[str]) -> tuple[tuple[str, str, str], ...]:
    """Pairs among some names: what both are called, the left one, the right one.

    Large and small letters make no other name.

    Parameters
    ----------
    names : Iterable[str]
        Names of ports.

    Returns
    -------
    tuple[tuple[str, str, str], ...]
        Pairs in the order of their left ones.

    Examples
    --------
    >>> pairs_by_name(["Rear Left", "rear RIGHT", "boost", "left"])
    (('Rear', 'Rear Left', 'rear RIGHT'),)
    """
    told = {name.casefold(): name for name in names}
    found = []
    for name in told.values():
        right = told.get(twin_name(name).casefold())
        if side_of(name) == LEFT and right is not None:
            shared = " ".join(_SIDE.sub(" ", name).split())
            found.append((shared or "port", name, right))
    return tuple(found)
