"""Readings to sizes: grids of diameters, form, sweeps, each with its doubt."""
