"""Beside the plan: the oven's margin, its kind, what else is on the casting, and what to do.

Where the slip or the margin is not to be had within the limit, the ways are told in their
order, each with the figures of this job.  An oven above the limit is never one of them.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import rest_of, same_as
from sleevewright.core.heat.ahead import fin_ahead, fin_lead
from sleevewright.core.heat.lump import lump_time_constant, surface_of_mass
from sleevewright.core.heat.shortfall import never_arrives
from sleevewright.core.heat.soak import soak_time, timing_error
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.jobs.heat_limits import LIMITS
from sleevewright.jobs.model import Entry, Part
from sleevewright.planning import heat_lines as line
from sleevewright.planning.answers import Kind, Plan, StageAnswers
from sleevewright.planning.beside import beside, from_plan, ledger_of
from sleevewright.planning.facts import enter_default, enter_metal, given
from sleevewright.planning.heat_ways import enter_ways
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line

_ROUNDING = 1e-6  # of a margin that is the wanted one but for floats [K]
_FROM_PLAN = (
    ("sleeve.od", "sleeve's outside"),
    ("fit.as_cut", "the fit"),
    ("heat.limit", "what the casting may see"),
    ("heat.room", "the room"),
    ("heat.sleeve", "the sleeve at the drop"),
    ("heat.gauged_slip", "the slip wanted"),
    ("heat.casting", "the casting's heat"),
    ("heat.drop_at", "the casting at the drop"),
    ("heat.oven", "the oven's dial"),
    ("heat.margin", "the margin wanted"),
    ("heat.time_constant", "the oven's time constant"),
    ("heat.slip_at_limit", "slip at the limit"),
    ("casting.mass", "mass of the casting"),
    ("casting.capacity", "heat that the casting holds"),
    ("casting.conductivity", "conductivity of the casting"),
)


@dataclass(frozen=True)
class HeatTold:
    """What was told of the oven and of what is on the casting."""

    casting: Part
    sleeve: Part
    kind: str = ""
    has: tuple[str, ...] = ()
    oven: Entry | None = None


def heat_plan(plan: Plan, told: HeatTold) -> StageAnswers:
    """Margin, time by the kind of oven, the least limit, and the ways where it falls short."""
    ledger = ledger_of(plan)
    enter_metal(ledger, "casting", told.casting, fallback="unknown-aluminium", name="casting")
    enter_metal(ledger, "sleeve", told.sleeve, fallback="grey-iron", name="sleeve")
    for name, need in _FROM_PLAN:
        from_plan(ledger, plan, name, need=need)
    _enter_margin(ledger)
    _enter_kind(ledger, told.kind)
    _enter_fins(ledger)
    _enter_limits(ledger, told.has)
    _enter_set(ledger, told.oven)
    enter_ways(ledger, plan)
    return beside(plan, "heat", "Heat", ledger.result())


def _enter_margin(ledger: Ledger) -> None:
    """Enter the margin that is left, what it makes of the time, and the chance of never."""
    enter_default(ledger, line.OVEN_DOUBT, None, "oven_doubt")
    wanted = ledger.default("oven_margin").value
    remedy = "chill the sleeve or take less slip; else go by measured growth only"
    judge = against_limit(wanted - _ROUNDING, "least", remedy=remedy, guard=0.0)
    how = How(judge=judge, is_sampled=False)
    ledger.compute(line.MARGIN_GOT, rest_of, how, whole="heat.oven", part="heat.drop_at")
    margin = ledger.value(line.MARGIN_GOT.id)
    if margin is None:
        return
    doubt = line.OVEN_DOUBT.id
    ledger.compute(line.NEVER, never_arrives, CENTRALLY, margin=line.MARGIN_GOT.id,
                   oven_doubt=doubt)  # fmt: skip
    if margin > 0.0:
        ledger.compute(
            line.TIME_ERROR, timing_error, CENTRALLY, target="heat.drop_at", start="heat.room",
            oven="heat.oven", time_constant="heat.time_constant", oven_error=doubt,
        )  # fmt: skip


def _enter_kind(ledger: Ledger, kind: str) -> None:
    """Enter the time by mass and kind of oven, and the warnings of that kind."""
    if kind in line.OF_KIND:
        _warn(ledger, f"heated-by:{kind}", line.OF_KIND[kind])
    if kind and kind not in line.KINDS:
        return  # it heats one side: no time can be told
    usual = ledger.default(line.KINDS[kind or "fan oven"])
    told = Given(usual.value, Kind.ASSUMED, usual.source, usual.note, usual.doubt,
                 shape=Shape(usual.spread))  # fmt: skip
    ledger.fact(line.COEFFICIENT, told)
    ledger.compute(line.SURFACE, surface_of_mass, mass="casting.mass")
    ledger.compute(line.KIND_TAU, lump_time_constant, heat_capacity="casting.capacity",
                   coefficient=line.COEFFICIENT.id, area=line.SURFACE.id)  # fmt: skip
    margin = ledger.value(line.MARGIN_GOT.id)
    if margin is not None and margin > 0.0:
        ledger.compute(
            line.KIND_SOAK, soak_time, target="heat.drop_at", start="heat.room",
            oven="heat.oven", time_constant=line.KIND_TAU.id,
        )  # fmt: skip


def _enter_fins(ledger: Ledger) -> None:
    """Enter how much hotter fins and thin webs are than the bore."""
    if not ledger.has(line.COEFFICIENT.id):
        return
    enter_default(ledger, line.FIN_WIDTH, None, "fin_thickness")
    enter_default(ledger, line.FIN_LENGTH, None, "fin_length")
    ledger.compute(
        line.FIN_LEAD, fin_lead, CENTRALLY, coefficient=line.COEFFICIENT.id,
        conductivity="casting.conductivity", thickness=line.FIN_WIDTH.id,
        length=line.FIN_LENGTH.id,
    )  # fmt: skip
    whole = Line("heat.from_room", "oven above the room",
                 line.Q.TEMPERATURE_DIFFERENCE, is_detail=True)  # fmt: skip
    ledger.compute(whole, rest_of, CENTRALLY, whole="heat.oven", part="heat.room")
    for result, difference in ((line.FIN_AHEAD, whole.id), (line.FIN_LATE, line.MARGIN_GOT.id)):
        ledger.compute(result, fin_ahead, CENTRALLY, difference=difference, share=line.FIN_LEAD.id)


def _enter_limits(ledger: Ledger, has: tuple[str, ...]) -> None:
    """Enter the least limit of what is on the casting, with its name, and hold the plan to it."""
    rows = [(ledger.default(LIMITS[one][1]), LIMITS[one][0]) for one in has]
    if not rows:
        return
    least, name = min(rows, key=lambda row: row[0].value)
    limit = ledger.value("heat.limit")
    ledger.fact(line.LEAST_LIMIT, Given(least.value, Kind.ASSUMED, least.source, least.note))
    ledger.fact(line.LEAST_NAME, Given(name, Kind.TYPED, "the job"))
    remedy = f"take {name} off, chill the sleeve, or give this as the casting's limit"
    ledger.compute(
        line.RULED, same_as, How(judge=against_limit(least.value, "most", remedy=remedy)),
        temperature="heat.casting",
    )  # fmt: skip
    if limit is not None and limit > least.value + 0.5:
        _warn(
            ledger,
            "limit-of-fitting",
            f"The casting's limit was told higher than {name} usually stands ({least.stated}): "
            f"the oven above is set by the one that was told. Take {name} off, or tell the lower.",
        )


def _enter_set(ledger: Ledger, told: Entry | None) -> None:
    """Enter the dial as it was told, and refuse one above the limit as a plan."""
    limit = ledger.value("heat.limit")
    if told is None or limit is None:
        return
    limit = min(limit, ledger.value(line.LEAST_LIMIT.id) or limit)
    ledger.fact(line.SET_TOLD, given(told, need="the oven's dial"))
    remedy = "set it at the limit or below; a hot oven is no way to hurry"
    ledger.compute(
        line.SET_IS, same_as, How(judge=against_limit(limit, "most", remedy=remedy, guard=0.0)),
        temperature=line.SET_TOLD.id,
    )  # fmt: skip
    if told.value > limit:
        _warn(
            ledger,
            "oven-above-limit",
            "The oven is set above what the casting may see: this is no plan. Only the watch of "
            "whoever stands there is then between the part and damage. Who insists writes name "
            "and reason into the job, puts the thermocouple on the hottest thin spot, and sets its "
            "alarm 10 K (18 °F) below the limit.",
        )


def _warn(ledger: Ledger, code: str, text: str) -> None:
    """Give a caution that stands on the page of the stage as well."""
    ledger.caution(code, text, "practice")
    ledger.advise(text)
