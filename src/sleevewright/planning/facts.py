"""From a job's entries to facts of a ledger, with named assumptions where nothing was said.

An assumption is never silent: it is of kind *assumed*, names its source and carries its
doubt, and the page lets it be changed where it stands.
"""

from __future__ import annotations

import math
from dataclasses import replace

from sleevewright.core.materials import default, material
from sleevewright.core.metals import Default, Material
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.jobs.model import Entry, Instrument, Part
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.ledger import Entry as LedgerEntry
from sleevewright.planning.ledger import Given, Ledger, Line
from sleevewright.planning.ranges import metal_caution

STATED_COVERAGE_FACTOR = 1.96
"""A stated half-width is taken to hold 95 % of a normal distribution."""


def given(entry: Entry | None, *, need: str) -> Given:
    """A fact from what was told; missing where nothing was."""
    if entry is None:
        return Given(None, Kind.TYPED, need=need)
    standard = 0.0 if entry.doubt is None else entry.doubt / STATED_COVERAGE_FACTOR
    return Given(
        entry.value,
        Kind(entry.kind),
        source="the job",
        typed=entry.text,
        standard=standard,
    )


def given_or(entry: Entry | None, fallback: Default) -> Given:
    """A fact from what was told, else the named default with its doubt.

    A value that the job itself calls assumed, with no doubt of its own, keeps the
    default's doubt: writing an assumption down does not make it better known.
    """
    shape = Shape(fallback.spread) if fallback.doubt else Shape.NORMAL
    if entry is not None:
        told = given(entry, need=fallback.name)
        if told.standard == 0.0 and told.kind is Kind.ASSUMED and fallback.doubt:
            return replace(told, standard=fallback.doubt, shape=shape)
        return told
    return Given(
        fallback.value,
        Kind.ASSUMED,
        source=fallback.source,
        standard=fallback.doubt,
        shape=shape,
        typed=fallback.note,
    )


def assumed(value: float, *, source: str, standard: float = 0.0, note: str = "") -> Given:
    """A fact that nobody stated, with who says that it may be assumed."""
    return Given(value, Kind.ASSUMED, source=source, standard=standard, typed=note)


def enter_default(ledger: Ledger, line: Line, entry: Entry | None, name: str) -> LedgerEntry:
    """Enter what was told, else the default of this name."""
    return ledger.fact(line, given_or(entry, default(name)))


def enter_metal(ledger: Ledger, prefix: str, part: Part, *, fallback: str, name: str) -> Material:
    """Enter what is known of a part's metal: growth, stiffness, Poisson's ratio.

    One scale stands for what is not known of the alloy's growth; every use of the part
    shares it.
    """
    metal = material(part.material or fallback)
    kind = Kind.TYPED if part.material else Kind.ASSUMED
    ledger.fact(
        Line(f"{prefix}.metal", f"metal of the {name}", Quantity.TEXT),
        Given(
            metal.title,
            kind,
            source=metal.source_of("expansion"),
            cautions=tuple(one for one in (metal_caution(metal),) if one is not None),
        ),
    )
    _enter_growth(ledger, prefix, part, metal, name)
    ledger.fact(
        Line(f"{prefix}.modulus", f"stiffness of the {name}", Quantity.MODULUS, of="at 20 °C"),
        given_metal(part.modulus, metal.modulus, metal, "modulus", metal.modulus_doubt),
    )
    ledger.fact(
        Line(f"{prefix}.poisson", f"Poisson's ratio of the {name}", Quantity.RATIO, is_detail=True),
        given_metal(part.poisson, metal.poisson, metal, "poisson", 0.0),
    )
    return metal


def _enter_growth(ledger: Ledger, prefix: str, part: Part, metal: Material, name: str) -> None:
    """Enter the law of expansion of a part, scaled by what is not known of its alloy."""
    from sleevewright.core.expansion import scaled_law  # noqa: PLC0415 - used in one place

    law = metal.expansion
    reference, slope = float(law.reference), float(law.slope)
    told = part.expansion
    if told is not None:
        reference, slope = told.value, 0.0
    ledger.fact(
        Line(
            f"{prefix}.expansion",
            f"growth of the {name}'s metal",
            Quantity.EXPANSION,
            of="mean coefficient near 20 °C",
        ),
        Given(
            reference,
            Kind(told.kind) if told else Kind.ASSUMED,
            source=metal.source_of("expansion") if told is None else "the job",
            typed=told.text if told else metal.title,
        ),
    )
    ledger.fact(
        Line(
            f"{prefix}.expansion_slope",
            f"its rise with temperature, {name}",
            Quantity.EXPANSION_SLOPE,
            is_detail=True,
        ),
        assumed(slope, source=metal.source_of("expansion")),
    )
    doubt = metal.expansion_doubt
    if told is not None and told.doubt is not None:
        doubt = told.doubt / STATED_COVERAGE_FACTOR / told.value
    elif told is not None:
        doubt = 0.0
    ledger.fact(
        Line(
            f"{prefix}.growth_scale",
            f"{name} alloy",
            Quantity.RATIO,
            of="this alloy against its table",
            would_change="one hot reading of bore and temperature calibrates it",
        ),
        assumed(1.0, source=metal.source_of("expansion"), standard=doubt),
    )
    for which, value in (("low", law.low), ("high", law.high)):
        ledger.fact(
            Line(
                f"{prefix}.law_{which}",
                f"range of the law, {which}, {name}",
                Quantity.TEMPERATURE,
                is_detail=True,
            ),
            assumed(value, source=metal.source_of("expansion")),
        )
    ledger.compute(
        Line(f"{prefix}.law", f"law of growth, {name}", Quantity.RECORD, is_detail=True),
        scaled_law,
        reference=f"{prefix}.expansion",
        slope=f"{prefix}.expansion_slope",
        scale=f"{prefix}.growth_scale",
        low=f"{prefix}.law_low",
        high=f"{prefix}.law_high",
    )


def given_metal(
    entry: Entry | None, value: float, metal: Material, prop: str, relative: float
) -> Given:
    """A constant of the metal: what was told, else its table with its doubt."""
    if entry is not None:
        return given(entry, need=prop)
    return Given(
        value,
        Kind.ASSUMED,
        source=metal.source_of(prop),
        typed=metal.title,
        standard=abs(value) * relative,
    )


def find_instrument(name: str, known: tuple[Instrument, ...]) -> Instrument | None:
    """The instrument of this name, if the job or the shop lists it."""
    return next((one for one in known if one.name == name), None)


def standard_of(entry: Entry | None, fallback: float) -> float:
    """Standard uncertainty from a stated half-width, else a stated default half-width."""
    half = fallback if entry is None else entry.value
    return half / STATED_COVERAGE_FACTOR


def rectangular_standard(step: float) -> float:
    """Standard uncertainty of rounding to a step (JCGM 100, F.2.2.1)."""
    return step / math.sqrt(12.0)
