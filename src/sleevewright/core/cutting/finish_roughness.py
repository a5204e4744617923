"""Roughness that a round nose leaves: geometry first, and what chips that are too thin add.

Rz is the height from ridge to valley of the ideal profile, Ra its mean distance from its own
mean line.  Both are the least that a perfect edge leaves; practice is rougher.
"""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.checks import Number, extremes, not_negative, positive, within
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError


@formula(
    name="largest feed that the nose alone shapes",
    expression="f = 2 r sin(kappa')",
    sources=("derived",),
    validity="round nose that runs into a straight edge behind it",
    unit="m",
)
def largest_nose_feed(*, nose: Number, end_angle: Number) -> Number:
    """Feed above which the edge behind the nose shapes the ridges too.

    Parameters
    ----------
    nose : Number
        Radius of the nose. [m], > 0
    end_angle : Number
        Angle of the edge behind the nose against the wall. [rad], up to a quarter turn

    Returns
    -------
    Number
        Feed by the turn. [m]

    Raises
    ------
    InputError
        If the nose is not positive or the angle out of its range.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(1e6 * largest_nose_feed(nose=4e-4, end_angle=math.radians(15.0)))
    207
    """
    positive("nose", nose, "m")
    within("angle of the edge behind the nose", end_angle, "rad", 0.01, 0.5 * math.pi)
    return 2.0 * nose * np.sin(end_angle)


@formula(
    name="height of the ridges of a round nose",
    expression="Rz = r - sqrt(r^2 - f^2 / 4)",
    sources=("derived",),
    validity="feed up to 2 r sin(kappa'); f^2 / (8 r) is the same for small feeds",
    unit="m",
)
def ridge_height(*, feed: Number, nose: Number, end_angle: Number) -> Number:
    """Height from valley to ridge that the nose leaves, by geometry.

    Parameters
    ----------
    feed : Number
        Feed by the turn. [m], > 0
    nose : Number
        Radius of the nose. [m], > 0
    end_angle : Number
        Angle of the edge behind the nose against the wall. [rad]

    Returns
    -------
    Number
        Rz of the ideal profile, radial. [m]

    Raises
    ------
    InputError
        If the feed is larger than the nose alone can shape.

    Notes
    -----
    Written as (f/2)^2 / (r + sqrt(r^2 - f^2/4)), which keeps its digits. Source: ``derived``.

    Examples
    --------
    >>> told = {"feed": 2e-4, "nose": 8e-4, "end_angle": math.radians(15.0)}
    >>> round(float(1e6 * ridge_height(**told)), 4)
    6.2746
    """
    _nose_shapes(feed, nose, end_angle)
    half = 0.5 * feed
    return half**2 / (nose + np.sqrt(nose**2 - half**2))


@formula(
    name="mean roughness of a round nose",
    expression="Ra = (1 / f) times the integral of |y - mean| over a feed, y the arc",
    sources=("iso-21920-2", "derived"),
    validity="feed up to 2 r sin(kappa'); near f^2 / (31.2 r), not f^2 / (32 r)",
    unit="m",
)
def mean_roughness(*, feed: Number, nose: Number, end_angle: Number) -> Number:
    """Mean distance of the ideal profile from its mean line.

    Parameters
    ----------
    feed : Number
        Feed by the turn. [m], > 0
    nose : Number
        Radius of the nose. [m], > 0
    end_angle : Number
        Angle of the edge behind the nose against the wall. [rad]

    Returns
    -------
    Number
        Ra of the ideal profile. [m]

    Raises
    ------
    InputError
        If the feed is larger than the nose alone can shape.

    Notes
    -----
    The integral of the arc in closed form; below the mean line lies as much as above it.
    Good to 1 in 10 million down to feeds of a hundredth of the nose.
    Source: ``iso-21920-2`` (definition of Ra), ``derived``.

    Examples
    --------
    >>> told = {"feed": 2e-4, "nose": 8e-4, "end_angle": math.radians(15.0)}
    >>> round(float(1e6 * mean_roughness(**told)), 4)
    1.6088
    """
    _nose_shapes(feed, nose, end_angle)
    half = 0.5 * feed
    mean = nose - _under_arc(half, nose) / half
    crossing = np.sqrt(mean * (2.0 * nose - mean))
    below = crossing * (mean - nose) + _under_arc(crossing, nose)
    return 2.0 * below / half


@formula(
    name="ridges with the chip that is too thin to be cut",
    expression="Rz = f^2 / (8 r) + (h / 2) (1 + r h / f^2)",
    sources=("brammertz-1961",),
    validity="h the least chip thickness, a few hundredths of a mm at most",
    unit="m",
)
def ridge_height_brammertz_1961(*, geometric: Number, nose: Number, feed: Number,
                                least_chip: Number) -> Number:  # fmt: skip
    """Height of the ridges where the thinnest end of the chip is squeezed and not cut.

    Parameters
    ----------
    geometric : Number
        Height by geometry, radial. [m], > 0
    nose : Number
        Radius of the nose. [m], > 0
    feed : Number
        Feed by the turn. [m], > 0
    least_chip : Number
        Least thickness that this edge cuts. [m], >= 0

    Returns
    -------
    Number
        Rz, radial. [m]

    Raises
    ------
    InputError
        If a length is not positive (least chip: not negative) and finite.

    Notes
    -----
    The exact arc stands in the place of f^2 / (8 r). Source: ``brammertz-1961``.

    Examples
    --------
    >>> given = {"geometric": 6.25e-6, "nose": 8e-4, "feed": 2e-4}
    >>> round(1e6 * ridge_height_brammertz_1961(least_chip=3e-6, **given), 2)
    7.84
    """
    for name, value in (("height", geometric), ("nose", nose), ("feed", feed)):
        positive(name, value, "m")
    not_negative("least chip", least_chip, "m")
    return geometric + 0.5 * least_chip * (1.0 + nose * least_chip / feed**2)


@formula(
    name="roughness to expect of a cut",
    expression="Ra = k Ra_geometric",
    sources=("practice",),
    validity="k from 1.5 to 3 with a sharp edge and no chatter; a torn or welded edge has more",
    unit="m",
)
def roughness_to_expect(*, geometric: Number, factor: Number) -> Number:
    """Ra that an instrument may read where geometry gives so much.

    Parameters
    ----------
    geometric : Number
        Ra by geometry. [m], > 0
    factor : Number
        How much rougher practice is. [1], >= 1

    Returns
    -------
    Number
        Ra. [m]

    Raises
    ------
    InputError
        If the roughness or the factor is not positive.

    Notes
    -----
    Source: ``practice``.

    Examples
    --------
    >>> roughness_to_expect(geometric=1.0e-6, factor=2.0)
    2e-06
    """
    positive("roughness", geometric, "m")
    positive("factor", factor, "")
    return geometric * factor


def _nose_shapes(feed: Number, nose: Number, end_angle: Number) -> None:
    """Refuse a feed that the straight edge behind the nose would shape as well."""
    positive("feed", feed, "m")
    largest = largest_nose_feed(nose=nose, end_angle=end_angle)
    if not extremes(np.asarray(largest) - np.asarray(feed))[0] >= 0.0:
        raise InputError(
            "feed",
            extremes(feed)[1],
            "m a turn",
            f"up to {extremes(np.asarray(largest))[0]:.3g} m a turn with this nose",
            "Feed slower, or take a larger nose: past it the edge behind the nose cuts ridges.",
        )


def _under_arc(reach: Number, nose: Number) -> Number:
    """Area under a circle of this radius from its top to a distance from it."""
    return 0.5 * (reach * np.sqrt(nose**2 - reach**2) + nose**2 * np.arcsin(reach / nose))
