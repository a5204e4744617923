"""Stage Drop: how many seconds, with what chance that it grips before it is seated.

The drops share the samples of the fit, the alloys and the temperatures with the rest of
the plan.  The seconds are chances within a model and its judged priors, never a promise.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.allowances import smaller
from sleevewright.core.formulas import formula
from sleevewright.core.heat.chances import (
    DropCase,
    DropChances,
    before_seated,
    drop_chances,
    expected_grip,
    free_p01,
    free_p05,
    may_stay_loose,
)
from sleevewright.core.heat.equal import equal_temperature, slip_at_equal_temperature
from sleevewright.core.heat.masses import heat_capacity, ring_mass
from sleevewright.core.materials import default, material
from sleevewright.core.uncertainty.sampled import Quantile, Share
from sleevewright.jobs.model import Heat, Part
from sleevewright.planning.answers import Doubt, Kind, Quantity
from sleevewright.planning.facts import enter_default, given
from sleevewright.planning.judging import against_chance
from sleevewright.planning.ledger import (
    CENTRALLY,
    COVERAGE,
    Given,
    How,
    Ledger,
    Line,
    StageResult,
)
from sleevewright.units import shown

Q = Quantity
NORMAL_95 = 1.96
REMEDY = (
    "more slip, a measured hot form, dry parts; or a chilled sleeve, if the casting keeps its heat"
)
BEYOND = "still loose when the forecast ends at {0:.0f} s: keep it down and wait"


CASTING_MASS = Line(
    "casting.mass",
    "Mass of the casting",
    Q.MASS,
    of="from its size, without fins",
    would_change="a scale",
)
CASTING_MASS_B = Line("casting.mass", "Mass of the casting", Q.MASS)
DROP_EQUAL = Line("drop.equal", "Both parts meet at", Q.TEMPERATURE, of="if nothing is lost")
DROP_EQUAL_SLIP = Line(
    "drop.equal_slip",
    "Slip left then",
    Q.DEVIATION,
    "diametral",
    of="above zero it stays loose until the whole has cooled",
)
DROP_FORM = Line(
    "drop.form",
    "Slip that shape uses up",
    Q.DEVIATION,
    "diametral",
    of="hot out-of-round, taper and burr",
    would_change="gauge the hot bore in two directions at three depths",
)
DROP_CASE = Line("drop.case", "the drop", Q.RECORD, is_detail=True)
DROP_CHANCES = Line("drop.chances", "the drops together", Q.RECORD, is_detail=True)
DROP_LINE_UP_MOST = Line("drop.line_up_most", "longest line-up time shown", Q.TIME, is_detail=True)


@dataclass(frozen=True)
class DropRecord:
    """What is told of the drop."""

    heat: Heat
    casting: Part
    sleeve: Part
    drops: int
    count: int
    seed: int


@formula(
    name="chances of this drop",
    expression="quantiles of grip times over drops that share the samples of the plan",
    sources=("jcgm-101", "practice", "derived"),
    validity="within the model and its judged priors, fitted to no measured drop; tilt left out",
    unit="record",
)
def chances_of_drop(*, samples: DropCase, drops: float, seed: float) -> DropChances:
    """Chances of a drop whose case holds the samples of the plan."""
    return drop_chances(samples, count=int(drops), seed=int(seed))


def drop_stage(record: DropRecord, *upstream: StageResult) -> StageResult:
    """Answers about the drop."""
    ledger = Ledger(*upstream, count=record.count, seed=record.seed)
    _enter_masses(ledger, record)
    _enter_equal(ledger)
    _enter_case(ledger, record)
    _enter_seconds(ledger, record)
    return ledger.result()


def _enter_masses(ledger: Ledger, record: DropRecord) -> None:
    """Enter what both parts weigh and what their metals hold and conduct."""
    for prefix, part, fallback in (
        ("casting", record.casting, "unknown-aluminium"),
        ("sleeve", record.sleeve, "grey-iron"),
    ):
        metal = material(part.material or fallback)
        for prop, quantity in (
            ("density", Q.DENSITY),
            ("specific_heat", Q.SPECIFIC_HEAT),
            ("conductivity", Q.CONDUCTIVITY),
        ):
            words = f"{prop.replace('_', ' ')} of the {prefix}"
            ledger.fact(
                Line(f"{prefix}.{prop}", words, quantity, is_detail=True),
                Given(getattr(metal, prop), Kind.ASSUMED, source=metal.source_of(prop)),
            )
    mass = CASTING_MASS_B
    if record.casting.mass is not None:
        ledger.fact(mass, given(record.casting.mass, need="mass of the casting"))
    else:
        ledger.compute(
            CASTING_MASS,
            ring_mass,
            outside_diameter="casting.outside_diameter",
            inside_diameter="bore.target",
            length="sleeve.length",
            density="casting.density",
        )
    for prefix in ("casting", "sleeve"):
        ledger.compute(
            Line(
                f"{prefix}.capacity",
                f"heat that the {prefix} holds",
                Q.HEAT_CAPACITY,
                is_detail=True,
            ),
            heat_capacity,
            mass=f"{prefix}.mass",
            specific_heat=f"{prefix}.specific_heat",
        )


def _enter_equal(ledger: Ledger) -> None:
    """Enter the slip that is left when both parts have come to one temperature."""
    heats = {
        "casting_capacity": "casting.capacity",
        "sleeve_capacity": "sleeve.capacity",
        "casting_temperature": "heat.drop_at",
        "sleeve_temperature": "heat.sleeve",
    }
    ledger.compute(
        DROP_EQUAL,
        equal_temperature,
        **heats,
    )
    ledger.compute(
        DROP_EQUAL_SLIP,
        slip_at_equal_temperature,
        diameter="sleeve.od",
        interference="fit.as_cut",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
        temperature="drop.equal",
    )
    left = ledger.value("drop.equal_slip")
    if left is not None and left > 0.0:
        ledger.advise(
            "The sleeve may stay loose for minutes after both parts have come to one temperature: "
            "keep it seated. It may also seize sooner."
        )


def _enter_case(ledger: Ledger, record: DropRecord) -> None:
    """Enter everything that a drop is computed from."""
    is_weighed = record.casting.mass is not None
    flags = [("is_weighed", "casting was weighed", is_weighed)]
    if record.heat.dry is not None:
        flags.append(("dry", "dried, drained and wiped", record.heat.dry))
    for name, label, value in flags:
        ledger.fact(
            Line(f"drop.{name}", label, Q.RECORD, is_detail=True),
            Given(value, Kind.TYPED, source="the job"),
        )
    enter_default(
        ledger,
        DROP_FORM,
        record.heat.form,
        "form_allowance",
    )
    case = {
        "diameter": "sleeve.od",
        "inside_diameter": "sleeve.id",
        "length": "sleeve.length",
        "interference": "fit.as_cut",
        "slip": "heat.body_slip",
        "casting_law": "casting.law",
        "sleeve_law": "sleeve.law",
        "sleeve_temperature": "heat.sleeve",
        "room": "heat.room",
        "casting_mass": "casting.mass",
        "sleeve_mass": "sleeve.mass",
        "casting_density": "casting.density",
        "casting_specific_heat": "casting.specific_heat",
        "casting_conductivity": "casting.conductivity",
        "sleeve_specific_heat": "sleeve.specific_heat",
        "sleeve_conductivity": "sleeve.conductivity",
        "carry_allowed": "heat.carry_loss",
        "carry_time": "heat.carry",
        "form": "drop.form",
        **{name: f"drop.{name}" for name, _, _ in flags},
    }
    ledger.compute(DROP_CASE, DropCase, **case)


def _enter_seconds(ledger: Ledger, record: DropRecord) -> None:
    """Enter the seconds, their chance, and the line-up time that is never above five."""
    for name, label, value in (
        ("drops", "drops that are drawn", float(record.drops)),
        ("seed", "seed of the draws", float(record.seed)),
    ):
        ledger.fact(
            Line(f"drop.{name}", label, Q.RATIO, is_detail=True),
            Given(value, Kind.CHOSEN, source="practice"),
        )
    ledger.compute(
        DROP_CHANCES,
        chances_of_drop,
        CENTRALLY,
        samples="drop.case",
        drops="drop.drops",
        seed="drop.seed",
    )
    chances: DropChances | None = ledger.value("drop.chances")
    good, out = default("drop_good_below").value, default("drop_out_above").value
    judge = against_chance(good, out, remedy=REMEDY)
    for key, label, function, quantity, of in (
        ("free_p05", "19 in 20 stay free at least", free_p05, Q.TIME_AT_LEAST, "from first entry"),
        ("free_p01", "99 in 100 stay free at least", free_p01, Q.TIME_AT_LEAST, "from first entry"),
        ("expected", "Grips, expected", expected_grip, Q.TIME, "as many sooner as later"),
        ("until", "May stay loose until", may_stay_loose, Q.TIME, "19 in 20 have gripped by then"),
        ("before_seated", "Grips before it is seated", before_seated, Q.PROBABILITY, "chance"),
    ):
        entry = ledger.compute(
            Line(f"drop.{key}", label, quantity, of=of, would_change=REMEDY),
            function,
            How(judge=judge) if key == "before_seated" else CENTRALLY,
            chances="drop.chances",
        )
        if chances is None:
            continue
        if entry.answer.value is None:
            ledger.amend(f"drop.{key}", of=BEYOND.format(chances.horizon))
        else:
            ledger.amend(f"drop.{key}", doubt=_counted(getattr(chances, key), chances.count))
    _enter_line_up(ledger, chances)


def _enter_line_up(ledger: Ledger, chances: DropChances | None) -> None:
    """Enter the seconds that are shown for lining up: what 19 in 20 leave, five at most."""
    most = default("line_up_most")
    ledger.fact(
        DROP_LINE_UP_MOST,
        Given(most.value, Kind.CHOSEN, source=most.source, typed=most.note),
    )
    ledger.compute(
        Line(
            "drop.line_up",
            "Before it grabs",
            Q.TIME_AT_LEAST,
            of="19 times in 20; never above five",
            would_change=REMEDY,
        ),
        smaller,
        CENTRALLY,
        one="drop.free_p05",
        other="drop.line_up_most",
    )
    if chances is not None and ledger.entry("drop.line_up").answer.value is not None:
        ledger.amend(
            "drop.line_up",
            of=f"19 times in 20; likely {_seconds(chances.expected)}, {_latest(chances)}",
            doubt=_counted(chances.free_p05, chances.count),
        )


def _seconds(counted: Quantile) -> str:
    """Figure of a time, in the steps that times of a model are shown in."""
    if not math.isfinite(counted.value):
        return "minutes"
    figures = shown(counted.value, quantity=Q.TIME.value, system="metric")
    return figures.figure if figures.unit == "s" else f"{figures.figure} {figures.unit}"


def _latest(chances: DropChances) -> str:
    """Until when it may stay loose, or that nobody can say."""
    if chances.until is None:
        return f"some beyond {chances.horizon:.0f}"
    return f"up to {_seconds(chances.until)}"


def _counted(counted: Quantile | Share | None, count: int) -> Doubt | None:
    """The sampling error of a count, which is not the doubt of the model."""
    if counted is None or not math.isfinite(counted.sampling_error):
        return None
    half = NORMAL_95 * counted.sampling_error
    return Doubt(
        counted.sampling_error,
        counted.value - half,
        counted.value + half,
        COVERAGE,
        "counted",
        samples=count,
    )
