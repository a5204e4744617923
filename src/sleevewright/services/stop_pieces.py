"""Which pieces a stop is set with, read as they were typed: a usual set, or the shop's own."""

from __future__ import annotations

from decimal import Decimal

from sleevewright.core.cutting.stopsets import StopSet, set_of_sizes, stop_set
from sleevewright.errors import InputError
from sleevewright.units import Dimension, Spoken, parse

NM_OF = {"mm": 1_000_000, "in": 25_400_000, "thou": 25_400, "um": 1_000, "µm": 1_000}
"""Nanometres in the units that a piece is marked in."""
FINEST = {"mm": 100, "um": 100, "µm": 100, "in": 254, "thou": 254}
"""Finest division that a piece is marked in: a tenth of a micrometre, a hundredth of a thou."""


def stop_of(named: str, own: str) -> StopSet | None:
    """The set that the stop is set with: the shop's own pieces before a usual set."""
    if own.strip():
        return own_set(own, field="own blocks or pins")
    return stop_set(named) if named else None


def own_set(text: str, *, field: str) -> StopSet:
    """A set from sizes with a comma between; a unit behind the last stands for all."""
    parts = [one.strip() for one in text.split(",")]
    if not all(parts):
        hint = "Write them as 1.00, 1.05, 2.00 mm."
        raise InputError(field, text, "", "sizes with a comma between", hint)
    last = parse(parts[-1], field=field, dimension=Dimension.LENGTH)
    said = [_size(one, last.unit, field) for one in parts]
    return set_of_sizes(said, marked="in" if last.unit in ("in", "thou") else "mm")


def _size(text: str, unit: str, field: str) -> int:
    """Nanometres of one piece, exactly as it is marked."""
    number = text.removesuffix(unit).strip()
    whole = f"{number} {unit}" if _is_number(number) else text
    said: Spoken = parse(whole, field=field, dimension=Dimension.LENGTH)
    figure = whole.removesuffix(said.unit).strip()
    if not _is_number(figure) or said.unit not in NM_OF:
        raise InputError(field, text, "", "sizes in mm, µm, in or thou")
    exact = Decimal(figure) * NM_OF[said.unit]
    if exact != exact.to_integral_value() or exact % FINEST[said.unit]:
        raise InputError(field, text, "", "steps of 0.1 µm, or of a hundredth of a thou")
    return int(exact)


def _is_number(text: str) -> bool:
    """Whether a text is a plain decimal number."""
    return bool(text) and text.replace(".", "", 1).isdecimal()
