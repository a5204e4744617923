"""Timing and area curves of seven ports at a tenth of a degree, against shapely's clipping.

Ours: outlines to areas over depth, open areas at 3,601 angles, angle-areas, blowdown, all
openings.  Reference: shapely clips the same polygons at the piston's depth, at the same angles
in one vectorised call a port.  Both in one run, interleaved; the areas of both must agree.
"""

from __future__ import annotations

import math

import numpy as np
import shapely

from reference import interleaved, table
from sleevewright.core.ports.crank import Crank
from sleevewright.core.ports.crank_offset import lasts_below, passes_down, passes_up
from sleevewright.core.ports.curves import curve_angle_area, port_curves
from sleevewright.core.ports.exposed import Array, exposed_area
from sleevewright.core.ports.outline import PortShape, port_outline

GOAL_MS = 10.0
CRANK = Crank(0.072, 0.125, 0.0002, 0.001)
WINDOWS = (
    ("exhaust left", 0.0375, 0.072, 0.022, 0.006, 0.0012),
    ("exhaust right", 0.0375, 0.072, 0.022, 0.006, 0.0012),
    ("main left", 0.056, 0.0716, 0.0245, 0.004, 0.0),
    ("main right", 0.056, 0.0716, 0.0245, 0.004, 0.0),
    ("rear left", 0.0582, 0.0716, 0.022, 0.003, 0.0),
    ("rear right", 0.056, 0.0716, 0.022, 0.003, 0.0),
    ("boost", 0.056, 0.0716, 0.0225, 0.004, 0.0),
)
OUTLINES = {
    name: port_outline(PortShape(roof, floor, width, width, (radius,) * 4, arch))
    for name, roof, floor, width, radius, arch in WINDOWS
}
ANGLES = np.linspace(0.0, 2.0 * math.pi, 3601)


def ours() -> Array:
    """Everything of one timing and area, from the outlines on."""
    areas = [(name, exposed_area(points)) for name, points in OUTLINES.items()]
    curves = port_curves(areas, crank=CRANK)
    curve_angle_area(curves.areas, angles=curves.angles)
    roofs = np.array([one.levels[0] for _, one in areas])
    opens = np.asarray(passes_down(edge_depth=roofs, **CRANK.parts))
    passes_up(edge_depth=roofs, **CRANK.parts)
    lasts_below(edge_depth=roofs, **CRANK.parts)
    first, last = float(opens[:2].min()), float(opens[2:].min())
    curve_angle_area(curves.areas[:2], angles=curves.angles, first=first, last=last)
    return curves.areas


def clipped() -> Array:
    """The same open areas by clipping polygons."""
    depth = np.asarray(CRANK.depth_at(ANGLES))
    above = shapely.box(-1.0, -1.0, 1.0, depth)
    return np.array(
        [shapely.area(shapely.intersection(shapely.polygons(p), above)) for p in OUTLINES.values()]
    )


def main() -> None:
    """Print what one timing takes and how many times as long clipping does."""
    apart = float(np.abs(ours() - clipped()).max())
    own, other = interleaved((ours, clipped))
    print(
        table(
            "seven ports at 0.1 degree", [("clipping by shapely against ours", other / own, None)]
        )
    )
    print(
        f"ours {1e3 * own:.2f} ms (goal {GOAL_MS:g}), shapely {1e3 * other:.0f} ms; "
        f"areas apart by at most {apart * 1e6:.1e} mm2"
    )


if __name__ == "__main__":
    main()
