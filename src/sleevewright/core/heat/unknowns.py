"""What is not known of a drop, and the samples that stand for it.

A number that comes as samples keeps them, so that a drop shares the doubt of the budget
that it rests on; a plain number gets the doubt of the named default, and what was not
said at all gets the default with its doubt.  The slip on a gauge and the depth of metal
that gives up heat are in doubt always.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.checks import Number, not_negative, positive, within
from sleevewright.core.expansion import ExpansionLaw, scaled_law
from sleevewright.core.formulas import formula
from sleevewright.core.heat.drop_case import DropCase, DropDraws
from sleevewright.core.heat.drop_inputs import DropInputs
from sleevewright.core.heat.joining import casting_temperature_for_slip
from sleevewright.core.heat.lump import lump_temperature
from sleevewright.core.heat.masses import heat_capacity, volume_equivalent_radius
from sleevewright.core.materials import default
from sleevewright.core.metals import Default
from sleevewright.core.uncertainty.inputs import DEFAULT_SEED, InputQuantity, Shape, draw
from sleevewright.errors import InputError

Array = NDArray[np.float64]

THERMAL_RADIUS_DOUBT = default("casting_radius_doubt").value
"""Relative, one standard deviation: which metal gives up heat within seconds. [1]"""

WEIGHED_RADIUS_DOUBT = 0.04
"""The same where the casting was weighed and most of it lies beside the sleeve. [1]"""

MEASURED_FORM_SPREAD = 0.2
"""Of the logarithm of a form allowance that was measured on the hot parts. [1]"""

LEAST_DEPTH = 0.15
"""Least thermal depth over the central one: a draw below it would leave no metal. [1]"""

_EVEN = 12.0**-0.5  # standard deviation of an even chance between 0 and 1


@dataclass(frozen=True)
class _Source:
    """Where the samples come from: how many, and the seed that all streams share."""

    count: int
    seed: int

    def cut(self, name: str, samples: Array) -> Array:
        """The first samples of what the caller holds already."""
        if samples.size < self.count:
            allowed = f"at least {self.count} samples"
            raise InputError(name, samples.size, "samples", allowed)
        return samples[: self.count]

    def drawn(self, name: str, value: float, standard: float, shape: Shape) -> Array:
        """Samples of a named input of the drop."""
        quantity = InputQuantity(f"drop: {name}", value, standard, shape=shape)
        return draw(quantity, count=self.count, seed=self.seed)

    def even(self, name: str) -> Array:
        """An even chance between 0 and 1."""
        return np.clip(self.drawn(name, 0.5, _EVEN, Shape.RECTANGULAR), 0.0, 1.0)

    def around(self, name: str, given: Number | None, known: Default, spread: float) -> Array:
        """Samples given, or those of a value given, or those of the default."""
        if isinstance(given, np.ndarray):
            return self.cut(name, given)
        shape = Shape(known.spread)
        value = known.value if given is None else positive(name, float(given), known.unit)
        if shape is not Shape.LOGNORMAL:
            spread *= value / known.value  # a longer time is as much less certain
        return self.drawn(name, value, spread, shape)


def _factor(source: _Source, name: str, law: ExpansionLaw, doubt: float) -> Array:
    """Factor on a law: one where its samples are given already."""
    not_negative(f"doubt of the {name}", doubt, "")
    if isinstance(law.reference, np.ndarray):
        return np.ones(source.count)
    return np.maximum(source.drawn(name, 1.0, doubt, Shape.NORMAL), 0.1)


def _fluid(source: _Source, case: DropCase) -> Array:
    """Conductivity over that of air: oil in some jobs, filling an even-chance share."""
    share = default("oily_share").value if case.oily_share is None else case.oily_share
    if case.dry is not None:
        share = 0.0 if case.dry else 1.0
    is_wet = source.even("oil or not") < within("oily share", share, "", 0.0, 1.0)
    filled = np.where(is_wet, source.even("share of the gap filled"), 0.0)
    return 1.0 + (default("oil_factor").value - 1.0) * filled


def _eccentricity(source: _Source, case: DropCase) -> Array:
    """Against one side in most drops, else anywhere between the middle and there."""
    share = default("lean_share").value if case.lean_share is None else case.lean_share
    leans = source.even("lean") < within("lean share", share, "", 0.0, 1.0)
    return np.where(leans, 1.0, source.even("eccentricity"))


def draw_unknowns(case: DropCase, *, count: int, seed: int = DEFAULT_SEED) -> DropDraws:
    """Samples of everything that is not known of a drop.

    Parameters
    ----------
    case : DropCase
        The drop. [record]
    count : int
        How many drops. [1]
    seed : int
        Seed that all streams share. [1]

    Returns
    -------
    DropDraws
        Samples, one row for each unknown. [record]

    Raises
    ------
    InputError
        If a value cannot be right, or fewer samples are given than asked for.

    Notes
    -----
    Priors are judgement, fitted to nothing. Source: ``practice``.
    """
    source = _Source(count, seed)
    fit, gauge = default("interference_doubt"), default("gauge_hot")
    held = case.interference
    if isinstance(held, np.ndarray):
        interference = source.cut("interference", held)
    else:
        interference = source.drawn(
            "interference", float(held), fit.doubt or fit.value, Shape.NORMAL
        )
    doubt = WEIGHED_RADIUS_DOUBT if case.is_weighed else THERMAL_RADIUS_DOUBT
    form, stand_off = default("form_allowance"), default("stand_off")
    spread = form.doubt if case.form is None else MEASURED_FORM_SPREAD
    carry, entry = default("carry_time"), default("entry_time")
    return DropDraws(
        slip_error=source.drawn("slip gauged hot", 0.0, gauge.value, Shape.NORMAL),
        interference=interference,
        casting_expansion=_factor(
            source, "casting expansion", case.casting_law, case.casting_expansion_doubt
        ),
        sleeve_expansion=_factor(
            source, "sleeve expansion", case.sleeve_law, case.sleeve_expansion_doubt
        ),
        thermal_radius=source.drawn("thermal radius", 1.0, doubt, Shape.NORMAL),
        form=source.around("form", case.form, form, spread),
        stand_off=source.around("stand-off", case.stand_off, stand_off, stand_off.doubt),
        carry_time=source.around("carry time", case.carry_time, carry, carry.doubt),
        entry_time=source.around("entry time", case.entry_time, entry, entry.doubt),
        eccentricity=_eccentricity(source, case),
        fluid_factor=_fluid(source, case),
    )


def _law(source: _Source, law: ExpansionLaw, factor: Array) -> ExpansionLaw:
    """The law of every sample."""
    if isinstance(law.reference, np.ndarray):
        slope = law.slope
        cut = source.cut("expansion", slope) if isinstance(slope, np.ndarray) else slope
        return ExpansionLaw(source.cut("expansion", law.reference), cut, law.low, law.high)
    return scaled_law(
        reference=law.reference,
        slope=float(law.slope),
        scale=factor,
        low=law.low,
        high=law.high,
    )


@formula(
    name="temperature of the casting at entry",
    expression="T_c = T_r + (T(c + c_carry + error) - T_r) exp(-q L t_carry / C_c)",
    sources=("derived",),
    validity="casting at one temperature, loss as in the drop itself",
    unit="K",
)
def casting_at_entry(
    *,
    at_gauge: Number,
    room: Number,
    carry_time: Number,
    outside_loss: Number,
    length: Number,
    casting_capacity: Number,
) -> Number:
    """Temperature of the casting after it was carried to the sleeve.

    Parameters
    ----------
    at_gauge : Number
        Temperature of the casting when the gauge said go. [K]
    room : Number
        Temperature of the room. [K]
    carry_time : Number
        Time until the sleeve enters. [s]
    outside_loss : Number
        Heat lost by length and kelvin. [W/(m K)]
    length : Number
        Length of the sleeve in the casting. [m]
    casting_capacity : Number
        Heat capacity of the metal that gives up heat. [J/K]

    Returns
    -------
    Number
        Temperature. [K]

    Raises
    ------
    InputError
        If a temperature is not positive or the time is negative.

    Notes
    -----
    Source: ``derived``.

    Examples
    --------
    >>> hot = casting_at_entry(at_gauge=450.0, room=294.0, carry_time=12.0, outside_loss=24.0,
    ...     length=0.095, casting_capacity=1273.0)
    >>> round(hot, 1)
    446.7
    """
    lost = positive("outside loss", outside_loss, "W/(m K)") * length
    return lump_temperature(
        time=carry_time, start=at_gauge, air=room, time_constant=casting_capacity / lost
    )


def _thermal_ring(known: dict[str, Any], draws: DropDraws) -> tuple[Array, Number]:
    """Depth and heat capacity of the ring with the drawn thermal radius."""
    half = 0.5 * (known["diameter"] - draws.interference)
    central = volume_equivalent_radius(
        bore=2.0 * half,
        length=known["length"],
        mass=known["casting_mass"],
        density=known["casting_density"],
    )
    depth = np.maximum(central * draws.thermal_radius - half, LEAST_DEPTH * (central - half))
    ring = np.pi * depth * (depth + 2.0 * half) * known["length"]
    capacity = heat_capacity(
        mass=ring * known["casting_density"], specific_heat=known["casting_specific_heat"]
    )
    return np.asarray(depth), capacity


def _carried(
    known: dict[str, Any],
    draws: DropDraws,
    capacity: Number,
    casting_law: ExpansionLaw,
    sleeve_law: ExpansionLaw,
) -> Number:
    """Temperature of the casting at entry: what the true slip means, less the carry."""
    # the needle is one number, set before anybody knows how long the carry will take
    allowed = float(np.median(known["carry_allowed"]))
    at_gauge = casting_temperature_for_slip(
        diameter=known["diameter"],
        interference=draws.interference,
        slip=known["slip"] + allowed + draws.slip_error,
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        sleeve_temperature=known["sleeve_temperature"],
    )
    if known["limit"] is not None:
        # a gauge that errs cannot make the casting hotter than it was allowed to become
        at_gauge = cast("Number", np.minimum(at_gauge, known["limit"]))
    return casting_at_entry(
        at_gauge=at_gauge,
        room=known["room"],
        carry_time=draws.carry_time,
        outside_loss=DropInputs.outside_loss,
        length=known["length"],
        casting_capacity=capacity,
    )


def drop_inputs(
    case: DropCase, draws: DropDraws, *, count: int, seed: int = DEFAULT_SEED
) -> DropInputs:
    """Inputs of the model for every sample of what is not known.

    Parameters
    ----------
    case : DropCase
        The drop. [record]
    draws : DropDraws
        Samples of what is not known. [record]
    count : int
        How many drops. [1]
    seed : int
        Seed that the samples were drawn with. [1]

    Returns
    -------
    DropInputs
        Inputs with arrays of one length. [record]

    Raises
    ------
    InputError
        If a value cannot be right, or fewer samples are given than asked for.

    Notes
    -----
    Heat that the casting can give is that of the ring with the thermal radius. Source:
    ``derived``.
    """
    source = _Source(count, seed)
    known = {
        one.name: source.cut(one.name, value)
        if isinstance(value := getattr(case, one.name), np.ndarray)
        else value
        for one in fields(case)
    }
    depth, capacity = _thermal_ring(known, draws)
    casting_law = _law(source, case.casting_law, draws.casting_expansion)
    sleeve_law = _law(source, case.sleeve_law, draws.sleeve_expansion)
    return DropInputs(
        diameter=known["diameter"],
        interference=draws.interference,
        length=known["length"],
        wall=0.5 * (known["diameter"] - known["inside_diameter"]),
        casting_law=casting_law,
        sleeve_law=sleeve_law,
        casting_temperature=_carried(known, draws, capacity, casting_law, sleeve_law),
        sleeve_temperature=known["sleeve_temperature"],
        room=known["room"],
        casting_capacity=capacity,
        sleeve_capacity=heat_capacity(
            mass=known["sleeve_mass"], specific_heat=known["sleeve_specific_heat"]
        ),
        casting_depth=depth,
        casting_conductivity=known["casting_conductivity"],
        sleeve_conductivity=known["sleeve_conductivity"],
        eccentricity=draws.eccentricity,
        stand_off=draws.stand_off,
        form=draws.form,
        fluid_factor=draws.fluid_factor,
    )
