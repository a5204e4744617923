"""Stage Heat: how hot, what slip that gives at body and flange, and what to do if it cannot be.

The limit is the part's, not the oven's.  Slip is the clearance over the sleeve at the
sleeve's own temperature; the smaller of body and flange rules.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import interference_for_ratio, larger, smaller
from sleevewright.core.heat.joining import (
    carry_loss,
    casting_temperature_for_slip,
    needle_position,
    oven_setting,
    reaches,
    slip,
)
from sleevewright.core.heat.soak import heating_curve, soak_time
from sleevewright.core.materials import default
from sleevewright.jobs.model import Heat, Part
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import enter_default, given, given_or
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line, StageResult
from sleevewright.planning.ranges import caution_beyond

Q = Quantity
CHILLS = (
    ("freezer", "Sleeve from the freezer", "freezer_temperature"),
    ("dry_ice", "Sleeve from dry ice", "dry_ice_temperature"),
    ("nitrogen", "Sleeve from liquid nitrogen", "nitrogen_temperature"),
)


HEAT_SLIP = Line(
    "heat.slip",
    "Slip needed",
    Q.DEVIATION,
    "diametral",
    of="bore over sleeve, at body and flange",
)
HEAT_SLIP_RATIO = Line("heat.slip_ratio", "slip per diameter", Q.RATIO, is_detail=True)
HEAT_LIMIT = Line("heat.limit", "Casting limit", Q.TEMPERATURE, of="of the part, not of the oven")
HEAT_SLEEVE = Line("heat.sleeve", "Sleeve at the drop", Q.TEMPERATURE, of="sleeve")
HEAT_CASTING = Line(
    "heat.casting",
    "Casting at the drop",
    Q.TEMPERATURE,
    of="casting, bore and all",
    would_change="one hot reading of bore and temperature calibrates the alloy",
)
HEAT_FEASIBLE = Line("heat.feasible", "Reaches the slip", Q.TEXT, of="within the casting's limit")
HEAT_DROP_AT = Line(
    "heat.drop_at",
    "Casting, as hot as it may be",
    Q.TEMPERATURE,
    of="casting",
    is_detail=True,
)
HEAT_MARGIN = Line(
    "heat.margin", "Oven above the casting by", Q.TEMPERATURE_DIFFERENCE, is_detail=True
)
HEAT_OVEN = Line(
    "heat.oven", "Oven", Q.TEMPERATURE, of="dial, air; never above the casting's limit"
)
HEAT_TIME_CONSTANT = Line("heat.time_constant", "oven's time constant", Q.TIME, is_detail=True)
HEAT_SOAK = Line(
    "heat.soak",
    "Time in the oven",
    Q.TIME,
    of="likely; stop on measured slip, never on the clock",
    would_change="two readings of the bore in the oven",
)
HEAT_TIME_DOUBT = Line("heat.time_doubt", "doubt of its logarithm", Q.RATIO, is_detail=True)
HEAT_CURVE = Line(
    "heat.curve",
    "Warming up",
    Q.RECORD,
    of="time, casting and slip, with a band",
    is_detail=True,
)
HEAT_CARRY = Line("heat.carry", "Oven to entry", Q.TIME)
HEAT_AIR_TIME_CONSTANT = Line(
    "heat.air_time_constant", "its time constant in still air", Q.TIME, is_detail=True
)
HEAT_CARRY_LOSS = Line(
    "heat.carry_loss", "Slip lost while carrying", Q.DEVIATION, "diametral", is_detail=True
)
HEAT_NEEDLE = Line(
    "heat.needle",
    "Needle says go at",
    Q.DEVIATION,
    "diametral",
    of="gauge zeroed on this sleeve at the room's temperature",
)


@dataclass(frozen=True)
class HeatRecord:
    """What is told of oven, limit and sleeve."""

    heat: Heat
    casting: Part
    sleeve: Part
    count: int
    seed: int


def heat_stage(
    record: HeatRecord, sleeve: StageResult, parent: StageResult, fit: StageResult
) -> StageResult:
    """Answers about the heat."""
    ledger = Ledger(sleeve, parent, fit, count=record.count, seed=record.seed)
    _enter_wishes(ledger, record)
    _enter_temperature(ledger)
    _enter_slips(ledger)
    _enter_oven(ledger, record)
    _enter_needle(ledger, record)
    _enter_chills(ledger)
    _advise(ledger)
    return ledger.result()


def _fit(body: bool) -> dict[str, str]:
    """The entries that one of the two fits is computed from."""
    diameter, interference = ("sleeve.od", "fit.as_cut") if body else ("flange.od", "fit.flange")
    return {
        "diameter": diameter,
        "interference": interference,
        "casting_law": "casting.law",
        "sleeve_law": "sleeve.law",
    }


def _enter_wishes(ledger: Ledger, record: HeatRecord) -> None:
    """Enter the wanted slip, the part's limit and the sleeve's temperature at the drop."""
    line = HEAT_SLIP
    if record.heat.slip is not None:
        ledger.fact(line, given(record.heat.slip, need="wanted slip"))
    else:
        ratio = default("slip_per_diameter")
        ledger.fact(
            HEAT_SLIP_RATIO,
            Given(ratio.value, Kind.ASSUMED, source=ratio.source, typed=ratio.note),
        )
        ledger.compute(line, interference_for_ratio, ratio="heat.slip_ratio", diameter="sleeve.od")
    enter_default(
        ledger,
        HEAT_LIMIT,
        record.casting.limit,
        "part_limit",
    )
    cold = HEAT_SLEEVE
    if record.sleeve.temperature is not None:
        ledger.fact(cold, given_or(record.sleeve.temperature, default("room")))
    else:
        room = ledger.entry("heat.room").answer
        ledger.fact(
            cold, Given(room.value, Kind.ASSUMED, source="the room", standard=default("room").doubt)
        )


def _enter_temperature(ledger: Ledger) -> None:
    """Enter the casting temperature that body and flange need; the larger rules."""
    remedy = "chill the sleeve, take less slip, or a lighter fit; see what to do"
    limit = ledger.value("heat.limit")
    judge = against_limit(limit, "most", remedy=remedy)
    line = HEAT_CASTING
    wanted = {"slip": "heat.slip", "sleeve_temperature": "heat.sleeve"}
    if not ledger.has("flange.od"):
        ledger.compute(line, casting_temperature_for_slip, How(judge=judge), **_fit(True), **wanted)
    else:
        for body, key in ((True, "body"), (False, "flange")):
            ledger.compute(
                Line(
                    f"heat.casting_{key}", f"casting for the {key}", Q.TEMPERATURE, is_detail=True
                ),
                casting_temperature_for_slip,
                **_fit(body),
                **wanted,
            )
        ledger.compute(
            line, larger, How(judge=judge), one="heat.casting_body", other="heat.casting_flange"
        )
    caution_beyond(
        ledger,
        "heat.casting",
        casting=ledger.value("heat.casting"),
        sleeve=ledger.value("heat.sleeve"),
    )
    ledger.compute(
        HEAT_FEASIBLE,
        reaches,
        CENTRALLY,
        casting_temperature="heat.casting",
        limit="heat.limit",
    )
    ledger.compute(
        HEAT_DROP_AT,
        smaller,
        one="heat.casting",
        other="heat.limit",
    )


def _enter_slips(ledger: Ledger) -> None:
    """Enter the slip that the limit gives, and that of body and flange at the drop."""
    for identity, label, body, at, of in (
        (
            "heat.slip_at_limit",
            "Slip at the limit",
            True,
            "heat.limit",
            "the most that this casting may give",
        ),
        ("heat.body_slip", "Slip at the drop, body", True, "heat.drop_at", "at the drop"),
        ("heat.flange_slip", "Slip at the drop, flange", False, "heat.drop_at", "at the drop"),
    ):
        if not body and not ledger.has("flange.od"):
            continue
        ledger.compute(
            Line(identity, label, Q.DEVIATION, "diametral", of=of),
            slip,
            **_fit(body),
            casting_temperature=at,
            sleeve_temperature="heat.sleeve",
        )
    if not ledger.has("heat.flange_slip"):
        return
    body, flange = ledger.value("heat.body_slip"), ledger.value("heat.flange_slip")
    which = "flange" if flange < body else "body"
    ledger.advise(f"The {which} has less slip and decides. Gauge both before the drop.")


def _enter_oven(ledger: Ledger, record: HeatRecord) -> None:
    """Enter the oven's dial, never above the part's limit, and how long it takes."""
    enter_default(
        ledger,
        HEAT_MARGIN,
        record.heat.oven_margin,
        "oven_margin",
    )
    ledger.compute(
        HEAT_OVEN,
        oven_setting,
        CENTRALLY,
        target="heat.casting",
        margin="heat.margin",
        limit="heat.limit",
    )
    enter_default(
        ledger,
        HEAT_TIME_CONSTANT,
        None,
        "oven_time_constant",
    )
    warm_up = {"start": "heat.room", "oven": "heat.oven", "time_constant": "heat.time_constant"}
    ledger.compute(
        HEAT_SOAK,
        soak_time,
        target="heat.drop_at",
        **warm_up,
    )
    ledger.fact(
        HEAT_TIME_DOUBT,
        Given(
            default("oven_time_constant").doubt,
            Kind.ASSUMED,
            source=default("oven_time_constant").source,
        ),
    )
    if not ledger.has("heat.oven"):
        return
    ledger.compute(
        HEAT_CURVE,
        heating_curve,
        CENTRALLY,
        time_constant_spread="heat.time_doubt",
        **warm_up,
        **_fit(True),
        sleeve_temperature="heat.sleeve",
    )


def _enter_needle(ledger: Ledger, record: HeatRecord) -> None:
    """Enter where the needle says go, on a gauge that was zeroed on this sleeve."""
    enter_default(ledger, HEAT_CARRY, record.heat.carry, "carry_time")
    enter_default(
        ledger,
        HEAT_AIR_TIME_CONSTANT,
        None,
        "air_time_constant",
    )
    ledger.compute(
        HEAT_CARRY_LOSS,
        carry_loss,
        diameter="sleeve.od",
        casting_law="casting.law",
        casting_temperature="heat.drop_at",
        room="heat.room",
        carry_time="heat.carry",
        time_constant="heat.air_time_constant",
    )
    ledger.compute(
        HEAT_NEEDLE,
        needle_position,
        slip="heat.body_slip",
        carry_loss="heat.carry_loss",
        diameter="sleeve.od",
        sleeve_law="sleeve.law",
        sleeve_at_drop="heat.sleeve",
        sleeve_at_zero="heat.room",
    )


def _enter_chills(ledger: Ledger) -> None:
    """Enter what a colder sleeve would need and give."""
    for key, label, name in CHILLS:
        enter_default(
            ledger,
            Line(f"heat.{key}", label, Q.TEMPERATURE, of="sleeve", is_detail=True),
            None,
            name,
        )
        ledger.compute(
            Line(
                f"heat.{key}_casting",
                f"{label}: casting",
                Q.TEMPERATURE,
                of="casting, for the same slip",
            ),
            casting_temperature_for_slip,
            **_fit(True),
            slip="heat.slip",
            sleeve_temperature=f"heat.{key}",
        )
        ledger.compute(
            Line(f"heat.{key}_slip", f"{label}: slip at the limit", Q.DEVIATION, "diametral"),
            slip,
            **_fit(True),
            casting_temperature="heat.limit",
            sleeve_temperature=f"heat.{key}",
        )
        at = ledger.value(f"heat.{key}")
        caution_beyond(
            ledger,
            f"heat.{key}_casting",
            casting=ledger.value(f"heat.{key}_casting"),
            sleeve=at,
        )
        caution_beyond(ledger, f"heat.{key}_slip", sleeve=at)


def _advise(ledger: Ledger) -> None:
    """Say what to do where the slip cannot be reached, in the order of preference."""
    if ledger.value("heat.feasible") != "no":
        return
    freezer = ledger.value("heat.freezer_casting")
    if freezer <= ledger.value("heat.limit"):
        ledger.advise("A sleeve from a household freezer reaches the wanted slip within the limit.")
    else:
        ledger.advise(
            "A sleeve from a household freezer helps, but does not reach the wanted slip "
            "within the limit by itself."
        )
    ledger.advise("Or take the slip that the limit gives, and look at the seconds it leaves.")
    ledger.advise("Or choose a lighter fit.")
    ledger.advise(
        "With the oven at the limit the time cannot be foretold: soak, and go by the "
        "measured growth only. Never set the oven above the casting's limit to hurry."
    )
    ledger.advise(
        "Dry ice or liquid nitrogen only with the cautions for cryogens, and never to "
        "free a fit that has closed."
    )
