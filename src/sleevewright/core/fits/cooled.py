"""A sleeve's bore that is gauged before the joined assembly has cooled to 20 degC.

Warm, the bore reads large for two reasons: iron grows, and an aluminium casting lets go of a
part of the fit.  A correction by iron alone leaves the second one in the figure.
"""

from __future__ import annotations

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.fits.rings import RingPair, closure_factor
from sleevewright.core.fits.running import running_interference
from sleevewright.core.formulas import formula


@formula(
    name="growth of a joined bore",
    expression="g = d eps_s(T) + K (i - i(T))",
    sources=("timoshenko-1956", "derived"),
    validity="both parts at one temperature, the fit still closed there",
    unit="m",
)
def joined_growth(
    pair: RingPair,
    *,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    temperature: Number,
) -> Number:
    """How much larger the sleeve's bore is warm, joined, than at 20 degC.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings; its closure factor is K. [record]
    interference : Number
        Diametral interference at 20 degC. [m]
    casting_law, sleeve_law : ExpansionLaw
        Expansion of both. [1/K]
    temperature : Number
        Temperature of both. [K]

    Returns
    -------
    Number
        Growth on diameter. [m]

    Raises
    ------
    InputError
        If a size is impossible or a temperature is below absolute zero.

    Notes
    -----
    Source: ``timoshenko-1956`` for K, ``derived``.
    """
    left = running_interference(
        diameter=pair.interface_diameter,
        interference=interference,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        casting_temperature=temperature,
        sleeve_temperature=temperature,
    )
    alone = pair.inside_diameter * thermal_strain(sleeve_law, temperature=temperature)
    return alone + closure_factor(pair) * (finite("interference", interference, "m") - left)


@formula(
    name="relief of a joined bore",
    expression="g_r = K (i - i(T))",
    sources=("timoshenko-1956", "derived"),
    validity="both parts at one temperature, the fit still closed there",
    unit="m",
)
def joined_relief(
    pair: RingPair,
    *,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    temperature: Number,
) -> Number:
    """The part of a warm bore's growth that its own metal does not explain.

    Parameters
    ----------
    pair : RingPair
        Sleeve and casting as rings. [record]
    interference : Number
        Diametral interference at 20 degC. [m]
    casting_law, sleeve_law : ExpansionLaw
        Expansion of both. [1/K]
    temperature : Number
        Temperature of both. [K]

    Returns
    -------
    Number
        Growth on diameter that is left after a correction by the sleeve's own metal. [m]

    Raises
    ------
    InputError
        If a size is impossible or a temperature is below absolute zero.

    Notes
    -----
    Source: ``timoshenko-1956`` for K, ``derived``.
    """
    told = {"interference": interference, "casting_law": casting_law, "sleeve_law": sleeve_law}
    whole = joined_growth(pair, **told, temperature=temperature)  # type: ignore[arg-type]  # as named above
    alone = pair.inside_diameter * thermal_strain(sleeve_law, temperature=temperature)
    return whole - alone


@formula(
    name="warm bore, corrected for the joined part",
    expression="d = d_read - g_r",
    sources=("derived",),
    validity="a size that was brought to 20 degC by the sleeve's own metal",
    unit="m",
)
def relieved_size(*, size: Number, relief: Number) -> Number:
    """A warm bore at 20 degC, when what the casting lets go is taken off too.

    Parameters
    ----------
    size : Number
        Bore that was brought to 20 degC as a free sleeve. [m]
    relief : Number
        What that left in, from :func:`joined_relief`. [m]

    Returns
    -------
    Number
        Bore at 20 degC. [m]

    Raises
    ------
    InputError
        If the size is not positive.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(relieved_size(size=56.010e-3, relief=4e-6) * 1e3, 3)
    56.006
    """
    return positive("size", size, "m") - finite("relief", relief, "m")
