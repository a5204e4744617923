"""In words: what the roughness of both faces takes off a fit, and which of them is not known."""

from __future__ import annotations

from sleevewright.core.checks import not_negative, within
from sleevewright.core.formulas import formula

NEITHER = "no Rz entered: nothing is taken off"
NO_SHARE = "k = 0 is set: nothing is taken off"


@formula(
    name="what is taken off for roughness",
    expression="none, one or both of Rz_s and Rz_c above zero; k",
    sources=("din-7190-1", "from-memory"),
    validity="a roughness of zero stands for one that was not entered",
    unit="text",
)
def roughness_words(*, sleeve_roughness: float, casting_roughness: float, flattening: float) -> str:
    """What is taken off the fit for roughness, and what was not entered.

    Parameters
    ----------
    sleeve_roughness : float
        Rz of the sleeve's outside; zero where it was not entered. [m]
    casting_roughness : float
        Rz of the casting's bore; zero where it was not entered. [m]
    flattening : float
        Factor k on the sum of both Rz, on the diameter. [1]

    Returns
    -------
    str
        A few words. [text]

    Raises
    ------
    InputError
        If a roughness is negative or ``flattening`` is outside 0 to 1.

    Notes
    -----
    Source: ``din-7190-1``, ``from-memory``.

    Examples
    --------
    >>> roughness_words(sleeve_roughness=0.0, casting_roughness=0.0, flattening=0.8)
    'no Rz entered: nothing is taken off'
    """
    not_negative("sleeve roughness", sleeve_roughness, "m")
    not_negative("casting roughness", casting_roughness, "m")
    within("flattening", flattening, "1", 0.0, 1.0)
    if sleeve_roughness == 0.0 and casting_roughness == 0.0:
        return NEITHER
    if flattening == 0.0:
        return NO_SHARE
    taken = f"k = {flattening:g}"
    if sleeve_roughness > 0.0 and casting_roughness > 0.0:
        return f"{taken} of the sum of both Rz is taken off, on the diameter"
    known, other = ("sleeve", "casting") if sleeve_roughness > 0.0 else ("casting", "sleeve")
    return (
        f"{taken} of the Rz of the {known} only: the {other}'s is not entered and takes nothing off"
    )
