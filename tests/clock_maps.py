"""Maps of an invented ported cylinder and of sleeves that were cut a little off it."""

from __future__ import annotations

import math
from collections.abc import Mapping

import numpy as np

from sleevewright.core.ports.mapped import EdgeDoubt, PlacedShape, PortMap, map_of_shapes
from sleevewright.core.ports.outline import PortShape

BORE = 66.4e-3
MM = 1e-3
PORTS = {
    # roof, floor, width, corner radius, arch [mm], angle [deg]
    "exhaust": (37.5, 71.0, 42.0, 9.0, 1.0, 0.0),
    "main left": (56.0, 72.0, 22.0, 4.0, 0.0, -64.0),
    "main right": (56.0, 72.0, 22.0, 4.0, 0.0, 64.0),
    "rear left": (56.0, 72.0, 17.0, 4.0, 0.0, -108.0),
    "rear right": (56.0, 72.0, 17.0, 4.0, 0.0, 108.0),
    "boost left": (56.0, 72.0, 11.0, 3.0, 0.0, 168.0),
    "boost right": (56.0, 72.0, 11.0, 3.0, 0.0, 192.0),
}
DOUBT = EdgeDoubt(roof=0.1e-3, side=0.1e-3, floor=0.1e-3)


def wanted_map() -> PortMap:
    """The ports as they are to become."""
    return _map(PORTS)


def sleeve_map(
    *,
    undersize: float = 0.9,
    roof: float = 0.5,
    low: Mapping[str, float] | None = None,
    scatter: float = 0.0,
    seed: int = 1,
) -> PortMap:
    """A sleeve whose sides stand ``undersize`` in, roofs ``roof`` low, some ``low`` more, in mm.

    Corners keep their radius; ``scatter`` is one standard deviation of each port's own error.
    """
    draw = np.random.default_rng(seed)
    cut = {}
    for name, (top, floor, width, radius, arch, angle) in PORTS.items():
        off, turned, wide = draw.normal(0.0, 1.0, 3) * scatter
        lower = roof + (low or {}).get(name, 0.0) + abs(off)
        away = angle + math.degrees(2.0 * turned * MM / BORE)
        width_now = width - 2.0 * undersize - abs(wide)
        cut[name] = (top + lower, floor - undersize, width_now, radius, arch, away)
    return _map(cut)


def _map(ports: Mapping[str, tuple[float, ...]]) -> PortMap:
    """A map of sizes in mm and degrees."""
    shapes = {}
    for name, (roof, floor, width, radius, arch, angle) in ports.items():
        wide = width * MM
        shape = PortShape(roof * MM, floor * MM, wide, wide, (radius * MM,) * 4, arch * MM)
        shapes[name] = PlacedShape(shape, math.radians(angle), DOUBT)
    return map_of_shapes(shapes, diameter=BORE)
