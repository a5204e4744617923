"""Stage Heat: how hot, what slip that gives at body and flange, and what to do if it cannot be.

The limit is the part's, not the oven's.  Slip is the clearance over the sleeve at the
sleeve's own temperature; the smaller of body and flange rules.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import (
    interference_for_ratio,
    larger,
    rest_of,
    same_as,
    smaller,
    sum_of,
)
from sleevewright.core.fits.flange import tighter_hot
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
from sleevewright.planning.both_fits import fit_of, fits_of, of_both
from sleevewright.planning.chills import enter_chills
from sleevewright.planning.facts import enter_default, given, given_or
from sleevewright.planning.hotgauge import enter_hot_gauge
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line, StageResult
from sleevewright.planning.ranges import caution_beyond
from sleevewright.planning.shop import Chosen

Q = Quantity


SLIP = Line(
    "heat.slip",
    "Slip needed",
    Q.DEVIATION,
    "diametral",
    of="bore over sleeve, at body and flange",
)
SLIP_RATIO = Line("heat.slip_ratio", "slip per diameter", Q.RATIO, is_detail=True)
LIMIT = Line("heat.limit", "Casting limit", Q.TEMPERATURE, of="of the part, not of the oven")
SLEEVE = Line("heat.sleeve", "Sleeve at the drop", Q.TEMPERATURE, of="sleeve")
CASTING = Line(
    "heat.casting",
    "Casting, hot enough",
    Q.TEMPERATURE,
    of="casting, on the gauge before it is carried",
    would_change="one hot reading of bore and temperature calibrates the alloy",
)
FEASIBLE = Line("heat.feasible", "Reaches the slip", Q.TEXT, of="within the casting's limit")
DROP_AT = Line(
    "heat.drop_at",
    "Casting, as hot as it may be",
    Q.TEMPERATURE,
    of="casting",
    is_detail=True,
)
MARGIN = Line("heat.margin", "Oven above the casting by", Q.TEMPERATURE_DIFFERENCE, is_detail=True)
OVEN = Line("heat.oven", "Oven", Q.TEMPERATURE, of="dial, air; never above the casting's limit")
TIME_CONSTANT = Line("heat.time_constant", "oven's time constant", Q.TIME, is_detail=True)
SOAK = Line(
    "heat.soak",
    "Time in the oven",
    Q.TIME,
    of="likely; stop on measured slip, never on the clock",
    would_change="two readings of the bore in the oven",
)
TIME_DOUBT = Line("heat.time_doubt", "doubt of its logarithm", Q.RATIO, is_detail=True)
CURVE = Line(
    "heat.curve",
    "Warming up",
    Q.RECORD,
    of="time, casting and slip, with a band",
    is_detail=True,
)
CARRY = Line("heat.carry", "Oven to entry", Q.TIME)
AIR_TIME = Line("heat.air_time_constant", "its time constant in still air", Q.TIME, is_detail=True)
CARRY_LOSS = Line(
    "heat.carry_loss", "Slip lost while carrying", Q.DEVIATION, "diametral", is_detail=True
)
NEEDLE = Line(
    "heat.needle",
    "Needle says go at",
    Q.READING,
    "diametral",
    of="gauge zeroed on this sleeve at the room's temperature",
)


AT_ENTRY = Line(
    "heat.at_entry",
    "Casting as the sleeve enters",
    Q.TEMPERATURE,
    of="casting, after the carry",
    is_detail=True,
)
GAUGED_SLIP = Line(
    "heat.gauged_slip", "Slip on the gauge, wanted", Q.DEVIATION, "diametral", is_detail=True
)
AT_LIMIT = Line(
    "heat.slip_at_limit",
    "Slip at the limit",
    Q.DEVIATION,
    "diametral",
    of="the most that this casting may give, on the gauge",
)
TIGHTER = Line("fit.tighter_hot", "Tighter at the drop", Q.TEXT, of="the one with less slip")


@dataclass(frozen=True)
class HeatRecord:
    """What is told of oven, limit and sleeve."""

    heat: Heat
    casting: Part
    sleeve: Part
    count: int
    seed: int
    chosen: Chosen = ()


def heat_stage(
    record: HeatRecord, sleeve: StageResult, parent: StageResult, fit: StageResult
) -> StageResult:
    """Answers about the heat."""
    ledger = Ledger(sleeve, parent, fit, count=record.count, seed=record.seed, chosen=record.chosen)
    _enter_wishes(ledger, record)
    _enter_entry(ledger, record)
    _enter_casting(ledger)
    _enter_slips(ledger)
    enter_hot_gauge(ledger)
    _enter_oven(ledger, record)
    enter_chills(ledger)
    return ledger.result()


def _enter_wishes(ledger: Ledger, record: HeatRecord) -> None:
    """Enter the wanted slip, the part's limit and the sleeve's temperature at the drop."""
    if record.heat.slip is not None:
        ledger.fact(SLIP, given(record.heat.slip, need="wanted slip"))
    else:
        ratio = ledger.default("slip_per_diameter")
        ledger.fact(
            SLIP_RATIO,
            Given(ratio.value, Kind.ASSUMED, source=ratio.source, typed=ratio.note),
        )
        ledger.compute(SLIP, interference_for_ratio, ratio="heat.slip_ratio", diameter="sleeve.od")
    enter_default(ledger, LIMIT, record.casting.limit, "part_limit")
    if record.sleeve.temperature is not None:
        ledger.fact(SLEEVE, given_or(record.sleeve.temperature, default("room")))
    else:
        ledger.compute(SLEEVE, same_as, temperature="heat.room")


def _enter_entry(ledger: Ledger, record: HeatRecord) -> None:
    """Enter the casting as the sleeve enters, and the slip that the carry costs."""
    of_both(
        ledger,
        AT_ENTRY,
        casting_temperature_for_slip,
        larger,
        slip="heat.slip",
        sleeve_temperature="heat.sleeve",
    )
    enter_default(ledger, CARRY, record.heat.carry, "carry_time")
    enter_default(ledger, AIR_TIME, None, "air_time_constant")
    ledger.compute(
        CARRY_LOSS,
        carry_loss,
        diameter="sleeve.od",
        casting_law="casting.law",
        casting_temperature="heat.at_entry",
        room="heat.room",
        carry_time="heat.carry",
        time_constant="heat.air_time_constant",
    )
    ledger.compute(GAUGED_SLIP, sum_of, wanted="heat.slip", allowance="heat.carry_loss")


def _enter_casting(ledger: Ledger) -> None:
    """Enter how hot the casting must be on the gauge, and whether it may be."""
    limit = ledger.value("heat.limit")
    remedy = "chill the sleeve, take less slip, or a lighter fit; see what to do"
    of_both(
        ledger,
        CASTING,
        casting_temperature_for_slip,
        larger,
        How(judge=against_limit(limit, "most", remedy=remedy)),
        slip="heat.gauged_slip",
        sleeve_temperature="heat.sleeve",
    )
    caution_beyond(
        ledger,
        "heat.casting",
        casting=ledger.value("heat.casting"),
        sleeve=ledger.value("heat.sleeve"),
    )
    ledger.compute(
        FEASIBLE, reaches, CENTRALLY, casting_temperature="heat.casting", limit="heat.limit"
    )
    ledger.compute(DROP_AT, smaller, one="heat.casting", other="heat.limit")
    of_both(
        ledger,
        AT_LIMIT,
        slip,
        smaller,
        casting_temperature="heat.limit",
        sleeve_temperature="heat.sleeve",
    )


def _enter_slips(ledger: Ledger) -> None:
    """Enter what the needle must show and the slip that is then left at body and flange."""
    for fit in fits_of(ledger):
        ledger.compute(
            Line(
                f"heat.{fit}_gauged",
                f"slip on the gauge, {fit}",
                Q.DEVIATION,
                "diametral",
                is_detail=True,
            ),
            slip,
            **fit_of(ledger, fit),
            casting_temperature="heat.drop_at",
            sleeve_temperature="heat.sleeve",
        )
        ledger.compute(
            Line(
                f"heat.{fit}_slip",
                f"Slip at the drop, {fit}",
                Q.DEVIATION,
                "diametral",
                of="as the sleeve enters, after the carry",
            ),
            rest_of,
            whole=f"heat.{fit}_gauged",
            part="heat.carry_loss",
        )
    _enter_needle(ledger)


def _enter_needle(ledger: Ledger) -> None:
    """Enter where the needle says go, and which fit is the tighter one then."""
    ledger.compute(
        NEEDLE,
        needle_position,
        slip="heat.body_slip",
        carry_loss="heat.carry_loss",
        diameter="sleeve.od",
        sleeve_law="sleeve.law",
        sleeve_at_drop="heat.sleeve",
        sleeve_at_zero="heat.room",
    )
    if not ledger.has("heat.flange_slip"):
        return
    ledger.compute(
        TIGHTER,
        tighter_hot,
        CENTRALLY,
        body="fit.body_fit",
        flange="fit.flange_fit",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
        casting_temperature="heat.drop_at",
        sleeve_temperature="heat.sleeve",
    )
    which = ledger.value("fit.tighter_hot")
    ledger.advise(f"The {which} has less slip and decides. Gauge both before the drop.")


def _enter_oven(ledger: Ledger, record: HeatRecord) -> None:
    """Enter the oven's dial, never above the part's limit, and how long it takes."""
    enter_default(ledger, MARGIN, record.heat.oven_margin, "oven_margin")
    ledger.compute(
        OVEN,
        oven_setting,
        CENTRALLY,
        target="heat.casting",
        margin="heat.margin",
        limit="heat.limit",
    )
    enter_default(ledger, TIME_CONSTANT, None, "oven_time_constant")
    warm_up = {"start": "heat.room", "oven": "heat.oven", "time_constant": "heat.time_constant"}
    ledger.compute(SOAK, soak_time, target="heat.drop_at", **warm_up)
    known = default("oven_time_constant")
    ledger.fact(TIME_DOUBT, Given(known.doubt, Kind.ASSUMED, source=known.source))
    if not ledger.has("heat.oven"):
        return
    ledger.compute(
        CURVE,
        heating_curve,
        CENTRALLY,
        time_constant_spread="heat.time_doubt",
        **warm_up,
        **fit_of(ledger, "body"),
        sleeve_temperature="heat.sleeve",
    )
