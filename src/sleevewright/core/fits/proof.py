"""Was the fit obtained: how far the bore closed, beside how far it should have. Diametral."""

from __future__ import annotations

from sleevewright.core.checks import Number, positive
from sleevewright.core.formulas import formula


@formula(
    name="close-up as measured",
    expression="sleeve's bore before - sleeve's bore after",
    sources=("derived",),
    validity="both at 20 degC, gauged at the same places",
    unit="m",
)
def measured_close_up(*, before: Number, after: Number) -> Number:
    """How far the sleeve's bore closed by being shrunk in.

    Parameters
    ----------
    before : Number
        Sleeve's bore before the drop, diametral. [m]
    after : Number
        The same after cooling. [m]

    Returns
    -------
    Number
        Close-up, diametral, positive. [m]

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> round(measured_close_up(before=0.0596, after=0.05955), 9)
    5e-05
    """
    return before - after


@formula(
    name="surprise of a close-up",
    expression="(measured - predicted) / u",
    sources=("derived", "iso-14253-1"),
    validity="both independent; u is the standard uncertainty of their difference",
    unit="1",
)
def close_up_surprise(*, measured: Number, predicted: Number, standard: float) -> Number:
    """By how many standard uncertainties a close-up differs from what the fit gives.

    Parameters
    ----------
    measured : Number
        Close-up as measured. [m]
    predicted : Number
        Close-up that the fit gives. [m]
    standard : float
        Standard uncertainty of their difference. [m]

    Returns
    -------
    Number
        Surprise; far below zero the fit was not obtained. [1]

    Raises
    ------
    InputError
        If the uncertainty is not positive.

    Notes
    -----
    Source: ``derived``; its use as a rule of decision, ``iso-14253-1``.

    Examples
    --------
    >>> round(close_up_surprise(measured=50e-6, predicted=60e-6, standard=5e-6), 6)
    -2.0
    """
    positive("standard uncertainty", standard, "m")
    return (measured - predicted) / standard
