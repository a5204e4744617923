"""The second sweep: what is left after a move, and whether the move did what it should.

What one sweep cannot show, a turned sign, axes taken for each other, the table taken for
the spindle, shows here: each leaves a remainder of its own.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import positive
from sleevewright.core.formulas import formula
from sleevewright.core.metrology.moves import Move

SEEN = 3.0
"""Standard uncertainties within which a remainder is what it was expected to be."""

CLEARER = 2.0
"""A slip is named only where it explains the remainder this much better, in the same."""

SLIPS = (
    ("as told", "x", "y"),
    ("X turned", "-x", "y"),
    ("Y turned", "x", "-y"),
    ("both turned", "-x", "-y"),
    ("not moved", "", ""),
    ("X not moved", "", "y"),
    ("Y not moved", "x", ""),
    ("whole swing", "xx", "yy"),
    ("axes swapped", "y", "x"),
    ("axes swapped, X turned", "-y", "x"),
    ("axes swapped, Y turned", "y", "-x"),
    ("axes swapped, both turned", "-y", "-x"),
)
"""What may have been done instead of the move, simplest first, and what each axis then went."""

UNKNOWN = "unknown"


def _went(told: Move, said: str) -> float:
    """How far an axis went: ``-y`` is the move of Y turned round, ``xx`` twice that of X."""
    amount = said.count("x") * told.move_x + said.count("y") * told.move_y
    return -amount if said.startswith("-") else amount


@dataclass(frozen=True)
class SecondSweep:
    """What the second sweep found.

    ``left_x`` and ``left_y`` are the move that is still to be made; ``miss_x`` and
    ``miss_y`` what was found less what was predicted.  ``slip`` names what was done in
    place of the move: "as told" where it did what it should, "unknown" where nothing
    explains it.
    """

    left_x: float
    left_y: float
    predicted_x: float
    predicted_y: float
    miss_x: float
    miss_y: float
    standard: float
    slip: str

    @property
    def left(self) -> float:
        """How far off it still is."""
        return math.hypot(self.left_x, self.left_y)

    @property
    def predicted(self) -> float:
        """How far off it should still be."""
        return math.hypot(self.predicted_x, self.predicted_y)

    @property
    def miss(self) -> float:
        """How far what was found lies from what was predicted."""
        return math.hypot(self.miss_x, self.miss_y)


@formula(
    name="second sweep against the first",
    expression="predicted = first - moved; slip = the one of the known ones that fits best",
    sources=("derived", "practice"),
    validity="casting neither shimmed nor re-clamped between the sweeps",
    unit="m",
)
def second_sweep(*, first: Move, told: Move, second: Move, moved_within: float) -> SecondSweep:
    """What is left after a move, and which slip explains it where it is not as predicted.

    Parameters
    ----------
    first : Move
        What the first sweep asked for. [record]
    told : Move
        What was moved, as told. [record]
    second : Move
        What the second sweep asks for. [record]
    moved_within : float
        Standard uncertainty of the move itself, each axis. [m]

    Returns
    -------
    SecondSweep
        What is left, what was predicted, and the slip. [m]

    Raises
    ------
    InputError
        If nothing is in doubt.

    Notes
    -----
    After a turned sign the offset along that axis is twice what it was. Where the doubt of a
    sweep has no end, as round a poor arc, any slip would explain it: it is unknown.
    Source: ``derived``, ``practice``.

    Examples
    --------
    >>> asked, after = Move(4.0, 1.0, 0.1, 0.1), Move(8.0, 0.0, 0.1, 0.1)
    >>> second_sweep(first=asked, told=asked, second=after, moved_within=0.1).slip
    'X turned'
    """
    variance_x, variance_y = (
        one**2 + other**2 + moved_within**2
        for one, other in (
            (first.standard_x, second.standard_x),
            (first.standard_y, second.standard_y),
        )
    )
    is_endless = math.isinf(variance_x) or math.isinf(variance_y)
    if not is_endless:
        both = math.hypot(math.sqrt(variance_x), math.sqrt(variance_y))
        positive("doubt of the sweeps", both, "m")
    done = np.array([[_went(told, along), _went(told, across)] for _, along, across in SLIPS])
    left = np.array([first.move_x, first.move_y]) - done
    off = (left - np.array([second.move_x, second.move_y])) / np.sqrt([variance_x, variance_y])
    far = np.hypot(off[:, 0], off[:, 1])
    return SecondSweep(
        left_x=second.move_x,
        left_y=second.move_y,
        predicted_x=float(left[0, 0]),
        predicted_y=float(left[0, 1]),
        miss_x=second.move_x - float(left[0, 0]),
        miss_y=second.move_y - float(left[0, 1]),
        standard=math.sqrt(max(variance_x, variance_y)),
        slip=UNKNOWN if is_endless else _named(far),
    )


def _named(far: np.ndarray) -> str:
    """The simplest slip that explains a remainder; the move as told where it does."""
    if far[0] <= SEEN:
        return SLIPS[0][0]
    best = float(far.min())
    if best > SEEN or far[0] - best < CLEARER:
        return UNKNOWN
    # Of those that explain it nearly as well as the best, the simplest stands first.
    return next(slip[0] for slip, one in zip(SLIPS, far, strict=True) if one <= best + 1.0)


@formula(
    name="offset after the move",
    expression="length of the move that is still asked for",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def offset_left(*, second: SecondSweep) -> float:
    """How far off the centre still is, by the second sweep.

    Parameters
    ----------
    second : SecondSweep
        What the second sweep found. [record]

    Returns
    -------
    float
        Offset, radial. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> found = SecondSweep(3e-6, 4e-6, 0.0, 0.0, 3e-6, 4e-6, 1e-6, "as told")
    >>> round(offset_left(second=found), 9)
    5e-06
    """
    return second.left


@formula(
    name="offset that should be left",
    expression="|first - moved|",
    sources=("derived",),
    validity="as the record that it is part of",
    unit="m",
)
def offset_predicted(*, second: SecondSweep) -> float:
    """How far off the centre should still be, after the move as told.

    Parameters
    ----------
    second : SecondSweep
        What the second sweep found. [record]

    Returns
    -------
    float
        Offset, radial. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> found = SecondSweep(3e-6, 4e-6, 0.0, 0.0, 3e-6, 4e-6, 1e-6, "as told")
    >>> offset_predicted(second=found)
    0.0
    """
    return second.predicted
