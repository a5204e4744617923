"""Limits of ISO 286 by name: the tolerance zone of a class such as H7 or s6 at a size.

The printed tables rule, and not their formulas, because the standard rounds in its own way.
Deviations count from the nominal size, positive outwards; sizes and deviations in metres,
diametral where the part is round.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from sleevewright.core.checks import positive
from sleevewright.core.fits.grades import greatest_interference, least_interference
from sleevewright.core.formulas import formula
from sleevewright.core.materials import table_text
from sleevewright.core.tables import Row, rows_of
from sleevewright.errors import InputError

GREATEST_SIZE = 0.500
"""Largest nominal size of the tables. [m]"""

FINEST, COARSEST = 5, 13
"""Grades that the tables are used for here."""

SHAFTS = ("d", "e", "f", "g", "h", "js", "k", "m", "n", "p", "r", "s", "t", "u", "x")
HOLES = tuple(one.upper() for one in SHAFTS)
"""Letters that are known, the loosest shaft first."""

TIGHT = ("p6", "r6", "s6", "t6", "u6", "x6")
"""Shafts that are tight in a hole H7, the lightest first."""

_BELOW = "defgh"  # shafts whose upper deviation is tabulated
_K_GRADES = (4, 7)  # between these k has a deviation of its own
_DELTA_GRADES = {"K": 8, "M": 8, "N": 8}  # delta comes in up to this grade; of others up to 7
_SMALLEST_STEP = 3.0  # mm: up to here the rules of K, M and N are others
_WIDENED_M6 = (250.0, 315.0, -9.0)  # mm, mm, um: the one exception that the table prints
_MICROMETRE = 1.0e-6
_MILLIMETRE = 1.0e-3
_CLASS = re.compile(r"([A-Za-z]{1,2})(\d{1,2})")
_ISO = ("iso-286-1",)


@dataclass(frozen=True)
class Zone:
    """A tolerance zone at a size: its two deviations from the nominal size."""

    name: str
    size: float
    low: float
    high: float
    is_hole: bool

    @property
    def smallest(self) -> float:
        """Smallest size that lies in the zone."""
        return self.size + self.low

    @property
    def largest(self) -> float:
        """Largest size that lies in the zone."""
        return self.size + self.high


@formula(
    name="tabulated standard tolerance",
    expression="IT of the step and grade, as printed",
    sources=_ISO,
    validity="sizes up to 500 mm, grades 4 to 13",
    unit="m",
)
def tabulated_tolerance(*, size: float, grade: int) -> float:
    """Width of a tolerance zone, from the printed table.

    Parameters
    ----------
    size : float
        Nominal size. [m]
    grade : int
        Number of the grade, 4 to 13. [1]

    Returns
    -------
    float
        Width of the zone. [m]

    Raises
    ------
    InputError
        If the size or the grade lies outside the table.

    Notes
    -----
    The lower end of a step belongs to the step before. Source: ``iso-286-1``, table 1.

    Examples
    --------
    >>> round(tabulated_tolerance(size=0.050, grade=7) * 1e6)
    25
    """
    row = _step("iso286_grades.csv", size)
    if not FINEST - 1 <= grade <= COARSEST:
        allowed = f"IT{FINEST - 1} to IT{COARSEST}"
        raise InputError("grade", f"IT{grade}", "", allowed, "Finer and coarser ones are not here.")
    return row.number(f"it{grade}") * _MICROMETRE


@formula(
    name="tolerance zone",
    expression="fundamental deviation of the letter, and IT of the grade away from nought",
    sources=_ISO,
    validity="letters d to x without j, both cases; grades 5 to 13; sizes up to 500 mm",
    unit="record",
)
def tolerance_zone(*, size: float, designation: str) -> Zone:
    """Limits of a class of ISO 286 at a size; a capital letter is a hole.

    Parameters
    ----------
    size : float
        Nominal size. [m]
    designation : str
        Letter and grade, such as H7 or s6. [text]

    Returns
    -------
    Zone
        Both deviations. [record]

    Raises
    ------
    InputError
        If the size, the letter or the grade has no zone in the tables.

    Notes
    -----
    js and JS lie half on either side. k is nought outside grades 4 to 7. A hole tighter
    than JS mirrors its shaft, with delta = ITn - IT(n-1) taken back in the finer grades.
    Source: ``iso-286-1``, tables 1 to 3 and their rules.

    Examples
    --------
    >>> zone = tolerance_zone(size=0.063, designation="s6")
    >>> round(zone.low * 1e6), round(zone.high * 1e6)
    (53, 72)
    """
    letter, grade = _parted(designation)
    width = tabulated_tolerance(size=size, grade=grade)
    is_hole = letter.isupper()
    if letter.lower() == "js":
        return Zone(designation, size, -0.5 * width, 0.5 * width, is_hole)
    inner = _deviation(letter, grade, size)
    # The zone lies away from nought: outwards of a shaft's lower deviation, and so on.
    if (letter.lower() in _BELOW) is is_hole:
        return Zone(designation, size, inner, inner + width, is_hole)
    return Zone(designation, size, inner - width, inner, is_hole)


@formula(
    name="book class nearest to a fit",
    expression="middles of H7/p6 to H7/x6 at the diameter, beside the fit",
    sources=_ISO,
    validity="sizes up to 500 mm",
    unit="text",
)
def nearest_iso_class(*, interference: float, diameter: float) -> str:
    """Which of the tight classes H7/p6 to H7/x6 a fit lies at or between.

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
        If the diameter lies outside the tables.

    Notes
    -----
    A fit is taken to be at a class whose middle it misses by less than a sixteenth of
    its range. Source: ``iso-286-1`` for the limits; the comparison is ``derived``.

    Examples
    --------
    >>> nearest_iso_class(interference=70e-6, diameter=0.063)
    'between H7/t6 and H7/u6'
    """
    letters = TIGHT if diameter > 24.0 * _MILLIMETRE else tuple(t for t in TIGHT if t != "t6")
    zones = [
        (f"H7/{shaft}", *interference_range(size=diameter, hole="H7", shaft=shaft))
        for shaft in letters
    ]
    return placed_among(interference, zones)


def placed_among(interference: float, ranges: list[tuple[str, float, float]]) -> str:
    """Where a fit lies among classes that are told by name, least and greatest fit.

    Parameters
    ----------
    interference : float
        Interference, diametral. [m]
    ranges : list[tuple[str, float, float]]
        Name, least and greatest interference of each class, the lightest first. [m]

    Returns
    -------
    str
        At one of them, between two, or beyond the first or last. [text]
    """
    middles = [(name, 0.5 * (least + most), most - least) for name, least, most in ranges]
    at = min(middles, key=lambda one: abs(interference - one[1]))
    if abs(interference - at[1]) <= at[2] / 16.0:
        return f"at {at[0]}"
    lighter = [name for name, middle, _ in middles if middle < interference]
    tighter = [name for name, middle, _ in middles if middle > interference]
    if not lighter:
        return f"lighter than {tighter[0]}"
    if not tighter:
        return f"tighter than {lighter[-1]}"
    return f"between {lighter[-1]} and {tighter[0]}"


@formula(
    name="range of a book fit",
    expression="shaft low - hole high to shaft high - hole low",
    sources=_ISO,
    validity="classes that the tables hold at this size",
    unit="m",
)
def interference_range(*, size: float, hole: str, shaft: str) -> tuple[float, float]:
    """Least and greatest interference of a hole and a shaft, negative for clearance.

    Parameters
    ----------
    size : float
        Nominal size. [m]
    hole : str
        Class of the hole, such as H7. [text]
    shaft : str
        Class of the shaft, such as s6. [text]

    Returns
    -------
    tuple[float, float]
        Least and greatest interference. [m]

    Raises
    ------
    InputError
        If either class has no zone at this size.

    Notes
    -----
    Source: ``iso-286-1``.

    Examples
    --------
    >>> least, most = interference_range(size=0.050, hole="H7", shaft="p6")
    >>> round(least * 1e6), round(most * 1e6)
    (1, 42)
    """
    bore = tolerance_zone(size=size, designation=hole)
    inner = tolerance_zone(size=size, designation=shaft)
    least = least_interference(shaft_low=inner.low, hole_high=bore.high)
    most = greatest_interference(shaft_high=inner.high, hole_low=bore.low)
    return float(least), float(most)


@formula(
    name="grade that a cut keeps",
    expression="finest grade that is as wide as the band from end to end",
    sources=_ISO,
    validity="sizes up to 500 mm",
    unit="text",
)
def grade_kept(*, size: float, tolerance: float) -> str:
    """Grade of ISO 286 that a cut keeps which is asked to stay within plus or minus a tolerance.

    Parameters
    ----------
    size : float
        Nominal size. [m]
    tolerance : float
        Half-width of the band. [m]

    Returns
    -------
    str
        The finest grade as wide as the band or wider. [text]

    Raises
    ------
    InputError
        If the size lies outside the tables.

    Notes
    -----
    Source: ``iso-286-1``, table 1.

    Examples
    --------
    >>> grade_kept(size=0.063, tolerance=8e-6)
    'within IT6'
    """
    for grade in range(FINEST - 1, COARSEST + 1):
        if 2.0 * tolerance <= tabulated_tolerance(size=size, grade=grade):
            return f"within IT{grade}"
    return f"wider than IT{COARSEST}"


def _parted(designation: str) -> tuple[str, int]:
    """Letter and grade of a class."""
    found = _CLASS.fullmatch(designation.strip())
    letter = "" if found is None else found[1]
    if letter not in SHAFTS + HOLES or found is None:
        allowed = f"a letter of {' '.join(SHAFTS)} (shaft) or {' '.join(HOLES)} (hole), and a grade"
        raise InputError("class", designation, "", allowed, "As H7 or s6.")
    grade = int(found[2])
    if not FINEST <= grade <= COARSEST:
        raise InputError("class", designation, "", f"grades {FINEST} to {COARSEST}")
    return letter, grade


def _deviation(letter: str, grade: int, size: float) -> float:
    """Fundamental deviation of a letter that has one."""
    if letter.islower():
        row = _step("iso286_shafts.csv", size)
        if letter == "k" and not _K_GRADES[0] <= grade <= _K_GRADES[1]:
            return 0.0
        return _cell(row, letter, size)
    row = _step("iso286_holes.csv", size)
    is_small = row.number("up_to_mm") <= _SMALLEST_STEP
    if letter in "KN" and grade > _DELTA_GRADES[letter] and not is_small:
        if letter == "N":
            return 0.0
        allowed = f"grades up to {_DELTA_GRADES[letter]} for K over 3 mm"
        raise InputError("class", f"{letter}{grade}", "", allowed)
    if (letter, grade) == ("M", 6) and row.number("up_to_mm") in _between(_WIDENED_M6):
        return _WIDENED_M6[2] * _MICROMETRE
    found = _cell(row, letter, size)
    if letter.lower() in _BELOW or grade > _DELTA_GRADES.get(letter, 7):
        return found
    return found + row.number(f"delta{grade}") * _MICROMETRE


def _between(step: tuple[float, float, float]) -> tuple[float, ...]:
    """Upper ends of the narrow steps within a wide one, in millimetres."""
    low, high, _ = step
    ends = (row.number("up_to_mm") for row in _rows("iso286_holes.csv"))
    return tuple(end for end in ends if low < end <= high)


def _cell(row: Row, letter: str, size: float) -> float:
    """The tabulated deviation; refused where the table has a blank."""
    if not row.text(letter):
        hint = "s and u are to be had at every size."
        raise InputError("class", letter, "", f"{letter} above 24 mm", hint)
    found = row.number(letter) * _MICROMETRE
    positive("size", size, "m")
    return found


def _step(name: str, size: float) -> Row:
    """The row of a table that a size falls into."""
    positive("size", size, "m")
    told = round(size / _MILLIMETRE, 9)
    for row in _rows(name):
        if told <= row.number("up_to_mm"):
            return row
    most = f"more than nought, up to {GREATEST_SIZE / _MILLIMETRE:.0f} mm"
    raise InputError("size", told, "mm", most, "ISO 286 goes on above, in tables not held here.")


@lru_cache(maxsize=8)
def _rows(name: str) -> tuple[Row, ...]:
    """Rows of a table, read once."""
    return rows_of(table_text(name), name=name)
