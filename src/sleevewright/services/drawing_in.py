"""What is read out of a drawing of any kind: its shapes in millimetres, y downwards."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.errors import InputError
from sleevewright.jobs.outlinetext import DEEPEST

Points = NDArray[np.float64]

UNITS_TOLD = {"mm": 1.0, "in": 25.4}
"""Units that a person may tell of a drawing that has none, each in millimetres."""

FLAT = 0.005
"""How far a straight piece may lie off the curve that it stands for, in mm."""


@dataclass(frozen=True)
class ReadShape:
    """One line of a drawing.

    Attributes
    ----------
    layer : str
        Layer or group that it lies on.
    name : str
        What it is called; empty where it has no name of a person's making.
    points : Points
        Its places, (n, 2), in mm, y downwards; the last is not the first again.
    closed : bool
        Whether it ends where it begins.
    """

    layer: str
    name: str
    points: Points
    closed: bool


@dataclass(frozen=True)
class ReadLabel:
    """Words that stand somewhere in a drawing."""

    layer: str
    text: str
    at: tuple[float, float]


@dataclass(frozen=True)
class ReadDrawing:
    """Everything that matters of a drawing, and how many lines were passed over or hidden."""

    shapes: tuple[ReadShape, ...]
    labels: tuple[ReadLabel, ...] = ()
    passed_over: int = 0
    hidden: int = 0


def told_unit(unit: str) -> float | None:
    """Millimetres of a unit that was told; nothing where none was.

    Raises
    ------
    InputError
        If it is no unit of length that a drawing has.
    """
    if not unit:
        return None
    if unit not in UNITS_TOLD:
        raise InputError("unit of the drawing", unit, "", " or ".join(UNITS_TOLD))
    return UNITS_TOLD[unit]


def settled_unit(own: float | None, told: float | None, *, said: str) -> float:
    """Millimetres of a drawing's unit: its own, or the one that was told where it has none.

    Raises
    ------
    InputError
        If neither is known, or the two differ.
    """
    unit = told if own is None else own
    if unit is None:
        hint = "Tell it: --unit mm or --unit in. It is never guessed."
        raise InputError("unit of the drawing", said, "", "millimetres or inches", hint)
    if own is not None and told is not None and abs(own / told - 1.0) > 1e-3:
        hint = "Leave the unit out, or save the drawing in the one that it is drawn in."
        raise InputError("unit of the drawing", told, "mm", f"its own, {own:g} mm", hint)
    return float(unit)


def refuse_too_deep(points: Points) -> None:
    """Refuse a window that lies deeper than any cylinder is long: its unit is another one.

    Parameters
    ----------
    points : Points
        Angle and depth of its corners. [rad, m]

    Raises
    ------
    InputError
        If a corner lies farther from the line of the depths than an edge may.
    """
    farthest = float(points[np.argmax(np.abs(points[:, 1])), 1])
    if abs(farthest) > DEEPEST:
        allowed = f"up to {DEEPEST * 1e3:g} mm from the line of the depths"
        hint = "Is the unit another one than the file says? Save it in the one it is drawn in."
        raise InputError("depth of a window", round(farthest * 1e3, 1), "mm", allowed, hint)


def open_ended(points: Points) -> Points:
    """Points without those that repeat the one before, nor the first at the end."""
    if len(points) < 2:
        return points
    steps = np.hypot(*(points - np.roll(points, 1, axis=0)).T)
    steps[0] = np.inf
    kept: Points = points[steps > 1e-6]
    if len(kept) > 1 and float(np.hypot(*(kept[0] - kept[-1]))) <= 1e-4:
        kept = kept[:-1]
    return kept
