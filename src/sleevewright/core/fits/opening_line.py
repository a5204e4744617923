"""The line of the running map at which a fit opens, and the band in which it lies."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, finite, positive
from sleevewright.core.expansion import ExpansionLaw, temperature_for_strain, thermal_strain
from sleevewright.core.formulas import formula

BAND = (0.05, 0.5, 0.95)
"""Shares at which a band is told: one in twenty below, half, one in twenty above."""


@formula(
    name="sleeve temperature that just closes the fit",
    expression="i(T_c, T_s) = 0: eps_s(T_s) = (D - i)(1 + eps_c(T_c))/D - 1",
    sources=("derived",),
    validity="each part at one temperature, within the range of its expansion law",
    unit="K",
)
def closing_sleeve_temperature(
    *,
    diameter: Number,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperature: Number,
) -> Number:
    """Temperature of the sleeve above which the fit is tight, the casting's being given.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Interference at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    casting_temperature : Number
        Temperature of the casting. [K]

    Returns
    -------
    Number
        Temperature of the sleeve at which nothing is left of the fit. [K]

    Raises
    ------
    InputError
        If the diameter is not positive or the temperature is below absolute zero.

    Notes
    -----
    The line that parts grip from loose on the running map. Source: ``derived``.
    """
    bore = positive("diameter", diameter, "m") - finite("interference", interference, "m")
    grown = bore * (1.0 + thermal_strain(casting_law, temperature=casting_temperature))
    return temperature_for_strain(sleeve_law, strain=grown / diameter - 1.0)


@formula(
    name="line of the running map",
    expression="T_s at which i(T_c, T_s) = 0, for each T_c",
    sources=("derived",),
    validity="each part at one temperature, within the range of its expansion law",
    unit="K",
)
def opening_line(
    *,
    diameter: Number,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    casting_temperatures: tuple[float, ...],
) -> NDArray[np.float64]:
    """Sleeve temperatures at which the fit opens, over temperatures of the casting.

    Parameters
    ----------
    diameter : Number
        Outside diameter of the sleeve at 20 degC. [m]
    interference : Number
        Interference at 20 degC. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    sleeve_law : ExpansionLaw
        Expansion of the sleeve. [1/K]
    casting_temperatures : tuple[float, ...]
        Temperatures of the casting, n_casting of them. [K]

    Returns
    -------
    NDArray[np.float64]
        One temperature of the sleeve for each; shape (n_casting,), with samples
        (n_casting, n_samples). [K]

    Raises
    ------
    InputError
        As for :func:`closing_sleeve_temperature`.

    Notes
    -----
    Source: ``derived``.
    """
    return np.array(
        [
            closing_sleeve_temperature(
                diameter=diameter,
                interference=interference,
                casting_law=casting_law,
                sleeve_law=sleeve_law,
                casting_temperature=temperature,
            )
            for temperature in casting_temperatures
        ]
    )


@formula(
    name="band of the line where the fit opens",
    expression="5, 50 and 95 % of the samples at each temperature of the casting",
    sources=("jcgm-101",),
    validity="independent samples",
    unit="K",
)
def line_band(*, samples: NDArray[np.float64]) -> NDArray[np.float64]:
    """Where the line of no interference lies: 5, 50 and 95 % of the samples.

    Parameters
    ----------
    samples : NDArray[np.float64]
        Sleeve temperatures, shape (n_casting, n_samples). [K]

    Returns
    -------
    NDArray[np.float64]
        Shape (3, n_casting). [K]

    Notes
    -----
    Source: ``jcgm-101`` 7.7.
    """
    return np.asarray(np.quantile(samples, BAND, axis=-1), dtype=np.float64)
