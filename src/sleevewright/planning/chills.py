"""A colder sleeve: what it would need and give, and what to do where the slip is out of reach."""

from __future__ import annotations

from sleevewright.core.allowances import larger, smaller
from sleevewright.core.heat.joining import casting_temperature_for_slip, slip
from sleevewright.errors import InputError
from sleevewright.planning.answers import Quantity, Verdict
from sleevewright.planning.both_fits import of_both
from sleevewright.planning.facts import enter_default
from sleevewright.planning.hazards import CRYOGEN
from sleevewright.planning.judging import LimitJudge, against_limit
from sleevewright.planning.ledger import How, Ledger, Line
from sleevewright.planning.ranges import caution_beyond

Q = Quantity

CHILLS = (
    ("freezer", "Sleeve from the freezer", "freezer_temperature"),
    ("dry_ice", "Sleeve from dry ice", "dry_ice_temperature"),
    ("nitrogen", "Sleeve from liquid nitrogen", "nitrogen_temperature"),
)
FREEZER = {
    Verdict.GOOD: "A sleeve from a household freezer reaches the wanted slip within the limit.",
    Verdict.TOO_CLOSE: "A sleeve from a household freezer may just reach the wanted slip within "
    "the limit; it is too close to call.",
    Verdict.OUT: "A sleeve from a household freezer helps, but does not reach the wanted slip "
    "within the limit by itself.",
}
LESS = (
    "Or take the slip that the limit gives: type it as the wanted slip, and look at the seconds.",
    "Or choose a lighter fit.",
    "With the oven at the limit the time cannot be foretold: soak and go by measured growth only.",
    "Never set the oven above the casting's limit to hurry.",
    "Dry ice or nitrogen only with the cautions for cryogens; never to free a fit that has closed.",
)


def enter_chills(ledger: Ledger) -> None:
    """Enter what a colder sleeve would need and give, for the fit that rules."""
    judge = against_limit(ledger.value("heat.limit"), "most", remedy="a colder sleeve yet")
    for key, label, name in CHILLS:
        enter_default(
            ledger,
            Line(f"heat.{key}", label, Q.TEMPERATURE, of="sleeve", is_detail=True),
            None,
            name,
        )
        try:
            _enter_chill(ledger, key, label, judge)
        except InputError:
            # The law of this metal has it shrink by more than any casting could.
            ledger.advise(f"{label}: so cold it is loose in the casting without any heat.")
    _advise(ledger)


def _enter_chill(ledger: Ledger, key: str, label: str, judge: LimitJudge) -> None:
    """Enter what one colder sleeve would need of the casting, and give at its limit."""
    of_both(
        ledger,
        Line(
            f"heat.{key}_casting",
            f"{label}: casting",
            Q.TEMPERATURE,
            of="casting on the gauge, for the same slip",
        ),
        casting_temperature_for_slip,
        larger,
        How(judge=judge),
        slip="heat.gauged_slip",
        sleeve_temperature=f"heat.{key}",
    )
    of_both(
        ledger,
        Line(f"heat.{key}_slip", f"{label}: slip at the limit", Q.DEVIATION, "diametral"),
        slip,
        smaller,
        casting_temperature="heat.limit",
        sleeve_temperature=f"heat.{key}",
    )
    if key != "freezer":
        # The caution stands where the number is that tempts to do it.
        ledger.amend(f"heat.{key}_casting", cautions=(CRYOGEN,))
    at = ledger.value(f"heat.{key}")
    hot = ledger.value(f"heat.{key}_casting")
    caution_beyond(ledger, f"heat.{key}_casting", casting=hot, sleeve=at)
    caution_beyond(ledger, f"heat.{key}_slip", sleeve=at)


def _advise(ledger: Ledger) -> None:
    """Say what to do where the slip cannot be reached, in the order of preference."""
    if not ledger.has("heat.freezer_casting"):
        return
    judged = ledger.entry("heat.casting").answer.judgement
    freezer = ledger.entry("heat.freezer_casting").answer.judgement
    if judged is None or freezer is None or judged.verdict is Verdict.GOOD:
        return
    ledger.advise(FREEZER[freezer.verdict])
    for text in LESS:
        ledger.advise(text)
