"""Which rubbed window is which port: by known angles, else round from the largest window."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.rubbing.records import RubbingTold

CLEARLY_LARGEST = 1.15
"""By how much the largest window must exceed the next to be told by its size."""

NEAR = float(np.radians(12.0))
"""How far windows may lie from known angles, root mean square."""

CLEARLY_NEARER = 2.0
"""How much further the next best order must lie."""

READ_TO = float(np.radians(3.0))
"""What known and rubbed angles may differ by; two orders nearer than this are alike."""


@dataclass(frozen=True)
class Named:
    """Names for the windows in their order along the sheet, and what zero is.

    Attributes
    ----------
    names : tuple[str, ...]
        A name for each window; empty where nobody can tell. [text]
    shift : float
        What is added to angles of the sheet to make them angles of the map. [rad]
    asks : str
        What a person has to say; empty where it is clear. [text]
    """

    names: tuple[str, ...]
    shift: float = 0.0
    asks: str = ""


def name_windows(
    angles: NDArray[np.float64], areas: NDArray[np.float64], told: RubbingTold
) -> Named:
    """Give each window its name.

    Parameters
    ----------
    angles : NDArray[np.float64]
        Middle of each window along the sheet, growing to the right. [rad]
    areas : NDArray[np.float64]
        Their areas. [m^2]
    told : RubbingTold
        Names in their order to the right, and the angles that are known. [record]

    Returns
    -------
    Named
        Names and shift; without names where it is not clear. [record]
    """
    count = len(told.names)
    if len(angles) != count or count == 0:
        return Named(("",) * len(angles))
    known = [one is not None for one in told.angles]
    if len(known) == count and count > 1 and all(known) and not told.largest_is:
        return _by_angles(angles, areas, told)
    return _by_size(angles, areas, told)


def _around(angle: NDArray[np.float64]) -> NDArray[np.float64]:
    """Angles between minus and plus half a turn."""
    made: NDArray[np.float64] = (angle + np.pi) % (2.0 * np.pi) - np.pi
    return made


def _by_angles(angles: NDArray[np.float64], areas: NDArray[np.float64], told: RubbingTold) -> Named:
    """The order round the wall that lies nearest to the known angles.

    Ports that stand mirror-alike fit in two ways; then the largest window decides.
    """
    known = np.array([one for one in told.angles if one is not None])
    order = np.argsort(known % (2.0 * np.pi))
    tries = []
    for first in range(len(order)):
        rolled = np.roll(order, -first)
        off = known[rolled] - angles
        shift = float(np.angle(np.mean(np.exp(1j * off))))
        tries.append((float(np.sqrt(np.mean(_around(off - shift) ** 2))), rolled))
    tries.sort(key=lambda one: one[0])
    best = tries[0][0]
    alike = [rolled for off, rolled in tries if off < CLEARLY_NEARER * max(best, READ_TO)]
    if len(alike) > 1:
        largest = _clearly_largest(areas)
        alike = [rolled for rolled in alike if largest >= 0 and rolled[largest] == 0]
    if best > NEAR or len(alike) != 1:
        return Named(
            ("",) * len(angles),
            asks="Which window is which is not clear from the angles that are known; the nearest "
            f"order lies {np.degrees(best):.0f} degrees off. Say which port is the largest window.",
        )
    names = tuple(told.names[one] for one in alike[0])
    return Named(names, _shift(names, angles, told))


def _clearly_largest(areas: NDArray[np.float64]) -> int:
    """Which window is clearly the largest; -1 where none is."""
    largest = int(np.argmax(areas))
    others = np.delete(areas, largest)
    is_clear = not others.size or areas[largest] >= CLEARLY_LARGEST * others.max()
    return largest if is_clear else -1


def _shift(names: tuple[str, ...], angles: NDArray[np.float64], told: RubbingTold) -> float:
    """What makes the first port of the list lie where it was told to lie."""
    return told.zero - float(angles[names.index(told.names[0])])


def _by_size(angles: NDArray[np.float64], areas: NDArray[np.float64], told: RubbingTold) -> Named:
    """Round to the right from the largest window."""
    largest = int(np.argmax(areas))
    first = told.largest_is or told.names[0]
    at = told.names.index(first) if first in told.names else 0
    if not told.largest_is and _clearly_largest(areas) < 0:
        return Named(
            ("",) * len(angles),
            asks=f"No window is clearly the largest, so {told.names[0]} is not told by its size. "
            "Say which port is the largest window, or type the angles of the ports.",
        )
    names = tuple(np.roll(np.array(told.names, dtype=object), largest - at))
    return Named(names, _shift(names, angles, told))
