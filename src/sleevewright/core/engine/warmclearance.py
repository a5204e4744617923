"""What warming leaves of the piston's clearance: relative to the cold one, no promise.

The skirt grows with the piston, the bore with the cylinder; see :mod:`.warmup` for both
temperatures.  Diametral.
"""

from __future__ import annotations

import numpy as np

from sleevewright.core.checks import Number, finite, not_negative, positive, within
from sleevewright.core.engine.warmup import System, TwoBodies, warm_temperatures
from sleevewright.core.formulas import formula


@formula(
    name="clearance left while warming",
    expression="left = 1 + B (g_c T_c(t) - g_p T_p(t)) / c",
    sources=("derived",),
    validity="growth by kelvin of the bore and of the skirt; relative, no promise",
    unit="1",
)
def clearance_left(
    bodies: TwoBodies,
    *,
    time: Number,
    piston_growth: Number,
    bore_growth: Number,
    looseness: Number,
) -> Number:
    """What is left of the cold clearance some time after a cold start, as a share of it.

    Parameters
    ----------
    bodies : TwoBodies
        Piston and cylinder. [record]
    time : Number
        Time since the start. [s]
    piston_growth : Number
        Growth of the skirt by its diameter and kelvin. [1/K]
    bore_growth : Number
        Growth of the bore by its diameter and kelvin of the cylinder. [1/K]
    looseness : Number
        Cold clearance by the bore. [1]

    Returns
    -------
    Number
        Clearance left over the cold one; below nought nothing is left. [1]

    Raises
    ------
    InputError
        If the looseness is not positive or the time is negative.

    Notes
    -----
    Source: ``derived``.
    """
    positive("looseness", looseness, "1")
    piston, cylinder = warm_temperatures(bodies, time=time)
    return 1.0 + (bore_growth * cylinder - piston_growth * piston) / looseness


@formula(
    name="clearance left when warm",
    expression="left = 1 + B (g_c T_c,end - g_p T_p,end) / c",
    sources=("derived",),
    validity="both bodies at their end; relative, no promise",
    unit="1",
)
def warm_left(
    bodies: TwoBodies, *, piston_growth: Number, bore_growth: Number, looseness: Number
) -> Number:
    """What is left of the cold clearance once both are warm, as a share of it.

    Parameters
    ----------
    bodies : TwoBodies
        Piston and cylinder. [record]
    piston_growth : Number
        Growth of the skirt by its diameter and kelvin. [1/K]
    bore_growth : Number
        Growth of the bore by its diameter and kelvin of the cylinder. [1/K]
    looseness : Number
        Cold clearance by the bore. [1]

    Returns
    -------
    Number
        Clearance left over the cold one. [1]

    Raises
    ------
    InputError
        If the looseness is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    positive("looseness", looseness, "1")
    system = System.of(bodies)
    grown = bore_growth * system.cylinder_end - piston_growth * system.piston_end
    return 1.0 + grown / looseness


@formula(
    name="when the clearance is least",
    expression="t = ln(-k_1/k_2)/(r_1 - r_2), where the slope k_1 e^(-r_1 t) + k_2 e^(-r_2 t) is 0",
    sources=("derived",),
    validity="a slope of two exponentials has one such moment at most",
    unit="s",
)
def least_when(bodies: TwoBodies, *, piston_growth: Number, bore_growth: Number) -> Number:
    """When the clearance turns while both warm.

    Parameters
    ----------
    bodies : TwoBodies
        Piston and cylinder. [record]
    piston_growth : Number
        Growth of the skirt by its diameter and kelvin. [1/K]
    bore_growth : Number
        Growth of the bore by its diameter and kelvin of the cylinder. [1/K]

    Returns
    -------
    Number
        Time since the start; nought where it only opens, endless where it only closes. [s]

    Raises
    ------
    InputError
        If a growth is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    system = System.of(bodies)
    skirt = positive("piston growth", piston_growth, "1/K")
    hole = positive("bore growth", bore_growth, "1/K")
    at_start = hole * system.cylinder_rate - skirt * system.piston_rate
    moved_piston, moved_cylinder = system.shifted(system.piston_rate, system.cylinder_rate)
    bent = hole * moved_cylinder - skirt * moved_piston
    apart = system.fast - system.slow
    is_equal = system.is_equal
    safe = np.where(is_equal, 1.0, apart)
    with np.errstate(divide="ignore", invalid="ignore"):
        # slope e^(rt) = at_start + bent x, with x = (e^(apart t) - 1)/apart, or t
        reached = np.where(bent == 0.0, np.inf, -at_start / np.where(bent == 0.0, 1.0, bent))
        turned = np.where(is_equal, reached, np.log1p(safe * reached) / safe)
    has_turn = (at_start < 0.0) & (reached > 0.0) & np.isfinite(turned)
    found = np.where(has_turn, turned, np.where(at_start < 0.0, np.inf, 0.0))
    return float(found) if found.ndim == 0 else found


@formula(
    name="least clearance left while warming",
    expression="least of left(0), left(t), left(end)",
    sources=("derived",),
    validity="as the clearance left while warming; relative, no promise",
    unit="1",
)
def least_left(
    bodies: TwoBodies, *, piston_growth: Number, bore_growth: Number, looseness: Number
) -> Number:
    """The least that is left of the cold clearance between a cold start and warm.

    Parameters
    ----------
    bodies : TwoBodies
        Piston and cylinder. [record]
    piston_growth : Number
        Growth of the skirt by its diameter and kelvin. [1/K]
    bore_growth : Number
        Growth of the bore by its diameter and kelvin of the cylinder. [1/K]
    looseness : Number
        Cold clearance by the bore. [1]

    Returns
    -------
    Number
        Least clearance over the cold one; below nought nothing is left. [1]

    Raises
    ------
    InputError
        If the looseness or a growth is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    growths = {"piston_growth": piston_growth, "bore_growth": bore_growth}
    when = least_when(bodies, **growths)
    known = np.where(np.isfinite(when), when, 0.0)
    turned = clearance_left(bodies, time=known, looseness=looseness, **growths)
    ended = warm_left(bodies, looseness=looseness, **growths)
    found = np.minimum(np.minimum(turned, ended), 1.0)
    return float(found) if np.ndim(found) == 0 else found


@formula(
    name="least clearance over the warm one",
    expression="share = least / warm",
    sources=("derived",),
    validity="where something is left when warm; relative, no promise",
    unit="1",
)
def least_of_warm(*, least: Number, warm: Number) -> Number:
    """The least clearance while warming, as a share of that when warm.

    Parameters
    ----------
    least : Number
        Least clearance over the cold one. [1]
    warm : Number
        Clearance when warm over the cold one. [1]

    Returns
    -------
    Number
        Share; not a number where nothing is left when warm. [1]

    Raises
    ------
    InputError
        If either is not finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(least_of_warm(least=0.3, warm=0.5), 3)
    0.6
    """
    finite("least", least, "1")
    finite("warm", warm, "1")
    with np.errstate(divide="ignore", invalid="ignore"):
        found = np.where(np.greater(warm, 0.0), np.divide(least, warm), np.nan)
    return float(found) if found.ndim == 0 else found


@formula(
    name="growth of a sleeved bore by kelvin",
    expression="g = ((1 - k) alpha_s T_s + k alpha_c T_c) / T_s, with k (...) at most the close-up",
    sources=("derived",),
    validity="elastic; k is the close-up over the fit; what the fit closed cold it opens hot",
    unit="1/K",
)
def sleeved_bore_growth(
    *,
    sleeve_expansion: Number,
    casting_expansion: Number,
    sleeve_rise: Number,
    casting_rise: Number,
    share: Number,
    closed: Number,
) -> Number:
    """Growth of the bore of a shrunk-in sleeve by its diameter and kelvin of the sleeve.

    Parameters
    ----------
    sleeve_expansion : Number
        Mean expansion of the sleeve's metal. [1/K]
    casting_expansion : Number
        Mean expansion of the casting's metal. [1/K]
    sleeve_rise : Number
        How far the sleeve ends above the start. [K]
    casting_rise : Number
        How far the casting ends above the start. [K]
    share : Number
        Close-up of the bore over the fit that made it. [1]
    closed : Number
        Close-up of the bore by its diameter. [1]

    Returns
    -------
    Number
        Growth of the bore. [1/K]

    Raises
    ------
    InputError
        If a rise is not positive, or the share is not within 0 to 1.

    Notes
    -----
    A casting that grows away takes the squeeze off the sleeve, and the bore gets back what
    the fit closed; never more than that. Source: ``derived``.
    """
    positive("sleeve rise", sleeve_rise, "K")
    positive("casting rise", casting_rise, "K")
    within("share", share, "1", 0.0, 1.0)
    not_negative("closed", closed, "1")
    let_go = share * (casting_expansion * casting_rise - sleeve_expansion * sleeve_rise)
    found = (sleeve_expansion * sleeve_rise + np.minimum(let_go, closed)) / sleeve_rise
    return float(found) if np.ndim(found) == 0 else found


@formula(
    name="growth of a bore by the diameter",
    expression="strain = g rise",
    sources=("derived",),
    validity="growth by kelvin as it is over this rise",
    unit="1",
)
def grown(*, growth: Number, rise: Number) -> Number:
    """How far a bore has grown by its diameter.

    Parameters
    ----------
    growth : Number
        Growth of the bore by its diameter and kelvin. [1/K]
    rise : Number
        How far it has warmed. [K]

    Returns
    -------
    Number
        Growth by the diameter. [1]

    Raises
    ------
    InputError
        If either is not finite.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(grown(growth=14e-6, rise=100.0) * 1e3, 6)
    1.4
    """
    return finite("growth", growth, "1/K") * finite("rise", rise, "K")
