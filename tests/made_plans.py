"""Plans made by hand, so that sheets and pages can be tested without planning anything."""

from dataclasses import replace
from typing import Any

from sleevewright.errors import Caution
from sleevewright.planning.answers import (
    Answer,
    Doubt,
    Judgement,
    Kind,
    Plan,
    Quantity,
    StageAnswers,
    Verdict,
)

INCH = 0.0254
THOU = 25.4e-6
SEVEN = (
    "fit.cold",
    "fit.running",
    "fit.grip",
    "drop.line_up",
    "fit.close_up",
    "cool.lift",
    "ports.exhaust.per_thou",
)
ORDERS = (
    "bore.target",
    "counterbore.diameter",
    "counterbore.depth",
    "heat.oven",
    "heat.slip",
    "finish.stock",
)
HOT = Caution("hot-metal", "A casting from the oven looks cold and burns.", "practice")
SPINDLE = Caution("spindle", "No gloves at a turning spindle.", "practice")
DEFER = Caution("defer", "Local codes go before this list.", "practice")
PRIOR = Caution("prior", "The seconds rest on judged priors.", "derived")


def fahrenheit(degrees: float) -> float:
    """Kelvin."""
    return (degrees - 32.0) / 1.8 + 273.15


def said(identity: str, label: str, value: float | None, quantity: Quantity, **more: Any) -> Answer:
    """An answer, computed unless it says otherwise, with ``half`` as its 95 % half-width."""
    half = more.pop("half", None)
    if half is not None and value is not None:
        more["doubt"] = Doubt(half / 2, value - half, value + half, 0.95, "linear")
    answer = Answer(identity, label, value, quantity, Kind.COMPUTED)
    return replace(answer, **more)


def size(identity: str, label: str, inches: float) -> Answer:
    """A diameter or a depth."""
    return said(identity, label, inches * INCH, Quantity.SIZE, sense="diametral")


def small(identity: str, label: str, thou: float, **more: Any) -> Answer:
    """A small difference."""
    return said(identity, label, thou * THOU, Quantity.DEVIATION, **more)


def hot(identity: str, label: str, degrees: float, **more: Any) -> Answer:
    """A temperature."""
    return said(identity, label, fahrenheit(degrees), Quantity.TEMPERATURE, **more)


def fit_stage() -> StageAnswers:
    """The fit, cold and running; the running one is too close to call."""
    close = Judgement(Verdict.TOO_CLOSE, 0.6 * THOU, "least", "test", "gauge again")
    half = 0.6 * THOU
    return StageAnswers(
        "fit",
        "Fit",
        (
            small("fit.cold", "How tight, cold", 3.2, sense="diametral", kind=Kind.CHOSEN),
            small("fit.running", "How tight, running", 0.9, half=half, judgement=close),
            hot("fit.grip", "Lets go at", 289, half=16.0),
            small("fit.close_up", "Bore closes up", 2.1, half=0.4 * THOU),
        ),
    )


def cut_stages() -> tuple[StageAnswers, ...]:
    """Parent bore and counterbore with their limits."""
    bore = (
        size("bore.target", "Parent bore", 2.4768),
        size("bore.target_low", "Parent bore, least", 2.4765),
        size("bore.target_high", "Parent bore, most", 2.4771),
    )
    seat = (
        size("counterbore.diameter", "Counterbore, wide", 2.6370),
        size("counterbore.diameter_low", "least", 2.6365),
        size("counterbore.diameter_high", "most", 2.6375),
        size("counterbore.depth", "Counterbore, deep", 0.1160),
        size("counterbore.depth_low", "least", 0.1155),
        size("counterbore.depth_high", "most", 0.1165),
    )
    return (
        StageAnswers("parent", "Parent bore", bore, hazards=(SPINDLE, DEFER)),
        StageAnswers("counterbore", "Counterbore", seat, hazards=(SPINDLE, DEFER)),
    )


def hot_stages() -> tuple[StageAnswers, ...]:
    """Oven, drop and cooling."""
    good = Judgement(Verdict.GOOD, fahrenheit(446), "most", "test")
    heat = (
        hot("heat.oven", "Oven", 413),
        hot("heat.limit", "Casting limit", 446, kind=Kind.ASSUMED),
        small("heat.slip", "Slip needed", 5.4, kind=Kind.CHOSEN),
        small("heat.needle", "Needle at go", 5.6),
        hot("heat.casting", "Casting", 350, judgement=good),
        small("heat.slip_at_limit", "Slip at the limit", 8.6),
    )
    drop = said("drop.line_up", "Before it grabs", 4.1, Quantity.TIME, cautions=(PRIOR,))
    lift = small("cool.lift", "Flange could lift", 4.1, half=0.9 * THOU)
    return (
        StageAnswers("heat", "Heat", heat, hazards=(HOT, DEFER)),
        StageAnswers("drop", "Drop", (drop,), hazards=(HOT, DEFER)),
        StageAnswers("cool", "Cool and prove", (lift,), hazards=(HOT, DEFER)),
    )


def last_stages() -> tuple[StageAnswers, ...]:
    """Bore to piston and ports."""
    stock = small("finish.stock", "Stock for the hone", 2.5, kind=Kind.CHOSEN)
    worth = said("ports.exhaust.per_thou", "Exhaust lasts longer", 0.62, Quantity.SWELL)
    return (
        StageAnswers("piston", "Bore to piston", (stock,)),
        StageAnswers("ports", "Ports", (worth,)),
    )


def inch_plan(**changes: Any) -> Plan:
    """A whole ticket's worth of answers, invented, in inches."""
    plan = Plan(
        "D-175",
        "Tarnholt T175, barrel for re-sleeving",
        "inch",
        True,
        "Bore the parent",
        SEVEN,
        ORDERS,
        (fit_stage(), *cut_stages(), *hot_stages(), *last_stages()),
        code_version="0.1.0",
    )
    return replace(plan, _index={}, **changes)


def with_answer(plan: Plan, identity: str, **changes: Any) -> Plan:
    """The plan with one answer changed."""
    stages = tuple(
        replace(
            stage,
            answers=tuple(
                replace(answer, **changes) if answer.id == identity else answer
                for answer in stage.answers
            ),
        )
        for stage in plan.stages
    )
    return replace(plan, stages=stages, _index={})


def with_hazards(plan: Plan, times: int) -> Plan:
    """The plan with cautions repeated until they fill the paper."""
    stages = tuple(
        replace(
            stage,
            hazards=tuple(
                Caution(f"{hazard.code}-{k}", f"{hazard.text} Number {k} of {stage.key}. " * 6)
                for hazard in stage.hazards
                for k in range(times)
            ),
        )
        for stage in plan.stages
    )
    return replace(plan, stages=stages, _index={})
