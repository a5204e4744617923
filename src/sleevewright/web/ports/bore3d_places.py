"""Places in space as the device draws them: rows of coordinates in millimetres."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.ports.solid import Places, places_on_wall
from sleevewright.units import to_unit

STEPS = 120
"""Pieces of a ring round the wall."""


@dataclass(frozen=True)
class Lines:
    """Several lines that are drawn alike."""

    lines: list[Places]

    @property
    def told(self) -> dict[str, list[float | None]]:
        """Their coordinates in millimetres, axis by axis, with a gap between two lines."""
        told: dict[str, list[float | None]] = {}
        for number, axis in enumerate("xyz"):
            row: list[float | None] = []
            for line in self.lines:
                if row:
                    row.append(None)
                row += [round(to_unit(float(one), "mm"), 3) for one in line[:, number]]
            told[axis] = row
        return told


def ring(diameter: float, depth: float) -> Places:
    """A ring round the wall at a depth, closed."""
    angles = np.linspace(0.0, 2.0 * math.pi, STEPS + 1)
    points = np.column_stack([angles, np.full(angles.size, depth)])
    return places_on_wall(points, diameter=diameter)


def strip(angle: float, diameter: float, share: float) -> Places:
    """A mark down the wall from the deck, as long as a share of the diameter."""
    points = np.array([(angle, 0.0), (angle, share * diameter)])
    return places_on_wall(points, diameter=diameter)
