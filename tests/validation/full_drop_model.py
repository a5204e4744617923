"""A fuller model of the drop, to measure the reduced one of the package against.

Half a turn of the casting is resolved around and in depth, the sleeve around; heat flows
in both directions in the casting and around the sleeve.  Written apart from the package:
it shares its inputs and none of its equations.  Radii and gaps are radial, clearances
diametral.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.heat.drop_inputs import DropInputs

Array = NDArray[np.float64]


@dataclass(frozen=True)
class FullMesh:
    """Numbers of cells around half a turn and in depth, and the step in seconds."""

    around: int = 45
    deep: int = 8
    step: float = 0.01


def air(temperature: Array) -> Array:
    """Conductivity of air in W/(m K), parabola through tabulated values."""
    return np.asarray(-5.5e-4 + 1.019e-4 * temperature - 4.0e-8 * temperature**2)


class FullDrop:
    """One drop: temperatures of casting (deep, around) and sleeve (around), in kelvin."""

    def __init__(self, inputs: DropInputs, mesh: FullMesh) -> None:
        self.inputs = inputs
        self.angle = np.pi / mesh.around
        self.middle = (np.arange(mesh.around) + 0.5) * self.angle
        self.bore = 0.5 * float(inputs.diameter)
        self.outer = self.bore + float(inputs.casting_depth)
        edges = np.linspace(self.bore, self.outer, mesh.deep + 1)
        centres = 0.5 * (edges[1:] + edges[:-1])
        self.sectors = (0.5 * np.diff(edges**2) * self.angle)[:, np.newaxis]
        ring = np.pi * (self.outer**2 - self.bore**2) * float(inputs.length)
        self.heat = float(inputs.casting_capacity) / ring  # J/(m3 K)
        conducted = float(inputs.casting_conductivity)
        self.inward = (conducted * edges[1:-1] * self.angle / np.diff(centres))[:, np.newaxis]
        self.round_about = (conducted * np.log(edges[1:] / edges[:-1]) / self.angle)[:, np.newaxis]
        inside = self.bore - float(inputs.wall)
        self.sleeve_heat = float(inputs.sleeve_capacity) / float(inputs.length) / (2 * np.pi)
        self.sleeve_around = (
            float(inputs.sleeve_conductivity) * np.log(self.bore / inside) / self.angle
        )
        self.walls = (
            float(inputs.wall) / (3.0 * float(inputs.sleeve_conductivity))
            + (centres[0] - self.bore) / conducted
        )
        self.inside = inside
        self.casting = np.full((mesh.deep, mesh.around), float(inputs.casting_temperature))
        self.sleeve = np.full(mesh.around, float(inputs.sleeve_temperature))

    def clearance(self, casting: Array, sleeve: Array) -> float:
        """Diametral clearance of the free rings, by the mean strain over each area."""
        given = self.inputs
        rise = casting - 293.15
        strain = (given.casting_law.reference + given.casting_law.slope * rise) * rise
        whole = float(np.sum(strain * self.sectors) / (np.sum(self.sectors) * sleeve.size))
        warm = sleeve - 293.15
        grown = (given.sleeve_law.reference + given.sleeve_law.slope * warm) * warm
        bore = float(given.diameter) - float(given.interference)
        return bore * (1.0 + whole) - float(given.diameter) * (1.0 + float(np.mean(grown)))

    def rates(self, casting: Array, sleeve: Array) -> tuple[Array, Array]:
        """Rates of change of both, in kelvin per second."""
        given = self.inputs
        mean_gap = 0.5 * max(self.clearance(casting, sleeve), 0.0)
        gap = mean_gap * (1.0 - float(given.eccentricity) * np.cos(self.middle))
        between = 0.5 * (casting[0] + sleeve)
        film = float(given.stand_off) + 0.37e-6 * between / 323.0
        conductance = air(between) * float(given.fluid_factor) / (gap + film)
        conductance += 4.0 * 5.670374419e-8 * between**3 * float(given.radiation_factor)
        crossing = (casting[0] - sleeve) * self.bore * self.angle / (1.0 / conductance + self.walls)
        lost = float(given.inside_coefficient) * self.inside * self.angle
        into_sleeve = crossing - lost * (sleeve - float(given.room))
        _spread(into_sleeve, self.sleeve_around * np.diff(sleeve))
        into_casting = np.zeros_like(casting)
        _spread(into_casting, self.inward * np.diff(casting, axis=0))
        _spread(into_casting.T, (self.round_about * np.diff(casting, axis=1)).T)
        into_casting[0] -= crossing
        outside = float(given.outside_loss) * self.angle / (2.0 * np.pi)
        into_casting[-1] -= outside * (casting[-1] - float(given.room))
        return into_casting / (self.heat * self.sectors), into_sleeve / (
            self.sleeve_heat * self.angle
        )

    def advance(self, step: float) -> None:
        """One step of the scheme of Heun."""
        first, second = self.rates(self.casting, self.sleeve)
        later, warmer = self.rates(self.casting + step * first, self.sleeve + step * second)
        self.casting = self.casting + 0.5 * step * (first + later)
        self.sleeve = self.sleeve + 0.5 * step * (second + warmer)


def _spread(into: Array, flow: Array) -> None:
    """Add what flows between neighbours along the first axis, from the later one on."""
    into[:-1] += flow
    into[1:] -= flow


def full_history(
    inputs: DropInputs, times: Array, *, mesh: FullMesh | None = None
) -> tuple[Array, Array]:
    """Diametral clearance [m] and mean sleeve temperature [K] at rising times [s]."""
    mesh = mesh or FullMesh()
    drop = FullDrop(inputs, mesh)
    done, clearances, means = 0, [], []
    for time in times:
        while done * mesh.step < time - 1e-9:
            drop.advance(mesh.step)
            done += 1
        clearances.append(drop.clearance(drop.casting, drop.sleeve))
        means.append(float(np.mean(drop.sleeve)))
    return np.array(clearances), np.array(means)
