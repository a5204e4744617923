"""Stage Parent bore: what the casting is, what was bored, and what is to be bored."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.allowances import (
    interference_for_ratio,
    larger,
    lower_allowance,
    size_limit,
)
from sleevewright.core.fits.targets import parent_bore_target, ratio_for_interference
from sleevewright.core.materials import default
from sleevewright.core.metals import Default, Material
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.jobs.model import Choice, Grid, Instrument, Part, Port
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.bore_limits import enter_gauge
from sleevewright.planning.facts import enter_default, enter_metal, given
from sleevewright.planning.fit_presets import family_of, no_preset_said
from sleevewright.planning.form import ports_of
from sleevewright.planning.held import LEDGE
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line, StageResult
from sleevewright.planning.levelled import enter_levelling
from sleevewright.planning.shop import Chosen
from sleevewright.planning.sizes import Bench, Feature, enter_size
from sleevewright.units import shown

Q = Quantity

LEAST_DOUBTED_WALL = 0.9
"""Share of the stated wall that an assumed doubt of its outside may take away at most."""

COUNTERBORE = Feature("counterbore.size", "Counterbore, as cut", "casting", is_bore=True)
CUT_DEPTH = Feature(
    "counterbore.cut_depth",
    "Counterbore, depth as cut",
    "casting",
    sense="axial",
    has_form=False,
    held=LEDGE,
)
PARENT = Feature(
    "bore.size",
    "Parent bore, as bored",
    "casting",
    is_bore=True,
    is_fitted=True,
    setting="gauge_setting",
)


CASTING_OUTSIDE_DIAMETER = Line(
    "casting.outside_diameter",
    "Casting, outside",
    Q.SIZE,
    "diametral",
    of="ring that is as stiff as the casting",
    would_change="measure it without fins and with; the truth lies between",
)
CASTING_IS_BRITTLE = Line("casting.is_brittle", "how the casting fails", Q.TEXT, is_detail=True)
CUT_TOLERANCE = Line("cut.tolerance", "Cut within", Q.DEVIATION, "diametral", is_detail=True)
BORE_TARGET = Line(
    "bore.target",
    "Parent bore",
    Q.SIZE,
    "diametral",
    of="to be cut; casting at 20 °C",
    would_change="it follows the sleeve's own readings",
)
LEAST_FLAT = Line("fit.least_flat", "The least, as a fit", Q.DEVIATION, "diametral", is_detail=True)
LEAST_BY_INCH = Line(
    "fit.least_by_inch", "The least, by the inch", Q.DEVIATION, "diametral", is_detail=True
)
LEAST_PER_INCH = Line(
    "fit.least_per_inch",
    "The least, by the diameter",
    Q.SLOPE,
    of="of the sleeve's outside, whichever way the least was told",
    is_detail=True,
)
CUT_LOWER = Line("cut.lower", "Cut within, below", Q.DEVIATION, "diametral", is_detail=True)


@dataclass(frozen=True)
class ParentRecord:
    """What is told about the casting and wanted of its bore."""

    casting: Part
    choice: Choice
    cooling: str
    grids: tuple[Grid, ...]
    instruments: tuple[Instrument, ...]
    units: str
    count: int
    seed: int
    chosen: Chosen = ()
    ports: tuple[Port, ...] = ()


def parent_stage(record: ParentRecord, sleeve: StageResult) -> StageResult:
    """The casting's metal and ring, the wanted fit, the measured bore and the target."""
    ledger = Ledger(sleeve, count=record.count, seed=record.seed, chosen=record.chosen)
    metal = enter_metal(
        ledger, "casting", record.casting, fallback="unknown-aluminium", name="casting"
    )
    _enter_ring(ledger, record.casting)
    _enter_strengths(ledger, metal)
    _enter_wishes(ledger, record, metal)
    grids = {grid.feature: grid for grid in record.grids}
    if "parent-bore" in grids or record.casting.inside_diameter is not None:
        enter_size(
            ledger,
            PARENT,
            grids.get("parent-bore"),
            record.casting.inside_diameter,
            Bench(record.instruments, record.units, ports_of(record.ports)),
        )
        enter_levelling(ledger, metal)
    for feature, name in ((COUNTERBORE, "counterbore"), (CUT_DEPTH, "counterbore-depth")):
        if name in grids:
            bench = Bench(record.instruments, record.units)
            enter_size(ledger, feature, grids[name], None, bench)
    _enter_target(ledger)
    enter_gauge(ledger, record.instruments)
    _caution_of_lost_metal(ledger, record.units)
    return ledger.result()


def _enter_ring(ledger: Ledger, casting: Part) -> None:
    """Enter the outside of the ring that stands for a finned casting, as a band."""
    line = CASTING_OUTSIDE_DIAMETER
    low, high, middle = casting.outside_low, casting.outside_high, casting.outside_diameter
    if low is not None and high is not None:
        half = (high.value - low.value) / 2.0
        ledger.fact(
            line,
            Given(
                (high.value + low.value) / 2.0 if middle is None else middle.value,
                Kind(low.kind),
                source="the job",
                typed=f"{low.text} to {high.text}",
                standard=half / math.sqrt(3.0),
                shape=Shape.RECTANGULAR,
            ),
        )
        return
    told = given(middle, need="outside diameter of the casting, without fins")
    if middle is not None and told.standard == 0.0:
        share = default("casting_radius_doubt").value
        # Bounded, so that no draw loses the wall that the casting is known to have.
        wall = middle.value - (ledger.value("sleeve.od") or 0.0)
        half = min(math.sqrt(3.0) * share * middle.value, LEAST_DOUBTED_WALL * wall)
        told = Given(
            told.value,
            told.kind,
            told.source,
            told.typed,
            standard=half / math.sqrt(3.0) if half > 0.0 else 0.0,
            shape=Shape.RECTANGULAR,
        )
    ledger.fact(line, told)


def _enter_strengths(ledger: Ledger, metal: Material) -> None:
    """Enter what the casting's metal bears."""
    brittle = CASTING_IS_BRITTLE
    ledger.fact(
        brittle,
        Given(
            "cracks" if metal.is_brittle else "yields",
            Kind.ASSUMED,
            source=metal.source_of("poisson"),
        ),
    )
    prop = "tensile_strength" if metal.is_brittle else "yield_strength"
    strength = getattr(metal, prop)
    words = "tensile strength" if metal.is_brittle else "yield strength"
    ledger.fact(
        Line("casting.strength", f"{words} of the casting", Q.PRESSURE, of="at 20 °C"),
        Given(
            strength,
            Kind.ASSUMED,
            source=metal.source_of(prop),
            typed=metal.title,
            need=f"{words} of the casting",
        ),
    )


def _enter_wishes(ledger: Ledger, record: ParentRecord, metal: Material) -> None:
    """Enter the wanted and the least interference: told, else by the inch of diameter."""
    family = family_of(metal.family)
    for name, label, told, needed in (
        ("wanted", "Fit wanted", record.choice.wanted, f"wanted_{family}_{record.cooling}"),
        ("least", "The least", record.choice.least, f"least_{family}_{record.cooling}"),
    ):
        line = Line(f"fit.{name}", label, Q.DEVIATION, "diametral", of="both parts at 20 °C")
        if told is not None:
            ledger.fact(line, given(told, need=label))
            continue
        if family is None:
            need = f"{label.lower()}, since {no_preset_said(metal.family)}"
            ledger.fact(line, Given(None, Kind.CHOSEN, need=need))
            continue
        fallback = ledger.default(needed)
        ledger.fact(
            Line(f"fit.{name}_ratio", f"{label}, per diameter", Q.RATIO, is_detail=True),
            Given(fallback.value, Kind.ASSUMED, source=fallback.source, typed=fallback.note),
        )
        flat = ledger.default("least_fit")
        if name == "least" and flat.value > 0.0:
            _enter_least(ledger, line, flat)
            continue
        ledger.compute(
            line, interference_for_ratio, ratio=f"fit.{name}_ratio", diameter="sleeve.od"
        )
    ledger.compute(
        LEAST_PER_INCH,
        ratio_for_interference,
        CENTRALLY,
        interference="fit.least",
        diameter="sleeve.od",
    )
    enter_default(ledger, CUT_TOLERANCE, record.choice.tolerance, "cut_tolerance")


def _enter_least(ledger: Ledger, line: Line, flat: Default) -> None:
    """Enter the least of a shop that states it as a fit too: the larger of both counts."""
    ledger.fact(LEAST_FLAT, Given(flat.value, Kind.ASSUMED, source=flat.source, typed=flat.note))
    ledger.compute(
        LEAST_BY_INCH, interference_for_ratio, ratio="fit.least_ratio", diameter="sleeve.od"
    )
    ledger.compute(line, larger, one="fit.least_flat", other="fit.least_by_inch")


def _enter_target(ledger: Ledger) -> None:
    """Enter the parent bore to cut, with its two limits."""
    ledger.compute(
        BORE_TARGET,
        parent_bore_target,
        outside_diameter="sleeve.od",
        interference="fit.wanted",
    )
    ledger.compute(
        CUT_LOWER,
        lower_allowance,
        allowance="cut.tolerance",
    )
    for which, allowance in (("low", "cut.lower"), ("high", "cut.tolerance")):
        ledger.compute(
            Line(
                f"bore.target_{which}",
                f"Parent bore, {which} limit",
                Q.SIZE,
                "diametral",
                of="casting at 20 °C",
            ),
            size_limit,
            size="bore.target",
            allowance=allowance,
        )


def _caution_of_lost_metal(ledger: Ledger, system: str) -> None:
    """Say so where the bore is already larger than it may become."""
    bore, high = ledger.value("bore.size"), ledger.value("bore.target_high")
    if bore is None or high is None or bore <= high:
        return
    over = shown(bore - high, quantity=Q.DEVIATION.value, system=system)
    ledger.caution(
        "bore-too-big",
        f"The parent bore is {over.figure} {over.unit} above its high limit already: metal cannot "
        "be put back. A larger sleeve, or a fit that you accept in writing.",
        "practice",
    )
