"""Fits of ANSI B4.1 by name: force and shrink fits FN1 to FN5, locational fits LN1 to LN3.

The table is in thousandths of an inch; sizes and limits here are in metres.  The hole begins
at the nominal size; deviations count from it, positive outwards.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.checks import positive
from sleevewright.core.fits.iso286 import placed_among
from sleevewright.core.formulas import formula
from sleevewright.core.materials import table_text
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError

_INCH = 25.4e-3
_THOU = 25.4e-6
_ANSI = ("machinerys-27", "machinerys-31")
GREATEST_INCH_SIZE = 7.88 * _INCH
"""Largest nominal size of the force fits that are held. [m]"""

FORCE = ("FN1", "FN2", "FN3", "FN4", "FN5")
"""Force and shrink fits, the lightest first."""


@dataclass(frozen=True)
class InchFit:
    """A fit of the table at a size: the limits of both parts, and the fit that they make; SI."""

    name: str
    size: float
    hole_high: float  # the hole's lower limit is the size itself
    shaft_low: float
    shaft_high: float
    least: float  # interference as printed
    most: float
    reading: str  # how the row was obtained: read, or memory


def ansi_classes() -> tuple[str, ...]:
    """Names of the classes that are held.

    Returns
    -------
    tuple[str, ...]
        Names. [text]
    """
    return tuple(dict.fromkeys(row.text("class") for row in _rows()))


@formula(
    name="inch fit by class",
    expression="limits of the step and class, as printed",
    sources=_ANSI,
    validity="FN up to 7.88 in, LN up to 7.09 in; FN3 over 0.95 in",
    unit="record",
)
def inch_fit(*, size: float, designation: str) -> InchFit:
    """Limits of both parts of a class of ANSI B4.1 at a size.

    Parameters
    ----------
    size : float
        Nominal size. [m]
    designation : str
        Name of the class, such as FN2 or LN3. [text]

    Returns
    -------
    InchFit
        Limits, least and greatest interference. [record]

    Raises
    ------
    InputError
        If the class is not held, or has nothing at this size.

    Notes
    -----
    The lower end of a step belongs to the step before. Source: ``machinerys-27`` and
    ``machinerys-31``; rows over 3.94 to 4.73 in are marked as from memory.

    Examples
    --------
    >>> fit = inch_fit(size=2.5 * 0.0254, designation="FN2")
    >>> round(fit.least / 25.4e-6, 1), round(fit.most / 25.4e-6, 1)
    (0.8, 2.7)
    """
    positive("size", size, "m")
    name = designation.strip().upper().replace(" ", "")
    if name not in ansi_classes():
        allowed = f"one of {', '.join(ansi_classes())}"
        raise InputError("class", designation, "", allowed, "Running and clearance fits are not.")
    told = round(size / _INCH, 9)
    own = [row for row in _rows() if row.text("class") == name]
    for row in own:
        if row.number("over_in") < told <= row.number("up_to_in"):
            return _fit_of(row, name, size)
    ends = f"over {own[0].number('over_in'):g} up to {own[-1].number('up_to_in'):g} in"
    raise InputError("size", told, "in", f"{ends} for {name}")


@formula(
    name="inch class nearest to a fit",
    expression="middles of FN1 to FN5 at the diameter, beside the fit",
    sources=_ANSI,
    validity="sizes up to 7.88 in",
    unit="text",
)
def nearest_inch_class(*, interference: float, diameter: float) -> str:
    """Which of the force fits FN1 to FN5 a fit lies at or between.

    Parameters
    ----------
    interference : float
        Interference, diametral. [m]
    diameter : float
        Nominal diameter of the fit. [m]

    Returns
    -------
    str
        The class, or the two that it lies between. [text]

    Raises
    ------
    InputError
        If the diameter lies outside the table.

    Notes
    -----
    As :func:`~.iso286.nearest_iso_class` does it. Source: ``machinerys-27`` and
    ``machinerys-31`` for the limits; the comparison is ``derived``.

    Examples
    --------
    >>> nearest_inch_class(interference=3.2 * 25.4e-6, diameter=2.48 * 0.0254)
    'at FN4'
    """
    positive("diameter", diameter, "m")
    inch_fit(size=diameter, designation=FORCE[0])  # refuses what no class covers
    told = round(diameter / _INCH, 9)
    ranges = [
        (row.text("class"), row.number("least") * _THOU, row.number("most") * _THOU)
        for row in _rows()
        if row.text("class") in FORCE and row.number("over_in") < told <= row.number("up_to_in")
    ]
    return placed_among(interference, sorted(ranges, key=lambda one: one[1] + one[2]))


def _fit_of(row: Row, name: str, size: float) -> InchFit:
    """A row of the table in metres."""
    return InchFit(
        name,
        size,
        hole_high=row.number("hole_high") * _THOU,
        shaft_low=row.number("shaft_low") * _THOU,
        shaft_high=row.number("shaft_high") * _THOU,
        least=row.number("least") * _THOU,
        most=row.number("most") * _THOU,
        reading=row.text("reading"),
    )


@lru_cache(maxsize=1)
def _rows() -> tuple[Row, ...]:
    """Rows of the table, read once."""
    return rows_of(table_text("ansi_b41.csv"), name="ansi_b41.csv")
