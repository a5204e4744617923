"""From a job's entries to facts of a ledger, with named assumptions where nothing was said.

An assumption is never silent: it is of kind *assumed*, names its source and carries its
doubt, and the page lets it be changed where it stands.
"""

from __future__ import annotations

import math
from dataclasses import replace

from sleevewright.core.expansion import scaled_law
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


def given_in_doubt(entry: Entry | None, fallback: Default) -> Given:
    """As :func:`given_or`, for what nobody knows better by having typed it."""
    told = given_or(entry, fallback)
    if told.standard == 0.0 and fallback.doubt:
        return replace(told, standard=fallback.doubt, shape=Shape(fallback.spread))
    return told


def cut_miss(tolerance: float) -> Given:
    """What a cut that is still to be made may miss by: its tolerance and the gauge's reading."""
    gauge = default("cut_gauge")
    standard = math.sqrt(tolerance**2 / 3.0 + gauge.value**2)
    return Given(0.0, Kind.ASSUMED, source=gauge.source, standard=standard)


def assumed(value: float, *, source: str, standard: float = 0.0, note: str = "") -> Given:
    """A fact that nobody stated, with who says that it may be assumed."""
    return Given(value, Kind.ASSUMED, source=source, standard=standard, typed=note)


def enter_default(ledger: Ledger, line: Line, entry: Entry | None, name: str) -> LedgerEntry:
    """Enter what was told, else the default of this name."""
    return ledger.fact(line, given_or(entry, ledger.default(name)))


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
    law, told = metal.expansion, part.expansion
    source = metal.source_of("expansion")
    reference = float(law.reference) if told is None else told.value
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
            source=source if told is None else "the job",
            typed=told.text if told else metal.title,
        ),
    )
    slope = float(law.slope) if told is None else 0.0
    for key, label, quantity, value in (
        ("expansion_slope", "its rise with temperature", Quantity.EXPANSION_SLOPE, slope),
        ("law_low", "range of the law, low", Quantity.TEMPERATURE, law.low),
        ("law_high", "range of the law, high", Quantity.TEMPERATURE, law.high),
    ):
        line = Line(f"{prefix}.{key}", f"{label}, {name}", quantity, is_detail=True)
        ledger.fact(line, assumed(value, source=source))
    _enter_scale(ledger, prefix, part, metal, name)


def _enter_scale(ledger: Ledger, prefix: str, part: Part, metal: Material, name: str) -> None:
    """Enter what is not known of the alloy, and the law with it.

    A coefficient that was typed without a half-width keeps the doubt of its metal: copying
    a handbook's figure does not make this casting better known.
    """
    doubt, told = metal.expansion_doubt, part.expansion
    if told is not None and told.doubt is not None:
        doubt = told.doubt / STATED_COVERAGE_FACTOR / told.value
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
        told = given(entry, need=prop)
        return told if told.standard else replace(told, standard=abs(entry.value) * relative)
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
