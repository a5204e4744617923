"""The flange in its counterbore: the second fit, chosen until the counterbore is measured."""

from __future__ import annotations

import numpy as np

from sleevewright.core.allowances import fit_as_cut, per_diameter_lead, rest_of
from sleevewright.core.fits.flange import ShrinkFit, caught_first
from sleevewright.core.fits.interference import interference
from sleevewright.core.uncertainty.sampled import chance_below
from sleevewright.jobs.model import Choice
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import cut_miss, given
from sleevewright.planning.habit import MEASURED
from sleevewright.planning.judging import against_chance
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.two_fits import SolidEnd, enter_two_fits

Q = Quantity

WANTED = Line(
    "fit.flange_wanted",
    "Flange fit wanted",
    Q.DEVIATION,
    "diametral",
    of="at 20 °C; negative is clearance",
)
FLANGE = Line(
    "fit.flange",
    "Flange in its counterbore",
    Q.DEVIATION,
    "diametral",
    of="at 20 °C; negative is clearance",
    would_change="read the counterbore with the gauge that read the flange",
)
MISS = Line("counterbore.miss", "what the counterbore may miss by", Q.DEVIATION, is_detail=True)
AS_CUT = Line("fit.flange_as_cut", "Flange fit to expect", Q.DEVIATION, "diametral", is_detail=True)
SHORT = Line(
    "fit.short_allowed",
    "Fit that may be short of what is wanted",
    Q.DEVIATION,
    "diametral",
    of="wanted less the least, at the body",
    is_detail=True,
)
LEAST = Line(
    "fit.flange_least",
    "The least at the flange",
    Q.DEVIATION,
    "diametral",
    of="as far below what is wanted as at the body; negative is clearance",
)
BELOW_LEAST = Line(
    "fit.flange_below_least",
    "Chance of less than the least at the flange",
    Q.PROBABILITY,
    of="flange and counterbore as gauged, else as they are to be cut",
)
CAUGHT_FIRST = Line(
    "fit.caught_first", "Caught first on cooling", Q.TEXT, of="both parts at one temperature"
)
LEAD = Line("fit.flange_lead", "body's lead in fit per diameter", Q.RATIO, is_detail=True)
FIRST = Line(
    "fit.flange_first",
    "Chance that the flange is caught first",
    Q.PROBABILITY,
    of="a flange that grips before it sits holds the sleeve proud",
)
STANDS = Line(
    "counterbore.stands",
    "Flange will stand out",
    Q.DEVIATION,
    "axial",
    of="from the flange and the counterbore as read; negative is below the deck",
)
TOO_TIGHT = (
    "The flange has more thou per inch than the body and is caught first: a flange that grips "
    "before it sits holds the sleeve proud. Give the flange less."
)


def enter_flange(
    ledger: Ledger, choice: Choice, *, least_chance_most: float, solid: SolidEnd | None = None
) -> None:
    """Enter the flange's own fit, its doubt, and which of the two is caught first."""
    _enter_fit(ledger, choice)
    if ledger.has("flange.od"):
        _enter_least(ledger, least_chance_most)
    if ledger.has("counterbore.cut_depth"):
        ledger.compute(STANDS, rest_of, whole="flange.thickness", part="counterbore.cut_depth")
    if not (ledger.has("fit.flange_as_cut") and ledger.has("fit.as_cut")):
        return
    _enter_order(ledger)
    if _has_wall(ledger) and _has_ledge(ledger):
        enter_two_fits(ledger, choice.hold_down, solid)
    if ledger.value("fit.caught_first") == "flange":
        ledger.advise(TOO_TIGHT)


def _enter_fit(ledger: Ledger, choice: Choice) -> None:
    """Enter the fit: of the readings where there are any, else the wish and its miss."""
    fallback, wish = ledger.default("flange_clearance"), choice.flange_wanted
    told = Given(None, Kind.CHOSEN, need="flange diameter")
    if ledger.has("flange.od") and wish is not None:
        told = given(wish, need="flange fit")
    elif ledger.has("flange.od"):
        told = Given(-fallback.value, Kind.ASSUMED, source=fallback.source, typed=fallback.note)
    ledger.fact(WANTED, told)
    if ledger.has("counterbore.size") and ledger.has("flange.od"):
        ledger.compute(FLANGE, interference, outside_diameter="flange.od", bore="counterbore.size")
        miss = Given(0.0, Kind.MEASURED, source="the readings")
    else:
        ledger.fact(FLANGE, told)
        miss = cut_miss(float(ledger.value("cut.tolerance")))
    ledger.fact(MISS, miss)
    ledger.compute(AS_CUT, fit_as_cut, chosen="fit.flange", miss="counterbore.miss")


def _enter_least(ledger: Ledger, most: float) -> None:
    """Enter the least fit of the flange and the chance that it has less."""
    ledger.compute(SHORT, rest_of, whole="fit.wanted", part="fit.least")
    ledger.compute(LEAST, rest_of, whole="fit.flange_wanted", part="fit.short_allowed")
    judge = against_chance(most, 1.0 - most, remedy="gauge flange and counterbore again")
    ledger.compute(
        BELOW_LEAST,
        chance_below,
        How(judge=judge),
        samples="fit.flange_as_cut",
        limit="fit.flange_least",
    )


def _enter_order(ledger: Ledger) -> None:
    """Enter which fit is caught first, and the chance that it is the flange."""
    # Both as they were cut: a habit is learned of bodies, and would favour one side.
    body = MEASURED.id if ledger.has(MEASURED.id) else "fit.as_cut"
    for identity, diameter, fit in (
        ("fit.body_fit", "sleeve.od", body),
        ("fit.flange_fit", "flange.od", "fit.flange_as_cut"),
    ):
        line = Line(identity, "a cold fit", Q.RECORD, is_detail=True)
        ledger.compute(line, ShrinkFit, diameter=diameter, interference=fit)
    ledger.compute(
        CAUGHT_FIRST,
        caught_first,
        CENTRALLY,
        body="fit.body_fit",
        flange="fit.flange_fit",
        casting_law="casting.law",
        sleeve_law="sleeve.law",
    )
    ledger.compute(
        LEAD,
        per_diameter_lead,
        interference=body,
        diameter="sleeve.od",
        other_interference="fit.flange_as_cut",
        other_diameter="flange.od",
    )
    ledger.fact(
        Line("fit.no_lead", "no lead", Q.RATIO, is_detail=True),
        Given(0.0, Kind.CHOSEN, source="derived"),
    )
    remedy = "less fit at the flange, or read flange and counterbore again"
    ledger.compute(
        FIRST,
        chance_below,
        How(judge=against_chance(0.05, 0.95, remedy=remedy)),
        samples="fit.flange_lead",
        limit="fit.no_lead",
    )


def _has_wall(ledger: Ledger) -> bool:
    """Whether the casting surely has a wall outside the flange; a caution where it may not."""
    if not (ledger.has("casting.outside_diameter") and ledger.has("flange.od")):
        return True
    outside = float(np.min(ledger.samples("casting.outside_diameter")))
    if outside > float(np.max(ledger.samples("flange.od"))):
        return True
    ledger.caution(
        "no-wall-at-flange",
        "Within its doubt the casting's outside is no larger than the flange: no pressure is given "
        "for the flange. Measure the casting where the flange sits.",
        "derived",
    )
    return False


def _has_ledge(ledger: Ledger) -> bool:
    """Whether the flange surely stands over the body; a caution where it may not."""
    if not (ledger.has("sleeve.od") and ledger.has("flange.od")):
        return True
    body = float(np.max(ledger.samples("sleeve.od")))
    if float(np.min(ledger.samples("flange.od"))) > body:
        return True
    ledger.caution(
        "no-ledge-at-flange",
        "Within its doubt the flange is no wider than the body: nothing is said of what the body "
        "leaves of its fit. Measure flange and body with one micrometer.",
        "derived",
    )
    return False
