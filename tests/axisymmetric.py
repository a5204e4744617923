"""A sleeve with its flange in a stepped bore, by finite elements of its own: the second road.

Four-node axisymmetric elements with condensed strain modes, so that thin walls bend freely;
contact node to node without friction, solved as a complementarity over the pairs.  Shares no
code with the tool.  Sizes in mm, stresses in MPa, forces in N; fits are diametral.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

Array = NDArray[np.float64]
GAUSS = 1.0 / np.sqrt(3.0)
NEAR = 1e-6
WEAK = 1.0  # N/mm, holds the sleeve along its axis where nothing else does


@dataclass(frozen=True)
class End:
    """A flanged end; ``hold_down`` is the axial load on the flange, zero where it may lift."""

    bore: float = 28.0
    fit: float = 31.5
    rim: float = 35.0
    thickness: float = 4.0
    length: float = 85.0
    outside: float = 46.0
    below: float = 46.0  # outside of the casting below its step
    step: float = 0.0
    casting: tuple[float, float] = (71e3, 0.33)
    sleeve: tuple[float, float] = (110e3, 0.26)
    hold_down: float = 0.0


@dataclass(frozen=True)
class Pressed:
    """What was found: mean pressures, opening of the counterbore, least gap and pressure."""

    body: float
    flange: float
    opening: float
    least_force: float
    least_gap: float


def steps(*stops: tuple[float, float]) -> Array:
    """Coordinates through stops of place and element size up to there."""
    parts = [np.array([stops[0][0]])]
    for (start, _), (stop, size) in pairwise(stops):
        count = max(2, int(np.ceil((stop - start) / size)))
        parts.append(np.linspace(start, stop, count + 1)[1:])
    return np.concatenate(parts)


def meshed(radii: Array, heights: Array, keep: NDArray[np.bool_]) -> tuple[Array, NDArray[np.int_]]:
    """Nodes and elements of the cells that are kept."""
    rows, columns = np.nonzero(keep)
    tall = heights.size
    corner = rows * tall + columns
    cells = np.stack([corner, corner + tall, corner + tall + 1, corner + 1], axis=1)
    used, flat = np.unique(cells, return_inverse=True)
    r, z = np.meshgrid(radii, heights, indexing="ij")
    nodes = np.column_stack([r.ravel(), z.ravel()])[used]
    return nodes, flat.reshape(cells.shape)


def stiffness(nodes: Array, cells: NDArray[np.int_], metal: tuple[float, float]) -> csc_matrix:
    """Stiffness of the whole ring."""
    modulus, nu = metal
    law = np.array([[1 - nu, nu, nu, 0], [nu, 1 - nu, nu, 0], [nu, nu, 1 - nu, 0],
                    [0, 0, 0, 0.5 - nu]]) * modulus / ((1 + nu) * (1 - 2 * nu))  # fmt: skip
    at = nodes[cells]
    wide, tall = at[:, 1, 0] - at[:, 0, 0], at[:, 2, 1] - at[:, 1, 1]
    middle = at[:, :, 0].mean(axis=1)
    plain, mixed, inner = (np.zeros((len(cells), *shape)) for shape in ((8, 8), (8, 4), (4, 4)))
    for x, y in ((-GAUSS, -GAUSS), (GAUSS, -GAUSS), (GAUSS, GAUSS), (-GAUSS, GAUSS)):
        shape = np.array([(1 - x) * (1 - y), (1 + x) * (1 - y), (1 + x) * (1 + y),
                          (1 - x) * (1 + y)]) / 4  # fmt: skip
        by_x = np.array([y - 1, 1 - y, 1 + y, -1 - y]) / 4
        by_y = np.array([x - 1, -1 - x, 1 + x, 1 - x]) / 4
        radius = at[:, :, 0] @ shape
        strain = np.zeros((len(cells), 4, 8))
        strain[:, 0, 0::2] = 2 * by_x / wide[:, None]
        strain[:, 1, 1::2] = 2 * by_y / tall[:, None]
        strain[:, 2, 0::2] = shape / radius[:, None]
        strain[:, 3, 0::2] = 2 * by_y / tall[:, None]
        strain[:, 3, 1::2] = 2 * by_x / wide[:, None]
        mode = np.zeros((len(cells), 4, 4))
        level = middle / radius
        mode[:, 0, 0], mode[:, 1, 1] = x * level, y * level
        mode[:, 3, 2], mode[:, 3, 3] = x * level, y * level
        weight = (2 * np.pi * radius * wide * tall / 4)[:, None, None]
        turned = np.swapaxes(strain, 1, 2) @ law
        plain += weight * (turned @ strain)
        mixed += weight * (turned @ mode)
        inner += weight * (np.swapaxes(mode, 1, 2) @ law @ mode)
    local = plain - mixed @ np.linalg.solve(inner, np.swapaxes(mixed, 1, 2))
    numbers = np.stack([2 * cells, 2 * cells + 1], axis=2).reshape(len(cells), 8)
    size = 2 * len(nodes)
    rows, columns = np.repeat(numbers, 8, axis=1), np.tile(numbers, (1, 8))
    return csc_matrix((local.ravel(), (rows.ravel(), columns.ravel())), shape=(size, size))


def on_line(nodes: Array, axis: int, place: float, span: tuple[float, float]) -> NDArray[np.int_]:
    """Nodes on a line, in the order of the other coordinate."""
    other = nodes[:, 1 - axis]
    hit = (np.abs(nodes[:, axis] - place) < NEAR) & (other > span[0] - NEAR)
    found = np.nonzero(hit & (other < span[1] + NEAR))[0]
    return found[np.argsort(nodes[found, 1 - axis])]


class Model:
    """Both parts with their pairs of contact, ready for any two fits."""

    def __init__(self, end: End, *, layers: int = 4) -> None:
        """Mesh and factor both parts; ``layers`` elements through the flange."""
        self.end = end
        ledge, size = end.length - end.thickness, end.thickness / layers
        zone = max(0.5 * ledge, ledge - 30.0)
        stops = [(0.0, 0.0), (zone, 4.0), (ledge - 3 * end.thickness, 2.5 * size)]
        if 0.0 < end.step < zone:
            stops.insert(1, (end.step, 4.0))
        heights = steps(*stops, (ledge, size), (end.length, size))
        across = steps((end.bore, 0.0), (end.fit, 0.8), (end.rim, 0.8))
        through = steps((end.fit, 0.0), (end.rim, 0.8), (min(end.below, end.outside), 1.6),
                        *(((max(end.below, end.outside), 2.0),) if end.below != end.outside
                          else ()))  # fmt: skip
        high = (heights[1:] + heights[:-1]) / 2
        sleeve_r, casting_r = ((one[1:] + one[:-1]) / 2 for one in (across, through))
        in_sleeve = (sleeve_r[:, None] < end.fit) | (high > ledge)
        reach = np.where(high < end.step, end.below, end.outside)
        in_casting = ((casting_r[:, None] > end.rim) | (high < ledge)) & (
            casting_r[:, None] < reach
        )
        self.sleeve, sleeve_cells = meshed(across, heights, in_sleeve)
        self.casting, casting_cells = meshed(through, heights, in_casting)
        held = stiffness(self.sleeve, sleeve_cells, end.sleeve).tolil()
        for node in on_line(self.sleeve, 1, 0.0, (0.0, 1e3)):
            held[2 * node + 1, 2 * node + 1] += WEAK
        fixed = 2 * on_line(self.casting, 1, 0.0, (0.0, 1e3)) + 1
        self.loose = np.setdiff1d(np.arange(2 * len(self.casting)), fixed)
        whole = stiffness(self.casting, casting_cells, end.casting)
        self._pair(ledge)
        self._solve(splu(held.tocsc()), splu(whole[self.loose][:, self.loose].tocsc()))

    def _pair(self, ledge: float) -> None:
        """Nodes that may touch: body, flange, and the seat where it is held."""
        end = self.end
        lines = [(0, end.fit, (0.0, ledge)), (0, end.rim, (ledge, end.length))]
        if end.hold_down:
            lines.append((1, ledge, (end.fit, end.rim)))
        found = [(kind, axis, on_line(self.sleeve, axis, place, span),
                  on_line(self.casting, axis, place, span))
                 for kind, (axis, place, span) in enumerate(lines)]  # fmt: skip
        self.kind = np.concatenate([np.full(s.size, kind) for kind, _, s, _ in found])
        sleeve = np.concatenate([2 * s + axis for _, axis, s, _ in found])
        casting = np.concatenate([2 * c + axis for _, axis, _, c in found])
        sign = np.where(self.kind == 2, 1.0, -1.0)  # the sleeve is pressed in, and up
        count = np.arange(self.kind.size)
        self.push_sleeve = np.zeros((2 * len(self.sleeve), count.size))
        self.push_casting = np.zeros((2 * len(self.casting), count.size))
        self.push_sleeve[sleeve, count], self.push_casting[casting, count] = sign, -sign

    def _solve(self, sleeve: object, casting: object) -> None:
        """Give of the pairs under their own forces, and what the hold-down does to them."""
        self.by_sleeve = sleeve.solve(self.push_sleeve)  # type: ignore[attr-defined] # splu has no stub
        self.by_casting = np.zeros_like(self.push_casting)
        self.by_casting[self.loose] = casting.solve(self.push_casting[self.loose])  # type: ignore[attr-defined] # splu has no stub
        self.give = self.push_sleeve.T @ self.by_sleeve + self.push_casting.T @ self.by_casting
        load = np.zeros(2 * len(self.sleeve))
        top = on_line(self.sleeve, 1, self.end.length, (0.0, 1e3))
        radii = self.sleeve[top, 0]
        share = np.gradient(radii) * radii
        share[[0, -1]] /= 2.0
        load[2 * top + 1] = -self.end.hold_down * share / share.sum()
        self.by_load = sleeve.solve(load)  # type: ignore[attr-defined] # splu has no stub

    def pressed(self, body: float, flange: float) -> Pressed:
        """Contact at two diametral fits; negative is clearance."""
        wanted = np.select([self.kind == 0, self.kind == 1], [body / 2, flange / 2], 0.0)
        wanted -= self.push_sleeve.T @ self.by_load
        touching = wanted > 0.0
        for _ in range(80):
            force = np.zeros(wanted.size)
            force[touching] = np.linalg.solve(
                self.give[np.ix_(touching, touching)], wanted[touching]
            )
            gap = self.give @ force - wanted
            after = np.where(touching, force > -1e-9, gap < -1e-12)
            if (after == touching).all():
                return self._answer(force, gap)
            touching = after
        raise AssertionError("the contact did not settle")

    def _answer(self, force: Array, gap: Array) -> Pressed:
        """Means and extremes of a settled contact."""
        end, ledge = self.end, self.end.length - self.end.thickness
        moved = self.push_sleeve.T @ (self.by_sleeve @ force + self.by_load)
        moved += self.push_casting.T @ (self.by_casting @ force)
        return Pressed(
            body=force[self.kind == 0].sum() / (2 * np.pi * end.fit * ledge),
            flange=force[self.kind == 1].sum() / (2 * np.pi * end.rim * end.thickness),
            opening=2 * float(moved[self.kind == 1].mean()),
            least_force=float(force.min()),
            least_gap=float(gap.min()),
        )
