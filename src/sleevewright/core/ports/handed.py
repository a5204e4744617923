"""Whether a map is mirrored: compared with another map of the same cylinder at every turn.

What the windows cover is taken as a function of the angle at many depths, and as a series of
waves round the bore, exactly from the places where a depth crosses the outlines.  The common
area of two maps is then known for all turns at once, straight and mirrored.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.ports.mapped import PortMap

WAVES = 40
"""Waves round the bore: the finest is 9 degrees long."""

DEPTHS = 24
TURNS = 720

Waves = NDArray[np.complex128]


@dataclass(frozen=True)
class Handedness:
    """How well two maps cover each other at the best turn, 1 for the same map.

    Attributes
    ----------
    straight : float
        As they are. [1]
    mirrored : float
        With one of them mirrored. [1]
    alike : float
        How well the more even of the two covers its own mirror image: near 1, nothing can be
        told from the ports alone. [1]
    """

    straight: float
    mirrored: float
    alike: float


@formula(
    name="likeness of two maps, straight and mirrored",
    expression="max over turns of sum(c c') / sqrt(sum(c c) sum(c' c'))",
    sources=("derived",),
    validity="maps of one cylinder; angles by 40 waves round",
    unit="record",
)
def handedness(port_map: PortMap, other_map: PortMap) -> Handedness:
    """Compare two maps of a cylinder at every turn, straight and mirrored.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]
    other_map : PortMap
        What it is compared with. [record]

    Returns
    -------
    Handedness
        Best likeness straight, mirrored, and of the maps with their own mirror images. [record]

    Notes
    -----
    Source: ``derived``.
    """
    roofs = [port.roof for one in (port_map, other_map) for port in one.ports]
    floors = [port.floor for one in (port_map, other_map) for port in one.ports]
    edges = np.linspace(min(roofs), max(floors), DEPTHS + 1)
    depths = (edges[1:] + edges[:-1]) / 2.0
    first, second = _waves(port_map, depths), _waves(other_map, depths)
    return Handedness(
        straight=_likeness(first, second),
        mirrored=_likeness(first, np.conj(second)),
        alike=max(_likeness(one, np.conj(one)) for one in (first, second)),
    )


@formula(
    name="ports of one name, straight and mirrored",
    expression="least over turns of mean |theta - theta' - turn|, and with -theta' mirrored",
    sources=("derived",),
    validity="maps whose angles were told; the turns at which one port fits are tried",
    unit="rad",
)
def names_apart(port_map: PortMap, other_map: PortMap) -> tuple[float, float]:
    """How far ports of one name lie apart at the best turn, straight and mirrored.

    Parameters
    ----------
    port_map : PortMap
        The map. [record]
    other_map : PortMap
        What it is compared with. [record]

    Returns
    -------
    tuple[float, float]
        Mean angle between ports of one name; both nought where no name is shared. [rad]

    Notes
    -----
    Windows may be even, and only their names tell left from right. Source: ``derived``.
    """
    pairs = [(port.middle, other_map.port(port.name)) for port in port_map.ports]
    told = np.array([(one, other.middle) for one, other in pairs if other is not None])
    if not told.size:
        return 0.0, 0.0

    def apart(off: NDArray[np.float64]) -> float:
        """Mean of what is left at the best turn."""
        left = off[:, None] - off[None, :]
        short = np.abs((left + np.pi) % (2.0 * np.pi) - np.pi)
        return float(short.mean(axis=0).min())

    return apart(told[:, 0] - told[:, 1]), apart(told[:, 0] + told[:, 1])


def _waves(port_map: PortMap, depths: NDArray[np.float64]) -> Waves:
    """What windows cover round the bore at each depth, as waves; (depths, WAVES + 1)."""
    number = np.arange(1, WAVES + 1)
    made = np.zeros((depths.size, WAVES + 1), dtype=np.complex128)
    for port in port_map.ports:
        start, stop = port.points, np.roll(port.points, -1, axis=0)
        over = (start[:, None, 1] > depths) != (stop[:, None, 1] > depths)
        edge, row = np.nonzero(over)
        share = (depths[row] - start[edge, 1]) / (stop[edge, 1] - start[edge, 1])
        angle = start[edge, 0] + share * (stop[edge, 0] - start[edge, 0])
        # On the way down the outline is at the right end of what is covered, else at the left.
        ends = np.where(stop[edge, 1] > start[edge, 1], 1.0, -1.0)
        waves = ends[:, None] * np.exp(-1j * np.outer(angle, number)) * 1j / number
        own = np.column_stack([(ends * angle).astype(np.complex128), waves])
        np.add.at(made, row, own)
    return made


def _likeness(first: Waves, second: Waves) -> float:
    """Common area at the best turn over the mean of both areas."""
    common = np.sum(first * np.conj(second), axis=0)
    scale = np.sqrt(_power(first) * _power(second))
    padded = np.zeros(TURNS // 2 + 1, dtype=np.complex128)
    padded[: WAVES + 1] = common
    return float(np.fft.irfft(padded, TURNS).max() * TURNS / scale)


def _power(waves: Waves) -> float:
    """What a map has in common with itself."""
    share = np.abs(waves) ** 2
    return float(share[:, 0].sum() + 2.0 * share[:, 1:].sum())
