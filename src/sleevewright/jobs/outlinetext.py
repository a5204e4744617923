"""An outline as text: what a record keeps of a window that was drawn or rubbed.

``-20.00 30.00, 20.00 30.00, ...``: each corner is degrees clockwise seen from the deck and
millimetres below the map's datum, whatever units the job shows.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence

from sleevewright.errors import InputError, clipped

LEAST_CORNERS, MOST_CORNERS = 3, 240
DEEPEST = 0.4  # m, as of every depth of an edge

_POINT = re.compile(r"\s*([+-]?\d{1,4}(?:\.\d{1,6})?)\s+([+-]?\d{1,3}(?:\.\d{1,6})?)\s*")


def outline_of_text(text: str, *, field: str = "outline") -> tuple[tuple[float, float], ...]:
    """Corners of an outline: angle in rad, depth in m.

    Raises
    ------
    InputError
        If it is not corners of an outline; the text says which one.

    Examples
    --------
    >>> outline_of_text("0 30, 20 30, 20 50")[0]
    (0.0, 0.03)
    """
    corners = []
    for number, part in enumerate(text.split(","), start=1):
        found = _POINT.fullmatch(part)
        if found is None:
            allowed = "degrees, a space, millimetres; corners apart by commas"
            shown = clipped(part.strip())
            raise InputError(field, shown, "", allowed, f"It is corner {number}.")
        corners.append((math.radians(float(found[1])), float(found[2]) * 1e-3))
    if not LEAST_CORNERS <= len(corners) <= MOST_CORNERS:
        allowed = f"{LEAST_CORNERS} to {MOST_CORNERS} corners"
        raise InputError(field, len(corners), "corners", allowed, "Was a part of it lost?")
    for _, depth in corners:
        if not -DEEPEST <= depth <= DEEPEST:
            raise InputError(field, depth, "m", f"depths up to {DEEPEST} m", "Are they mm?")
    return tuple(corners)


def outline_text(corners: Sequence[tuple[float, float]]) -> str:
    """The text of an outline, to 0.001 degrees and 1 um.

    Examples
    --------
    >>> outline_text([(0.0, 0.03), (0.5, 0.03), (0.5, 0.05)])
    '0.000 30.000, 28.648 30.000, 28.648 50.000'
    """
    return ", ".join(f"{math.degrees(angle):.3f} {depth * 1e3:.3f}" for angle, depth in corners)
