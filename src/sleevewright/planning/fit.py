"""Stage Fit: how tight, cold; what it does to both parts; what holds it.

Body and flange are two fits.  The body's parent bore may be measured already; before it
is, the fit is the chosen one, with what the cut may miss it by.
"""

from __future__ import annotations

from sleevewright.core.allowances import fit_as_cut
from sleevewright.core.fits.interference import (
    effective_interference,
    interference,
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
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import assumed, given
from sleevewright.planning.fit_sides import FitRecord, enter_flange, enter_hold, enter_side_answers
from sleevewright.planning.judging import against_chance, against_limit
from sleevewright.planning.ledger import DEEPLY, Given, How, Ledger, Line, StageResult
from sleevewright.planning.linear import with_freedom
from sleevewright.planning.settling import say_what_settles

Q = Quantity


FIT_COLD = Line(
    "fit.cold",
    "How tight, cold",
    Q.DEVIATION,
    "diametral",
    of="both parts at 20 °C",
    would_change="set the bore gauge from a ring; read both parts at one temperature",
)
CUT_MISS = Line("cut.miss", "what the cut may miss by", Q.DEVIATION, is_detail=True)
CUT_MISS_B = Line(
    "cut.miss",
    "what the cut may miss by",
    Q.DEVIATION,
    of="nothing: it is measured",
    is_detail=True,
)
FIT_AS_CUT = Line(
    "fit.as_cut",
    "Fit to expect",
    Q.DEVIATION,
    "diametral",
    of="both parts at 20 °C",
    is_detail=True,
)
FIT_BELOW_LEAST = Line(
    "fit.below_least",
    "Chance of less than the least",
    Q.PROBABILITY,
    of="body, from the whole budget of the fit",
)
FIT_RINGS = Line("fit.rings", "the two rings", Q.RECORD, is_detail=True)
FIT_FLATTENING = Line("fit.flattening", "share of Rz that flattens", Q.RATIO, is_detail=True)
FIT_EFFECTIVE = Line(
    "fit.effective",
    "Fit that works",
    Q.DEVIATION,
    "diametral",
    of="after the roughness has flattened",
    is_detail=True,
)
FIT_PRESSURE = Line(
    "fit.pressure",
    "Pressure in the fit",
    Q.PRESSURE,
    of="both parts at 20 °C",
    would_change="a measured radius of the casting",
)
FIT_CASTING_HOOP = Line(
    "fit.casting_hoop",
    "Pull around the casting",
    Q.PRESSURE,
    of="hoop tension at its bore; ports and thin webs see more",
)
FIT_SLEEVE_HOOP = Line(
    "fit.sleeve_hoop", "Squeeze around the sleeve", Q.PRESSURE, of="hoop stress at its bore"
)
FIT_CLOSE_UP = Line(
    "fit.close_up",
    "Bore closes up",
    Q.DEVIATION,
    "diametral",
    of="inside of the sleeve, at 20 °C",
    would_change="a measured radius of the casting",
)
FIT_BRITTLE_SHARE = Line(
    "fit.brittle_share", "share of tensile strength allowed", Q.RATIO, is_detail=True
)
FIT_LIMIT_PRESSURE = Line(
    "fit.limit_pressure", "pressure at first yield", Q.PRESSURE, is_detail=True
)
FIT_LIMIT_PRESSURE_B = Line(
    "fit.limit_pressure", "pressure at the limit", Q.PRESSURE, is_detail=True
)


def fit_stage(record: FitRecord, sleeve: StageResult, parent: StageResult) -> StageResult:
    """Answers about the cold fit of body and flange."""
    ledger = Ledger(sleeve, parent, count=record.count, seed=record.seed)
    _enter_cold_fit(ledger, record)
    _enter_stresses(ledger, record)
    _enter_yield(ledger)
    enter_hold(ledger, record)
    enter_flange(ledger, record)
    enter_side_answers(ledger, record)
    return ledger.result()


def _enter_cold_fit(ledger: Ledger, record: FitRecord) -> None:
    """Enter the cold fit, and ``fit.as_cut``: what everything that follows rests on."""
    cold = FIT_COLD
    if ledger.has("bore.size"):
        ledger.compute(cold, interference, DEEPLY, outside_diameter="sleeve.od", bore="bore.size")
        ledger.amend("fit.cold", doubt=with_freedom(ledger, "fit.cold"))
        basis = "fit.cold"
        ledger.fact(
            CUT_MISS_B,
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
            CUT_MISS,
            Given(0.0, Kind.ASSUMED, source=gauge.source, standard=standard),
        )
        basis = "fit.cold"
    ledger.compute(
        FIT_AS_CUT,
        fit_as_cut,
        DEEPLY,
        chosen=basis,
        miss="cut.miss",
    )
    most = record.least_chance_most
    ledger.compute(
        FIT_BELOW_LEAST,
        chance_below,
        How(
            judge=against_chance(
                most, min(1.0, 2.0 * most), remedy="more readings of the bore, or the next sleeve"
            )
        ),
        samples="fit.as_cut",
        limit="fit.least",
    )
    if ledger.has("bore.size"):
        say_what_settles(ledger, "fit.below_least", "fit.cold", "fit.least")


def _enter_stresses(ledger: Ledger, record: FitRecord) -> None:
    """Enter pressure, both hoop stresses and the close-up of the sleeve's bore."""
    ledger.compute(
        FIT_RINGS,
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
        FIT_FLATTENING,
        Given(flattening.value, Kind.ASSUMED, source=flattening.source, typed=flattening.note),
    )
    ledger.compute(
        FIT_EFFECTIVE,
        effective_interference,
        interference="fit.as_cut",
        sleeve_roughness="fit.sleeve_roughness",
        casting_roughness="fit.casting_roughness",
        flattening="fit.flattening",
    )
    ledger.compute(
        FIT_PRESSURE,
        contact_pressure,
        pair="fit.rings",
        interference="fit.effective",
    )
    ledger.compute(
        FIT_CASTING_HOOP,
        casting_hoop_stress,
        pair="fit.rings",
        pressure="fit.pressure",
    )
    ledger.compute(
        FIT_SLEEVE_HOOP,
        sleeve_hoop_stress,
        pair="fit.rings",
        pressure="fit.pressure",
    )
    ledger.compute(
        FIT_CLOSE_UP,
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
            FIT_BRITTLE_SHARE,
            Given(share.value, Kind.ASSUMED, source=share.source, typed=share.note),
        )
        ledger.compute(
            FIT_LIMIT_PRESSURE_B,
            brittle_limit_pressure,
            pair="fit.rings",
            tensile_strength="casting.strength",
            share="fit.brittle_share",
        )
        words = "Fit at the casting's limit"
        of = "hoop tension reaches its share of the tensile strength"
    else:
        ledger.compute(
            FIT_LIMIT_PRESSURE,
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
