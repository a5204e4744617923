"""Which least squish goes with a cooling, and what to do where there is less."""

from __future__ import annotations

COOLINGS = ("air", "fan", "water", "racing")

TOO_LITTLE = "take nothing more off; fit a thicker gasket, or have the head's band turned back"


def least_name(cooling: str) -> str:
    """Name of the least squish that goes with a cooling."""
    name = "squish_least_air"
    if cooling == "water":
        name = "squish_least_water"
    if cooling == "racing":
        name = "squish_least_racing"
    return name
