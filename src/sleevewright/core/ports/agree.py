"""Several sources for one edge of a port: whether they agree, what they come to together.

Depths count from the deck, downwards; places of a side are lengths along the wall, to the right
as seen from the axis.  Sources that do not agree are never averaged: a mean of two figures of
which one is wrong is wrong as well, and looks right.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, finite, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

APART_ALLOWED = 2.0
"""Sources agree while no two of them differ by more than so many of their combined doubts."""

METAL_WAY = {"roof": 1.0, "right": -1.0, "floor": -1.0, "left": 1.0}
"""Which way an edge moves along its axis when metal is left standing there."""


@dataclass(frozen=True)
class Agreement:
    """What several sources of one edge say together.

    Attributes
    ----------
    value : float
        Their weighted mean; only worth something where they agree. [m]
    standard : float
        Its standard uncertainty, of independent sources. [m]
    apart : float
        Greatest difference of two of them over its standard uncertainty. [1]
    chi_square : float
        Sum of the squared differences from the mean, each over its own uncertainty. [1]
    count : int
        How many sources. [1]
    """

    value: float
    standard: float
    apart: float
    chi_square: float
    count: int

    @property
    def is_agreed(self) -> bool:
        """Whether no two of them lie apart by more than twice their combined doubt."""
        return self.apart <= APART_ALLOWED


@formula(
    name="agreement of sources",
    expression="x = sum(x_i/u_i^2)/sum(1/u_i^2), u = sum(1/u_i^2)^(-1/2); "
    "agreed while |x_i - x_j| <= 2 (u_i^2 + u_j^2)^(1/2)",
    sources=("jcgm-100", "practice"),
    validity="sources that do not share their error",
    unit="record",
)
def agreement(values: NDArray[np.float64], standards: NDArray[np.float64]) -> Agreement:
    """Hold the sources of one edge against each other and take their weighted mean.

    Parameters
    ----------
    values : NDArray[np.float64]
        What each source says of the edge, in one frame, (n,). [m]
    standards : NDArray[np.float64]
        Standard uncertainty of each, (n,). [m]

    Returns
    -------
    Agreement
        Mean, doubt and how far they lie apart. [record]

    Raises
    ------
    InputError
        If there is no source, or one has no doubt.

    Notes
    -----
    The mean of least squares; the limit of twice is the shop's. Source: ``jcgm-100``,
    ``practice``.

    Examples
    --------
    >>> found = agreement(np.array([56.10, 56.04, 55.95]), np.array([0.15, 0.16, 0.12]))
    >>> round(found.value, 2), round(found.standard, 2), found.is_agreed
    (56.02, 0.08, True)
    """
    if values.ndim != 1 or values.size == 0 or values.shape != standards.shape:
        raise InputError("sources", values.size, "", "one value and one doubt of each source")
    finite("value of a source", values, "m")
    positive("doubt of a source", standards, "m")
    weights = standards**-2.0
    mean = float(weights @ values / weights.sum())
    differences = np.abs(values[:, None] - values[None, :])
    combined = np.hypot(standards[:, None], standards[None, :])
    return Agreement(
        value=mean,
        standard=float(weights.sum() ** -0.5),
        apart=float((differences / combined).max()),
        chi_square=float((((values - mean) / standards) ** 2).sum()),
        count=int(values.size),
    )


@formula(
    name="mean of two sources",
    expression="x = (x_1/u_1^2 + x_2/u_2^2)/(1/u_1^2 + 1/u_2^2)",
    sources=("jcgm-100",),
    validity="sources that agree and do not share their error; more of them one by one",
    unit="m",
)
def weighted_mean(
    *, one: Number, one_standard: Number, other: Number, other_standard: Number
) -> Number:
    """Mean of two figures, each by what it is worth.

    Parameters
    ----------
    one : Number
        A figure. [m]
    one_standard : Number
        Its standard uncertainty. [m]
    other : Number
        Another figure of the same edge. [m]
    other_standard : Number
        Its standard uncertainty. [m]

    Returns
    -------
    Number
        Their mean. [m]

    Raises
    ------
    InputError
        If a doubt is not positive.

    Notes
    -----
    Source: ``jcgm-100``.

    Examples
    --------
    >>> round(weighted_mean(one=1.0, one_standard=0.1, other=2.0, other_standard=0.1), 6)
    1.5
    """
    positive("doubt of a source", one_standard, "m")
    positive("doubt of a source", other_standard, "m")
    first, second = one_standard**-2.0, other_standard**-2.0
    return (first * one + second * other) / (first + second)


@formula(
    name="edge that leaves most metal",
    expression="greatest of roof and left, least of floor and right",
    sources=("practice",),
    validity="places of one edge in one frame",
    unit="m",
)
def careful_edge(edge: str, values: NDArray[np.float64]) -> float:
    """The one of several places of an edge that leaves most metal standing.

    Parameters
    ----------
    edge : str
        ``roof``, ``right``, ``floor`` or ``left``. [text]
    values : NDArray[np.float64]
        Places that its sources tell, (n,). [m]

    Returns
    -------
    float
        Of a roof the deepest, of a floor the highest, of a side the one nearest to the other. [m]

    Raises
    ------
    InputError
        If there is no such edge.

    Notes
    -----
    Metal can still be taken away, and cannot be put back. Source: ``practice``.

    Examples
    --------
    >>> both = np.array([0.0560, 0.0563])
    >>> careful_edge("roof", both), careful_edge("right", both)
    (0.0563, 0.056)
    """
    if edge not in METAL_WAY:
        raise InputError("edge", edge, "", ", ".join(METAL_WAY))
    return float(values.max() if METAL_WAY[edge] > 0.0 else values.min())


@formula(
    name="line at which grinding stops",
    expression="stop = target + u",
    sources=("practice",),
    validity="a roof, as depth below the deck: the stop line lies below the target",
    unit="m",
)
def stop_line(*, roof: Number, standard: Number) -> Number:
    """Depth at which a roof is measured again before more is taken.

    Parameters
    ----------
    roof : Number
        Depth of the roof that is wanted. [m]
    standard : Number
        Its standard uncertainty. [m]

    Returns
    -------
    Number
        Depth of the line. [m]

    Raises
    ------
    InputError
        If the uncertainty is negative.

    Notes
    -----
    Beyond it the target itself may be the wrong side. Source: ``practice``.

    Examples
    --------
    >>> round(stop_line(roof=0.05602, standard=0.00008), 5)
    0.0561
    """
    not_negative("doubt of the roof", standard, "m")
    return roof + standard


@formula(
    name="width kept within the rings' limit",
    expression="min(width, widest)",
    sources=("practice",),
    validity="both along the same wall, or both as chords",
    unit="m",
)
def kept_within(width: float, *, widest: float | None) -> float:
    """A width, held to the widest that the rings allow.

    Parameters
    ----------
    width : float
        Width that its sources tell. [m]
    widest : float | None
        The widest that is allowed; nothing where no limit is known. [m]

    Returns
    -------
    float
        The width that may be made. [m]

    Raises
    ------
    InputError
        If a width is not positive.

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> kept_within(0.047, widest=0.0465), kept_within(0.040, widest=None)
    (0.0465, 0.04)
    """
    positive("width", width, "m")
    return width if widest is None else min(width, positive("widest", widest, "m"))


@formula(
    name="corner kept round for the rings",
    expression="max(radius, least)",
    sources=("practice",),
    validity="corner radii of a window at the bore",
    unit="m",
)
def rounded_enough(radius: float, *, least: float | None) -> float:
    """A corner radius, at least what the rings ask for.

    Parameters
    ----------
    radius : float
        Radius that its sources tell. [m]
    least : float | None
        The least that is allowed; nothing where no limit is known. [m]

    Returns
    -------
    float
        The radius that may be made. [m]

    Raises
    ------
    InputError
        If a radius is negative.

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> rounded_enough(0.002, least=0.003), rounded_enough(0.004, least=0.003)
    (0.003, 0.004)
    """
    not_negative("corner radius", radius, "m")
    return radius if least is None else max(radius, not_negative("least radius", least, "m"))
