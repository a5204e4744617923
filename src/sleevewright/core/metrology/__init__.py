"""Readings to sizes: grids of diameters, form, sweeps, each with its doubt."""

from sleevewright.core.metrology.circle import fit_circle
from sleevewright.core.metrology.sweep import sweep_offset
from sleevewright.core.metrology.zone_circle import minimum_zone_circle

__all__ = ["fit_circle", "minimum_zone_circle", "sweep_offset"]
