"""A plan made by hand for the pages: invented figures of one job, nothing computed.

It holds every sort of answer that a page must show: all five kinds, all three verdicts, a
text, a blank with what it wants, cautions, hazards, a chain of inputs to open.
"""

from __future__ import annotations

from sleevewright.errors import Caution
from sleevewright.planning.answers import (
    Answer,
    Basis,
    Contributor,
    Doubt,
    Judgement,
    Kind,
    Plan,
    Quantity,
    StageAnswers,
    Verdict,
)

THOU = 25.4e-6
INCH = 0.0254


def kelvin(fahrenheit: float) -> float:
    """A temperature of the sample in kelvin."""
    return (fahrenheit + 459.67) / 1.8


def doubt(value: float, half: float, *parts: tuple[str, str, float]) -> Doubt:
    """A sampled doubt with contributors as half-widths."""
    return Doubt(
        half / 1.96,
        value - half,
        value + half,
        0.95,
        "sampled",
        samples=100_000,
        contributors=tuple(Contributor(i, label, part / 1.96) for i, label, part in parts),
    )


def basis(name: str, expression: str, *inputs: str) -> Basis:
    """A relation between answers of the sample."""
    pairs = tuple((one.replace(".", "_"), one) for one in inputs)
    path = f"sleevewright.core.sample.{name.replace(' ', '_')}"
    return Basis(name, expression, path, pairs, ("lame-1852", "practice"), "elastic, thick rings")


def judged(verdict: Verdict, limit: float, side: str) -> Judgement:
    """A verdict with what would settle it."""
    remedy = "" if verdict is Verdict.GOOD else "gauge the bore again from a ring"
    return Judgement(verdict, limit, side, "guard band 1.645 u, one-sided 95 %", remedy)


Q = Quantity


def sleeve_stage() -> StageAnswers:
    """The sleeve in hand."""
    return StageAnswers(
        "sleeve",
        "Sleeve in hand",
        (
            Answer("sleeve.od", "sleeve OD", 3.0035 * INCH, Q.SIZE, Kind.MEASURED, "diametral",
                   "mean of 12, at 68 °F", doubt=doubt(3.0035 * INCH, 0.2 * THOU)),
            Answer("sleeve.id", "sleeve ID", 2.7 * INCH, Q.SIZE, Kind.TYPED, "diametral",
                   typed="2.700 in", source="the job"),
            Answer("sleeve.metal", "metal of the sleeve", "grey iron", Q.TEXT, Kind.TYPED),
            Answer("sleeve.od.taper", "taper of the sleeve", 0.1 * THOU, Q.DEVIATION,
                   Kind.COMPUTED, "diametral",
                   basis=basis("taper", "largest - smallest", "sleeve.od")),
        ),
    )  # fmt: skip


def fit_stage() -> StageAnswers:
    """The fit, cold to hot."""
    advice = ("Settle the hard pull before the bore is cut.",)
    return StageAnswers(
        "fit", "Fit", (*tightness(), *stresses(), *told_of_the_fit()), advice=advice
    )


def tightness() -> tuple[Answer, ...]:
    """How tight, cold, running and pulled hard, and where it lets go."""
    running = doubt(
        1.8 * THOU,
        0.6 * THOU,
        ("running.sleeve", "sleeve running", 0.40 * THOU),
        ("gauge.bore", "bore gauge", 0.30 * THOU),
        ("casting.growth_scale", "casting alloy", 0.19 * THOU),
    )
    growth = basis(
        "running fit",
        "cold fit - growth of casting + growth of sleeve",
        "fit.cold", "sleeve.od", "running.casting", "running.sleeve", "casting.expansion",
    )  # fmt: skip
    return (
        Answer("fit.cold", "How tight, cold", 3.5 * THOU, Q.DEVIATION, Kind.CHOSEN,
               "diametral", "as cut within ±0.5; both at 68 °F",
               doubt=doubt(3.5 * THOU, 0.5 * THOU), typed="3.5 thou", source="the job",
               judgement=judged(Verdict.GOOD, 1.0 * THOU, "least")),
        Answer("fit.running", "How tight, running", 1.8 * THOU, Q.DEVIATION, Kind.COMPUTED,
               "diametral", "casting 200 °F, sleeve 230 °F", doubt=running, basis=growth,
               judgement=judged(Verdict.GOOD, 1.0 * THOU, "least"),
               would_change="heat-paint on the sleeve for one run; bore gauge set from a ring"),
        Answer("fit.hard", "Hard pull", 1.1 * THOU, Q.DEVIATION, Kind.COMPUTED, "diametral",
               "casting 250 °F, sleeve 290 °F", doubt=doubt(1.1 * THOU, 0.7 * THOU),
               basis=growth, judgement=judged(Verdict.TOO_CLOSE, 1.0 * THOU, "least")),
        Answer("fit.grip", "Lets go at", kelvin(269), Q.TEMPERATURE, Kind.COMPUTED, "",
               "both parts alike; above this it is loose", doubt=doubt(kelvin(269), 16.7),
               basis=basis("grip temperature", "growth difference = fit / diameter",
                           "fit.cold", "sleeve.od", "casting.expansion")),
    )  # fmt: skip


def stresses() -> tuple[Answer, ...]:
    """What the fit does to both parts, and the chance that it is too little."""
    return (
        Answer("fit.close_up", "Bore closes up", 2.3 * THOU, Q.DEVIATION, Kind.COMPUTED,
               "diametral", "inside of the sleeve at 68 °F",
               doubt=doubt(2.3 * THOU, 0.4 * THOU),
               basis=basis("bore closure", "2 p b^2 a / (E (b^2 - a^2))",
                           "fit.pressure", "sleeve.od", "sleeve.id", "sleeve.modulus")),
        Answer("fit.pressure", "pressure on the sleeve", 12.4e6, Q.PRESSURE, Kind.COMPUTED,
               basis=basis("contact pressure", "fit / (D (rings))", "fit.cold", "sleeve.od")),
        Answer("fit.least", "the least", 1.0 * THOU, Q.DEVIATION, Kind.CHOSEN, "diametral",
               typed="1 thou"),
        Answer("fit.yield_fit", "fit at first yield", 5.0 * THOU, Q.DEVIATION, Kind.COMPUTED,
               "diametral", basis=basis("yield fit", "limit / stiffness", "sleeve.od")),
        Answer("fit.below_least", "chance of less than the least", 0.09, Q.PROBABILITY,
               Kind.COMPUTED, basis=basis("chance", "share below", "fit.cold", "fit.least"),
               judgement=judged(Verdict.OUT, 0.05, "most"),
               cautions=(Caution("few", "The doubt of the cut is assumed.", "practice"),)),
    )  # fmt: skip


def told_of_the_fit() -> tuple[Answer, ...]:
    """Facts that the fit rests on."""
    return (
        Answer("running.casting", "casting", kelvin(200), Q.TEMPERATURE, Kind.TYPED,
               of="near the bore", typed="200 F"),
        Answer("running.sleeve", "sleeve", kelvin(230), Q.TEMPERATURE, Kind.ASSUMED,
               of="engine warm", source="practice"),
        Answer("casting.expansion", "alloy grows", 21.4e-6, Q.EXPANSION, Kind.ASSUMED,
               source="asm-castings"),
        Answer("sleeve.modulus", "stiffness of the sleeve", 110e9, Q.MODULUS, Kind.ASSUMED),
    )  # fmt: skip


def cut_stages() -> tuple[StageAnswers, ...]:
    """What is cut."""
    spindle = Caution(
        "spindle", "No gloves at a turning spindle; stop it before gauging.", "practice"
    )
    target = basis("target bore", "sleeve OD - wanted fit", "sleeve.od", "fit.cold")

    def size(identity: str, label: str, inches: float, sense: str, of: str = "") -> Answer:
        return Answer(
            identity, label, inches * INCH, Q.SIZE, Kind.COMPUTED, sense, of, basis=target
        )

    return (
        StageAnswers(
            "parent", "Parent bore",
            (
                size("bore.target", "Parent bore", 3.0, "diametral", "casting at 68 °F"),
                size("bore.target_low", "not under", 2.9997, "diametral"),
                size("bore.target_high", "not over", 3.0003, "diametral"),
            ),
            hazards=(spindle,),
        ),
        StageAnswers(
            "counterbore", "Counterbore",
            (
                size("counterbore.diameter", "Counterbore, wide", 3.2495, "diametral"),
                size("counterbore.depth", "Counterbore, deep", 0.197, "axial", "2 thou proud"),
            ),
            hazards=(spindle,),
        ),
    )  # fmt: skip


def hot_stages() -> tuple[StageAnswers, ...]:
    """Oven and drop."""
    burns = Caution("hot-metal", "A casting from the oven looks cold and burns.", "practice")
    growth = basis("growth", "slip wanted", "sleeve.od", "fit.cold", "casting.expansion")
    return (
        StageAnswers(
            "heat", "Heat",
            (
                Answer("heat.oven", "Oven", kelvin(400), Q.TEMPERATURE, Kind.COMPUTED,
                       of="dial, air; casting drops at 365", basis=growth),
                Answer("heat.casting", "casting wanted", kelvin(365), Q.TEMPERATURE,
                       Kind.COMPUTED, basis=growth),
                Answer("heat.sleeve", "sleeve, dropped", kelvin(68), Q.TEMPERATURE, Kind.ASSUMED),
                Answer("heat.limit", "casting limit", kelvin(446), Q.TEMPERATURE, Kind.ASSUMED),
                Answer("heat.slip", "Slip needed", 7.1 * THOU, Q.DEVIATION, Kind.CHOSEN,
                       "diametral", "gauge set to the sleeve", typed="7.1 thou"),
                Answer("heat.needle", "needle = go", 7.1 * THOU, Q.DEVIATION, Kind.COMPUTED,
                       "diametral", basis=growth),
                Answer("heat.feasible", "in reach", "yes", Q.TEXT, Kind.COMPUTED, basis=growth),
            ),
            hazards=(burns,),
            advice=("Gauge the slip; do not trust the dial alone.",),
        ),
        StageAnswers(
            "drop", "Drop",
            (
                Answer("drop.line_up", "Before it grabs", 5.0, Q.TIME, Kind.COMPUTED, "",
                       "19 times in 20; likely 14, up to 27", basis=growth),
                Answer("drop.before_seated", "grips before it is seated", 0.007, Q.PROBABILITY,
                       Kind.COMPUTED, basis=growth, judgement=judged(Verdict.GOOD, 0.05, "most")),
            ),
            hazards=(burns,),
        ),
    )  # fmt: skip


def last_stages() -> tuple[StageAnswers, ...]:
    """Cooling, bore and ports."""
    growth = basis("growth", "slip wanted", "sleeve.od", "fit.cold", "casting.expansion")
    return (
        StageAnswers(
            "cool", "Cool and prove",
            (Answer("cool.lift", "Flange could lift", 4.1 * THOU, Q.DEVIATION, Kind.COMPUTED,
                    "axial", "if the skirt grips first", doubt=doubt(4.1 * THOU, 0.9 * THOU),
                    basis=growth),),
        ),
        StageAnswers(
            "piston", "Bore to piston",
            (Answer("finish.stock", "Stock for the hone", None, Q.DEVIATION, Kind.COMPUTED,
                    "diametral", basis=growth, needs=("the piston's diameter",)),),
        ),
        StageAnswers(
            "ports", "Ports",
            (Answer("ports.exhaust.per_thou", "Exhaust lasts longer", 0.8 * 0.0174533 / (10 * THOU),
                    Q.SWELL, Kind.COMPUTED, "axial", "roof raised", basis=growth),),
        ),
    )  # fmt: skip


def sample_plan() -> Plan:
    """The whole plan."""
    stages = (sleeve_stage(), fit_stage(), *cut_stages(), *hot_stages(), *last_stages())
    return Plan(
        job="J-31",
        title="270 two-stroke, water",
        units="inch",
        invented=True,
        next_move="Agree this fit",
        seven=(
            "fit.cold", "fit.running", "fit.grip", "drop.line_up", "fit.close_up", "cool.lift",
            "ports.exhaust.per_thou",
        ),
        orders=(
            "bore.target", "counterbore.diameter", "counterbore.depth", "heat.oven", "heat.slip",
            "finish.stock",
        ),
        stages=stages,
        cautions=(Caution("alloy", "The alloy is not known; its growth is taken within 8 %."),),
        code_version="sample",
    )  # fmt: skip
