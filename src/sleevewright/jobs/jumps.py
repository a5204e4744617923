"""Is a reading possible beside the others of its set? A whole turn of a dial off is not.

What only looks odd is taken and judged with its doubt; what is held back here is a slip
that would otherwise go into a size: a turn of the needle, a decimal place.
"""

from __future__ import annotations

from collections.abc import Mapping
from statistics import median
from typing import Any

from sleevewright.errors import InputError, SleevewrightError, clipped
from sleevewright.jobs.griddefects import times_off
from sleevewright.jobs.sets import said_in, shape_of
from sleevewright.units.exact import nanometres
from sleevewright.units.scale import unit_named

_NEAR = 0.1  # of a turn
_SAME = 0.25  # of a turn: another reading that agrees
_WORN = ("as-found-bore",)  # a worn bore may differ by a turn from one depth to another
_LEAST_OTHERS = 2
_SWEPT = ("sweep-top", "sweep-bottom")
_LEAST_SWEPT = 3  # at quarter turns of a round bore the fourth is three times the largest at most
_ENOUGH_SWEPT = 4  # where a sweep has more places than four
_LEAST_SLIP = 200_000  # below this an offset may be as large. Common practice, no source. [nm]
_SLIPS = (
    (7.0, 14.0, "A decimal place out: is the point in the right place?"),
    (70.0, 140.0, "A hundred times the others: is the point in the right place?"),
)


def refuse_jump(  # noqa: PLR0913 - all but the first are named at the call
    title: str,
    nm: int,
    text: str,
    body: Mapping[str, Any],
    others: Mapping[tuple[int, int], int],
    *,
    row: int,
    system: str,
) -> None:
    """Refuse a reading that a slip of the needle or of the point would explain.

    Parameters
    ----------
    title : str
        What is gauged.
    nm : int
        The reading. [nm]
    text : str
        As keyed.
    body : Mapping[str, Any]
        How the set was begun.
    others : Mapping[tuple[int, int], int]
        The other readings of the set, by place. [nm]
    row : int
        Station of the reading.
    system : str
        ``inch`` or ``metric``.

    Raises
    ------
    InputError
        If it is whole turns of the dial off every other, or a decimal place.
    """
    is_worn = body.get("feature") in _WORN
    beside = [size for place, size in others.items() if not is_worn or place[0] == row]
    turn = turn_of(body)
    if turn and beside:
        _refuse_turn(title, nm, text, turn, beside)
    if body.get("feature") in _SWEPT:
        _refuse_swept(title, nm, text, body, list(others.values()), system)
    nominal = _nominal(body)
    if nominal is not None and len(others) >= _LEAST_OTHERS:
        middle = median(others.values()) - nominal
        hint = times_off((nm - nominal) * 1e-9, middle * 1e-9)
        if hint:
            unit = "thou" if system == "inch" else "µm"
            shown = middle * 1e-9 / unit_named(unit).factor
            allowed = f"about {shown:+.3g} {unit} over the nominal, as the others"
            raise InputError(title, clipped(text.strip()), "", allowed, hint)


def _refuse_swept(  # noqa: PLR0913, PLR0917 - passed on from the one above
    title: str, nm: int, text: str, body: Mapping[str, Any], others: list[int], system: str
) -> None:
    """Refuse what is ten or a hundred times the largest other reading of a sweep.

    Readings of a sweep pass through nought, so that their sizes are held beside the largest
    of the others and not beside the middle one.
    """
    rows, columns = shape_of(body)
    wanted = max(_LEAST_SWEPT, min(_ENOUGH_SWEPT, rows * columns - 1))
    largest = max(map(abs, others), default=0)
    if len(others) < wanted or not largest or abs(nm) < _LEAST_SLIP:
        return
    for low, high, hint in _SLIPS:
        if low <= abs(nm) / largest <= high:
            unit = "thou" if system == "inch" else "µm"
            shown = largest * 1e-9 / unit_named(unit).factor
            allowed = f"the others are {shown:.3g} {unit} at most"
            raise InputError(title, clipped(text.strip()), "", allowed, hint)


def _refuse_turn(title: str, nm: int, text: str, turn: tuple[int, str], beside: list[int]) -> None:
    """Refuse what lies whole turns off every other reading."""
    length, words = turn
    if any(abs(nm - size) <= _SAME * length for size in beside):
        return
    turns = round((nm - min(beside, key=lambda size: abs(size - nm))) / length)
    nearest = min(beside, key=lambda size: abs(nm - turns * length - size))
    if turns and abs(nm - nearest - turns * length) <= _NEAR * length:
        count = "one whole turn" if abs(turns) == 1 else f"{abs(turns)} whole turns"
        allowed = "a reading near the others of the set"
        hint = (
            f"That is {count} of a {words} dial off. Read the small hand; if the others are "
            "wrong, put them right first."
        )
        raise InputError(title, clipped(text.strip()), "", allowed, hint)


def turn_of(body: Mapping[str, Any]) -> tuple[int, str] | None:
    """One turn of the dial that a set is read on, in nanometres and in words."""
    for one in body.get("instruments", ()):
        if one.get("name") == body.get("instrument") and one.get("turn"):
            try:
                length = nanometres(str(one["turn"]))
            except SleevewrightError:
                return None
            return (length, str(one["turn"])) if length > 0 else None
    return None


def _nominal(body: Mapping[str, Any]) -> int | None:
    try:
        return nanometres(said_in(body, "nominal")) if body.get("nominal") else None
    except SleevewrightError:
        return None
