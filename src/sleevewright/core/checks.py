"""Guards at the door of the core: impossible input is refused, never bent.

Each guard takes a float, an array of samples or an uncertain number and passes it on
unchanged.  Values in messages are in SI; the layers outside restate them in the units of
the job when they know what was typed.
"""

from __future__ import annotations

import math
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError

Number = float | NDArray[np.float64]
Checked = TypeVar("Checked")


def extremes(value: object) -> tuple[float, float]:
    """Least and greatest of a float, an array or an uncertain number."""
    if isinstance(value, np.ndarray):
        return float(value.min()), float(value.max())
    central: Any = getattr(value, "x", value)
    return float(central), float(central)


def finite(field: str, value: Checked, unit: str) -> Checked:
    """Refuse what is not a finite number."""
    low, high = extremes(value)
    if not (math.isfinite(low) and math.isfinite(high)):
        raise InputError(field, low, unit, "a finite number")
    return value


def positive(field: str, value: Checked, unit: str) -> Checked:
    """Refuse zero, negative and infinite values."""
    low, high = extremes(value)
    if not (low > 0.0 and math.isfinite(high)):
        raise InputError(field, low, unit, "more than zero")
    return value


def not_negative(field: str, value: Checked, unit: str) -> Checked:
    """Refuse negative and infinite values."""
    low, high = extremes(value)
    if not (low >= 0.0 and math.isfinite(high)):
        raise InputError(field, low, unit, "zero or more")
    return value


def within(field: str, value: Checked, unit: str, low: float, high: float) -> Checked:
    """Refuse what lies outside ``low`` to ``high``, both ends allowed."""
    least, greatest = extremes(value)
    if not (least >= low and greatest <= high):
        worst = least if not least >= low else greatest
        raise InputError(field, worst, unit, f"{low:g} to {high:g} {unit}".strip())
    return value
