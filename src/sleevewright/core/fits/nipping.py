"""Studs over a casting that shrinks more than they do: slack, and when to nip them up again."""

from __future__ import annotations

import numpy as np

from sleevewright.core.checks import Number, not_negative, positive, within
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.formulas import formula

MOST_NIPS = 12
"""More often than this nobody nips up: springs or short studs serve then."""


@formula(
    name="shrinking of a casting over its stud",
    expression="d = L (eps_c(T_1) - eps_c(T_2) - eps_b(T_1) + eps_b(T_2))",
    sources=("iso-1", "derived"),
    validity="casting and stud at one temperature, before and after",
    unit="m",
)
def stud_shortening(
    *, length: Number, casting_law: ExpansionLaw, stud_law: ExpansionLaw,
    hot: Number, cool: Number,
) -> Number:  # fmt: skip
    """How much more a clamped casting shrinks than the stud that clamps it.

    Parameters
    ----------
    length : Number
        Free length of the stud. [m]
    casting_law, stud_law : ExpansionLaw
        Expansion of both. [1/K]
    hot, cool : Number
        Temperature when it was tightened, and later. [K]

    Returns
    -------
    Number
        Difference of length, positive where the stud goes slack. [m]

    Raises
    ------
    InputError
        If the length is not positive or a temperature is below absolute zero.

    Notes
    -----
    Source: ``iso-1`` for the reference, ``derived``.
    """
    ends = [
        thermal_strain(law, temperature=hot) - thermal_strain(law, temperature=cool)
        for law in (casting_law, stud_law)
    ]
    return positive("length", length, "m") * (ends[0] - ends[1])


@formula(
    name="temperatures at which studs are nipped up",
    expression="d(T_k, T_k+1) = share (s + t), from the hot casting down",
    sources=("derived",),
    validity="casting and stud at one temperature, tightened to the same pull each time",
    unit="K",
)
def nip_ups(
    *,
    stretch: float,
    travel: float,
    share: float,
    length: float,
    casting_law: ExpansionLaw,
    stud_law: ExpansionLaw,
    hot: float,
    cool: float,
) -> tuple[float, ...]:
    """Temperatures at which a stud has lost a share of its pull since it was last nipped up.

    Parameters
    ----------
    stretch : float
        Stretch of the stud at its pull. [m]
    travel : float
        How far disc springs under its nut are pressed at that pull; 0 without. [m]
    share : float
        Part of the pull that may be lost between. [1]
    length : float
        Free length of the stud. [m]
    casting_law, stud_law : ExpansionLaw
        Expansion of both. [1/K]
    hot, cool : float
        When it is first tightened, and when it is unclamped. [K]

    Returns
    -------
    tuple[float, ...]
        Falling; empty where the pull lasts, or where the stud shrinks as much. [K]

    Raises
    ------
    InputError
        If stretch or length is not positive, the travel is negative, or the share is not
        between 0 and 1.

    Notes
    -----
    At most :data:`MOST_NIPS`. Source: ``derived``.

    Examples
    --------
    >>> found = nip_ups(stretch=0.1e-3, travel=0.0, share=0.3, length=95e-3,
    ...     casting_law=ExpansionLaw(22e-6, 0.0), stud_law=ExpansionLaw(12e-6, 0.0),
    ...     hot=449.15, cool=333.15)
    >>> [round(one - 273.15) for one in found]
    [144, 113, 81]
    """
    give = positive("stretch", stretch, "m") + not_negative("travel", travel, "m")
    lost = give * within("share", share, "", 0.01, 0.99)
    temperatures = np.linspace(cool, hot, 200)
    shorter = stud_shortening(
        length=length, casting_law=casting_law, stud_law=stud_law, hot=hot, cool=temperatures
    )
    slack = np.asarray(shorter)[::-1]  # rising as it cools
    count = min(int(slack[-1] // lost), MOST_NIPS) if np.all(np.diff(slack) > 0.0) else 0
    marks = lost * np.arange(1, count + 1)
    return tuple(float(one) for one in np.interp(marks, slack, temperatures[::-1]))


@formula(
    name="pull that a stud bears by its proof stress",
    expression="F = S_p A_t",
    sources=("iso-898-1",),
    validity="stud of the class that the stress is of",
    unit="N",
)
def proof_pull(*, area: Number, proof_stress: Number) -> Number:
    """Pull that a stud bears without staying longer.

    Parameters
    ----------
    area : Number
        Stress area of its thread. [m^2]
    proof_stress : Number
        Of its class. [Pa]

    Returns
    -------
    Number
        Pull. [N]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    Source: ``iso-898-1``.

    Examples
    --------
    >>> round(proof_pull(area=36.6e-6, proof_stress=580e6))
    21228
    """
    return positive("area", area, "m2") * positive("proof stress", proof_stress, "Pa")


@formula(
    name="pull that stud and tapped hole bear",
    expression="F = min(F_proof, F_strip / 2)",
    sources=("practice",),
    validity="half of what strips the hole is left in hand",
    unit="N",
)
def borne_pull(*, proof_load: Number, stripping: Number) -> Number:
    """What may be asked of a stud and of the hole that it is screwed into.

    Parameters
    ----------
    proof_load : Number
        What the stud bears. [N]
    stripping : Number
        What strips the hole. [N]

    Returns
    -------
    Number
        Pull. [N]

    Raises
    ------
    InputError
        If an input is not positive.

    Notes
    -----
    Source: ``practice`` for the half.
    """
    found = np.minimum(
        positive("proof load", proof_load, "N"), 0.5 * positive("stripping pull", stripping, "N")
    )
    return found if np.ndim(found) else float(found)
