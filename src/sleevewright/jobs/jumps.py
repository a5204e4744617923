"""Is a reading possible beside the others of its set? A whole turn of a dial off is not.

What only looks odd is taken and judged with its doubt; what is held back here is a slip
that would otherwise go into a size: a turn of the needle, a decimal place.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
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
_CUT = ("parent-pass",)  # each pass makes the bore larger, by as much as a turn and more
_LEAST_OTHERS = 2
_SWEPT = ("sweep-top", "sweep-bottom")
_LEAST_SWEPT = 3  # at quarter turns of a round bore the fourth is three times the largest at most
_ENOUGH_SWEPT = 4  # where a sweep has more places than four
_LEAST_SLIP = 200_000  # below this an offset may be as large. Common practice, no source. [nm]
_SLIPS = (
    (7.0, 14.0, "A decimal place out: is the point in the right place?"),
    (70.0, 140.0, "A hundred times the others: is the point in the right place?"),
)


@dataclass(frozen=True)
class Keyed:
    """A reading as it was keyed: of what, its size in nanometres, its text, inch or metric."""

    title: str
    nm: int
    text: str
    system: str

    def refused(self, allowed: str, hint: str) -> InputError:
        """Why it is held back."""
        return InputError(self.title, clipped(self.text.strip()), "", allowed, hint)

    def shown(self, nm: float) -> tuple[float, str]:
        """A length in the unit that the shop speaks of small ones in."""
        unit = "thou" if self.system == "inch" else "µm"
        return nm * 1e-9 / unit_named(unit).factor, unit


def refuse_jump(
    told: Keyed, body: Mapping[str, Any], others: Mapping[tuple[int, int], int], *, row: int
) -> None:
    """Refuse a reading that a slip of the needle or of the point would explain.

    Parameters
    ----------
    told : Keyed
        The reading.
    body : Mapping[str, Any]
        How the set was begun.
    others : Mapping[tuple[int, int], int]
        The other readings of the set, by place. [nm]
    row : int
        Station of the reading.

    Raises
    ------
    InputError
        If it is whole turns of the dial off every other, or a decimal place.
    """
    by_row = body.get("feature") in (*_WORN, *_CUT)
    beside = [size for place, size in others.items() if not by_row or place[0] == row]
    turn = turn_of(body)
    if turn and beside:
        _refuse_turn(told, turn, beside)
    if body.get("feature") in _SWEPT:
        _refuse_swept(told, body, list(others.values()))
    # Passes close in on their size, so that the last is a tenth of the first without a slip.
    nominal = None if body.get("feature") in _CUT else _nominal(body)
    if nominal is not None and len(others) >= _LEAST_OTHERS:
        middle = median(others.values()) - nominal
        hint = times_off((told.nm - nominal) * 1e-9, middle * 1e-9)
        if hint:
            shown, unit = told.shown(middle)
            raise told.refused(f"about {shown:+.3g} {unit} over the nominal, as the others", hint)


def _refuse_swept(told: Keyed, body: Mapping[str, Any], others: list[int]) -> None:
    """Refuse what is ten or a hundred times the largest other reading of a sweep.

    Readings of a sweep pass through nought, so that their sizes are held beside the largest
    of the others and not beside the middle one.
    """
    rows, columns = shape_of(body)
    wanted = max(_LEAST_SWEPT, min(_ENOUGH_SWEPT, rows * columns - 1))
    largest = max(map(abs, others), default=0)
    if len(others) < wanted or not largest or abs(told.nm) < _LEAST_SLIP:
        return
    for low, high, hint in _SLIPS:
        if low <= abs(told.nm) / largest <= high:
            shown, unit = told.shown(largest)
            raise told.refused(f"the others are {shown:.3g} {unit} at most", hint)


def _refuse_turn(told: Keyed, turn: tuple[int, str], beside: list[int]) -> None:
    """Refuse what lies whole turns off every other reading."""
    nm = told.nm
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
        raise told.refused(allowed, hint)


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
