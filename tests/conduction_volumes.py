"""Conduction by finite volumes on a grid, plane or axisymmetric: the second road for heat.

Cells between the lines of a rectangular grid; every side is insulated, held at a temperature
or open to air through a film.  Shares no code with the tool.  SI throughout.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import coo_matrix, csc_matrix, diags, identity
from scipy.sparse.linalg import splu

Array = NDArray[np.float64]
HELD = 1e12  # W/(m2 K): a film so good that the face has the temperature beyond it


@dataclass(frozen=True)
class Film:
    """What is beyond a side: its temperature, and the film between."""

    temperature: float = 0.0
    coefficient: float = HELD


@dataclass(frozen=True)
class Volumes:
    """A rectangle in x and y, or a ring in radius and height; ``sides`` by west, east, ..."""

    x: Array
    y: Array
    conductivity: float
    heat: float = 1.0  # by volume, J/(m3 K)
    sides: dict[str, Film] = field(default_factory=dict)
    is_ring: bool = False

    def __post_init__(self) -> None:
        """Refuse a side that is none."""
        assert set(self.sides) <= {"west", "east", "south", "north"}

    @property
    def centres(self) -> tuple[Array, Array]:
        """Middles of the cells along both directions."""
        return 0.5 * (self.x[1:] + self.x[:-1]), 0.5 * (self.y[1:] + self.y[:-1])

    def areas(self) -> tuple[Array, Array, Array]:
        """Faces across x, faces across y and volumes; of a ring per full turn."""
        wide, high = np.diff(self.x), np.diff(self.y)
        around = 2.0 * np.pi * self.x if self.is_ring else np.ones(self.x.size)
        flat = np.pi * np.diff(self.x**2) if self.is_ring else wide
        return np.outer(around, high), np.outer(flat, np.ones(high.size)), np.outer(flat, high)

    def assembled(self) -> tuple[csc_matrix, Array, Array]:
        """Conductance matrix, what the films add for one kelvin each, and heat capacities."""
        across, along, volume = self.areas()
        cx, cy = self.centres
        count = volume.size
        number = np.arange(count).reshape(volume.shape)
        east = self.conductivity * across[1:-1] / np.diff(cx)[:, None]
        north = self.conductivity * along[:, :-1] / np.diff(cy)[None, :]
        pairs = [(number[:-1], number[1:], east), (number[:, :-1], number[:, 1:], north)]
        diagonal, added = np.zeros(count), np.zeros(count)
        rows, columns, values = [], [], []
        for one, other, through in pairs:
            a, b, g = one.ravel(), other.ravel(), through.ravel()
            rows += [a, b]
            columns += [b, a]
            values += [-g, -g]
            np.add.at(diagonal, a, g)
            np.add.at(diagonal, b, g)
        faces = {
            "west": (number[0], across[0], cx[0] - self.x[0]),
            "east": (number[-1], across[-1], self.x[-1] - cx[-1]),
            "south": (number[:, 0], along[:, 0], cy[0] - self.y[0]),
            "north": (number[:, -1], along[:, -1], self.y[-1] - cy[-1]),
        }
        for side, film in self.sides.items():
            cells, area, depth = faces[side]
            through = area / (1.0 / film.coefficient + depth / self.conductivity)
            np.add.at(diagonal, cells, through)
            np.add.at(added, cells, through * film.temperature)
        matrix = coo_matrix(
            (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))),
            shape=(count, count),
        )
        return (matrix + diags(diagonal)).tocsc(), added, self.heat * volume.ravel()

    def steady(self) -> Array:
        """Temperatures once nothing changes any more."""
        matrix, added, _ = self.assembled()
        shape = (self.x.size - 1, self.y.size - 1)
        return np.asarray(splu(matrix).solve(added)).reshape(shape)


def marched(
    body: Volumes, start: Array, *, step: float, steps: int, drive: Array | None = None
) -> Array:
    """Temperatures after some steps of Crank and Nicolson; ``drive`` scales films in time.

    ``drive`` holds what the temperatures beyond the sides are multiplied by at each time,
    shape (steps + 1,); without it they stay.
    """
    matrix, added, capacity = body.assembled()
    scale = np.ones(steps + 1) if drive is None else drive
    inverse = diags(1.0 / capacity) @ matrix * (0.5 * step)
    forward = splu((identity(capacity.size) + inverse).tocsc())
    back = (identity(capacity.size) - inverse).tocsr()
    state = start.ravel().copy()
    for at in range(steps):
        pushed = 0.5 * step * (scale[at] + scale[at + 1]) * added / capacity
        state = forward.solve(back @ state + pushed)
    return state.reshape(start.shape)
