"""Stage Bore to piston: this piston at 20 degC, what the bore is to be, and what sources say.

The plan answers the finished bore for the piston as it was keyed; here its temperature and
its height are counted in, limits are put on the sizes and the chosen clearance is set
beside what sources say of such a piston.  Diametral.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from sleevewright.core.allowances import lower_allowance, rest_of, size_limit
from sleevewright.core.engine.skirt import skirt_at_reference, skirt_warmth
from sleevewright.core.fits.targets import bored_size, finished_bore
from sleevewright.jobs.model import Engine, Entry, Part
from sleevewright.jobs.pistonreading import growth_named, piston_kind
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, ledger_of, told_size
from sleevewright.planning.engine_rules import (
    CLEARANCES,
    Setting,
    cooling_of,
    fitting,
    place_words,
    strokes_of,
)
from sleevewright.planning.facts import enter_default, enter_metal
from sleevewright.planning.fit_advice import figure
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.proofing import Frame, Gauged, enter_bore, within
from sleevewright.planning.sizes import Feature

Q = Quantity
READ = Line("piston.as_read", "Piston as read", Q.SIZE, "diametral", is_detail=True)
AT = Line("piston.at", "Piston and micrometer at", Q.TEMPERATURE, of="while it was gauged")
SIZE = Line(
    "piston.at_20",
    "Piston at 20 °C",
    Q.SIZE,
    "diametral",
    of="micrometer as warm as the piston",
    would_change="lay piston, micrometer and cylinder side by side overnight",
)
WORTH = Line(
    "piston.apart_worth",
    "A piston 5.6 K warmer than the bore is larger by",
    Q.DEVIATION,
    "diametral",
    of="aluminium on its own",
)
WORTH_INCH = replace(WORTH, label="A piston 10 °F warmer than the bore is larger by")
FINISH = Line(
    "piston.finish", "Finished bore for this piston", Q.SIZE, "diametral", of="both at 20 °C"
)
FINISH_MOST = Line("piston.finish_most", "Finished bore, at most", Q.SIZE, "diametral")
BORED = Line(
    "piston.bore_to", "Bore out to, then hone", Q.SIZE, "diametral", of="this piston at 20 °C"
)
BORED_LEAST = Line("piston.bored_least", "Bored size, at least", Q.SIZE, "diametral")
BORED_MOST = Line("piston.bored_most", "Bored size, at most", Q.SIZE, "diametral")
AS_BORED = Feature("piston.as_bored", "As bored", "finished", of="at 20 °C", is_bore=True)
OFF = Line(
    "piston.bored_off",
    "Bored off what was wanted",
    Q.DEVIATION,
    "diametral",
    of="positive is larger",
)
LEFT = Line("piston.stock_left", "Left for the hone, as bored", Q.DEVIATION, "diametral")
BARREL = Line(
    "piston.height_cost",
    "Gauged at another height it may read small by",
    Q.DEVIATION,
    "diametral",
    of="0.5 to 2 thou; the bore would come out as much too small",
    would_change="tell at what height its maker measures it",
)
FINISH_OVER, BORED_WITHIN = "piston.finish_over", "piston.bored_within"
WHERE = (
    "Measure the skirt at its maker's height and square to the pin: skirts are barrelled. "
    "Manuals give 5, 7, 11, 25 or 33 mm from the crown or from the skirt's end; it varies."
)
BOTH_COLD = "Piston, micrometer and cylinder within 3 °F (1.5 K) of one another before either."
PLATE = (
    "A four-stroke or a thin deck: bore, hone and gauge with a torque plate on, gasket and "
    "bolts as in use. What the head pulls out of round is then cut away."
)


@dataclass(frozen=True)
class PistonTold:
    """What was told of the piston, and the bore as bored."""

    diameter: Entry | None = None
    height: Entry | None = None
    temperature: float | None = None
    kind: str = ""
    plate: str = ""
    bored: Gauged = field(default_factory=Gauged)


def piston_stage(plan: Plan, engine: Engine, told: PistonTold) -> StageAnswers:
    """The piston at 20 degC, sizes with their limits, and what sources say of the clearance."""
    ledger = ledger_of(plan)
    _enter_piston(ledger, told, plan.units)
    from_plan(ledger, plan, "piston.clearance", need="clearance that is wanted")
    from_plan(ledger, plan, "finish.hone_stock", need="what is left for the hone")
    _enter_sizes(ledger)
    _enter_as_bored(ledger, plan, told)
    _enter_sources(ledger, plan, engine, told)
    _watch_larger(ledger, plan, engine)
    _advise(ledger, engine, told)
    return beside(plan, "piston", "Bore to piston", ledger.result())


def enter_growth(ledger: Ledger, kind: str) -> None:
    """Enter how the piston's metal grows: as its kind does; a cast one where nothing is told."""
    words = f"growth of the piston's metal, {kind}" if kind else "growth of the piston's metal"
    of = "" if kind else "taken as cast: tell its kind"
    enter_default(
        ledger, Line("piston.growth", words, Q.EXPANSION, of=of), None, growth_named(kind)
    )


def _enter_piston(ledger: Ledger, told: PistonTold, units: str) -> None:
    """Enter the piston as read, and what it is at 20 degC."""
    setting = ledger.default("micrometer_setting").value
    need = "the piston measured: no finish bore without it"
    ledger.fact(READ, told_size(told.diameter, doubt=setting, need=need))
    if told.temperature is None:
        enter_default(ledger, AT, None, "room_temperature")
    else:
        doubt = ledger.default("probe_temperature").doubt
        at = Given(told.temperature, Kind.MEASURED, "the job", standard=doubt)
        ledger.fact(AT, at)
    enter_growth(ledger, piston_kind(told.kind))
    enter_default(
        ledger,
        Line("gauge.expansion", "growth of the micrometer", Q.EXPANSION, is_detail=True),
        None,
        "gauge_expansion",
    )
    ledger.compute(
        SIZE,
        skirt_at_reference,
        piston_diameter=READ.id,
        piston_temperature=AT.id,
        piston_growth="piston.growth",
        gauge_expansion="gauge.expansion",
    )
    apart = ledger.default("warm_part")
    line = Line("piston.apart", "warmer by", Q.TEMPERATURE_DIFFERENCE, is_detail=True)
    enter_default(ledger, line, None, apart.name)
    ledger.compute(
        WORTH_INCH if units == "inch" else WORTH,
        skirt_warmth,
        piston_diameter=READ.id,
        piston_growth="piston.growth",
        difference=line.id,
    )
    if told.height is None:
        enter_default(ledger, BARREL, None, "skirt_barrel")


def _enter_sizes(ledger: Ledger) -> None:
    """Enter finished and bored size with their limits."""
    ledger.compute(FINISH, finished_bore, piston_diameter=SIZE.id, clearance="piston.clearance")
    for name, words, key in (
        (FINISH_OVER, "clearance may be over by", "clearance_over"),
        (BORED_WITHIN, "bored size may be off by", "bored_within"),
    ):
        line = Line(name, words, Q.DEVIATION, "diametral", is_detail=True)
        enter_default(ledger, line, None, key)
    ledger.compute(FINISH_MOST, size_limit, CENTRALLY, size=FINISH.id, allowance=FINISH_OVER)
    ledger.compute(BORED, bored_size, finished_bore=FINISH.id, hone_stock="finish.hone_stock")
    under = Line("piston.bored_under", "less", Q.DEVIATION, "diametral", is_detail=True)
    ledger.compute(under, lower_allowance, allowance=BORED_WITHIN)
    ledger.compute(BORED_LEAST, size_limit, CENTRALLY, size=BORED.id, allowance=under.id)
    ledger.compute(BORED_MOST, size_limit, CENTRALLY, size=BORED.id, allowance=BORED_WITHIN)


def _enter_as_bored(ledger: Ledger, plan: Plan, told: PistonTold) -> None:
    """Enter the bore as bored: off its size, and what it leaves for the hone."""
    if told.bored.grid is None:
        return
    enter_metal(ledger, "finished", Part("grey-iron"), fallback="grey-iron", name="sleeve")
    enter_bore(ledger, AS_BORED, told.bored, Frame(plan, plan.chosen), need="the bore as bored")
    remedy = "larger: less for the hone to clean up; smaller: one more pass before the hone"
    judge = within(ledger, "bored_within", remedy)
    ledger.compute(OFF, rest_of, How(judge=judge), whole=AS_BORED.id, part=BORED.id)
    ledger.compute(LEFT, rest_of, whole=FINISH.id, part=AS_BORED.id)
    left = ledger.value(LEFT.id)
    if left is not None and left <= 0.0:
        text = (
            "The bore as bored is at the finished size or past it: nothing is left for the hone. "
            "A larger piston, or the next sleeve; a hone takes nothing back."
        )
        ledger.caution("bored-past-finish:piston.", text, "derived")


def _enter_sources(ledger: Ledger, plan: Plan, engine: Engine, told: PistonTold) -> None:
    """Enter what sources say of the clearance of such a piston, and where the chosen one lies."""
    bore = ledger.value(READ.id) or (None if engine.bore is None else engine.bore.value)
    if bore is None:
        return
    cooling, kind = cooling_of(engine.cooling), piston_kind(told.kind)
    asked = Setting(bore, strokes_of(engine.kind), kind, cooling)
    found = fitting(CLEARANCES, asked)
    for one in found:
        line = Line(f"piston.says.{one.id}", one.kind_words, Q.TEXT, of=one.note)
        words = one.said(bore, system=plan.units)
        ledger.fact(line, Given(words, Kind.COMPUTED, source=one.source, typed=one.stated))
    chosen = ledger.value("piston.clearance")
    if chosen is None:
        return
    words = f"{figure(chosen, system=plan.units)}; {place_words(found, chosen, bore)}"
    of = "followed by none: the piston's own sheet goes before all of them"
    line = Line("piston.place", "Clearance among the sources", Q.TEXT, of=of)
    ledger.fact(line, Given(words, Kind.COMPUTED, source="derived"))


def _watch_larger(ledger: Ledger, plan: Plan, engine: Engine) -> None:
    """Say where the piston is larger than the bore as honed, or than the engine's bore."""
    size = ledger.value(SIZE.id)
    if size is None:
        return
    honed = next((one.value for one in plan.answers() if one.id == "finish.as_gauged"), None)
    if isinstance(honed, float) and honed <= size:
        text = (
            "The finished bore is no larger than the piston: it does not go in, or seizes at once. "
            "Hone on to the clearance; is it this piston, and are both at one temperature?"
        )
        ledger.caution("piston-larger-than-bore:piston.", text, "derived")
    nominal = None if engine.bore is None else engine.bore.value
    if nominal is not None and size > nominal:
        text = (
            "The piston is larger than the engine's bore as told: an oversize piston, or one of "
            "both is misread. The bore follows the piston; timing and compression then change."
        )
        ledger.caution("piston-larger-than-told:piston.", text, "derived")


def _advise(ledger: Ledger, engine: Engine, told: PistonTold) -> None:
    """What is to be done before the bore is cut to the piston."""
    if told.height is None:
        ledger.advise(WHERE)
    ledger.advise(BOTH_COLD)
    if not piston_kind(told.kind):
        ledger.advise("Tell whether the piston is cast or forged: a forged one wants more.")
    if engine.kind == "four-stroke" and not told.plate:
        ledger.advise(PLATE)
