"""What a fit does: pressure, hoop stresses, close-up of the sleeve's bore, by two rings.

Elastic rings of constant thickness in plane stress, pressed together over their whole
length (Lame).  Diameters are diametral, pressure is positive in compression, tension is
positive in stresses.  A casting with fins or steps enters by an effective outside
diameter, which the caller should vary between the core without fins and the ring of equal
volume.  Free of axial friction, which opens the sleeve's bore by a few per cent of its
closure when the casting shrinks lengthways over the sleeve.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import cast

import numpy as np

from sleevewright.core.checks import (
    Number,
    extremes,
    finite,
    not_negative,
    positive,
    within,
)
from sleevewright.core.fits.slips import likely_slip
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

_LAME = ("timoshenko-1956", "budynas-2011")
_ELASTIC = "elastic, plane stress, no ports, full contact"


@dataclass(frozen=True, kw_only=True)
class RingPair:
    """A sleeve and a casting as two concentric rings, at 20 degC.

    Parameters
    ----------
    interface_diameter : Number
        Nominal diameter of the fit. [m]
    inside_diameter : Number
        Sleeve's bore; the float 0 for a solid member. [m]
    outside_diameter : Number
        Effective outside diameter of the casting. [m]
    sleeve_modulus : Number
        Young's modulus of the sleeve. [Pa]
    sleeve_poisson : Number
        Poisson's ratio of the sleeve. [1]
    casting_modulus : Number
        Young's modulus of the casting. [Pa]
    casting_poisson : Number
        Poisson's ratio of the casting. [1]
    """

    interface_diameter: Number
    inside_diameter: Number
    outside_diameter: Number
    sleeve_modulus: Number
    sleeve_poisson: Number
    casting_modulus: Number
    casting_poisson: Number

    def __post_init__(self) -> None:
        """Refuse rings that cannot exist, with the slip that is likely behind them."""
        positive("interface diameter", self.interface_diameter, "m")
        not_negative("sleeve inside diameter", self.inside_diameter, "m")
        positive("casting outside diameter", self.outside_diameter, "m")
        positive("sleeve modulus", self.sleeve_modulus, "Pa")
        positive("casting modulus", self.casting_modulus, "Pa")
        within("sleeve Poisson's ratio", self.sleeve_poisson, "1", 0.0, 0.5)
        within("casting Poisson's ratio", self.casting_poisson, "1", 0.0, 0.5)
        self._refuse_order()

    def _refuse_order(self) -> None:
        """Refuse an inside diameter above the fit and a fit above the casting's outside."""
        fit = extremes(self.interface_diameter)
        if not extremes(self.interface_diameter - self.inside_diameter)[0] > 0.0:
            inside = extremes(self.inside_diameter)[1]
            slip = likely_slip(value=inside, low=0.5 * fit[0], high=0.99 * fit[0])
            raise InputError(
                "sleeve inside diameter",
                inside,
                "m",
                f"less than the sleeve's outside diameter, {fit[0]:.6g} m (ID above OD)",
                slip,
            )
        if not extremes(self.outside_diameter - self.interface_diameter)[0] > 0.0:
            outside = extremes(self.outside_diameter)[0]
            slip = likely_slip(value=outside, low=1.02 * fit[1], high=2.5 * fit[1])
            raise InputError(
                "casting outside diameter",
                outside,
                "m",
                f"more than the diameter of the fit, {fit[1]:.6g} m (wall above casting)",
                slip,
            )

    @property
    def is_solid(self) -> bool:
        """Whether the inner member has no bore."""
        return extremes(self.inside_diameter)[1] == 0.0


def _casting_ratio(pair: RingPair) -> Number:
    """Hoop tension at the casting's bore per unit of pressure."""
    fit, outer = pair.interface_diameter**2, pair.outside_diameter**2
    return (outer + fit) / (outer - fit)


def _sleeve_ratio(pair: RingPair) -> Number:
    """Hoop compression at the sleeve's outside per unit of pressure."""
    fit, inner = pair.interface_diameter**2, pair.inside_diameter**2
    return (fit + inner) / (fit - inner)


def _casting_give(pair: RingPair) -> Number:
    """Growth of the casting's bore per unit of pressure."""
    give = (_casting_ratio(pair) + pair.casting_poisson) / pair.casting_modulus
    return pair.interface_diameter * give


def _sleeve_give(pair: RingPair) -> Number:
    """Shrinkage of the sleeve's outside per unit of pressure."""
    give = (_sleeve_ratio(pair) - pair.sleeve_poisson) / pair.sleeve_modulus
    return pair.interface_diameter * give


def _tight(interference: Number) -> Number:
    """Interference that presses: clearance presses nothing."""
    if isinstance(interference, np.ndarray):
        return cast("Number", np.maximum(interference, 0.0))
    # times zero, so that an uncertain number stays one
    return interference if interference > 0.0 else 0.0 * interference


@formula(
    name="contact pressure",
    expression=(
        "p = i / (D (((R^2 + r^2)/(R^2 - r^2) + nu_c)/E_c + ((r^2 + a^2)/(r^2 - a^2) - nu_s)/E_s))"
    ),
    sources=_LAME,
    validity=_ELASTIC + "; zero where there is clearance",
    unit="Pa",
)
def contact_pressure(pair: RingPair, *, interference: Number) -> Number:
    """Pressure between sleeve and casting from the diametral interference.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    interference : Number
        Effective interference; clearance gives no pressure. [m]

    Returns
    -------
    Number
        Contact pressure. [Pa]

    Raises
    ------
    InputError
        If the interference is not finite.

    Notes
    -----
    Bore and outside move apart together until they meet; r, a and R are half the
    interface, inside and outside diameters. Source: ``timoshenko-1956``, built-up
    cylinders; ``budynas-2011``, section on press and shrink fits.

    Examples
    --------
    >>> pair = RingPair(interface_diameter=62e-3, inside_diameter=56e-3,
    ...     outside_diameter=84e-3, sleeve_modulus=110e9, sleeve_poisson=0.26,
    ...     casting_modulus=71e9, casting_poisson=0.33)
    >>> round(contact_pressure(pair, interference=110e-6) / 1e6, 2)
    12.7
    """
    tight = _tight(finite("interference", interference, "m"))
    return tight / (_casting_give(pair) + _sleeve_give(pair))


@formula(
    name="interference for a pressure",
    expression="i = growth of casting + squeeze of sleeve at p",
    sources=_LAME,
    validity=_ELASTIC,
    unit="m",
)
def interference_at_limit(pair: RingPair, *, limit_pressure: Number) -> Number:
    """Diametral interference at which a limiting pressure is reached.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    limit_pressure : Number
        Pressure at a limit, such as first yield. [Pa]

    Returns
    -------
    Number
        Effective interference at that pressure. [m]

    Raises
    ------
    InputError
        If the pressure is negative.

    Notes
    -----
    What the bore grows and the sleeve shrinks make up the interference; inverse of
    :func:`contact_pressure`. Source: ``timoshenko-1956``.
    """
    not_negative("limit pressure", limit_pressure, "Pa")
    return limit_pressure * (_casting_give(pair) + _sleeve_give(pair))


@formula(
    name="hoop stress at the casting's bore",
    expression="sigma = p (R^2 + r^2)/(R^2 - r^2)",
    sources=_LAME,
    validity=_ELASTIC,
    unit="Pa",
)
def casting_hoop_stress(pair: RingPair, *, pressure: Number) -> Number:
    """Hoop tension at the casting's bore.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    pressure : Number
        Contact pressure. [Pa]

    Returns
    -------
    Number
        Hoop stress, positive in tension. [Pa]

    Raises
    ------
    InputError
        If the pressure is negative.

    Notes
    -----
    Ports and thin bridges raise it locally, up to about three times. Source:
    ``timoshenko-1956``.
    """
    return not_negative("pressure", pressure, "Pa") * _casting_ratio(pair)


@formula(
    name="hoop stress at the sleeve's bore",
    expression="sigma = -2 p r^2/(r^2 - a^2); -p for a solid member",
    sources=_LAME,
    validity=_ELASTIC,
    unit="Pa",
)
def sleeve_hoop_stress(pair: RingPair, *, pressure: Number) -> Number:
    """Hoop compression at the sleeve's bore.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    pressure : Number
        Contact pressure. [Pa]

    Returns
    -------
    Number
        Hoop stress, negative in compression. [Pa]

    Raises
    ------
    InputError
        If the pressure is negative.

    Notes
    -----
    The smallest hole doubles the stress of a solid member. Source: ``timoshenko-1956``.
    """
    not_negative("pressure", pressure, "Pa")
    if pair.is_solid:
        return -pressure
    fit, inner = pair.interface_diameter**2, pair.inside_diameter**2
    return -2.0 * pressure * fit / (fit - inner)


@formula(
    name="close-up of the sleeve's bore",
    expression="closure = 2 p D^2 d / (E_s (D^2 - d^2))",
    sources=_LAME,
    validity=_ELASTIC + "; axial friction opens the bore by 2 to 5 % of it",
    unit="m",
)
def bore_closure(pair: RingPair, *, pressure: Number) -> Number:
    """How much the sleeve's bore closes, on diameter.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    pressure : Number
        Contact pressure. [Pa]

    Returns
    -------
    Number
        Shrinkage of the bore, positive; zero for a solid member. [m]

    Raises
    ------
    InputError
        If the pressure is negative.

    Notes
    -----
    Hoop strain at the bore times its diameter. Source: ``timoshenko-1956``.
    """
    not_negative("pressure", pressure, "Pa")
    fit, inner = pair.interface_diameter**2, pair.inside_diameter**2
    return 2.0 * pressure * fit * pair.inside_diameter / (pair.sleeve_modulus * (fit - inner))


@formula(
    name="close-up per interference",
    expression="K = closure / i",
    sources=_LAME,
    validity=_ELASTIC,
    unit="1",
)
def closure_factor(pair: RingPair) -> Number:
    """Share of the effective interference by which the sleeve's bore closes.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]

    Returns
    -------
    Number
        Closure divided by interference, usually 0.5 to 0.8 for thin sleeves. [1]

    Notes
    -----
    Pressure cancels: closure and interference are both proportional to it. Source:
    ``timoshenko-1956``.
    """
    one = 1.0  # [Pa]
    return bore_closure(pair, pressure=one) / (_casting_give(pair) + _sleeve_give(pair))
