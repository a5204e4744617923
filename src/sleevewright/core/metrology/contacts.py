"""The points that hold a touching circle or zone, each with its share.

At the best place the directions from the centre to the contacts, weighed with their
shares, cancel: no small shift moves all of them the way that would make it better.  The
shares are the multipliers of that condition, and anybody can check them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

_NO_SHARE = 1e-9


@dataclass(frozen=True)
class Contact:
    """A point that touches, by its place in the list, and its share of the holding."""

    point: int
    share: float

    @staticmethod
    def bearing(
        pairs: Sequence[tuple[int, float]], least: float = _NO_SHARE
    ) -> tuple[Contact, ...]:
        """Contacts that bear more than the least share, in the order of the points."""
        return tuple(Contact(row, share) for row, share in sorted(pairs) if share > least)


@dataclass(frozen=True)
class Grip:
    """How fast the best of some pulls in a plane rises, where it rises least.

    ``rise`` is the radius of the largest circle round zero in the hull of the pulls; zero
    where zero is not inside.
    """

    rise: float

    @classmethod
    def of(cls, pulls: Array) -> Grip:
        """The grip of pulls of shape (n_pulls, 2)."""
        first, second = np.triu_indices(len(pulls), 1)
        edges = pulls[first] - pulls[second]
        long = np.hypot(edges[:, 0], edges[:, 1])
        edges = edges[long > 0.0] / long[long > 0.0, None]
        normals = np.column_stack([edges[:, 1], -edges[:, 0]])
        directions = np.concatenate([normals, -normals])
        if not len(directions):
            return cls(0.0)
        return cls(max(0.0, float((directions @ pulls.T).max(axis=1).min())))

    def sure_distance(self, radius: float) -> float:
        """How far from the best place no better one can be.

        A distance bends by no more than s^2 / (2 (r - s)) over a shift s, and the contacts
        worsen by at least rise times s: so nothing is gained before
        s = 2 rise r / (1 + 2 rise).
        """
        return 2.0 * self.rise * radius / (1.0 + 2.0 * self.rise)
