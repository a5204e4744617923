"""Gauges that compare: a reading over a master, what its zero did, and the fit off the dial.

A comparator knows no size of its own.  It shows how far a bore lies over the master that it
was set on, each as warm as it was at that moment.  Where the master is the very sleeve that
the bore is for, the reading is the fit, and the micrometer takes no part in it.  Diametral;
a larger bore is positive.
"""

from __future__ import annotations

from sleevewright.core.checks import Number, positive
from sleevewright.core.formulas import formula


@formula(
    name="size over a master",
    expression="size = (L (1 + a_m t_m + a_g (t_g - t_m)) + n + errors) / (1 + a_p t_p)",
    sources=("jcgm-100", "iso-1", "derived"),
    validity="gauge as warm as its master while it was set; rises within about 50 K",
    unit="m",
)
def size_over_master(
    *,
    master_size: Number,
    on_dial: Number,
    setting_error: Number,
    resolution_error: Number,
    repeat_error: Number,
    form_error: Number,
    part_expansion: Number,
    part_rise: Number,
    gauge_expansion: Number,
    gauge_rise: Number,
    master_expansion: Number,
    master_rise: Number,
) -> Number:
    """Mean size at 20 degC of a feature that was compared with a master.

    Parameters
    ----------
    master_size : Number
        Size at 20 degC of the master that the dial shows nought on. [m]
    on_dial : Number
        Mean of the readings over the master, larger bore positive. [m]
    setting_error : Number
        Error of the setting: its transfer, and what the zero did. [m]
    resolution_error : Number
        Error of the mean from reading to whole steps. [m]
    repeat_error : Number
        Error of the mean from scatter. [m]
    form_error : Number
        What a mean over few stations misses. [m]
    part_expansion : Number
        Mean expansion coefficient of the part from 20 degC. [1/K]
    part_rise : Number
        Temperature of the part above 20 degC. [K]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge. [1/K]
    gauge_rise : Number
        Temperature of the gauge above 20 degC while it read. [K]
    master_expansion : Number
        Mean expansion coefficient of the master. [1/K]
    master_rise : Number
        Temperature of master and gauge above 20 degC while the gauge was set. [K]

    Returns
    -------
    Number
        Size at 20 degC. [m]

    Raises
    ------
    InputError
        If the master's size is not positive.

    Notes
    -----
    A gauge that is warmer than it was on its master is longer and shows the bore too small.
    With a master of the gauge's own steel this is the mean size with its errors.
    Source: ``jcgm-100`` H.1 for the shape of the model, ``iso-1``, ``derived``.

    Examples
    --------
    >>> size = size_over_master(
    ...     master_size=0.058, on_dial=0.0, setting_error=0.0, resolution_error=0.0,
    ...     repeat_error=0.0, form_error=0.0, part_expansion=23e-6, part_rise=8.0,
    ...     gauge_expansion=11.5e-6, gauge_rise=8.0, master_expansion=11.5e-6, master_rise=8.0)
    >>> round((0.058 - size) * 1e6, 2)
    5.34
    """
    positive("size of the master", master_size, "m")
    grown = master_expansion * master_rise + gauge_expansion * (gauge_rise - master_rise)
    read = on_dial + setting_error + resolution_error + repeat_error + form_error
    return (master_size * (1.0 + grown) + read) / (1.0 + part_expansion * part_rise)


@formula(
    name="fit straight from the dial",
    expression="i = D - (D (1 + a_s t_s + a_g (t_g - t_s)) + n + errors) / (1 + a_p t_p)",
    sources=("jcgm-100", "iso-1", "derived"),
    validity="gauge zeroed on this very sleeve; D may be off by a tenth of a millimetre",
    unit="m",
)
def fit_from_dial(
    *,
    diameter: float,
    on_dial: Number,
    setting_error: Number,
    resolution_error: Number,
    repeat_error: Number,
    form_error: Number,
    part_expansion: Number,
    part_rise: Number,
    gauge_expansion: Number,
    gauge_rise: Number,
    master_expansion: Number,
    master_rise: Number,
) -> Number:
    """Interference at 20 degC from a gauge that was zeroed on the sleeve itself.

    Parameters
    ----------
    diameter : float
        Outside of the sleeve, needed for the growth alone. [m]
    on_dial : Number
        Mean of the readings in the bore, larger bore positive. [m]
    setting_error : Number
        Error of the zero: its transfer, the place on the sleeve, what it did. [m]
    resolution_error : Number
        Error of the mean from reading to whole steps. [m]
    repeat_error : Number
        Error of the mean from scatter. [m]
    form_error : Number
        What a mean over few stations misses. [m]
    part_expansion : Number
        Mean expansion coefficient of the casting from 20 degC. [1/K]
    part_rise : Number
        Temperature of the casting above 20 degC. [K]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge. [1/K]
    gauge_rise : Number
        Temperature of the gauge above 20 degC while it read. [K]
    master_expansion : Number
        Mean expansion coefficient of the sleeve. [1/K]
    master_rise : Number
        Temperature of sleeve and gauge above 20 degC while the gauge was zeroed. [K]

    Returns
    -------
    Number
        Interference at 20 degC, diametral, positive where it is tight. [m]

    Raises
    ------
    InputError
        If the diameter is not positive.

    Notes
    -----
    No micrometer takes part in it. Source: ``jcgm-100`` H.1, ``iso-1``, ``derived``.

    Examples
    --------
    >>> tight = fit_from_dial(
    ...     diameter=0.063, on_dial=-81e-6, setting_error=0.0, resolution_error=0.0,
    ...     repeat_error=0.0, form_error=0.0, part_expansion=21e-6, part_rise=0.0,
    ...     gauge_expansion=11.5e-6, gauge_rise=0.0, master_expansion=10.7e-6, master_rise=0.0)
    >>> round(tight * 1e6, 2)
    81.0
    """
    return diameter - size_over_master(
        master_size=diameter,
        on_dial=on_dial,
        setting_error=setting_error,
        resolution_error=resolution_error,
        repeat_error=repeat_error,
        form_error=form_error,
        part_expansion=part_expansion,
        part_rise=part_rise,
        gauge_expansion=gauge_expansion,
        gauge_rise=gauge_rise,
        master_expansion=master_expansion,
        master_rise=master_rise,
    )


@formula(
    name="what temperature adds to a reading",
    expression="w = L (1 - (1 + a_m t_m + a_g (t_g - t_m)) / (1 + a_p t_p))",
    sources=("iso-1", "derived"),
    validity="L within a tenth of a millimetre of the master; without one, t_m = t_g, a_m = a_g",
    unit="m",
)
def worth_of_warmth(
    *,
    mean: Number,
    part_expansion: Number,
    part_rise: Number,
    gauge_expansion: Number,
    gauge_rise: Number,
    master_expansion: Number,
    master_rise: Number,
) -> Number:
    """How much a feature reads over its size at 20 degC because of temperature alone.

    Parameters
    ----------
    mean : Number
        Mean of the readings as read. [m]
    part_expansion : Number
        Mean expansion coefficient of the part from 20 degC. [1/K]
    part_rise : Number
        Temperature of the part above 20 degC. [K]
    gauge_expansion : Number
        Mean expansion coefficient of the gauge. [1/K]
    gauge_rise : Number
        Temperature of the gauge above 20 degC while it read. [K]
    master_expansion : Number
        Mean expansion coefficient of the master. [1/K]
    master_rise : Number
        Temperature of master and gauge above 20 degC while the gauge was set. [K]

    Returns
    -------
    Number
        Reading less size, diametral. [m]

    Notes
    -----
    What the gauge was keyed to and what its zero did take no part in it.
    Source: ``iso-1``, ``derived``.

    Examples
    --------
    >>> worth = worth_of_warmth(
    ...     mean=0.058, part_expansion=23e-6, part_rise=8.0, gauge_expansion=11.5e-6,
    ...     gauge_rise=8.0, master_expansion=11.5e-6, master_rise=8.0)
    >>> round(worth * 1e6, 3)
    5.335
    """
    grown = master_expansion * master_rise + gauge_expansion * (gauge_rise - master_rise)
    return mean * (1.0 - (1.0 + grown) / (1.0 + part_expansion * part_rise))


@formula(
    name="error of a zero that moved",
    expression="error = -(z_0 + z_1) / 2, anywhere between the two: u = |z_1 - z_0| / 12^(1/2)",
    sources=("jcgm-100",),
    validity="what the dial showed on its master before and after the readings",
    unit="m",
)
def zero_error(*, zero_start: float, zero_end: float) -> tuple[float, float]:
    """What is to be added to readings for the zero of their gauge, and its doubt.

    Parameters
    ----------
    zero_start : float
        What the dial showed on its master before, larger bore positive. [m]
    zero_end : float
        What it showed there afterwards. [m]

    Returns
    -------
    tuple[float, float]
        Correction and its standard uncertainty, rectangular. [m]

    Notes
    -----
    When the zero moved is not known; it lay between what it was before and after.
    Source: ``jcgm-100`` 4.3.7.

    Examples
    --------
    >>> correction, standard = zero_error(zero_start=0.0, zero_end=2.0e-6)
    >>> round(correction * 1e6, 2), round(standard * 1e6, 3)
    (-1.0, 0.577)
    """
    return -0.5 * (zero_start + zero_end), abs(zero_end - zero_start) / 12.0**0.5
