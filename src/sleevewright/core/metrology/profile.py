"""The shape of a bore or a sleeve along its depth, named as far as its doubt allows.

From the mean size of each station.  Depths count downwards from the deck; every amount is
diametral, at 20 degC, and positive where the part is wider: at the bottom (taper), in the
middle (bow), at an end (top, bottom), below a port (step).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.metrology.grid import GridReadings, sizes_at_reference, station_means
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.stations import check_layout, station_spread
from sleevewright.errors import InputError

Array = NDArray[np.float64]

FALSE_CALLS = 0.04
"""Most often that a straight part is given a shape. [1]"""

UNEVEN_CALLS = 0.01
"""Most often that a part whose shapes are all named is called uneven beside them. [1]"""

MOST_SHAPES = 2
"""More shapes than this are not told apart by a bench's grid. [1]"""


_FOR_TWO = 3
"""Stations without which two shapes are not told apart. [1]"""
_SAME = 1e-12
"""Share of its squares below which a shape is one of those before it."""


class Form(StrEnum):
    """What can be said of the way along the depth."""

    TAPER = "taper"
    BOW = "bow"  # barrel where the middle is wider, waist where it is narrower
    TOP = "top"  # bell-mouth where it is wider
    BOTTOM = "bottom"
    STEP = "step"  # from above a port to below it


@dataclass(frozen=True)
class PortBand:
    """A port as it lies along the depth."""

    name: str
    roof: float
    floor: float


@dataclass(frozen=True)
class Ports:
    """The ports that lie along a bore, none where it has none."""

    bands: tuple[PortBand, ...] = ()


NO_PORTS = Ports()


@dataclass(frozen=True)
class NamedShape:
    """One shape that the readings show, with bounds that hold for all shapes together.

    ``place`` is the port of a step.  ``rivals`` are shapes, as form and place, that would
    describe the same readings no worse than scatter allows.
    """

    form: str
    place: str
    amount: float
    standard: float
    low: float
    high: float
    rivals: tuple[tuple[str, str, float], ...] = ()


@dataclass(frozen=True, eq=False)
class Profile:
    """What the station means say of the shape along the depth.

    ``change`` is that of the straight line over the depth that was read, positive where
    the part is wider at the bottom; ``bow`` is how far the middle stands above the line
    through the ends, ``None`` with fewer than three stations.
    """

    depths: Array
    means: Array
    change: float
    change_standard: float
    bow: float | None
    bow_standard: float | None
    degrees_of_freedom: float
    named: tuple[NamedShape, ...]
    is_uneven: bool


@dataclass(frozen=True, eq=False)
class _Means:
    """Station means as multiples of the scatter of one reading, made independent."""

    place: Array  # 0 at the first station, 1 at the last
    depths: Array
    white: Array  # whitened means
    root: Array  # what whitens a column
    scatter: float
    freedom: float


@dataclass(frozen=True, eq=False)
class _Shape:
    """A shape that is looked for: its column over the stations."""

    form: Form
    place: str
    column: Array


@formula(
    name="shape along the depth",
    expression="shapes by least squares on the station means; one is named where |b| > k s_b, "
    "k the smaller of Bonferroni's t and Scheffe's (v1 F)^(1/2)",
    sources=("scheffe-1959", "derived"),
    validity="independent normal scatter; what lies between the stations is not seen",
    unit="m",
)
def profile_of(
    *,
    readings: GridReadings,
    part_expansion: float,
    gauge_expansion: float,
    reading: Repeatability,
    ports: Ports,
) -> Profile:
    """Taper, barrel, waist, bell-mouth or a step beside a port, as far as doubt allows.

    Parameters
    ----------
    readings : GridReadings
        Readings that count, stations from the deck downwards. [record]
    part_expansion : float
        Mean coefficient of the part. [1/K]
    gauge_expansion : float
        Mean coefficient of the gauge. [1/K]
    reading : Repeatability
        Scatter of one reading. [m]
    ports : Ports
        Ports along the bore. [record]

    Returns
    -------
    Profile
        Straight line, bow, and the shapes that are named. [m]

    Raises
    ------
    InputError
        If fewer than two stations were read, depths are not in order or there twice,
        angles are repeated, or the scatter is not known.

    Notes
    -----
    Shapes are taken up one by one, the most certain first; a straight part is given one
    in at most one case in twenty. A shape that would do as well is named beside it.
    Source: ``scheffe-1959`` 3.5 for bounds of every contrast, the search ``derived``.
    """
    grid = sizes_at_reference(
        readings, part_expansion=part_expansion, gauge_expansion=gauge_expansion
    )
    check_layout(grid)
    means = station_means(grid)
    read = np.isfinite(means)
    count = int(read.sum())
    if count < 2:
        raise InputError("stations", count, "", "two or more, three for barrel or waist")
    if not (reading.standard > 0.0 and reading.degrees_of_freedom > 0.0):
        raise InputError("scatter of a reading", reading.standard, "m", "more than zero")
    told = _white(grid.stations[read], means[read], station_spread(grid), reading)
    shapes = _shapes(told, ports)
    named = _search(told, shapes)
    line = _beside(told, shapes, [])
    bow = _beside(told, shapes, shapes[:1]) if count > 2 else None
    scatter = told.scatter
    return Profile(
        depths=told.depths,
        means=means[read],
        change=scatter * float(line.amount[0]),
        change_standard=scatter * float(line.standard[0]),
        bow=None if bow is None else scatter * float(bow.amount[1]),
        bow_standard=None if bow is None else scatter * float(bow.standard[1]),
        degrees_of_freedom=told.freedom,
        named=tuple(_named(told, shapes, named, one) for one in named),
        is_uneven=_is_uneven(told, shapes, named),
    )


def _white(depths: Array, means: Array, spread: Array, reading: Repeatability) -> _Means:
    """Means with the scatter of one reading as their unit and made independent."""
    root = np.linalg.inv(np.linalg.cholesky(spread))
    place = (depths - depths[0]) / np.ptp(depths)
    white = root @ ((means - means.mean()) / reading.standard)
    return _Means(place, depths, white, root, reading.standard, reading.degrees_of_freedom)


def _shapes(told: _Means, ports: Ports) -> list[_Shape]:
    """What is looked for: a line, a bow, both ends, a step at each port between stations."""
    count = told.place.size
    found = [_Shape(Form.TAPER, "", told.place)]
    if count > 2:
        first, last = np.eye(count)[0], np.eye(count)[-1]
        found += [
            _Shape(Form.BOW, "", 4.0 * told.place * (1.0 - told.place)),
            _Shape(Form.TOP, "", first),
            _Shape(Form.BOTTOM, "", last),
        ]
    for band in ports.bands:
        below = (told.depths > 0.5 * (band.roof + band.floor)).astype(np.float64)
        if 0.0 < below.mean() < 1.0 and count > 2:
            found.append(_Shape(Form.STEP, band.name, below))
    return found


@dataclass(frozen=True, eq=False)
class _Beside:
    """Each shape beside those that are fitted already, in the unit of scatter.

    ``gain`` is by how much a shape lowers the squares that are left; zero where it says
    nothing that the others cannot.
    """

    amount: Array
    standard: Array
    gain: Array
    left: float  # squares that are left without it


def _beside(told: _Means, shapes: list[_Shape], fitted: list[_Shape]) -> _Beside:
    """Every shape by itself, after the level and the fitted ones are taken off."""
    columns = np.column_stack([one.column for one in shapes])
    taken = np.column_stack([np.ones(told.place.size), *(one.column for one in fitted)])
    basis = np.linalg.qr(told.root @ taken)[0]
    rest = told.white - basis @ (basis.T @ told.white)
    white = told.root @ columns
    own = white - basis @ (basis.T @ white)
    squares = (own**2).sum(axis=0)
    is_new = squares > _SAME * (white**2).sum(axis=0)
    size = np.where(is_new, squares, 1.0)
    amount = np.where(is_new, own.T @ rest / size, 0.0)
    return _Beside(amount, size**-0.5, amount**2 * size, float(rest @ rest))


def _search(told: _Means, shapes: list[_Shape]) -> list[int]:
    """Indices of the shapes that are named, the most certain first: none, one, or two."""
    alone = _beside(told, shapes, [])
    best = _first_best(alone.gain)
    if not alone.gain[best] > _limit(told, shapes, 1):
        return []
    if told.place.size < _FOR_TWO:
        return [best]
    after = [_beside(told, shapes, [one]).gain for one in shapes]
    # Two shapes must leave certainly less than the best alone, each certain beside the other;
    # of such pairs the one that leaves least counts.
    limit = _limit(told, shapes, MOST_SHAPES)
    gains = np.array([alone.gain[one] + after[one] for one in range(len(shapes))])
    certain = np.array(after) > limit
    able = np.triu(certain & certain.T & (gains > alone.gain[best] + limit), 1)
    if not able.any():
        return [best]
    one, other = divmod(_first_best(np.where(able, gains, 0.0).ravel()), len(shapes))
    return [one, other] if after[other][one] >= after[one][other] else [other, one]


def _first_best(gain: Array) -> int:
    """The first of those that do best: where several do the same, the plainest is named."""
    return int(np.argmax(gain >= gain.max() * (1.0 - 1e-9)))


def _limit(told: _Means, shapes: list[_Shape], named: int) -> float:
    """Squares that a shape must take off to be certain, as one of so many."""
    factor = critical_factor(
        stations=told.place.size,
        looked_for=len(shapes) ** named,
        degrees_of_freedom=told.freedom,
    )
    return factor**2


def _named(told: _Means, shapes: list[_Shape], named: list[int], one: int) -> NamedShape:
    """A named shape with its amount, bounds and rivals."""
    others = [each for each in named if each != one]
    beside = _beside(told, shapes, [shapes[each] for each in others])
    factor = told.scatter * math.sqrt(_limit(told, shapes, len(named)))
    near = beside.gain[one] - _student(0.975, told.freedom) ** 2
    rivals = tuple(
        (shape.form.value, shape.place, told.scatter * float(beside.amount[index]))
        for index, shape in enumerate(shapes)
        if index not in named and 0.0 < beside.gain[index] > near
    )
    amount, standard = told.scatter * float(beside.amount[one]), float(beside.standard[one])
    return NamedShape(
        shapes[one].form.value,
        shapes[one].place,
        amount,
        told.scatter * standard,
        amount - factor * standard,
        amount + factor * standard,
        rivals,
    )


def _is_uneven(told: _Means, shapes: list[_Shape], named: list[int]) -> bool:
    """Whether the stations differ more than scatter makes them, beside what is named."""
    from scipy.special import fdtri

    rest = told.place.size - 1 - len(named)
    if rest < 1:
        return False
    left = _beside(told, shapes, [shapes[one] for one in named]).left
    return left > rest * float(fdtri(rest, told.freedom, 1.0 - UNEVEN_CALLS))


@formula(
    name="factor of a shape that is named",
    expression="k = min(t_(1 - p / 2 m), ((n - 1) F_(1 - p))^(1/2)), p 4 %",
    sources=("scheffe-1959",),
    validity="independent normal scatter; m shapes looked for at n stations",
    unit="1",
)
def critical_factor(*, stations: int, looked_for: int, degrees_of_freedom: float) -> float:
    """How many standard deviations a shape must have so that chance seldom makes one.

    Parameters
    ----------
    stations : int
        Number of stations. [1]
    looked_for : int
        How many shapes are looked for. [1]
    degrees_of_freedom : float
        How well the scatter is known. [1]

    Returns
    -------
    float
        The smaller of Bonferroni's and Scheffe's factor. [1]

    Raises
    ------
    InputError
        If there are fewer than two stations, or the degrees of freedom are not positive.

    Notes
    -----
    Source: ``scheffe-1959`` 3.5.

    Examples
    --------
    >>> round(critical_factor(stations=4, looked_for=100, degrees_of_freedom=12.0), 2)
    3.37
    """
    if stations < 2:
        raise InputError("stations", stations, "", "two or more")
    if not degrees_of_freedom > 0.0:
        raise InputError("degrees of freedom", degrees_of_freedom, "", "more than zero")
    return _factor(stations, looked_for, min(degrees_of_freedom, _MANY))


@lru_cache(maxsize=256)
def _factor(stations: int, looked_for: int, freedom: float) -> float:
    """The smaller of both factors."""
    from scipy.special import fdtri

    others = stations - 1
    every = math.sqrt(others * float(fdtri(others, freedom, 1.0 - FALSE_CALLS)))
    each = _student(1.0 - 0.5 * FALSE_CALLS / looked_for, freedom)
    return min(every, each)


_MANY = 1e6
"""Degrees of freedom from which on a scatter counts as known. [1]"""


def _student(probability: float, freedom: float) -> float:
    """Quantile of Student's t."""
    from scipy.special import stdtrit

    found: float = stdtrit(min(freedom, _MANY), probability)
    return float(found)
