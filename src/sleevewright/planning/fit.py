"""Stage Fit: how tight, cold; what it does to both parts; what holds it.

Body and flange are two fits.  The body's parent bore may be measured already; before it
is, the fit is the chosen one, with what the cut may miss it by.
"""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.allowances import fit_as_cut
from sleevewright.core.fits.interference import interference
from sleevewright.core.fits.rings import (
    RingPair,
    bore_closure,
    casting_hoop_stress,
    contact_pressure,
    sleeve_hoop_stress,
)
from sleevewright.core.uncertainty.sampled import chance_below
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.book_fits import enter_book_classes
from sleevewright.planning.bore_limits import enter_allowed
from sleevewright.planning.dialled import DIAL, enter_dialled, is_dialled
from sleevewright.planning.facts import cut_miss
from sleevewright.planning.fit_limits import enter_limits
from sleevewright.planning.fit_sides import FitRecord, enter_hold, enter_side_answers
from sleevewright.planning.flange_fit import enter_flange
from sleevewright.planning.habit import enter_habit
from sleevewright.planning.judging import against_chance
from sleevewright.planning.ledger import DEEPLY, Given, How, Ledger, Line, StageResult
from sleevewright.planning.linear import with_freedom
from sleevewright.planning.roughness import enter_roughness

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


def fit_stage(record: FitRecord, sleeve: StageResult, parent: StageResult) -> StageResult:
    """Answers about the cold fit of body and flange."""
    ledger = Ledger(sleeve, parent, count=record.count, seed=record.seed, chosen=record.chosen)
    _enter_cold_fit(ledger, record)
    _enter_stresses(ledger, record)
    enter_limits(ledger)
    enter_allowed(ledger, chance=record.least_chance_most, system=record.units)
    enter_hold(ledger, record)
    enter_flange(
        ledger,
        record.choice,
        least_chance_most=record.least_chance_most,
        solid=record.solid_end,
    )
    enter_side_answers(ledger, record)
    enter_book_classes(ledger)
    return ledger.result()


def _enter_cold_fit(ledger: Ledger, record: FitRecord) -> None:
    """Enter the cold fit, and ``fit.as_cut``: what everything that follows rests on."""
    if ledger.has("bore.size"):
        if is_dialled(ledger):
            enter_dialled(ledger, replace(FIT_COLD, of=DIAL))
        else:
            ledger.compute(
                FIT_COLD, interference, DEEPLY, outside_diameter="sleeve.od", bore="bore.size"
            )
        ledger.amend("fit.cold", doubt=with_freedom(ledger, "fit.cold"))
        ledger.fact(CUT_MISS_B, Given(0.0, Kind.MEASURED, source="the readings"))
    else:
        wanted = ledger.entry("fit.wanted").answer
        kind = Kind.CHOSEN if wanted.kind is not Kind.COMPUTED else Kind.ASSUMED
        need = "wanted fit, or sleeve and parent bore as measured"
        ledger.fact(
            FIT_COLD,
            Given(wanted.value, kind, source="the job", typed=wanted.typed, need=need),
        )
        ledger.fact(CUT_MISS, cut_miss(float(ledger.value("cut.tolerance"))))
    if record.habit is None:
        ledger.compute(FIT_AS_CUT, fit_as_cut, DEEPLY, chosen="fit.cold", miss="cut.miss")
    else:
        enter_habit(ledger, FIT_AS_CUT, record.habit, units=record.units)
    most = record.least_chance_most
    # Good and out mirror each other: each is said only where it is right that often.
    judge = against_chance(most, 1.0 - most, remedy="the next sleeve, or a tighter cut")
    ledger.compute(
        FIT_BELOW_LEAST, chance_below, How(judge=judge), samples="fit.as_cut", limit="fit.least"
    )


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
    enter_roughness(ledger, record)
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
