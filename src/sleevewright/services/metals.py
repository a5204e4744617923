"""The metals that can be named, for a list: what they are and how each constant is known."""

from __future__ import annotations

from typing import Any

from sleevewright.core.materials import material, material_names
from sleevewright.units import to_unit


def metals_document() -> list[dict[str, Any]]:
    """Every metal with its constants at 20 degC, units at the end of each key."""
    return [_record(name) for name in material_names()]


def metal_lines() -> tuple[str, ...]:
    """A table of the metals; a star marks a row with values from memory."""
    rows = [("name", "growth near 20 C", "stiffness", "density", "title")]
    for one in metals_document():
        mark = "*" if one["from_memory"] else ""
        rows.append(
            (
                one["name"] + mark,
                f"{one['expansion_ppm_per_k']:.1f} ppm/K",
                f"{one['modulus_gpa']:.0f} GPa",
                f"{one['density_kg_per_m3']:.0f} kg/m³",
                one["title"],
            )
        )
    widths = [max(len(row[column]) for row in rows) for column in range(5)]
    table = [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
    return (*table, "* some of its values are from memory; the manual says which.")


def _record(name: str) -> dict[str, Any]:
    """One metal."""
    metal = material(name)
    strength = metal.yield_strength
    return {
        "name": metal.name,
        "title": metal.title,
        "family": metal.family,
        "expansion_ppm_per_k": round(to_unit(float(metal.expansion.reference), "ppm/K"), 3),
        "modulus_gpa": round(to_unit(metal.modulus, "GPa"), 3),
        "poisson_1": metal.poisson,
        "density_kg_per_m3": metal.density,
        "specific_heat_j_per_kg_k": metal.specific_heat,
        "conductivity_w_per_m_k": metal.conductivity,
        "yield_mpa": None if strength is None else round(to_unit(strength, "MPa"), 3),
        "is_brittle": metal.is_brittle,
        "sources": dict(metal.sources),
        "from_memory": list(metal.from_memory),
    }
