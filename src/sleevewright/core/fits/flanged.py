"""How the flanged end of a sleeve in its casting gives under its two fits.

Sleeve and casting are walls on their own elastic foundation with
a ring at their end (flange, counterbore wall); what such walls do not see close to the ledge
is taken from power laws that were fitted to axisymmetric finite elements.  All fits are
diametral.  The flange is held down on its ledge ("held") or free to lift ("free").
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import Number, extremes, positive
from sleevewright.core.fits.ledge_laws import HELD, LAWS
from sleevewright.core.fits.rings import RingPair
from sleevewright.core.formulas import formula
from sleevewright.errors import Caution, InputError

SHELL = ("timoshenko-woinowsky-1959", "derived")
VALID = (
    "elastic, round, no ports or friction at the ledge; wall of the sleeve 0.06 to 0.2 and wall "
    "outside the flange 0.12 to 0.8 of the fit's radius, flange 0.06 to 0.2 of it thick"
)
RANGES = {
    "wall of the sleeve": (0.06, 0.20),
    "overhang of the flange": (0.02, 0.13),
    "thickness of the flange": (0.06, 0.20),
    "wall outside the flange": (0.12, 0.80),
}
"""What the laws were fitted over, as shares of the radius of the fit."""

MOST_ENGAGED = 0.95
"""The end is stiffer with the body together than without it, however far the laws are stretched."""


@dataclass(frozen=True, kw_only=True)
class FlangedPair:
    """Two rings with a flange at the end of the inner one, seated in a counterbore.

    Parameters
    ----------
    body : RingPair
        Sleeve and casting at the body. [record]
    flange_diameter : Number
        Outside diameter of the flange. [m]
    flange_thickness : Number
        Thickness of the flange, axial. [m]
    body_length : Number
        Length over which the body touches, below the ledge. [m]
    hold_down : str
        "held" or "free": whether the flange is pressed on its ledge. [text]
    """

    body: RingPair
    flange_diameter: Number
    flange_thickness: Number
    body_length: Number
    hold_down: str = HELD

    def __post_init__(self) -> None:
        """Refuse a flange that has no ledge, or a casting with no wall outside it."""
        positive("flange thickness", self.flange_thickness, "m")
        positive("body length", self.body_length, "m")
        if self.hold_down not in LAWS:
            allowed = " or ".join(LAWS)
            raise InputError("hold-down", self.hold_down, "", allowed)
        if not extremes(self.flange_diameter - self.body.interface_diameter)[0] > 0.0:
            least = extremes(self.flange_diameter)[0]
            allowed = "more than the diameter of the body"
            raise InputError("flange diameter", least, "m", allowed, "Were the two swapped?")
        if not extremes(self.body.outside_diameter - self.flange_diameter)[0] > 0.0:
            outside = extremes(self.body.outside_diameter)[0]
            allowed = "more than the diameter of the flange"
            raise InputError("casting outside diameter", outside, "m", allowed)
        if not extremes(self.body.inside_diameter)[0] > 0.0:
            inside = extremes(self.body.inside_diameter)[0]
            raise InputError("sleeve inside diameter", inside, "m", "more than zero")


def _shares(pair: FlangedPair) -> dict[str, Number]:
    """Sizes of the end as shares of the radius of the fit."""
    fit = pair.body.interface_diameter
    return {
        "wall of the sleeve": (fit - pair.body.inside_diameter) / fit,
        "overhang of the flange": (pair.flange_diameter - fit) / fit,
        "thickness of the flange": 2.0 * pair.flange_thickness / fit,
        "wall outside the flange": (pair.body.outside_diameter - pair.flange_diameter) / fit,
    }


def outside_range(pair: FlangedPair) -> tuple[Caution, ...]:
    """A caution for each size of the end that the laws were not fitted over.

    Parameters
    ----------
    pair : FlangedPair
        Sleeve with flange, and casting. [record]

    Returns
    -------
    tuple[Caution, ...]
        Cautions; none inside of the range. [text]

    Notes
    -----
    Source: ``derived``.
    """
    told = []
    for name, share in _shares(pair).items():
        low, high = RANGES[name]
        value = float(np.mean(share))
        if not low <= value <= high:
            words = f"{name.capitalize()} is {value:.2f} of the radius of the fit, outside of"
            text = f"{words} {low:g} to {high:g}: what the flange keeps is less sure than shown."
            told.append(Caution("flange-outside-range", text, "derived"))
    return tuple(told)


def _logs(pair: FlangedPair) -> tuple[Number, ...]:
    """Logarithms of the sizes of the end, in the order of the laws."""
    body, fit = pair.body, pair.body.interface_diameter
    wall = fit - body.inside_diameter
    return (
        np.log(2.0 * pair.flange_thickness / np.sqrt(fit * wall)),
        np.log(wall / fit),
        np.log((body.outside_diameter - fit) / fit),
        np.log((pair.flange_diameter - fit) / fit),
    )


@dataclass(frozen=True, kw_only=True)
class _End:
    """One part near its end: a wall, and the ring that stands on it; radii."""

    inner: Number
    outer: Number
    ring_inner: Number
    ring_outer: Number
    modulus: Number
    poisson: Number


def _end_give(end: _End, pair: FlangedPair) -> Number:
    """Radial give at mid-height of the ring by a unit of pressure around the flange."""
    thick, height = end.outer - end.inner, pair.flange_thickness
    mean = 0.5 * (end.inner + end.outer)
    bending = end.modulus * thick**3 / (12.0 * (1.0 - end.poisson**2))
    decay = (end.modulus * thick / mean**2 / (4.0 * bending)) ** 0.25
    ring = end.modulus * np.log(end.ring_outer / end.ring_inner)
    # stiffness of wall and ring together against moving out (m) and leaning (l), per radian
    moving = 4.0 * decay**3 * bending * mean + ring * height
    both = 2.0 * decay**2 * bending * mean - ring * height**2 / 2.0
    leaning = 2.0 * decay * bending * mean + ring * height**3 / 3.0
    middle = height / 2.0
    lever = leaning + 2.0 * middle * both + middle**2 * moving
    load = 0.5 * pair.flange_diameter * height
    return load * lever / (moving * leaning - both**2)


def _give_of_walls(pair: FlangedPair) -> Number:
    """Give of both ends as thin walls with a ring on each, diametral."""
    body = pair.body
    bore, fit = body.inside_diameter / 2.0, body.interface_diameter / 2.0
    rim, outside = pair.flange_diameter / 2.0, body.outside_diameter / 2.0
    sleeve = _End(
        inner=bore,
        outer=fit,
        ring_inner=bore,
        ring_outer=rim,
        modulus=body.sleeve_modulus,
        poisson=body.sleeve_poisson,
    )
    casting = _End(
        inner=fit,
        outer=outside,
        ring_inner=rim,
        ring_outer=outside,
        modulus=body.casting_modulus,
        poisson=body.casting_poisson,
    )
    return 2.0 * (_end_give(sleeve, pair) + _end_give(casting, pair))


@formula(
    name="give of flange and counterbore",
    expression="C = i_f/p_f of the flange alone: end of a wall on its foundation with a ring on it",
    sources=SHELL,
    validity=VALID,
    unit="m/Pa",
)
def flange_give(pair: FlangedPair) -> Number:
    """Flange fit per unit of flange pressure where the body does not touch, diametral.

    Parameters
    ----------
    pair : FlangedPair
        Sleeve with flange, and casting. [record]

    Returns
    -------
    Number
        Give of both parts together. [m/Pa]

    Notes
    -----
    Each part is a long wall on the elastic foundation of its own hoops, with decay b =
    (E h/(4 D R^2))^(1/4) and bending stiffness D = E h^3/(12 (1 - nu^2)), and at its end a
    ring whose section keeps its shape.  The wall's edge resists being moved by w and leant by
    t with 4 b^3 D w + 2 b^2 D t and 2 b^2 D w + 2 b D t.  Thick walls are stiffer by a power
    law that was fitted to finite elements. Source: ``timoshenko-woinowsky-1959``, bending of
    cylindrical shells; ``derived``.
    """
    return _give_of_walls(pair) * LAWS[pair.hold_down].alone.of(_logs(pair))


@dataclass(frozen=True, kw_only=True)
class FlangedEnd:
    """How one flanged end answers to its two fits.

    Parameters
    ----------
    not_opened : Number
        Share of the body's fit that the counterbore does not open by. [1]
    give : Number
        Flange fit per pressure of the flange alone, diametral. [m/Pa]
    engaged : Number
        The same with the body's walls together, over it. [1]
    height_share : Number
        Thickness of the flange over the length of the body. [1]
    wider : Number
        Diameter of the flange over that of the body. [1]
    ledge_body : Number
        Hoop stress on the ledge by the body's pressure. [1]
    ledge_flange : Number
        Hoop stress on the ledge by the flange's pressure. [1]
    """

    not_opened: Number
    give: Number
    engaged: Number
    height_share: Number
    wider: Number
    ledge_body: Number
    ledge_flange: Number


@formula(
    name="end of a flanged sleeve in its casting",
    expression="s, C, C_2, t/L, D_f/D, a, b of this pair",
    sources=SHELL,
    validity=VALID,
    unit="record",
)
def flanged_end(pair: FlangedPair) -> FlangedEnd:
    """What the end of this pair does under a unit of either fit or pressure.

    Parameters
    ----------
    pair : FlangedPair
        Sleeve with flange, and casting. [record]

    Returns
    -------
    FlangedEnd
        Shares and gives that the pressures follow from. [record]

    Notes
    -----
    On the ledge the body's pressure pulls with Lame's hoop stress at its middle times a fitted
    share, because the end of the casting opens less than its length; the flange's share is
    fitted alone. Source: ``timoshenko-woinowsky-1959``, ``timoshenko-1956``; ``derived``.
    """
    laws, body, logs = LAWS[pair.hold_down], pair.body, _logs(pair)
    middle = 0.5 * (pair.flange_diameter + body.interface_diameter)
    fit, outer = body.interface_diameter**2, body.outside_diameter**2
    ring = fit / (outer - fit) * (1.0 + outer / middle**2)
    return FlangedEnd(
        not_opened=np.minimum(laws.kept.of(logs), 1.0),
        give=_give_of_walls(pair) * laws.alone.of(logs),
        engaged=np.minimum(laws.engaged.of(logs), MOST_ENGAGED),
        height_share=pair.flange_thickness / pair.body_length,
        wider=pair.flange_diameter / body.interface_diameter,
        ledge_body=ring * laws.ledge_body.sum_of_logs(logs),
        ledge_flange=laws.ledge_flange.of(logs),
    )
