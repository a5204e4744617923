"""Stage Fit: how tight, cold; what it does to both parts; what holds it.

Body and flange are two fits.  The body's parent bore may be measured already; before it
is, the fit is the chosen one, with what the cut may miss it by.
"""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.core.allowances import fit_as_cut
from sleevewright.core.fits.flange import ShrinkFit, caught_first
from sleevewright.core.fits.hold import axial_hold, torque_hold
from sleevewright.core.fits.interference import (
    effective_interference,
    interference,
    nearest_step,
    room_temperature_shift,
    rounding_cost,
)
from sleevewright.core.fits.limits import brittle_limit_pressure, casting_yield_pressure
from sleevewright.core.fits.rings import (
    RingPair,
    bore_closure,
    casting_hoop_stress,
    contact_pressure,
    interference_at_limit,
    sleeve_hoop_stress,
)
from sleevewright.core.materials import default
from sleevewright.core.uncertainty.sampled import chance_below
from sleevewright.jobs.model import Choice, Heat, Part
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import assumed, enter_default, given
from sleevewright.planning.judging import against_chance, against_limit
from sleevewright.planning.ledger import CENTRALLY, DEEPLY, Given, How, Ledger, Line, StageResult
from sleevewright.planning.linear import with_freedom

Q = Quantity


@dataclass(frozen=True)
class FitRecord:
    """What the stage is told, beside the sizes."""

    casting: Part
    sleeve: Part
    choice: Choice
    heat: Heat
    is_ported: bool
    least_chance_most: float
    units: str
    count: int
    seed: int


def fit_stage(record: FitRecord, sleeve: StageResult, parent: StageResult) -> StageResult:
    """Answers about the cold fit of body and flange."""
    ledger = Ledger(sleeve, parent, count=record.count, seed=record.seed)
    _enter_cold_fit(ledger, record)
    _enter_stresses(ledger, record)
    _enter_yield(ledger)
    _enter_hold(ledger, record)
    _enter_flange(ledger, record)
    _enter_side_answers(ledger, record)
    return ledger.result()


def _enter_cold_fit(ledger: Ledger, record: FitRecord) -> None:
    """Enter the cold fit, and ``fit.as_cut``: what everything that follows rests on."""
    cold = Line(
        "fit.cold",
        "How tight, cold",
        Q.DEVIATION,
        "diametral",
        of="both parts at 20 °C",
        would_change="set the bore gauge from a ring; read both parts at one temperature",
    )
    if ledger.has("bore.size"):
        ledger.compute(cold, interference, DEEPLY, outside_diameter="sleeve.od", bore="bore.size")
        ledger.amend("fit.cold", doubt=with_freedom(ledger, "fit.cold"))
        basis = "fit.cold"
        ledger.fact(
            Line(
                "cut.miss",
                "what the cut may miss by",
                Q.DEVIATION,
                of="nothing: it is measured",
                is_detail=True,
            ),
            Given(0.0, Kind.MEASURED, source="the readings"),
        )
    else:
        wanted = ledger.entry("fit.wanted").answer
        kind = Kind.CHOSEN if wanted.kind is not Kind.COMPUTED else Kind.ASSUMED
        ledger.fact(
            cold,
            Given(
                ledger.value("fit.wanted"),
                kind,
                source="the job",
                typed=wanted.typed,
                need="wanted fit, or sleeve and parent bore as measured",
            ),
        )
        tolerance = float(ledger.value("cut.tolerance"))
        gauge = default("cut_gauge")
        standard = (tolerance**2 / 3.0 + gauge.value**2) ** 0.5
        ledger.fact(
            Line("cut.miss", "what the cut may miss by", Q.DEVIATION, is_detail=True),
            Given(0.0, Kind.ASSUMED, source=gauge.source, standard=standard),
        )
        basis = "fit.cold"
    ledger.compute(
        Line(
            "fit.as_cut",
            "Fit to expect",
            Q.DEVIATION,
            "diametral",
            of="both parts at 20 °C",
            is_detail=True,
        ),
        fit_as_cut,
        DEEPLY,
        chosen=basis,
        miss="cut.miss",
    )
    most = record.least_chance_most
    ledger.compute(
        Line(
            "fit.below_least",
            "Chance of less than the least",
            Q.PROBABILITY,
            of="body, from the whole budget of the fit",
        ),
        chance_below,
        How(
            judge=against_chance(
                most, min(1.0, 2.0 * most), remedy="more readings of the bore, or the next sleeve"
            )
        ),
        samples="fit.as_cut",
        limit="fit.least",
    )


def _enter_stresses(ledger: Ledger, record: FitRecord) -> None:
    """Enter pressure, both hoop stresses and the close-up of the sleeve's bore."""
    ledger.compute(
        Line("fit.rings", "the two rings", Q.RECORD, is_detail=True),
        RingPair,
        interface_diameter="sleeve.od",
        inside_diameter="sleeve.id",
        outside_diameter="casting.outside_diameter",
        sleeve_modulus="sleeve.modulus",
        sleeve_poisson="sleeve.poisson",
        casting_modulus="casting.modulus",
        casting_poisson="casting.poisson",
    )
    for prefix, part in (("sleeve", record.sleeve), ("casting", record.casting)):
        zero = assumed(0.0, source="practice", note="none entered: nothing is taken off")
        told = zero if part.roughness is None else given(part.roughness, need="roughness")
        ledger.fact(
            Line(f"fit.{prefix}_roughness", f"Rz of the {prefix}", Q.DEVIATION, is_detail=True),
            told,
        )
    flattening = default("roughness_flattening")
    ledger.fact(
        Line("fit.flattening", "share of Rz that flattens", Q.RATIO, is_detail=True),
        Given(flattening.value, Kind.ASSUMED, source=flattening.source, typed=flattening.note),
    )
    ledger.compute(
        Line(
            "fit.effective",
            "Fit that works",
            Q.DEVIATION,
            "diametral",
            of="after the roughness has flattened",
            is_detail=True,
        ),
        effective_interference,
        interference="fit.as_cut",
        sleeve_roughness="fit.sleeve_roughness",
        casting_roughness="fit.casting_roughness",
        flattening="fit.flattening",
    )
    ledger.compute(
        Line(
            "fit.pressure",
            "Pressure in the fit",
            Q.PRESSURE,
            of="both parts at 20 °C",
            would_change="a measured radius of the casting",
        ),
        contact_pressure,
        pair="fit.rings",
        interference="fit.effective",
    )
    ledger.compute(
        Line(
            "fit.casting_hoop",
            "Pull around the casting",
            Q.PRESSURE,
            of="hoop tension at its bore; ports and thin webs see more",
        ),
        casting_hoop_stress,
        pair="fit.rings",
        pressure="fit.pressure",
    )
    ledger.compute(
        Line(
            "fit.sleeve_hoop", "Squeeze around the sleeve", Q.PRESSURE, of="hoop stress at its bore"
        ),
        sleeve_hoop_stress,
        pair="fit.rings",
        pressure="fit.pressure",
    )
    ledger.compute(
        Line(
            "fit.close_up",
            "Bore closes up",
            Q.DEVIATION,
            "diametral",
            of="inside of the sleeve, at 20 °C",
            would_change="a measured radius of the casting",
        ),
        bore_closure,
        pair="fit.rings",
        pressure="fit.pressure",
    )


def _enter_yield(ledger: Ledger) -> None:
    """Enter the fit at which the casting first yields, or comes to its brittle limit."""
    is_brittle = ledger.value("casting.is_brittle") == "cracks"
    if is_brittle:
        share = default("brittle_share")
        ledger.fact(
            Line("fit.brittle_share", "share of tensile strength allowed", Q.RATIO, is_detail=True),
            Given(share.value, Kind.ASSUMED, source=share.source, typed=share.note),
        )
        ledger.compute(
            Line("fit.limit_pressure", "pressure at the limit", Q.PRESSURE, is_detail=True),
            brittle_limit_pressure,
            pair="fit.rings",
            tensile_strength="casting.strength",
            share="fit.brittle_share",
        )
        words = "Fit at the casting's limit"
        of = "hoop tension reaches its share of the tensile strength"
    else:
        ledger.compute(
            Line("fit.limit_pressure", "pressure at first yield", Q.PRESSURE, is_detail=True),
            casting_yield_pressure,
            pair="fit.rings",
            yield_strength="casting.strength",
        )
        words, of = "Fit at first yield", "plain ring; ports and thin webs yield sooner"
    limit = ledger.compute(
        Line("fit.yield_fit", words, Q.DEVIATION, "diametral", of=of),
        interference_at_limit,
        pair="fit.rings",
        limit_pressure="fit.limit_pressure",
    )
    if limit.is_missing or not ledger.has("fit.cold"):
        return
    cold = ledger.entry("fit.cold")
    standard = ledger.entry("fit.as_cut").answer.doubt
    judge = against_limit(limit.point, "most", remedy="a lighter fit; the casting's limit is near")
    judged = judge(cold.point, None, 0.0 if standard is None else standard.standard)
    ledger.amend("fit.cold", judgement=judged)


def _enter_hold(ledger: Ledger, record: FitRecord) -> None:
    """Enter what holds the sleeve, as a band over what friction may be."""
    enter_default(
        ledger,
        Line("fit.friction", "Friction", Q.RATIO, is_detail=True),
        record.heat.friction,
        "friction",
    )
    enter_default(
        ledger,
        Line("fit.contact", "Surface in contact", Q.RATIO, is_detail=True),
        record.heat.contact,
        "contact_ported" if record.is_ported else "contact_closed",
    )
    for name, label, function, quantity in (
        ("hold", "Holds, along", axial_hold, Q.FORCE),
        ("torque", "Holds, around", torque_hold, Q.TORQUE),
    ):
        ledger.compute(
            Line(
                f"fit.{name}",
                label,
                quantity,
                of="cold; a band, friction is not known",
                would_change="nothing at the bench: friction stays a band",
            ),
            function,
            friction="fit.friction",
            pressure="fit.pressure",
            diameter="sleeve.od",
            length="sleeve.length",
            contact_fraction="fit.contact",
        )


def _enter_flange(ledger: Ledger, record: FitRecord) -> None:
    """Enter the flange's own fit, and which of the two is caught first."""
    wish = record.choice.flange_wanted
    fallback = default("flange_clearance")
    told = (
        given(wish, need="flange fit")
        if wish is not None
        else Given(-fallback.value, Kind.ASSUMED, source=fallback.source, typed=fallback.note)
    )
    ledger.fact(
        Line(
            "fit.flange",
            "Flange in its counterbore",
            Q.DEVIATION,
            "diametral",
            of="at 20 °C; negative is clearance",
        ),
        told if ledger.has("flange.od") else Given(None, Kind.CHOSEN, need="flange diameter"),
    )
    if not (ledger.has("flange.od") and ledger.has("sleeve.od") and ledger.has("fit.as_cut")):
        return
    for identity, diameter, fit in (
        ("fit.body_fit", "sleeve.od", "fit.as_cut"),
        ("fit.flange_fit", "flange.od", "fit.flange"),
    ):
        ledger.compute(
            Line(identity, "a cold fit", Q.RECORD, is_detail=True),
            ShrinkFit,
            diameter=diameter,
            interference=fit,
        )
    ledger.compute(
        Line(
            "fit.caught_first",
            "Caught first on cooling",
            Q.TEXT,
            of="both parts at one temperature",
        ),
        caught_first,
        CENTRALLY,
        body="fit.body_fit",
        flange="fit.flange_fit",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
    )
    if ledger.value("fit.flange") > 0.0:
        _enter_flange_pressure(ledger)
    if ledger.value("fit.caught_first") == "flange":
        ledger.advise(
            "The flange has more thou per inch than the body and is caught first: a flange that "
            "grips before it sits holds the sleeve proud. Give the flange less."
        )


def _enter_flange_pressure(ledger: Ledger) -> None:
    """Enter the flange's pressure as if it stood alone in the casting."""
    ledger.compute(
        Line("fit.flange_rings", "the two rings at the flange", Q.RECORD, is_detail=True),
        RingPair,
        interface_diameter="flange.od",
        inside_diameter="sleeve.id",
        outside_diameter="casting.outside_diameter",
        sleeve_modulus="sleeve.modulus",
        sleeve_poisson="sleeve.poisson",
        casting_modulus="casting.modulus",
        casting_poisson="casting.poisson",
    )
    ledger.compute(
        Line(
            "fit.flange_pressure",
            "Pressure at the flange",
            Q.PRESSURE,
            of="flange alone; the body's fit opens the counterbore and takes some of it",
        ),
        contact_pressure,
        pair="fit.flange_rings",
        interference="fit.flange",
    )


def _enter_side_answers(ledger: Ledger, record: FitRecord) -> None:
    """Enter what rounding a reading costs, and what today's room does to the fit."""
    step = default("rounding_step_inch" if record.units == "inch" else "rounding_step_metric")
    ledger.fact(
        Line("fit.rounding_step", "step that a reading is rounded to", Q.DEVIATION, is_detail=True),
        Given(step.value, Kind.ASSUMED, source=step.source),
    )
    ledger.compute(
        Line("fit.rounded_od", "sleeve, rounded", Q.SIZE, "diametral", is_detail=True),
        nearest_step,
        size="sleeve.od",
        step="fit.rounding_step",
    )
    ledger.compute(
        Line(
            "fit.rounding",
            "Rounding the sleeve costs",
            Q.DEVIATION,
            "diametral",
            of="of the fit, if its size is rounded; negative is too tight",
        ),
        rounding_cost,
        reading="sleeve.od",
        rounded="fit.rounded_od",
    )
    ambient = record.heat.ambient
    enter_default(
        ledger, Line("heat.room", "Room", Q.TEMPERATURE, of="both parts"), ambient, "room"
    )
    ledger.compute(
        Line(
            "fit.room",
            "Today's room does",
            Q.DEVIATION,
            "diametral",
            of="to the fit, both parts at the room's temperature",
        ),
        room_temperature_shift,
        diameter="sleeve.od",
        interference="fit.as_cut",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
        room="heat.room",
    )
