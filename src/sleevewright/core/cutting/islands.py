"""Old iron that keys of a cast-in sleeve leave in the wall: when it is gone, how much is left.

A cast-in sleeve is keyed outside.  Where a bore cuts the keys through, islands of iron stay in
the casting's wall until the bore is larger than the tips of the keys.  Bores and the sleeve's
outside are diametral, key depth and offset radial.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sleevewright.core.checks import Number, not_negative, positive
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

TURN = 2.0 * math.pi


@dataclass(frozen=True)
class Island:
    """One island of old iron as it was told.

    Parameters
    ----------
    name : str
        Its number.
    angle_from, angle_to : float
        Where it begins and ends, counter-clockwise from +X, 0 to a full turn; one that ends
        before it begins crosses 0. [rad]
    depth_from, depth_to : float
        Below the deck. [m]
    """

    name: str
    angle_from: float
    angle_to: float
    depth_from: float
    depth_to: float

    def __post_init__(self) -> None:
        """Refuse what lies outside a turn or ends above where it begins."""
        for angle in (self.angle_from, self.angle_to):
            if not 0.0 <= angle <= TURN + 1e-9:
                hint = "Count from +X, counter-clockwise; one that crosses 0 ends before it begins."
                said = f"{math.degrees(angle):.0f}"
                raise InputError(f"angle of island {self.name}", said, "deg", "0 to 360 deg", hint)
        if not self.depth_to > self.depth_from >= 0.0:
            said = f"{self.depth_from * 1e3:.4g} to {self.depth_to * 1e3:.4g}"
            allowed = "from the deck downwards: to is deeper than from"
            raise InputError(f"depth of island {self.name}", said, "mm", allowed)

    @property
    def arc(self) -> float:
        """Angle that it takes."""
        return (self.angle_to - self.angle_from) % TURN or TURN

    @property
    def height(self) -> float:
        """How far down it reaches."""
        return self.depth_to - self.depth_from


@formula(
    name="bore at which the last island is gone",
    expression="D = D_liner + 2 h + 2 e",
    sources=("derived",),
    validity="keys of one height all round; the cut lies e off the old sleeve's outside",
    unit="m",
)
def gone_at(*, liner_outside: Number, key_depth: Number, off_centre: Number) -> Number:
    """Bore at which all keys of a cast-in sleeve are cut away.

    Parameters
    ----------
    liner_outside : Number
        Old sleeve over its body, without keys, diametral. [m]
    key_depth : Number
        How far its keys stand out, radial. [m]
    off_centre : Number
        Axis of the cut off that of the old sleeve, radial, zero or more. [m]

    Returns
    -------
    Number
        Diametral. [m]

    Raises
    ------
    InputError
        If the sleeve is not above zero or the keys are negative.

    Notes
    -----
    The offset counts twice on the diameter. Source: ``derived``.

    Examples
    --------
    >>> round(gone_at(liner_outside=0.065, key_depth=0.0015, off_centre=0.0001), 6)
    0.0682
    """
    positive("old sleeve, outside", liner_outside, "m")
    not_negative("height of the keys", key_depth, "m")
    return liner_outside + 2.0 * key_depth + 2.0 * off_centre


@formula(
    name="share of the wall that is old iron",
    expression="s = F(R) + (F(R + h) - F(R)) n asin(b / D) / pi, F: share of the bore within",
    sources=("derived",),
    validity="keys even round the sleeve, sides parallel; offset much less than the radius",
    unit="1",
)
def iron_share(
    *, bore: float, liner_outside: float, key_depth: float, key_count: float, key_width: float,
    off_centre: float,
) -> float:  # fmt: skip
    """How much of the wall of a bore is old iron, round one depth where keys are.

    Parameters
    ----------
    bore : float
        Bore that is cut, diametral. [m]
    liner_outside : float
        Old sleeve over its body, without keys, diametral. [m]
    key_depth : float
        How far its keys stand out, radial. [m]
    key_count : float
        Keys round the sleeve. [1]
    key_width : float
        Width of one key. [m]
    off_centre : float
        Axis of the cut off that of the old sleeve, radial. [m]

    Returns
    -------
    float
        Share of the way round. [1]

    Raises
    ------
    InputError
        If the keys are wider together than the way round, or a size is not above zero.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(iron_share(bore=0.066, liner_outside=0.065, key_depth=0.0015, key_count=12.0,
    ...     key_width=0.0025, off_centre=0.0), 3)
    0.145
    """
    positive("bore that is cut", bore, "m")
    positive("old sleeve, outside", liner_outside, "m")
    one = math.asin(min(key_width / bore, 1.0)) / math.pi
    if key_count < 0.0 or key_width < 0.0 or key_count * one > 1.0:
        allowed = "keys that fit round the sleeve together"
        raise InputError("width of a key", key_width, "m", allowed)
    inner = 0.5 * liner_outside
    body = _share_within(inner, bore, off_centre)
    reached = _share_within(inner + key_depth, bore, off_centre)
    return body + (reached - body) * key_count * one


def _share_within(radius: float, bore: float, off_centre: float) -> float:
    """Share of a bore that lies within a circle whose axis is off its own."""
    own, off = 0.5 * bore, abs(off_centre)
    if off == 0.0:
        return float(own < radius)
    cosine = (radius**2 - own**2 - off**2) / (2.0 * own * off)
    return 1.0 - math.acos(min(max(cosine, -1.0), 1.0)) / math.pi


def check_islands(islands: Sequence[Island]) -> None:
    """Refuse islands that lie on each other: their iron would count twice.

    Parameters
    ----------
    islands : Sequence[Island]
        As they were told. [record]

    Raises
    ------
    InputError
        If two of them overlap.

    Notes
    -----
    Source: ``derived``.
    """
    for place, one in enumerate(islands):
        for other in islands[place + 1 :]:
            if _overlap(one, other):
                hint = "Tell them as one, or put their angles or depths right."
                raise InputError("islands", f"{one.name} and {other.name}", "",
                                 "islands that do not lie on each other", hint)  # fmt: skip


def _overlap(one: Island, other: Island) -> bool:
    """Whether two islands share a part of the wall."""
    apart = (other.angle_from - one.angle_from) % TURN
    round_it = apart < one.arc - 1e-9 or apart + other.arc > TURN + 1e-9
    top, bottom = max(one.depth_from, other.depth_from), min(one.depth_to, other.depth_to)
    return round_it and bottom - top > 1e-9


@formula(
    name="area of the islands",
    expression="A = sum D / 2 (theta_to - theta_from) (z_to - z_from)",
    sources=("derived",),
    validity="each as wide as it was told over its whole height",
    unit="m2",
)
def islands_area(*, islands: tuple[Island, ...], bore: float) -> float:
    """Surface of a bore that is old iron.

    Parameters
    ----------
    islands : tuple[Island, ...]
        As they were told. [record]
    bore : float
        Bore that they lie in, diametral. [m]

    Returns
    -------
    float
        Area of all of them. [m2]

    Raises
    ------
    InputError
        If two islands overlap or the bore is not above zero.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> quarter = Island("1", 0.0, 0.5 * math.pi, 0.010, 0.020)
    >>> round(islands_area(islands=(quarter,), bore=0.080) * 1e6, 2)
    628.32
    """
    check_islands(islands)
    positive("bore", bore, "m")
    return 0.5 * bore * math.fsum(one.arc * one.height for one in islands)


@formula(
    name="share of a fit that lies on islands",
    expression="s = A / (pi D L)",
    sources=("derived",),
    validity="islands within the length of the fit",
    unit="1",
)
def islands_share(*, islands: tuple[Island, ...], bore: float, length: float) -> float:
    """How much of a fit's surface lies on old iron.

    Parameters
    ----------
    islands : tuple[Island, ...]
        As they were told. [record]
    bore : float
        Bore of the fit, diametral. [m]
    length : float
        Length of the fit. [m]

    Returns
    -------
    float
        Share of the surface. [1]

    Raises
    ------
    InputError
        If two islands overlap, or a size is not above zero.

    Notes
    -----
    Source: ``derived``.
    """
    positive("length of the fit", length, "m")
    return islands_area(islands=islands, bore=bore) / (math.pi * bore * length)


@formula(
    name="arc of the islands",
    expression="angle of the union of all [theta_from, theta_to]",
    sources=("derived",),
    validity="at whatever depth each lies",
    unit="rad",
)
def islands_arc(*, islands: tuple[Island, ...]) -> float:
    """How much of the way round has an island at some depth.

    Parameters
    ----------
    islands : tuple[Island, ...]
        As they were told. [record]

    Returns
    -------
    float
        Angle, a full turn at most. [rad]

    Notes
    -----
    Source: ``derived``.
    """
    pieces: list[tuple[float, float]] = []
    for one in islands:
        start, stop = one.angle_from % TURN, one.angle_from % TURN + one.arc
        pieces.append((start, min(stop, TURN)))
        if stop > TURN:
            pieces.append((0.0, stop - TURN))
    total, reached = 0.0, 0.0
    for start, stop in sorted(pieces):
        total += max(stop - max(start, reached), 0.0)
        reached = max(reached, stop)
    return total


@formula(
    name="iron behind an island's face",
    expression="t = (D_gone - D) / 2, from 0 to h",
    sources=("derived",),
    validity="keys of one height",
    unit="m",
)
def island_depth(*, key_depth: float, gone: float, bore: float) -> float:
    """How deep an island still is behind the wall of a bore, where it is deepest.

    Parameters
    ----------
    key_depth : float
        How far the keys stand out, radial. [m]
    gone : float
        Bore at which the last island is gone, diametral. [m]
    bore : float
        Bore that is cut, diametral. [m]

    Returns
    -------
    float
        Radial, never more than a key and never below zero. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return min(max(0.5 * (gone - bore), 0.0), key_depth)


@formula(
    name="how far an island draws back hot",
    expression="s = (alpha_c - alpha_i) h (T - T_20)",
    sources=("derived",),
    validity="held at its back by the casting, free in front; one temperature",
    unit="m",
)
def island_draws_back(
    *, key_depth: Number, casting_expansion: Number, iron_expansion: Number, warmed_by: Number
) -> Number:
    """How far the face of an island falls behind the wall as the casting warms.

    Parameters
    ----------
    key_depth : Number
        Depth of the iron behind its face, radial. [m]
    casting_expansion : Number
        Mean coefficient of the casting. [1/K]
    iron_expansion : Number
        Mean coefficient of the old iron. [1/K]
    warmed_by : Number
        Temperature above 20 degC. [K]

    Returns
    -------
    Number
        Radial; what the fit loses there. [m]

    Notes
    -----
    Both faces stand level at 20 degC; the wall of the casting grows with it, the island by
    less. Source: ``derived``.

    Examples
    --------
    >>> round(island_draws_back(key_depth=0.003, casting_expansion=21e-6, iron_expansion=11e-6,
    ...     warmed_by=80.0) * 1e6, 3)
    2.4
    """
    return (casting_expansion - iron_expansion) * key_depth * warmed_by
