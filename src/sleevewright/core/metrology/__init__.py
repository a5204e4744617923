"""Readings to sizes: grids of diameters, form, sweeps, each with its doubt."""

from sleevewright.core.metrology.sweep import sweep_offset as sweep_offset
