"""The invented pair of parts that the tests of heat and drop share: 62.992 mm, 95 mm long.

An aluminium and a grey-iron casting as plain rings, one grey-iron sleeve; constants as
stated here, lengths in thou where the trade says thou.
"""

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.drop_inputs import DropInputs
from sleevewright.core.heat.joining import casting_temperature_for_slip

THOU = 25.4e-6
ZERO_CELSIUS = 273.15
DIAMETER = 62.992e-3
WALL = 3.556e-3
LENGTH = 95.0e-3
ROOM = 294.15
LIMIT = 503.15
ALUMINIUM = ExpansionLaw(20.7e-6, 10.0e-9)
IRON = ExpansionLaw(10.6894e-6, 5.97e-9)
DATA = Path(__file__).parent / "validation" / "data"

_METALS = {
    "aluminium": (ALUMINIUM, 2680.0, 930.0, 150.0, 52.0e-3),
    "iron": (IRON, 7200.0, 500.0, 48.0, 46.0e-3),
}
"""Law, density, specific heat, conductivity and thermal radius of either casting."""


def rows(name: str) -> Iterator[dict[str, str]]:
    """Rows of a table of the test data, its remarks left out."""
    lines = (DATA / name).read_text(encoding="utf-8").splitlines()
    return iter(csv.DictReader(line for line in lines if not line.startswith("#")))


def hot(casting: str, *, interference: float, slip: float, sleeve: float = ROOM) -> float:
    """Casting temperature for a slip, both given in thou."""
    return float(
        casting_temperature_for_slip(
            diameter=DIAMETER,
            interference=interference * THOU,
            slip=slip * THOU,
            casting_law=_METALS[casting][0],
            sleeve_law=IRON,
            sleeve_temperature=sleeve,
        )
    )


def capacity(casting: str, radius: float, length: float = LENGTH) -> float:
    """Heat capacity of the ring that stands for the casting."""
    _, density, heat, _, _ = _METALS[casting]
    return float(density * heat * np.pi * (radius**2 - (0.5 * DIAMETER) ** 2) * length)


def sleeve_capacity(wall: float = WALL, length: float = LENGTH) -> float:
    """Heat capacity of the sleeve: 7200 kg/m3, 490 J/(kg K)."""
    return float(7200.0 * 490.0 * np.pi * wall * (DIAMETER - wall) * length)


def drop(casting: str, *, interference: float, temperature: float, **changed: Any) -> DropInputs:
    """Inputs of a drop; interference in thou, what is changed in SI."""
    law, _, _, conductivity, usual = _METALS[casting]
    radius = changed.pop("thermal_radius", usual)
    wall, length = changed.get("wall", WALL), changed.get("length", LENGTH)
    given: dict[str, Any] = {
        "diameter": DIAMETER,
        "interference": interference * THOU,
        "length": length,
        "wall": wall,
        "casting_law": law,
        "sleeve_law": IRON,
        "casting_temperature": temperature,
        "sleeve_temperature": ROOM,
        "room": ROOM,
        "casting_capacity": capacity(casting, radius, length),
        "sleeve_capacity": sleeve_capacity(wall, length),
        "casting_depth": radius - 0.5 * DIAMETER,
        "casting_conductivity": conductivity,
        "sleeve_conductivity": 48.0,
    }
    return DropInputs(**{**given, **changed})


def case(casting: str, *, interference: float, slip: float, **changed: Any) -> DropCase:
    """A planned drop of the same pair; interference and slip in thou, the rest in SI."""
    law, density, heat, conductivity, radius = _METALS[casting]
    given: dict[str, Any] = {
        "diameter": DIAMETER,
        "inside_diameter": DIAMETER - 2.0 * WALL,
        "length": LENGTH,
        "interference": interference * THOU,
        "slip": slip * THOU,
        "casting_law": law,
        "sleeve_law": IRON,
        "sleeve_temperature": ROOM,
        "room": ROOM,
        "casting_mass": capacity(casting, radius) / heat,
        "sleeve_mass": sleeve_capacity() / 490.0,
        "casting_density": density,
        "casting_specific_heat": heat,
        "casting_conductivity": conductivity,
        "sleeve_specific_heat": 490.0,
        "sleeve_conductivity": 48.0,
    }
    return DropCase(**{**given, **changed})


TRIALS = {
    "A1": ("aluminium", 3.2, hot("aluminium", interference=3.2, slip=5.4)),
    "A2": ("aluminium", 3.2, hot("aluminium", interference=3.2, slip=3.6)),
    "F1": ("iron", 2.2, LIMIT),
    "F2": ("iron", 1.4, LIMIT),
}
"""Casting, interference in thou and temperature of the four drops that tables are kept of."""

POSITIONS = {"centred": 0.0, "lean": 1.0}
"""Eccentricity of a sleeve in the middle and of one that lies against a side."""


def trial(name: str, position: str, **changed: float) -> DropInputs:
    """One of the four drops that tables are kept of."""
    casting, interference, temperature = TRIALS[name]
    return drop(
        casting,
        interference=interference,
        temperature=temperature,
        eccentricity=POSITIONS[position],
        **changed,
    )
