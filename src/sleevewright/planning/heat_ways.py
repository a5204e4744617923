"""Ways where the slip or the oven's margin is not to be had: ordered, with this job's figures.

First the chilled sleeve, then less slip, a lighter fit, a long soak judged by growth alone.
"""

from __future__ import annotations

from sleevewright.core.heat.frost import frost_growth, frost_loss
from sleevewright.core.heat.lump import STILL_AIR_COEFFICIENT
from sleevewright.core.heat.shortfall import interference_for_slip, long_soak
from sleevewright.planning import heat_lines as line
from sleevewright.planning.answers import Answer, Kind, Plan, Quantity
from sleevewright.planning.beside import from_plan, known_in
from sleevewright.planning.facts import enter_default
from sleevewright.planning.hazards import CRYOGEN
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.shown import shown_answer
from sleevewright.units import shown

CHILLS = (
    ("freezer", "Chill the sleeve in a freezer"),
    ("dry_ice", "Chill the sleeve in dry ice"),
    ("nitrogen", "Chill the sleeve in liquid nitrogen"),
)
COLD = (
    " Lower it in slowly. While it is cold do not tap it and let it fall on nothing: iron is "
    "notch-brittle at flange and port edges."
)
NITROGEN = " It pushes the air out of a room, bursts what is sealed, and burns skin."
LEAST_FIT = 5e-6
"""A fit below this is none. [m]"""

NOT_KNOWN = "a figure that is not known yet"
SLOW = (
    "Set the oven at the limit, soak for {long} or more, and go by measured growth only: the "
    "time is not predictable"
)
NO_HURRY = "Never set the oven above the limit to hurry"


def enter_ways(ledger: Ledger, plan: Plan) -> None:
    """Enter frost always, and the ways in their order where slip or margin falls short."""
    _enter_frost(ledger, plan)
    margin, wanted = ledger.value(line.MARGIN_GOT.id), ledger.value("heat.margin")
    needs, limit = ledger.value("heat.casting"), ledger.value("heat.limit")
    if None in (margin, wanted, needs, limit):
        return
    if needs <= limit and margin >= wanted - 1e-6:
        return
    for key, title in CHILLS:
        _enter_chill(ledger, plan, key, title)
    _enter_less(ledger, plan)
    _enter_lighter(ledger, plan)
    ledger.compute(line.SOAK_LONG, long_soak, CENTRALLY, time_constant="heat.time_constant")
    words = SLOW.format(long=_said(ledger.entry(line.SOAK_LONG.id).answer, plan.units))
    _way(ledger, "soak", "Oven at the limit", words, NO_HURRY)


def _enter_frost(ledger: Ledger, plan: Plan) -> None:
    """Enter how much slip frost takes from each chilled sleeve that stands in open air."""
    enter_default(ledger, line.HUMIDITY, None, "humidity")
    enter_default(ledger, line.BARE, None, "bare_minute")
    ledger.fact(line.STILL, Given(STILL_AIR_COEFFICIENT, Kind.ASSUMED, "practice"))
    for key, _ in CHILLS:
        from_plan(ledger, plan, f"heat.{key}", need="how cold it is")
        for kind in ("casting", "slip"):
            from_plan(ledger, plan, f"heat.{key}_{kind}", need="the sleeve's fit")
        growth = Line(f"heat.{key}_frost_growth", "frost grows", Quantity.FEED_SPEED,
                      of="on one surface", is_detail=True)  # fmt: skip
        ledger.compute(
            growth, frost_growth, CENTRALLY, surface=f"heat.{key}", room="heat.room",
            humidity=line.HUMIDITY.id, coefficient=line.STILL.id,
        )  # fmt: skip
        lost = Line(
            f"heat.{key}_frost", f"Frost takes, {key.replace('_', ' ')}", Quantity.DEVIATION,
            "diametral", of="in a minute of open air, to a factor of two; bag it, wipe once",
        )  # fmt: skip
        ledger.compute(lost, frost_loss, CENTRALLY, rate=growth.id, time=line.BARE.id)


def _enter_chill(ledger: Ledger, plan: Plan, key: str, title: str) -> None:
    """Enter what one chilled sleeve needs of the casting, and what margin that leaves."""
    hot, limit = ledger.value(f"heat.{key}_casting"), ledger.value("heat.limit")
    if hot is None:
        return
    left = limit - hot
    span = shown(abs(left), quantity="temperature difference", system=plan.units)
    side = "below" if left >= 0.0 else "above"
    told = {
        one: _said(ledger.entry(f"heat.{key}_{one}").answer, plan.units)
        for one in ("casting", "slip", "frost")
    }
    words = f"Casting {told['casting']}, {span.figure} {span.unit} {side} the limit"
    if left < 0.0:
        words += ": not enough by itself"
    why = (
        f"At the limit it gives {told['slip']} of slip, diametral. Frost takes {told['frost']} in "
        "a minute of open air: bagged until the drop, wiped once."
    )
    if key != "freezer":
        why += COLD + (NITROGEN if key == "nitrogen" else "")
    _way(ledger, key, title, words, why)
    if key != "freezer":
        ledger.amend(f"{line.WAY}{key}", cautions=(CRYOGEN,))


def _enter_less(ledger: Ledger, plan: Plan) -> None:
    """Enter the slip that the limit gives, and the seconds that are left with it."""
    most = ledger.value("heat.slip_at_limit")
    if most is None or most <= 0.0:
        return
    seconds = [
        f"{label} {_said(known, plan.units)}"
        for label, name in (
            ("19 in 20 stay free at least", "drop.free_p05"),
            ("expected", "drop.expected"),
            ("caught before it is seated", "drop.before_seated"),
        )
        if (known := known_in(plan, name)) is not None and known.value is not None
    ]
    gives = _said(ledger.entry("heat.slip_at_limit").answer, plan.units)
    needs = ledger.value("heat.casting") > ledger.value("heat.limit")
    words = f"Take {gives}, diametral, which the limit gives" if needs else (
        "Type less slip, and look at the seconds"
    )  # fmt: skip
    why = f"The seconds at the slip as planned: {'; '.join(seconds)}" if seconds else ""
    _way(ledger, "less", "Less slip, fewer seconds", words, why)


def _enter_lighter(ledger: Ledger, plan: Plan) -> None:
    """Enter the most fit that reaches the slip at the limit."""
    if not ledger.has("heat.gauged_slip"):
        return
    ledger.compute(
        line.LIGHTER, interference_for_slip, CENTRALLY, diameter="sleeve.od",
        slip="heat.gauged_slip", casting_law="casting.law", sleeve_law="sleeve.law",
        casting_temperature="heat.limit", sleeve_temperature="heat.sleeve",
    )  # fmt: skip
    fit = ledger.value(line.LIGHTER.id)
    if fit is None or fit < LEAST_FIT:
        _way(ledger, "lighter", "A lighter fit", "No fit reaches it at the limit", "")
        return
    said = _said(ledger.entry(line.LIGHTER.id).answer, plan.units)
    _way(ledger, "lighter", "A lighter fit", f"At most {said}, diametral",
         "It reaches the slip only at the limit; see first what it holds")  # fmt: skip


def _way(ledger: Ledger, key: str, title: str, words: str, why: str) -> None:
    """Enter one way in words."""
    ledger.fact(
        Line(f"{line.WAY}{key}", title, Quantity.TEXT, of=why),
        Given(words, Kind.COMPUTED, "practice"),
    )


def _said(answer: Answer, system: str) -> str:
    """Figure and unit, or that it is not known."""
    if answer.value is None:
        return NOT_KNOWN
    told = shown_answer(answer, system=system)
    return f"{told.figure} {told.unit}".strip()
