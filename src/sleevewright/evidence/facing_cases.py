"""Checks of facing and squish: volumes of the crown, what a cut takes, what it does to a port."""

from __future__ import annotations

import math

from sleevewright.core.engine.chamber import disc_volume, dome_volume
from sleevewright.core.engine.facing import duration_change, volume_after
from sleevewright.core.engine.squish import band_share
from sleevewright.core.engine.volumes import compression_ratio, swept_volume
from sleevewright.evidence.case import published

_JOB = "bore 2.756 in, stroke 2.700 in, rod 5.500 in"
_IN = 0.0254


@published(
    named="F1-dome",
    formula=dome_volume,
    source="bronshtein-2015",
    place="spherical cap; half of a sphere of 1 cm radius, 2 pi/3",
    published=2.094,
    unit="cm^3",
    tolerance=0.0005,
    reading="memory",
)
def half_a_sphere() -> float:
    """A dome as high as its radius is half of a sphere."""
    return float(dome_volume(across=0.02, bulge=0.01)) * 1e6


@published(
    named="F2-cut",
    formula=disc_volume,
    source="derived",
    place=_JOB + ", 10 thou off the deck",
    published=0.978,
    unit="cm^3",
    tolerance=0.0005,
    reading="derived",
)
def ten_thou_in_cc() -> float:
    """What ten thou off a deck take from the volume above the piston."""
    return float(disc_volume(across=2.756 * _IN, height=0.010 * _IN)) * 1e6


@published(
    named="F2-ratio",
    formula=volume_after,
    source="derived",
    place=_JOB + ", 22 cc above the piston, 10 thou off the deck",
    published=13.6,
    unit="1",
    tolerance=0.05,
    reading="derived",
)
def ratio_after_ten_thou() -> float:
    """Compression after ten thou off the deck."""
    bore = 2.756 * _IN
    left = volume_after(
        volume=22e-6,
        bore=bore,
        deck_cut=0.010 * _IN,
        base_cut=0.0,
        base_thicker=0.0,
        gasket_hole=bore,
        head_thicker=0.0,
    )
    swept = swept_volume(bore=bore, stroke=2.700 * _IN)
    return float(compression_ratio(swept=swept, clearance_volume=left))


@published(
    named="F3-base",
    formula=duration_change,
    source="derived",
    place=_JOB + ", roof 1.920 in down, 10 thou off the base",
    published=-1.0,
    unit="deg",
    tolerance=0.05,
    reading="derived",
    digits=2,
)
def transfer_after_the_base() -> float:
    """A transfer port after ten thou off the base."""
    roof = 1.920 * _IN
    change = duration_change(
        roof_depth=roof,
        deck_clearance=0.0,
        new_roof=roof,
        new_clearance=-0.010 * _IN,
        stroke=2.700 * _IN,
        rod=5.500 * _IN,
    )
    return math.degrees(change)


@published(
    named="F4-band",
    formula=band_share,
    source="derived",
    place="bowl at 1/sqrt 2 of the bore: half of the area",
    published=0.5,
    unit="1",
    tolerance=0.00005,
    reading="derived",
    digits=4,
)
def half_the_bore() -> float:
    """A bowl of half of the bore's area leaves the other half to the band."""
    return float(band_share(bore=0.062, bowl=0.062 / math.sqrt(2.0)))
