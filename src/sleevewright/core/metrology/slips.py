"""Slips of the hand, and which of them would explain a reading.

Sizes and differences of size, diametral.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

COOLEST_WARM_PART = 5.0
"""A part that is less above the others than this is not called warm. [K]"""

HOTTEST_WARM_PART = 60.0
"""A part warmer than this cannot be held in the hand to be measured. [K]"""

MOST_TURNS = 8
"""More turns than this are not lost by a hand. [1]"""

BARREL_LINES = (0.635e-3, 0.5e-3)
"""Lines of a micrometer's barrel: 0.025 in and 0.5 mm. [m]"""

_INCH = 25.4  # millimetres in an inch: the factor of the other unit


class Slip(StrEnum):
    """What the hand or the part did, as far as the reading tells."""

    OTHER_UNIT = "entered in the other unit"
    DECIMAL = "decimal point slipped"
    SIGN = "sign turned round"
    WHOLE_TURN = "whole turn of the dial"
    BARREL_LINE = "line of the micrometer's barrel misread"
    WARM_PART = "part was warm"
    UNEXPLAINED = "no slip explains it"


_FACTORS = (
    (Slip.OTHER_UNIT, _INCH),
    (Slip.OTHER_UNIT, 1.0 / _INCH),
    (Slip.DECIMAL, 10.0),
    (Slip.DECIMAL, 0.1),
    (Slip.SIGN, -1.0),
)


@dataclass(frozen=True)
class Hint:
    """What is known that can explain a slip."""

    turn: float | None
    part_expansion: float | None
    nominal: float | None


@dataclass(frozen=True)
class Explanation:
    """A slip, its turns, kelvin or factor, and what the reading would be without it."""

    slip: Slip
    amount: float
    likely: float


def explain(reading: float, *, shift: float, doubt: float, hint: Hint) -> Explanation:
    """The slip that would make this reading of what was expected.

    Parameters
    ----------
    reading : float
        The reading, as a size. [m]
    shift : float
        The reading less what was expected. [m]
    doubt : float
        Standard uncertainty of the shift. [m]
    hint : Hint
        What is known that can explain a slip. [record]

    Returns
    -------
    Explanation
        The slip, and the reading without it; not a number where nothing explains it. [m]

    Notes
    -----
    Where several slips would do, the one that meets the reading most closely is named; a
    warm part can meet any small growth, so it comes after those of one size only.
    Source: ``practice``, ``derived``.
    """
    expected = reading - shift
    slips = [*_multiples(reading, expected, doubt, hint.nominal)]
    if hint.turn is not None:
        slips += _turns(reading, shift, doubt, hint.turn, Slip.WHOLE_TURN)
    else:  # nothing is known of the gauge, so it may be a micrometer of either kind
        for line in BARREL_LINES:
            slips += _turns(reading, shift, doubt, line, Slip.BARREL_LINE)
    if slips:
        return min(slips, key=lambda one: one[0])[1]
    if hint.part_expansion is not None:
        growth = hint.part_expansion * expected
        rise, within = shift / growth, 3.0 * doubt / growth
        if COOLEST_WARM_PART - within <= rise <= HOTTEST_WARM_PART + within and shift > 0.0:
            likely = reading / (1.0 + hint.part_expansion * rise)
            return Explanation(Slip.WARM_PART, rise, likely)
    return Explanation(Slip.UNEXPLAINED, math.nan, math.nan)


_Misfit = tuple[float, Explanation]  # how far the slip is from the reading


def _multiples(
    reading: float, expected: float, doubt: float, nominal: float | None
) -> Iterator[_Misfit]:
    """Slips by a factor, of the whole reading or of its difference from the nominal.

    What was expected must be clear of zero, or any small difference would be a multiple.
    """
    for base in (0.0,) if nominal is None else (0.0, nominal):
        told, meant = reading - base, expected - base
        if abs(meant) <= 5.0 * doubt:
            continue
        for slip, factor in _FACTORS:
            if abs(told / factor - meant) <= 3.0 * doubt:
                likely = base + told / factor
                yield abs(told - factor * meant), Explanation(slip, factor, likely)


def _turns(reading: float, shift: float, doubt: float, turn: float, slip: Slip) -> list[_Misfit]:
    """Slips by a few whole turns of a dial or lines of a barrel."""
    turns = round(shift / turn)
    misfit = abs(shift - turns * turn)
    if not 1 <= abs(turns) <= MOST_TURNS or misfit > 3.0 * doubt + 0.02 * turn:
        return []
    return [(misfit, Explanation(slip, float(turns), reading - turns * turn))]
