"""Four-corner risk: what a cold start leaves of the piston's clearance, as relative figures.

A piston warms in seconds, sleeve and casting in minutes.  What the figures rest on are
assumptions with wide doubts, so that no clearance hot is promised: one way is set beside
another.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sleevewright.core.allowances import rest_of, sum_of
from sleevewright.core.engine.skirt import looseness_of
from sleevewright.core.engine.warmclearance import (
    grown,
    least_left,
    least_of_warm,
    least_when,
    sleeved_bore_growth,
    warm_left,
)
from sleevewright.core.engine.warmup import TwoBodies, bodies_by_times, share_of_rise, warming_time
from sleevewright.core.expansion import REFERENCE_TEMPERATURE, mean_expansion
from sleevewright.jobs.pistonreading import growth_named, piston_kind
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, known_in
from sleevewright.planning.engine_rules import cooling_of
from sleevewright.planning.facts import enter_default
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.piston import enter_growth

Q = Quantity
FIT = ("fit.close_up", "fit.as_cut")
DRAWS = 1000  # enough for doubts as wide as these
SMALL = 0.05  # a share below this is told as none
RELATIVE = "relative: one way beside another, no promise of a clearance"
WALL = Line(
    "warm.wall_share",
    "Warmth of the wall about the skirt",
    Q.RATIO,
    of="of the sleeve's; below the hot belt; assumed, wide",
)
BODIES = Line("warm.bodies", "Piston and cylinder", Q.RECORD, is_detail=True)
BORE_GROWTH = Line("warm.bore_growth", "growth of the bore by kelvin", Q.EXPANSION, is_detail=True)
LOOSE = Line("warm.looseness", "cold clearance by the bore", Q.RATIO, is_detail=True)
STRAIN = Line("warm.strain", "growth of the bore when warm", Q.RATIO, is_detail=True)
LEAST = Line("warm.least", "Least left from cold to warm, of the cold clearance", Q.RATIO,
             of=RELATIVE)  # fmt: skip
LEFT = Line("warm.left", "Left when warm, of the cold clearance", Q.RATIO, of=RELATIVE)
SHARE = Line("warm.least_of_warm", "Least while warming, of that when warm", Q.RATIO, of=RELATIVE)
WHEN = Line("warm.when", "Tightest after", Q.TIME, of="from a cold start")
MINUTES = Line(
    "warm.minutes",
    "Warm it up for",
    Q.TIME,
    of="gently, to 95 % of its warmth; for running in",
    would_change="a probe on the casting in this engine",
)
SAYS = Line("warm.says", "Beside other ways", Q.TEXT, of=RELATIVE)
LOUD = (
    "Relative figures, no promise: they rest on assumed temperatures and times. They say which "
    "of two ways is the tighter, not that a piston will run free. The piston's own sheet and "
    "its marks after a short run go before them."
)
CORNERS = (
    "A cold seizure marks four narrow places, evenly spaced, on the skirt beside the ends of the "
    "pin: the piston is stiffest there, and warms in seconds, sleeve and casting in minutes."
)
DIPS = "tightest while warming, not when warm: warm it up before it is pulled"
NO_DIP = "no dip while warming: it closes steadily and is tightest when warm"
NOTHING = (
    "by these assumptions nothing is left when warm: the temperatures do not suit this engine, "
    "or the clearance is too small"
)


Hot = Mapping[str, Mapping[str, float]]
"""Temperatures of sleeve and casting by the words of a way to run."""


@dataclass(frozen=True)
class _Way:
    """One way that is set beside the planned one."""

    words: str
    growth: float
    looseness: float
    bodies: TwoBodies
    bore_growth: float


def warming(plan: Plan, cooling: str, kind_told: str) -> StageAnswers:
    """What a cold start leaves of the clearance, and beside which other ways."""
    ledger = Ledger(count=DRAWS, seed=plan.seed, chosen=plan.chosen)
    kind = piston_kind(kind_told)
    enter_growth(ledger, kind)
    if not _is_warm(ledger, plan):
        return beside(plan, "piston", "Bore to piston", ledger.result())
    _enter_bodies(ledger, plan)
    _enter_growth_of_bore(ledger, plan)
    from_plan(ledger, plan, "finish.bore", need="the piston, or the finished bore")
    from_plan(ledger, plan, "piston.clearance", need="clearance that is wanted")
    if not _is_cleared(ledger):
        return beside(plan, "piston", "Bore to piston", ledger.result())
    ledger.compute(LOOSE, looseness_of, clearance="piston.clearance", bore="finish.bore")
    growths = {"piston_growth": "piston.growth", "bore_growth": BORE_GROWTH.id}
    both = {"bodies": BODIES.id, **growths}
    ledger.compute(LEAST, least_left, looseness=LOOSE.id, **both)
    ledger.compute(LEFT, warm_left, looseness=LOOSE.id, **both)
    if ledger.has(LEFT.id) and ledger.value(LEFT.id) > 0.0:
        ledger.compute(SHARE, least_of_warm, CENTRALLY, least=LEAST.id, warm=LEFT.id)
    if _dips(ledger):
        ledger.compute(WHEN, least_when, CENTRALLY, **both)
    ledger.compute(MINUTES, warming_time, bodies=BODIES.id)
    _enter_says(ledger, kind, _others(ledger, plan, cooling))
    ledger.advise(CORNERS)
    ledger.caution("warming-is-relative:warm.", LOUD, "derived")
    return beside(plan, "piston", "Bore to piston", ledger.result())


def _is_warm(ledger: Ledger, plan: Plan) -> bool:
    """Whether sleeve and casting run warmer than the cold start, with all that is in doubt."""
    for part in ("sleeve", "casting"):
        name = f"running.running_{part}"
        from_plan(ledger, plan, name, need=f"{part} in ordinary running")
        if ledger.has(name) and np.min(ledger.samples(name)) <= REFERENCE_TEMPERATURE:
            text = (
                f"The {part} as told may run no warmer than 20 °C (68 °F): what warming up leaves "
                "is not reckoned. Tell its temperature in ordinary running at stage Fit."
            )
            ledger.caution("not-warm:piston.", text, "derived")
            return False
    return True


def _is_cleared(ledger: Ledger) -> bool:
    """Whether there is a cold clearance to take a share of; none is said, not reckoned with."""
    clearance = ledger.value("piston.clearance")
    if clearance is None or np.min(ledger.samples("piston.clearance")) > 0.0:
        return True
    text = (
        "No clearance is wanted, or less than is known of it: no share of it can be told. Tell the "
        "one of the piston's sheet."
    )
    ledger.caution("no-clearance:piston.", text, "derived")
    return False


def enter_strain(ledger: Ledger, plan: Plan) -> bool:
    """Enter how far the bore has grown when warm, and the ring's warmth; whether it is known."""
    for name in (BORE_GROWTH.id, "warm.sleeve_rise", "running.running_sleeve"):
        from_plan(ledger, plan, name, need="temperatures in ordinary running")
    ledger.compute(STRAIN, grown, growth=BORE_GROWTH.id, rise="warm.sleeve_rise")
    for name, key, words, quantity in (
        ("rings.growth", "ring_growth", "growth of the ring's metal", Q.EXPANSION),
        ("rings.over", "ring_over_sleeve", "Ring over the sleeve", Q.TEMPERATURE_DIFFERENCE),
    ):
        enter_default(ledger, Line(name, words, quantity, of="assumed"), None, key)
    line = Line("rings.temperature", "Ring, running", Q.TEMPERATURE, is_detail=True)
    ledger.compute(line, sum_of, wanted="running.running_sleeve", allowance="rings.over")
    return ledger.has(STRAIN.id)


def _enter_rises(ledger: Ledger, plan: Plan) -> None:
    """Enter how far the wall about the skirt warms, sleeve and casting."""
    start = Line("warm.start", "cold start at", Q.TEMPERATURE, is_detail=True)
    ledger.fact(start, Given(REFERENCE_TEMPERATURE, Kind.ASSUMED, source="practice"))
    enter_default(ledger, WALL, None, "skirt_wall_share")
    for part in ("sleeve", "casting"):
        from_plan(ledger, plan, f"running.running_{part}", need=f"{part} in ordinary running")
        hot = Line(f"warm.{part}_hot", f"{part}, running", Q.TEMPERATURE_DIFFERENCE, is_detail=True)
        ledger.compute(hot, rest_of, whole=f"running.running_{part}", part=start.id)
        words = f"{part} about the skirt warms by"
        line = Line(f"warm.{part}_rise", words, Q.TEMPERATURE_DIFFERENCE, is_detail=True)
        ledger.compute(line, share_of_rise, rise=hot.id, share=WALL.id)


def _enter_bodies(ledger: Ledger, plan: Plan) -> None:
    """Enter temperatures, times and shares, and the two lumps that they make."""
    _enter_rises(ledger, plan)
    for name, key, words, quantity in (
        ("warm.over", "skirt_over_sleeve", "Skirt over the sleeve", Q.TEMPERATURE_DIFFERENCE),
        ("warm.piston_time", "piston_warm_time", "Piston warms in", Q.TIME),
        ("warm.cylinder_time", "cylinder_warm_time", "Cylinder warms in", Q.TIME),
        ("warm.share", "piston_heat_share", "Heat that comes by the piston", Q.RATIO),
        ("warm.to_wall", "piston_to_wall", "Piston's heat to the wall", Q.RATIO),
    ):
        enter_default(ledger, Line(name, words, quantity, of="assumed, wide"), None, key)
    rise = Line("warm.piston_rise", "skirt warms by", Q.TEMPERATURE_DIFFERENCE, is_detail=True)
    ledger.compute(rise, sum_of, wanted="warm.sleeve_rise", allowance="warm.over")
    ledger.compute(
        BODIES,
        bodies_by_times,
        piston_time="warm.piston_time",
        cylinder_time="warm.cylinder_time",
        share="warm.share",
        to_wall="warm.to_wall",
        piston_rise=rise.id,
        cylinder_rise="warm.sleeve_rise",
    )


def _enter_growth_of_bore(ledger: Ledger, plan: Plan) -> None:
    """Enter how the bore grows: sleeve's metal, and what the casting lets go of the close-up."""
    closed, fit, diameter = (_known(plan, one) for one in (*FIT, "sleeve.od"))
    share = by_diameter = 0.0
    if min(closed, fit, diameter) > 0.0:
        share, by_diameter = min(closed / fit, 1.0), closed / diameter
    for part in ("sleeve", "casting"):
        _enter_mean(ledger, plan, part)
    for name, words, value in (
        ("warm.close_share", "close-up by the fit", share),
        ("warm.closed", "close-up by the diameter", by_diameter),
    ):
        ledger.fact(Line(name, words, Q.RATIO, is_detail=True), Given(value, Kind.COMPUTED))
    if not share:
        ledger.advise("Without the fit the bore is taken to grow as a free sleeve: the tight side.")
    ledger.compute(
        BORE_GROWTH,
        sleeved_bore_growth,
        sleeve_expansion="warm.sleeve_mean",
        casting_expansion="warm.casting_mean",
        sleeve_rise="warm.sleeve_rise",
        casting_rise="warm.casting_rise",
        share="warm.close_share",
        closed="warm.closed",
    )


def _enter_mean(ledger: Ledger, plan: Plan, part: str) -> None:
    """Enter how a metal grows on the mean from cold to its warmth about the skirt."""
    known = known_in(plan, f"{part}.law")
    law = None if known is None else known.value
    line = Line(f"{part}.law", f"growth of the {part}'s metal", Q.RECORD, is_detail=True)
    ledger.fact(line, Given(law, Kind.COMPUTED, "the plan", need=f"metal of the {part}"))
    warm = Line(f"warm.{part}_at", f"{part} about the skirt, warm", Q.TEMPERATURE, is_detail=True)
    ledger.compute(warm, sum_of, wanted="warm.start", allowance=f"warm.{part}_rise")
    words = f"growth of the {part}'s metal, mean from cold to warm"
    mean = Line(f"warm.{part}_mean", words, Q.EXPANSION, is_detail=True)
    ledger.compute(mean, mean_expansion, law=f"{part}.law", temperature=warm.id)


def _dips(ledger: Ledger) -> bool:
    """Whether it is tighter on the way than when warm, by more than a hundredth of the cold."""
    if not ledger.has(LEFT.id):
        return False
    return bool(ledger.value(LEAST.id) < ledger.value(LEFT.id) - 0.01)


def _known(plan: Plan, identity: str) -> float:
    """An answer of the plan as a number; nought where it is not known."""
    found = next((one.value for one in plan.answers() if one.id == identity), None)
    return found if isinstance(found, float) else 0.0


def _enter_says(ledger: Ledger, kind: str, others: Hot) -> None:
    """Enter the sentence that sets the planned way beside others."""
    if not ledger.has(LEFT.id):
        return
    left = float(ledger.value(LEFT.id))
    first, told = NOTHING if left <= 0.0 else DIPS if _dips(ledger) else NO_DIP, []
    for way in _ways(ledger, kind, others):
        growths = {"piston_growth": way.growth, "bore_growth": way.bore_growth}
        found = float(least_left(way.bodies, looseness=way.looseness, **growths))
        told.append(f"{way.words} {_of_cold(found)}")
    words = f"{first}. Least left of the cold clearance: {'; '.join(told)}"
    ledger.fact(SAYS, Given(words, Kind.COMPUTED, source="derived"))


def _ways(ledger: Ledger, kind: str, others: Hot) -> tuple[_Way, ...]:
    """As planned, the other kind of piston, the shop's usual clearance, at other warmths."""
    loose, grows = float(ledger.value(LOOSE.id)), float(ledger.value("piston.growth"))
    here = (ledger.value(BODIES.id), float(ledger.value(BORE_GROWTH.id)))
    other = "cast" if kind == "forged" else "forged"
    usual = ledger.default("piston_clearance")
    by_bore = usual.value / float(ledger.value("finish.bore"))
    return (
        _Way(f"as planned, {kind or 'cast'}", grows, loose, *here),
        _Way(
            f"{other} in the same clearance",
            ledger.default(growth_named(other)).value,
            loose,
            *here,
        ),
        _Way(f"with the usual {usual.stated}", grows, by_bore, *here),
        *(_Way(words, grows, loose, *_warmed(ledger, hot)) for words, hot in others.items()),
    )


def _others(ledger: Ledger, plan: Plan, cooling: str) -> Hot:
    """Sleeve and casting pulled hard, and in ordinary running with the other cooling."""
    other = "air" if cooling_of(cooling) == "water" else "water"
    parts = ("sleeve", "casting")
    usual = {one: ledger.default(f"running_{one}_{other}").value for one in parts}
    hard = {one: _known(plan, f"running.hard_{one}") for one in parts}
    found = {f"{other}-cooled, the same piston": usual}
    return {"pulled hard": hard, **found} if min(hard.values()) > REFERENCE_TEMPERATURE else found


def _warmed(ledger: Ledger, hot: Mapping[str, float]) -> tuple[TwoBodies, float]:
    """Both bodies and the growth of the bore where sleeve and casting are as hot as told."""
    rises = {
        one: float(share_of_rise(rise=heat - REFERENCE_TEMPERATURE, share=ledger.value(WALL.id)))
        for one, heat in hot.items()
    }
    told = {
        one: float(ledger.value(f"warm.{one}"))
        for one in ("piston_time", "cylinder_time", "share", "to_wall")
    }
    more = rises["sleeve"] / float(ledger.value("warm.sleeve_rise"))  # heat goes with the rise
    warmer = rises["sleeve"] + more * float(ledger.value("warm.over"))
    bodies = bodies_by_times(**told, piston_rise=warmer, cylinder_rise=rises["sleeve"])
    means = {
        f"{one}_expansion": mean_expansion(
            ledger.value(f"{one}.law"), temperature=REFERENCE_TEMPERATURE + rise
        )
        for one, rise in rises.items()
    }
    growth = sleeved_bore_growth(
        **means,
        sleeve_rise=rises["sleeve"],
        casting_rise=rises["casting"],
        share=ledger.value("warm.close_share"),
        closed=ledger.value("warm.closed"),
    )
    return bodies, float(growth)


def _of_cold(share: float) -> str:
    """A share of the cold clearance in words."""
    return f"{share:.1f}" if share >= SMALL else "none"
