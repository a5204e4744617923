"""A map of six ports, lopsided on purpose, for the tests of paper and drawings."""

from __future__ import annotations

import json
import math
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from benches import EXAMPLES
from sleevewright.core.ports.mapped import PlacedShape, PortMap, map_of_shapes
from sleevewright.core.ports.outline import PortShape
from sleevewright.core.ports.seams import widest_seam
from sleevewright.core.ports.wrap import TURN, Wrap
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.demo import SIGNER, tell
from sleevewright.services.instruments import save_instrument
from sleevewright.services.jobs import open_job
from sleevewright.services.people import add_person
from sleevewright.sheets.wrap_sheets import Titled
from sleevewright.sheets.wrap_strip import MarkedAngle, Wrapped

BORE = 66.4e-3
TITLE = Titled("Ports to be, job D-131", "Wall 66.40 mm.", is_invented=True)

SIZES = {
    "exhaust": (37.5, 72.0, 42.0, 9.0, 1.2, 0.0),
    "main left": (56.0, 71.6, 24.0, 4.0, 0.0, -66.0),
    "main right": (56.0, 71.6, 24.0, 4.0, 0.0, 66.0),
    "rear left": (58.2, 71.6, 18.0, 4.0, 0.0, -112.0),
    "rear right": (56.0, 71.6, 18.0, 4.0, 0.0, 112.0),
    "boost": (56.0, 71.6, 22.0, 4.0, 0.0, 180.0),
}
"""Roof, floor, width, radius, arch in mm, and the angle in degrees."""


def ported(bore: float = BORE) -> PortMap:
    """The map; the left rear roof lies 2.2 mm low, so that left and right differ."""
    shapes = {}
    for name, (*lengths, angle) in SIZES.items():
        roof, floor, width, radius, arch = (one * 1e-3 for one in lengths)
        shape = PortShape(roof, floor, width, width, (radius,) * 4, arch)
        shapes[name] = PlacedShape(shape, math.radians(angle))
    return map_of_shapes(shapes, diameter=bore)


def wrapped(*, is_outside: bool = False, **told: float) -> Wrapped:
    """The map on paper of 0.1 mm, with a scribe mark."""
    ports = ported()
    wrap = Wrap(BORE, 0.1e-3, widest_seam(ports), is_outside, **told)
    return Wrapped(ports, wrap, marks=(MarkedAngle(math.radians(-3.23), "mark"),))


def apart(one: NDArray[np.float64], other: NDArray[np.float64], bore: float = BORE) -> float:
    """How far two outlines of as many corners lie apart, in metres along the wall."""
    assert len(one) == len(other)
    turns = round(float(one[:, 0].mean() - other[:, 0].mean()) / TURN)
    moved = one - np.array([turns * TURN, 0.0])
    scale = np.array([bore / 2.0, 1.0])
    return min(
        float(np.abs((np.roll(moved, step, axis=0) - other) * scale).max())
        for step in range(len(one))
    )


def demo_bench(folder: Path) -> Bench:
    """An open bench with the invented ported cylinder alone, as the demonstration tells it."""
    shelf = json.loads((EXAMPLES / "shelf.json").read_text(encoding="utf-8"))
    told = next(one for one in shelf["jobs"] if one["number"] == "D-131")
    bench = open_bench(folder)
    add_person(bench, SIGNER)
    for gauge in shelf["instruments"]:
        save_instrument(bench, gauge)
    open_job(bench, "D-131", {**told["opening"], "invented": True})
    tell(bench, "D-131", told["records"])
    return bench
