"""Derived checks of the wall of a casting: Rayleigh's law, and circles off each other's centre."""

from __future__ import annotations

import numpy as np

from sleevewright.core.cutting.coreshift import largest_shift
from sleevewright.core.cutting.islands import gone_at, iron_share
from sleevewright.core.cutting.shiftedwall import shifted_wall
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.evidence.case import published


@published(
    named="W1-rayleigh-95",
    formula=shifted_wall,
    source="rayleigh-1880",
    place="length of a vector of two normal parts: 95 % lie within (-2 ln 0.05)^(1/2) = 2.4477",
    published=2.5523,
    unit="mm",
    tolerance=5e-5,
    reading="derived",
)
def shifted_five() -> float:
    """Least wall, 19 times in 20, of an even wall of 5 mm whose core shifts 1 mm each way."""
    return 1e3 * shifted_wall(even_wall=5e-3, wall_standard=0.0, core_spread=1e-3, probability=0.05)


@published(
    named="W2-two-circles",
    formula=largest_shift,
    source="derived",
    place="bore 70 mm, outside 80 mm, centres 0.5 mm apart: wall along each ray, exactly",
    published=0.5,
    unit="mm",
    tolerance=5e-5,
    reading="derived",
)
def shift_of_two_circles() -> float:
    """Core shift from the exact walls of two circles at eight places."""
    angles = np.arange(8) * np.pi / 4.0
    off, outer, inner = 0.5e-3, 40e-3, 35e-3
    rays = off * np.cos(angles) + np.sqrt(outer**2 - (off * np.sin(angles)) ** 2)
    walls = np.array([rays - inner], dtype=np.float64)
    read = GridReadings(np.array([0.02]), np.asarray(angles, dtype=np.float64), walls)
    return 1e3 * largest_shift(walls_read=read)


@published(
    named="W3-tips",
    formula=gone_at,
    source="derived",
    place="sleeve 65 mm, keys 1.5 mm, offset 0.1 mm: 65 + 3 + 0.2 mm",
    published=68.2,
    unit="mm",
    tolerance=5e-4,
    reading="derived",
    digits=5,
)
def tips_of_keys() -> float:
    """Bore at which the last key is gone."""
    return 1e3 * float(gone_at(liner_outside=65e-3, key_depth=1.5e-3, off_centre=0.1e-3))


@published(
    named="W4-half",
    formula=iron_share,
    source="derived",
    place="bore as large as the sleeve, 0.1 mm off, no keys: half but for e / (2 pi R)",
    published=0.4995,
    unit="1",
    tolerance=5e-5,
    reading="derived",
)
def half_iron() -> float:
    """Share of iron where a bore of the sleeve's own size is cut off its centre."""
    return iron_share(
        bore=65e-3,
        liner_outside=65e-3,
        key_depth=0.0,
        key_count=0.0,
        key_width=0.0,
        off_centre=0.1e-3,
    )
