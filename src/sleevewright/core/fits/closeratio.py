"""How much of its fit the sleeve's bore closes by: plain rings, or a solid model by station.

On diameter; free of friction along the fit, which takes a few per cent off.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sleevewright.core.checks import Number, positive, within
from sleevewright.core.fits.closeups import StationCloseUps
from sleevewright.core.fits.rings import RingPair, bore_closure, contact_pressure
from sleevewright.core.formulas import formula
from sleevewright.errors import InputError

UNIT_FIT = 1e-6
"""A fit small enough that rings answer in proportion. [m]"""

LIKE = 1.3
"""A casting that grows by less than this, by its sleeve, grows like it."""


def opening_default(*, casting: float | None, sleeve: float | None) -> str:
    """Name of the default for what friction takes off: little where both grow alike.

    Parameters
    ----------
    casting : float | None
        Expansion of the casting; nothing where it is not known. [1/K]
    sleeve : float | None
        Expansion of the sleeve; nothing where it is not known. [1/K]

    Returns
    -------
    str
        Its name among the defaults. [text]

    Notes
    -----
    Where either is not known they are taken to grow apart, as aluminium and iron. Source:
    ``derived``.

    Examples
    --------
    >>> opening_default(casting=11.5e-6, sleeve=10.8e-6)
    'close_up_opening_alike'
    """
    alike = casting is not None and sleeve is not None and casting < LIKE * sleeve
    return "close_up_opening_alike" if alike else "close_up_opening"


@formula(
    name="close-up by the fit",
    expression="K = (1 - f) close-up / interference, by two rings",
    sources=("timoshenko-1956", "derived"),
    validity="elastic, plane stress, full contact; f is what friction along the fit takes off",
    unit="1",
)
def close_up_ratio(*, pair: RingPair, opening: Number) -> Number:
    """How much of the interference the sleeve's bore closes by.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    opening : Number
        Share of the close-up that friction along the fit takes off. [1]

    Returns
    -------
    Number
        Close-up over effective interference, both diametral. [1]

    Raises
    ------
    InputError
        If the share is not from 0 to 0.5.

    Notes
    -----
    A casting that shrinks lengthways more than its sleeve squeezes it along its axis; by
    Poisson's ratio that opens its bore by a few per cent of what the fit closes it.
    Source: ``timoshenko-1956`` for the rings; the share, ``derived``.

    Examples
    --------
    >>> pair = RingPair(interface_diameter=63e-3, inside_diameter=56e-3,
    ...     outside_diameter=84e-3, sleeve_modulus=110e9, sleeve_poisson=0.26,
    ...     casting_modulus=71e9, casting_poisson=0.33)
    >>> round(close_up_ratio(pair=pair, opening=0.0), 3)
    0.592
    """
    within("opening by friction", opening, "1", 0.0, 0.5)
    pressure = contact_pressure(pair, interference=UNIT_FIT)
    return bore_closure(pair, pressure=pressure) / UNIT_FIT * (1.0 - opening)


@formula(
    name="close-up by the fit, with friction",
    expression="K = (1 - f) K_0",
    sources=("derived",),
    validity="K_0 of a model without friction; f is what friction along the fit takes off",
    unit="1",
)
def opened_ratio(*, ratio: Number, opening: Number) -> Number:
    """How much of the interference the bore closes by, where a model without friction says it.

    Parameters
    ----------
    ratio : Number
        Close-up over effective interference, without friction. [1]
    opening : Number
        Share of the close-up that friction along the fit takes off. [1]

    Returns
    -------
    Number
        Close-up over effective interference, both diametral. [1]

    Raises
    ------
    InputError
        If the share is not from 0 to 0.5.

    Notes
    -----
    As :func:`close_up_ratio`. Source: ``derived``.
    """
    within("opening by friction", opening, "1", 0.0, 0.5)
    return ratio * (1.0 - opening)


@formula(
    name="close-up to expect",
    expression="b = K (i - loss)",
    sources=("derived",),
    validity="as the ratio; a clearance closes nothing",
    unit="m",
)
def expected_close_up(*, ratio: Number, interference: Number, roughness_loss: Number) -> Number:
    """How far the sleeve's bore should close by its fit.

    Parameters
    ----------
    ratio : Number
        Close-up over effective interference. [1]
    interference : Number
        Interference as measured, diametral. [m]
    roughness_loss : Number
        What flattening of both surfaces takes off, diametral. [m]

    Returns
    -------
    Number
        Close-up, diametral, never negative. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> expected_close_up(ratio=0.6, interference=85e-6, roughness_loss=5e-6)
    4.8e-05
    """
    tight = np.maximum(interference - roughness_loss, 0.0)
    return ratio * (tight if np.ndim(tight) else float(tight))


@formula(
    name="close-ups with station factors",
    expression="K_s = K g_s",
    sources=("derived",),
    validity="factors of the same parts, as a solid model gives them",
    unit="1",
)
def at_factors(*, stations: StationCloseUps, factors: tuple[float, ...]) -> StationCloseUps:
    """The same close-ups with a factor of each station, as a solid model gives it.

    Parameters
    ----------
    stations : StationCloseUps
        How far the bore closed, by station. [record]
    factors : tuple[float, ...]
        Close-up of each station by the ratio that it is used with. [1]

    Returns
    -------
    StationCloseUps
        With these factors. [record]

    Raises
    ------
    InputError
        If a factor is not positive, or their number is not that of the stations.

    Notes
    -----
    Source: ``derived``.
    """
    if len(factors) != stations.depths.size:
        allowed = f"{stations.depths.size}, one for each station"
        raise InputError("station factors", len(factors), "", allowed)
    own = np.asarray(factors, dtype=np.float64)
    positive("station factor", own, "1")
    return replace(stations, factors=own)
