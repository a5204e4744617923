"""Piston and cylinder after a cold start, as two lumps: one warms in seconds, one in minutes.

Temperatures are counted from the cold start.  What comes out is relative: how much of the
cold clearance is left while both warm, against what is left when both are warm.  Four
places go first, beside the ends of the pin: there the skirt is stiffest and bears.
:mod:`.warmclearance` holds the clearance against these two temperatures.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, finite, not_negative, positive, within
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

EQUAL = 1e-9
"""Two rates nearer than this share of their sum are taken as one."""


@dataclass(frozen=True)
class TwoBodies:
    """Piston and cylinder as two lumps that are heated and share heat.

    Parameters
    ----------
    piston_capacity : Number
        Heat capacity of the piston. [J/K]
    cylinder_capacity : Number
        Heat capacity of sleeve, casting and what is in the jacket. [J/K]
    coupling : Number
        Heat that goes from piston to cylinder by kelvin. [W/K]
    cylinder_loss : Number
        Heat that the cylinder gives to air or water by kelvin above the start. [W/K]
    piston_heat : Number
        Heat that the gas gives to the piston. [W]
    cylinder_heat : Number
        Heat that the gas gives to the cylinder itself. [W]
    piston_loss : Number
        Heat that the piston gives to the charge and the oil by kelvin. [W/K]
    """

    piston_capacity: Number
    cylinder_capacity: Number
    coupling: Number
    cylinder_loss: Number
    piston_heat: Number
    cylinder_heat: Number
    piston_loss: Number = 0.0

    def __post_init__(self) -> None:
        """Refuse what no body can have."""
        positive("piston capacity", self.piston_capacity, "J/K")
        positive("cylinder capacity", self.cylinder_capacity, "J/K")
        not_negative("coupling", self.coupling, "W/K")
        not_negative("piston loss", self.piston_loss, "W/K")
        positive("cylinder loss", self.cylinder_loss, "W/K")
        positive("way of heat out of the piston", self.coupling + self.piston_loss, "W/K")
        finite("piston heat", self.piston_heat, "W")
        finite("cylinder heat", self.cylinder_heat, "W")


@dataclass(frozen=True)
class System:
    """The linear system y' = q - A y of two bodies, with its two rates and where it ends.

    Parameters
    ----------
    of_piston, from_cylinder : Number
        First row of A: (a, -b). [1/s]
    from_piston, of_cylinder : Number
        Second row of A: (-c, d). [1/s]
    piston_rate, cylinder_rate : Number
        q: how fast each begins to warm. [K/s]
    fast, slow : Number
        The two rates, which are real and positive. [1/s]
    piston_end, cylinder_end : Number
        Where both end. [K]
    """

    of_piston: Number
    from_cylinder: Number
    from_piston: Number
    of_cylinder: Number
    piston_rate: Number
    cylinder_rate: Number
    fast: Number
    slow: Number
    piston_end: Number
    cylinder_end: Number

    @classmethod
    def of(cls, bodies: TwoBodies) -> System:
        """The system of two bodies; the heat must have a way out."""
        first, second = bodies.piston_capacity, bodies.cylinder_capacity
        a = (bodies.coupling + bodies.piston_loss) / first
        b, c = bodies.coupling / first, bodies.coupling / second
        d = (bodies.coupling + bodies.cylinder_loss) / second
        product = a * d - b * c
        if not np.min(product) > 0.0:
            raise InputError("loss", float(np.min(product)), "1/s2", "a way out for the heat")
        # the root in the form that loses no digits, the slow rate by the product of both
        fast = (a + d + np.sqrt((a - d) ** 2 + 4.0 * b * c)) / 2.0
        heated, warmed = bodies.piston_heat / first, bodies.cylinder_heat / second
        return cls(
            a, b, c, d, heated, warmed, fast, product / fast,
            (d * heated + b * warmed) / product, (c * heated + a * warmed) / product,
        )  # fmt: skip

    @property
    def is_equal(self) -> NDArray[np.bool_] | np.bool_ | bool:
        """Whether both rates are as good as one."""
        return self.fast - self.slow <= EQUAL * (self.fast + self.slow)

    def shifted(self, piston: Number, cylinder: Number) -> tuple[Number, Number]:
        """(fast - A) of a pair: what the exponential has beside the fast one."""
        return (
            (self.fast - self.of_piston) * piston + self.from_cylinder * cylinder,
            (self.fast - self.of_cylinder) * cylinder + self.from_piston * piston,
        )

    def decayed(self, piston: Number, cylinder: Number, time: Number) -> tuple[Number, Number]:
        """exp(-A t) of a pair, by the divided difference of its two exponentials."""
        quick = np.exp(-self.fast * time)
        safe = np.where(self.is_equal, 1.0, self.fast - self.slow)
        rest = np.where(self.is_equal, time * quick, (np.exp(-self.slow * time) - quick) / safe)
        one, two = self.shifted(piston, cylinder)
        return quick * piston + rest * one, quick * cylinder + rest * two


@formula(
    name="two lumps from their times",
    expression="C_c = 1, H = C_c/t_c, G = s H T_c/(T_p - T_c), Q_p = s H T_c/w, "
    "H_p = (1 - w) Q_p/T_p, C_p = t_p (G + H_p)",
    sources=("derived", "incropera-2007"),
    validity="two lumps; the piston is the warmer one",
    unit="W/K",
)
def bodies_by_times(
    *,
    piston_time: Number,
    cylinder_time: Number,
    share: Number,
    to_wall: Number,
    piston_rise: Number,
    cylinder_rise: Number,
) -> TwoBodies:
    """The two lumps that warm within these times to these temperatures.

    Parameters
    ----------
    piston_time : Number
        Heat capacity of the piston over all its ways out for heat. [s]
    cylinder_time : Number
        Heat capacity of the cylinder over its way to the air or the water. [s]
    share : Number
        Part of the cylinder's heat that comes from the piston. [1]
    to_wall : Number
        Part of the piston's heat that goes to the cylinder; the rest to charge and oil. [1]
    piston_rise : Number
        How far the piston ends above the start. [K]
    cylinder_rise : Number
        How far the cylinder ends above the start. [K]

    Returns
    -------
    TwoBodies
        The lumps, for a cylinder of one joule by kelvin: capacities only count by their
        ratio. [record]

    Raises
    ------
    InputError
        If a time or rise is not positive, a share is not within 0 to 1, or the piston
        does not end warmer than the cylinder.

    Notes
    -----
    Lumps as in ``incropera-2007`` section 5.1; their joining is ``derived``. Source:
    ``derived``.
    """
    positive("piston time", piston_time, "s")
    positive("cylinder rise", cylinder_rise, "K")
    positive("share", within("share", share, "1", 0.0, 1.0), "1")
    positive("part to the wall", within("part to the wall", to_wall, "1", 0.0, 1.0), "1")
    positive("piston rise over cylinder rise", piston_rise - cylinder_rise, "K")
    loss = 1.0 / positive("cylinder time", cylinder_time, "s")
    handed = share * loss * cylinder_rise
    coupling = handed / (piston_rise - cylinder_rise)
    piston_loss = (1.0 - to_wall) * handed / (to_wall * piston_rise)
    return TwoBodies(
        piston_capacity=piston_time * (coupling + piston_loss),
        cylinder_capacity=1.0,
        coupling=coupling,
        cylinder_loss=loss,
        piston_heat=handed / to_wall,
        cylinder_heat=(1.0 - share) * loss * cylinder_rise,
        piston_loss=piston_loss,
    )


@formula(
    name="rise of a part of the wall",
    expression="rise_part = s rise",
    sources=("practice",),
    validity="assumption: the wall about the skirt lies below the hot belt",
    unit="K",
)
def share_of_rise(*, rise: Number, share: Number) -> Number:
    """How far a part of a wall warms that lies away from its hottest belt.

    Parameters
    ----------
    rise : Number
        How far the wall warms at its hot belt. [K]
    share : Number
        Part of it that reaches this place. [1]

    Returns
    -------
    Number
        Rise of this part. [K]

    Raises
    ------
    InputError
        If the rise is not positive or the share is not within 0 to 1.

    Notes
    -----
    An assumption, to be shown as one. Source: ``practice``.

    Examples
    --------
    >>> share_of_rise(rise=80.0, share=0.75)
    60.0
    """
    return positive("rise", rise, "K") * within("share", share, "1", 0.0, 1.0)


@formula(
    name="two lumps warming",
    expression="T(t) = T_end - exp(-A t) T_end, A of two rows by its two rates",
    sources=("derived",),
    validity="constant heat from a start at one temperature",
    unit="K",
)
def warm_temperatures(bodies: TwoBodies, *, time: Number) -> tuple[Number, Number]:
    """How far piston and cylinder are above the start some time after it.

    Parameters
    ----------
    bodies : TwoBodies
        Piston and cylinder. [record]
    time : Number
        Time since the start. [s]

    Returns
    -------
    tuple[Number, Number]
        Rise of the piston and of the cylinder. [K]

    Raises
    ------
    InputError
        If the time is negative.

    Notes
    -----
    The exponential of the two-row matrix is written with the divided difference of both
    exponentials, which stays exact where both rates are one. Source: ``derived``.
    """
    not_negative("time", time, "s")
    system = System.of(bodies)
    left = system.decayed(system.piston_end, system.cylinder_end, time)
    return system.piston_end - left[0], system.cylinder_end - left[1]


@formula(
    name="time to warm up",
    expression="t = 3 / r_2",
    sources=("derived",),
    validity="three times the slower of both times: 95 % of the way",
    unit="s",
)
def warming_time(bodies: TwoBodies) -> Number:
    """How long both take to come within a twentieth of their end.

    Parameters
    ----------
    bodies : TwoBodies
        Piston and cylinder. [record]

    Returns
    -------
    Number
        Time since the start. [s]

    Raises
    ------
    InputError
        If the heat has no way out.

    Notes
    -----
    exp(-3) is 5 %. Source: ``derived``.
    """
    return 3.0 / positive("slower rate", System.of(bodies).slow, "1/s")
