"""Which interferences are believed: beyond half a per cent of the diameter a slip is meant."""

from __future__ import annotations

from sleevewright.core.fits.interference import PLAUSIBLE_SHARE
from sleevewright.errors import InputError
from sleevewright.planning.answers import Quantity
from sleevewright.units import from_unit, shown


def most_believed(diameter: float) -> float:
    """Largest interference that is believed at a diameter, in metres."""
    return PLAUSIBLE_SHARE * diameter


def refuse_beyond(field: str, value: float, *, diameter: float, system: str) -> None:
    """Refuse an interference that no shrink fit has, and read its number both ways.

    Parameters
    ----------
    field : str
        What was told, as the refusal names it.
    value : float
        Diametral interference, in metres.
    diameter : float
        Diameter of the fit, in metres.
    system : str
        ``inch`` or ``metric``: how its number was probably meant.

    Raises
    ------
    InputError
        With the number read as thou and as hundredths of a millimetre.
    """
    largest = most_believed(diameter)
    if value <= largest:
        return
    unit = "thou" if system == "inch" else "µm"
    number = value / from_unit(1.0, unit)
    hundredths, thou = (n * size for n, size in _readings(number, value, system))
    told, most, one, other = (
        shown(size, quantity=Quantity.DEVIATION.value, system=system, given=True)
        for size in (value, largest, thou, hundredths)
    )
    raise InputError(
        field,
        told.figure,
        told.unit,
        f"up to {most.figure} {most.unit}, {100.0 * PLAUSIBLE_SHARE:g} % of the diameter",
        "Was it thou of an inch or hundredths of a millimetre? "
        f"The same number of thou is {one.figure} {one.unit}, "
        f"of hundredths {other.figure} {other.unit}. Say which, on diameter.",
    )


def _readings(number: float, value: float, system: str) -> tuple[tuple[float, float], ...]:
    """The number that was told, as hundredths of a millimetre and as thou."""
    hundredth, thou = from_unit(0.01, "mm"), from_unit(1.0, "thou")
    counted = number if system == "inch" else value / hundredth
    return (counted, hundredth), (counted, thou)
