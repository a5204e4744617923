"""Paper wrapped round a wall at true size: how long it is, and where each place of the wall lies.

A sheet inside a bore has its outer face against the wall, one round a sleeve its inner face, so
that the middle of the paper runs on a smaller or a larger circle than the wall.  On the paper x
grows to the right from the left butt line and y downwards from the datum of the depths.  Inside
the printed side looks at the axis, so right is clockwise seen from the deck; outside the sheet
is mirrored, so that every port still comes to lie where it belongs.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import extremes, finite, positive, within
from sleevewright.core.formulas import formula
from sleevewright.core.ports.outline import Points
from sleevewright.errors import InputError

THINNEST, THICKEST = 0.02e-3, 0.5e-3
"""Paper between tissue and card, in metres."""

TURN = 2.0 * math.pi
MOST_OFF = 0.03
"""Share by which a printed bar may be off; more is another fault than a printer's own scale."""

MOST_UNEQUAL = 0.01
"""Share by which the two bars of one sheet may differ."""

EIGHT = 8
"""Layers of paper that are folded to measure it."""


@dataclass(frozen=True)
class Wrap:
    """How a map comes to lie on paper.

    Attributes
    ----------
    diameter : float
        Diameter of the wall that the paper lies against. [m]
    paper : float
        Thickness of the paper. [m]
    seam : float
        Angle at which its two ends meet, clockwise seen from the deck. [rad]
    is_outside : bool
        Whether it goes round the outside of a sleeve, and so is mirrored.
    across, downward : float
        What the printer's own scale is put right by, along the wall and along the depth. [1]
    """

    diameter: float
    paper: float
    seam: float
    is_outside: bool = False
    across: float = 1.0
    downward: float = 1.0

    @property
    def length(self) -> float:
        """Length from butt line to butt line before the printer is put right, in metres."""
        return wrap_length(diameter=self.diameter, paper=self.paper, is_outside=self.is_outside)

    @property
    def by_radian(self) -> float:
        """Length on the paper of one radian of the wall, in metres."""
        return self.across * self.length / TURN


@formula(
    name="length of a wrap",
    expression="L = pi (D - t) inside a bore, pi (D + t) round a sleeve",
    sources=("derived",),
    validity="paper that lies against the wall and neither stretches nor folds",
    unit="m",
)
def wrap_length(*, diameter: float, paper: float, is_outside: bool = False) -> float:
    """Length of paper that goes round a wall once.

    Parameters
    ----------
    diameter : float
        Diameter of the wall. [m]
    paper : float
        Thickness of the paper. [m]
    is_outside : bool
        Whether it goes round the outside of a sleeve.

    Returns
    -------
    float
        Length along the middle of the paper. [m]

    Raises
    ------
    InputError
        If the paper is thinner than tissue or thicker than card.

    Notes
    -----
    The middle of the paper keeps its length when it is bent. Source: ``derived``.

    Examples
    --------
    >>> round(1e3 * wrap_length(diameter=66.4e-3, paper=0.1e-3), 2)
    208.29
    """
    positive("diameter of the wall", diameter, "m")
    least, most = extremes(paper)
    if not (least >= THINNEST and most <= THICKEST):
        allowed = f"{THINNEST:g} to {THICKEST:g} m"
        hint = "Fold it to eight layers, measure those by a micrometer and divide by eight."
        raise InputError("thickness of the paper", least, "m", allowed, hint)
    return math.pi * (diameter + paper if is_outside else diameter - paper)


@formula(
    name="thickness of paper from eight layers",
    expression="t = h/8",
    sources=("derived",),
    validity="layers pressed flat by the micrometer",
    unit="m",
)
def paper_of_eight(*, layers: float) -> float:
    """Thickness of paper of which eight layers were measured together.

    Parameters
    ----------
    layers : float
        Height of eight layers. [m]

    Returns
    -------
    float
        Thickness of one. [m]

    Notes
    -----
    Source: ``derived``.
    """
    return positive("eight layers", layers, "m") / EIGHT


@formula(
    name="printer put right by its bar",
    expression="k = bar/measured",
    sources=("derived",),
    validity="both bars of one sheet that was printed without a correction",
    unit="1",
)
def bar_correction(*, bar: float, measured: float) -> float:
    """What a sheet is stretched by so that its bar comes out true.

    Parameters
    ----------
    bar : float
        Length that the bar has in the file. [m]
    measured : float
        Length of the printed bar. [m]

    Returns
    -------
    float
        Factor for the next sheet. [1]

    Raises
    ------
    InputError
        If the bar is off by more than a printer ever is.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(bar_correction(bar=0.1, measured=0.0997), 5)
    1.00301
    """
    positive("bar", bar, "m")
    finite("measured bar", measured, "m")
    if abs(measured - bar) > MOST_OFF * bar:
        low, high = bar * (1.0 - MOST_OFF), bar * (1.0 + MOST_OFF)
        hint = "Print it at 100 %, without fitting it to the page, and measure again."
        raise InputError("measured bar", measured, "m", f"{low:g} to {high:g} m", hint)
    return bar / measured


def refuse_unequal(*, across: float, down: float) -> None:
    """Refuse two bars of one sheet that are off by too different shares.

    Parameters
    ----------
    across : float
        Correction along the wall. [1]
    down : float
        Correction along the depth. [1]

    Raises
    ------
    InputError
        If they differ by more than a printer's two ways do.
    """
    if abs(across / down - 1.0) > MOST_UNEQUAL:
        shown = f"{100.0 * (across / down - 1.0):+.2f}"
        hint = "Measure both again: one of them was misread, or the paper slipped."
        allowed = f"bars whose corrections differ by at most {MOST_UNEQUAL:.0%}"
        raise InputError("measured bars", shown, "%", allowed, hint)


@formula(
    name="place on the paper",
    expression="x = k L (theta - theta_seam)/2 pi, or what is left of k L; y = k' z",
    sources=("derived",),
    validity="between the butt lines of the sheet",
    unit="m",
)
def on_paper(wrap: Wrap, points: Points) -> Points:
    """Where points of the wall lie on the paper; an outline stays in one piece.

    Parameters
    ----------
    wrap : Wrap
        How the paper lies. [record]
    points : Points
        Angle and depth of each point, (n, 2). [rad, m]

    Returns
    -------
    Points
        Places on the paper from the left butt line and from the datum, (n, 2). [m]

    Notes
    -----
    Source: ``derived``.
    """
    middle = 0.5 * float(points[:, 0].min() + points[:, 0].max())
    along = points[:, 0] - middle + (middle - wrap.seam) % TURN
    across = wrap.by_radian * (TURN - along if wrap.is_outside else along)
    return np.column_stack([across, wrap.downward * points[:, 1]])


@formula(
    name="place on the wall",
    expression="theta = theta_seam + 2 pi x/(k L), or a turn less it; z = y/k'",
    sources=("derived",),
    validity="a sheet of which seam, length and corrections are known",
    unit="rad, m",
)
def on_wall(wrap: Wrap, paper_points: Points) -> Points:
    """Where places of the paper lie on the wall: the way back.

    Parameters
    ----------
    wrap : Wrap
        How the paper lies. [record]
    paper_points : Points
        Places on the paper, (n, 2). [m]

    Returns
    -------
    Points
        Angle and depth of each, (n, 2). [rad, m]

    Notes
    -----
    Source: ``derived``.
    """
    along = paper_points[:, 0] / wrap.by_radian
    turned = wrap.seam + (TURN - along if wrap.is_outside else along)
    return np.column_stack([turned, paper_points[:, 1] / wrap.downward])


@formula(
    name="length at the rim of the flange",
    expression="s = D_flange angle/2",
    sources=("derived",),
    validity="along the rim, on its outer edge",
    unit="m",
)
def rim_length(*, flange_diameter: float, angle: float) -> float:
    """Length along the rim of a flange that an angle takes.

    Parameters
    ----------
    flange_diameter : float
        Outside diameter of the flange. [m]
    angle : float
        Angle, clockwise seen from the deck. [rad]

    Returns
    -------
    float
        Length along the rim, signed as the angle. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(rim_length(flange_diameter=84.0e-3, angle=-0.056374) / 25.4e-6)
    -93
    """
    return (
        positive("diameter of the flange", flange_diameter, "m")
        * finite("angle", angle, "rad")
        / 2.0
    )


@dataclass(frozen=True)
class Tile:
    """A part of a strip that goes on one sheet: from where to where along it, in metres."""

    start: float
    stop: float


def tiles_of(*, length: float, width: float, overlap: float) -> tuple[Tile, ...]:
    """The sheets that a strip takes, each of the width that a printer can reach.

    Parameters
    ----------
    length : float
        Length of the strip with its tab. [m]
    width : float
        Width that can be printed. [m]
    overlap : float
        What neighbours share. [m]

    Returns
    -------
    tuple[Tile, ...]
        Sheets from the left. [record]

    Raises
    ------
    InputError
        If the paper is no wider than two overlaps.
    """
    positive("length of the strip", length, "m")
    within("width of the paper", width, "m", 2.0 * overlap, 10.0)
    if length <= width:
        return (Tile(0.0, length),)
    step = width - overlap
    count = math.ceil((length - overlap) / step - 1e-9)
    starts = [index * step for index in range(count)]
    return tuple(Tile(one, min(one + width, length)) for one in starts)
