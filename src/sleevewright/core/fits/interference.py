"""How tight, cold: interference, what roughness and rounding cost it, and what to cut for it.

Diameters and interferences are diametral and hold at 20 degC (ISO 1) unless a temperature
is named.  Interference is the sleeve's outside diameter minus the casting's bore: positive
is tight, negative is clearance.
"""

from __future__ import annotations

from typing import cast

import numpy as np

from sleevewright.core.checks import Number, extremes, finite, not_negative, positive, within
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.fits.running import running_interference
from sleevewright.core.fits.slips import likely_slip
from sleevewright.core.formulas import formula
from sleevewright.core.materials import default
from sleevewright.errors import InputError

FLATTENING_CHOICES = (0.0, 0.4, 0.8)
"""Values of the flattening factor that printed sources support. [1]"""

FLATTENING = default("roughness_flattening").value
"""Factor on the sum of both Rz, taken from a diametral fit. [1]"""

PLAUSIBLE_SHARE = default("interference_most").value
"""Interference above this share of the diameter is taken for a slip of the pencil. [1]"""


@formula(
    name="interference",
    expression="i = D_s - D_c",
    sources=("iso-286-1",),
    validity="both diameters at 20 degC",
    unit="m",
)
def interference(*, outside_diameter: Number, bore: Number) -> Number:
    """Diametral interference of a sleeve in a bore, both at 20 degC.

    Parameters
    ----------
    outside_diameter : Number
        Outside diameter of the sleeve or of its flange. [m]
    bore : Number
        Diameter of the parent bore or of the counterbore. [m]

    Returns
    -------
    Number
        Interference, negative where there is clearance. [m]

    Raises
    ------
    InputError
        If a diameter is not positive and finite.

    Notes
    -----
    Definition. Source: ``iso-286-1``.

    Examples
    --------
    >>> round(interference(outside_diameter=62.992e-3, bore=62.911e-3) * 1e6, 3)
    81.0
    """
    positive("outside diameter", outside_diameter, "m")
    positive("bore", bore, "m")
    return outside_diameter - bore


def refuse_loose(*, outside_diameter: Number, bore: Number) -> None:
    """Refuse a body fit that is none: sleeve not above bore, or implausibly far above it.

    Parameters
    ----------
    outside_diameter : Number
        Outside diameter of the sleeve's body. [m]
    bore : Number
        Diameter of the parent bore. [m]

    Raises
    ------
    InputError
        If the sleeve is not larger than the bore, or larger by more than
        ``PLAUSIBLE_SHARE`` of it.

    Notes
    -----
    The share is four times what the tightest fits in use need. Source: ``practice``.
    """
    size = extremes(positive("parent bore", bore, "m"))[0]
    most = PLAUSIBLE_SHARE * size
    least, greatest = extremes(interference(outside_diameter=outside_diameter, bore=bore))
    outside = extremes(outside_diameter)[0]
    slip = likely_slip(value=outside, low=size, high=size + most)
    if not least > 0.0:
        raise InputError(
            "sleeve outside diameter",
            outside,
            "m",
            f"more than the bore, {size:.6g} m: there is no interference",
            slip,
        )
    if greatest > most:
        raise InputError(
            "interference",
            greatest,
            "m",
            f"0 to {most:.3g} m for a bore of {size:.6g} m",
            slip or "Check both readings for a wrong inch, a whole turn of the dial, a lost point.",
        )


@formula(
    name="effective interference",
    expression="i_eff = i - k (Rz_s + Rz_c)",
    sources=("din-7190-1", "from-memory"),
    validity="k = 0.8 diametral is 0.4 of each Rz on radius; editions and quotations differ",
    unit="m",
)
def effective_interference(
    *,
    interference: Number,
    sleeve_roughness: Number,
    casting_roughness: Number,
    flattening: float = FLATTENING,
) -> Number:
    """Diametral interference that is left when the peaks of both surfaces have flattened.

    Parameters
    ----------
    interference : Number
        Measured interference. [m]
    sleeve_roughness : Number
        Rz of the sleeve's outside; zero where it is not known. [m]
    casting_roughness : Number
        Rz of the casting's bore; zero where it is not known. [m]
    flattening : float
        Factor k on the sum of both Rz, 0 to 1; printed are 0.4 and 0.8. [1]

    Returns
    -------
    Number
        Interference that makes pressure; it may be negative. [m]

    Raises
    ------
    InputError
        If a roughness is negative or ``flattening`` is outside 0 to 1.

    Notes
    -----
    A surface loses about 0.4 Rz on radius, which is 0.8 Rz on diameter; the two factors
    that secondary sources quote for different editions, 0.4 and 0.8, are probably this
    one statement told on radius and on diameter. Zero roughness loses nothing.
    Source: ``din-7190-1``, ``from-memory``.

    Examples
    --------
    >>> loss = 80e-6 - effective_interference(
    ...     interference=80e-6, sleeve_roughness=6e-6, casting_roughness=6e-6)
    >>> round(loss * 1e6, 6)
    9.6
    """
    not_negative("sleeve roughness", sleeve_roughness, "m")
    not_negative("casting roughness", casting_roughness, "m")
    within("flattening", flattening, "1", 0.0, 1.0)
    return finite("interference", interference, "m") - flattening * (
        sleeve_roughness + casting_roughness
    )


@formula(
    name="size rounded to steps",
    expression="written = step floor(size/step + 1/2)",
    sources=("derived",),
    validity="halves go up",
    unit="m",
)
def nearest_step(*, size: Number, step: float) -> Number:
    """The size as it is written down when it is rounded to whole steps, halves upwards.

    Parameters
    ----------
    size : Number
        Size as read. [m]
    step : float
        Step of the rounding, such as one thou. [m]

    Returns
    -------
    Number
        Nearest whole number of steps. [m]

    Raises
    ------
    InputError
        If the step is not positive.

    Notes
    -----
    Halves go up, as on paper. Source: ``derived``.
    """
    positive("step", step, "m")
    return cast("Number", np.floor(finite("size", size, "m") / step + 0.5) * step)


@formula(
    name="what the last place of a typed size hides",
    expression="hidden = step/2",
    sources=("derived",),
    validity="rounded to the nearest; twice as much where it was always rounded up",
    unit="m",
)
def hidden_by_step(*, step: Number) -> Number:
    """How far a size may lie off what was typed, because of its last place.

    Parameters
    ----------
    step : Number
        Worth of the last place that was typed. [m]

    Returns
    -------
    Number
        Half of it: so much of the fit is unseen, either way. [m]

    Raises
    ------
    InputError
        If the step is not positive.

    Notes
    -----
    Source: ``derived``.
    """
    return positive("step", step, "m") / 2.0


@formula(
    name="what rounding a reading costs the fit",
    expression="lost = written - read",
    sources=("derived",),
    validity="bore cut to the written outside diameter minus the wanted interference",
    unit="m",
)
def rounding_cost(*, reading: Number, rounded: Number) -> Number:
    """Interference lost because an outside diameter was written down rounded.

    Parameters
    ----------
    reading : Number
        Outside diameter as read. [m]
    rounded : Number
        Outside diameter as written down, from which the bore is cut. [m]

    Returns
    -------
    Number
        Loss of interference, negative where rounding down made the fit tighter. [m]

    Raises
    ------
    InputError
        If a diameter is not positive and finite.

    Notes
    -----
    The bore follows what was written, the sleeve stays what it is. Source: ``derived``.

    Examples
    --------
    >>> round(rounding_cost(reading=67.0306e-3, rounded=67.056e-3) * 1e6, 3)
    25.4
    """
    return positive("rounded", rounded, "m") - positive("reading", reading, "m")


@formula(
    name="room temperature shift of the cold fit",
    expression="shift = i(T_room, T_room) - i",
    sources=("iso-1", "derived"),
    validity="both parts at the room's temperature",
    unit="m",
)
def room_temperature_shift(
    *,
    diameter: Number,
    interference: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
    room: Number,
) -> Number:
    """Change of the cold interference when both parts sit at the room's temperature.

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
    room : Number
        Temperature of the room and of both parts. [K]

    Returns
    -------
    Number
        Interference at the room's temperature minus that at 20 degC; negative when a
        warm room makes the fit look looser than it is. [m]

    Notes
    -----
    A fit read at the room's temperature is wrong by this much. Source: ``derived``.
    """
    warm = running_interference(
        diameter=diameter,
        interference=interference,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        casting_temperature=room,
        sleeve_temperature=room,
    )
    return warm - interference


@formula(
    name="what one warm part does to a reading",
    expression="error = D (eps(T + d) - eps(T))",
    sources=("iso-1", "derived"),
    validity="the other part and the gauge at the room's temperature",
    unit="m",
)
def warm_part_error(
    *, diameter: Number, casting_law: ExpansionLaw, room: Number, warmer: Number
) -> Number:
    """How much a bore reads too large in a casting that is warmer than its gauge.

    Parameters
    ----------
    diameter : Number
        Diameter of the fit. [m]
    casting_law : ExpansionLaw
        Expansion of the casting. [1/K]
    room : Number
        Temperature of the room, of the sleeve and of the gauge. [K]
    warmer : Number
        How much warmer the casting is, negative for colder. [K]

    Returns
    -------
    Number
        What the reading is too large by, diametral; the fit is that much tighter than
        it reads. [m]

    Raises
    ------
    InputError
        If the diameter is not positive or a temperature is below absolute zero.

    Notes
    -----
    Source: ``iso-1``, ``derived``.

    Examples
    --------
    >>> error = warm_part_error(diameter=76.2e-3, casting_law=ExpansionLaw(21.4e-6, 0.0),
    ...     room=293.15, warmer=22 / 1.8)
    >>> round(error / 25.4e-6, 2)
    0.78
    """
    warm = thermal_strain(casting_law, temperature=room + warmer)
    return positive("diameter", diameter, "m") * (
        warm - thermal_strain(casting_law, temperature=room)
    )
