"""Plans made by hand, so that sheets and pages can be tested without planning anything."""

from dataclasses import replace

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


def said(
    identity: str, label: str, value: float | None, quantity: Quantity, **more: object
) -> Answer:
    """An answer, computed unless it says otherwise, with ``half`` as its 95 % half-width."""
    half = more.pop("half", None)
    if isinstance(half, float) and value is not None:
        more["doubt"] = Doubt(half / 2, value - half, value + half, 0.95, "linear")
    answer = Answer(identity, label, value, quantity, Kind.COMPUTED)
    return replace(answer, **more)  # type: ignore[arg-type]


def inch_plan(**changes: object) -> Plan:
    """A whole ticket's worth of answers, invented, in inches."""
    close = Judgement(Verdict.TOO_CLOSE, 0.6 * THOU, "least", "test", "gauge again")
    good = Judgement(Verdict.GOOD, fahrenheit(446), "most", "test")
    chosen, assumed = {"kind": Kind.CHOSEN}, {"kind": Kind.ASSUMED}
    size, small, hot = Quantity.SIZE, Quantity.DEVIATION, Quantity.TEMPERATURE
    stages = (
        StageAnswers(
            "fit",
            "Fit",
            (
                said("fit.cold", "How tight, cold", 3.2 * THOU, small, sense="diametral", **chosen),
                said(
                    "fit.running",
                    "How tight, running",
                    0.9 * THOU,
                    small,
                    sense="diametral",
                    half=0.6 * THOU,
                    judgement=close,
                ),
                said("fit.grip", "Lets go at", fahrenheit(289), hot, half=16.0),
                said("fit.close_up", "Bore closes up", 2.1 * THOU, small, half=0.4 * THOU),
            ),
        ),
        StageAnswers(
            "parent",
            "Parent bore",
            (
                said("bore.target", "Parent bore", 2.4768 * INCH, size, sense="diametral"),
                said("bore.target_low", "Parent bore, least", 2.4765 * INCH, size),
                said("bore.target_high", "Parent bore, most", 2.4771 * INCH, size),
            ),
            hazards=(SPINDLE, DEFER),
        ),
        StageAnswers(
            "counterbore",
            "Counterbore",
            (
                said("counterbore.diameter", "Counterbore, wide", 2.6370 * INCH, size),
                said("counterbore.diameter_low", "least", 2.6365 * INCH, size),
                said("counterbore.diameter_high", "most", 2.6375 * INCH, size),
                said("counterbore.depth", "Counterbore, deep", 0.1160 * INCH, size),
                said("counterbore.depth_low", "least", 0.1155 * INCH, size),
                said("counterbore.depth_high", "most", 0.1165 * INCH, size),
            ),
            hazards=(SPINDLE, DEFER),
        ),
        StageAnswers(
            "heat",
            "Heat",
            (
                said("heat.oven", "Oven", fahrenheit(413), hot),
                said("heat.limit", "Casting limit", fahrenheit(446), hot, **assumed),
                said("heat.slip", "Slip needed", 5.4 * THOU, small, **chosen),
                said("heat.needle", "Needle at go", 5.6 * THOU, small),
                said("heat.casting", "Casting", fahrenheit(350), hot, judgement=good),
                said("heat.slip_at_limit", "Slip at the limit", 8.6 * THOU, small),
            ),
            hazards=(HOT, DEFER),
        ),
        StageAnswers(
            "drop",
            "Drop",
            (said("drop.line_up", "Before it grabs", 4.1, Quantity.TIME, cautions=(PRIOR,)),),
            hazards=(HOT, DEFER),
        ),
        StageAnswers(
            "cool",
            "Cool and prove",
            (said("cool.lift", "Flange could lift", 4.1 * THOU, small, half=0.9 * THOU),),
            hazards=(HOT, DEFER),
        ),
        StageAnswers(
            "piston",
            "Bore to piston",
            (said("finish.stock", "Stock for the hone", 2.5 * THOU, small, **chosen),),
        ),
        StageAnswers(
            "ports",
            "Ports",
            (said("ports.exhaust.per_thou", "Exhaust lasts longer", 0.62, Quantity.SWELL),),
        ),
    )
    plan = Plan(
        "D-175",
        "Tarnholt T175, barrel for re-sleeving",
        "inch",
        True,
        "Bore the parent",
        SEVEN,
        ORDERS,
        stages,
        code_version="0.1.0",
    )
    return replace(plan, _index={}, **changes)  # type: ignore[arg-type]


def with_answer(plan: Plan, identity: str, **changes: object) -> Plan:
    """The plan with one answer changed."""
    stages = tuple(
        replace(
            stage,
            answers=tuple(
                replace(answer, **changes) if answer.id == identity else answer  # type: ignore[arg-type]
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
