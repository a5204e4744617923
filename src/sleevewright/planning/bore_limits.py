"""Which sizes of the parent bore leave the least and the parts' limits both good.

The ticket keeps its target and the shop's own tolerance; here stands how far a bore that was
cut may lie off and still be accepted, for the sleeve in hand and the gauge that will read it.
"""

from __future__ import annotations

import math

from sleevewright.core.allowances import larger, rest_of
from sleevewright.core.fits.bore_limits import (
    binding_ends,
    combined_standard,
    largest_bore,
    smallest_bore,
    unshared_standard,
)
from sleevewright.core.materials import default
from sleevewright.jobs.model import Instrument
from sleevewright.planning.answers import Kind, Quantity
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.gauges import SETTINGS, setting_id
from sleevewright.planning.habit import SHOP_BIAS
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.units import shown

Q = Quantity
FITTED_GAUGES = ("dial-bore-gauge", "three-point-gauge")
"""Gauges that a parent bore is read with."""

READING = Line(
    "bore.reading_standard",
    "doubt of the bore as it will be gauged",
    Q.DEVIATION,
    "diametral",
    of="one standard uncertainty",
    is_detail=True,
)
SHARED = Line(
    "bore.shared_standard",
    "doubt that the bore will share with the sleeve",
    Q.DEVIATION,
    "diametral",
    of="one standard uncertainty; it cancels in the fit",
    is_detail=True,
)
SLEEVE = Line(
    "bore.sleeve_standard",
    "doubt of the sleeve as gauged",
    Q.DEVIATION,
    "diametral",
    of="one standard uncertainty",
    is_detail=True,
)
FIT = Line(
    "bore.fit_standard",
    "doubt of the fit once both are gauged",
    Q.DEVIATION,
    "diametral",
    of="one standard uncertainty",
    is_detail=True,
)
LIMIT = Line(
    "bore.limit_standard",
    "doubt of what the parts bear, as a fit",
    Q.DEVIATION,
    "diametral",
    of="one standard uncertainty",
    is_detail=True,
)
MARGIN = Line(
    "bore.margin_standard",
    "doubt of what is left to the limit",
    Q.DEVIATION,
    "diametral",
    of="one standard uncertainty",
    is_detail=True,
)
HABIT = Line(
    "bore.habit_standard",
    "doubt of the shop's habit",
    Q.DEVIATION,
    "diametral",
    of="one standard uncertainty",
    is_detail=True,
)
EXPECTED = Line(
    "bore.expected_standard",
    "doubt of the fit to expect",
    Q.DEVIATION,
    "diametral",
    of="one standard uncertainty, the habit's with it",
    is_detail=True,
)
LEFT = Line(
    "bore.left_standard",
    "doubt of what is left with the habit",
    Q.DEVIATION,
    "diametral",
    of="one standard uncertainty",
    is_detail=True,
)
LEAST = Line(
    "bore.least_measured",
    "the least, as a fit measured",
    Q.DEVIATION,
    "diametral",
    of="less the shop's habit",
    is_detail=True,
)
BORNE = Line(
    "bore.borne_measured",
    "what the parts bear, as a fit measured",
    Q.DEVIATION,
    "diametral",
    of="less the shop's habit",
    is_detail=True,
)
LOW_MEASURED = Line(
    "bore.allowed_low_measured", "down to, without the habit", Q.SIZE, "diametral", is_detail=True
)
LOW_EXPECTED = Line(
    "bore.allowed_low_expected", "down to, with the habit", Q.SIZE, "diametral", is_detail=True
)
CHANCE = Line("bore.chance_most", "chance of less than the least, at most", Q.PROBABILITY,
              is_detail=True)  # fmt: skip
GUARD = Line("bore.guard", "guard band", Q.RATIO, of="standard uncertainties", is_detail=True)
LOW = Line(
    "bore.allowed_low",
    "Parent bore may be gauged down to",
    Q.SIZE,
    "diametral",
    of="what the parts bear stays good by the guard band",
    would_change="a measured radius of the casting",
)
HIGH = Line(
    "bore.allowed_high",
    "Parent bore may be gauged up to",
    Q.SIZE,
    "diametral",
    of="the chance of less than the least stays accepted",
    would_change="a gauge set from a ring, on both parts",
)
BINDS = Line("bore.allowed_by", "What binds the parent bore", Q.TEXT)


def enter_gauge(ledger: Ledger, instruments: tuple[Instrument, ...]) -> None:
    """Enter what the bore's reading will be worth: of the best bore gauge, else the usual one.

    A gauge that is set from what the sleeve was read with carries that setting too: it will
    be in both sizes alike, and not in the fit.
    """
    own = [one for one in instruments if one.kind in FITTED_GAUGES]
    if not own:
        usual = ledger.default("cut_gauge")
        ledger.fact(READING, Given(usual.value, Kind.ASSUMED, usual.source, usual.note))
        ledger.fact(SHARED, Given(0.0, Kind.ASSUMED, "no gauge is told"))
        return
    best = min(own, key=lambda one: _standard(one, instruments))
    source = f"{best.name}: its setting, that of what it is set from, and its step"
    ledger.fact(READING, Given(_standard(best, instruments), Kind.ASSUMED, source))
    settings = _settings(best, instruments)
    in_sleeve = ledger.entry("sleeve.od").roots
    both = [one for one in settings if setting_id(one) in in_sleeve]
    shared = math.hypot(*(settings[one] for one in both))
    words = f"set from: {', '.join(both)}" if both else "the gauges share no setting"
    ledger.fact(SHARED, Given(shared, Kind.ASSUMED, words))


def _standard(gauge: Instrument, known: tuple[Instrument, ...]) -> float:
    """Standard uncertainty of a mean read with a gauge: the settings of its chain, its step."""
    step = default("gauge_resolution").value if gauge.resolution is None else gauge.resolution.value
    return math.hypot(step / math.sqrt(12.0), *_settings(gauge, known).values())


def _settings(gauge: Instrument, known: tuple[Instrument, ...]) -> dict[str, float]:
    """Standard uncertainty of each setting along the chain of a gauge, by the gauge's name."""
    found: dict[str, float] = {}
    one: Instrument | None = gauge
    while one is not None and one.name not in found:
        usual = default(SETTINGS.get(one.kind, "gauge_setting")).value
        setting = usual if one.setting is None else one.setting.value
        found[one.name] = setting / STATED_COVERAGE_FACTOR
        master = one.set_from
        one = next((other for other in known if other.name == master), None)
    return found


def enter_allowed(ledger: Ledger, *, chance: float, system: str) -> None:
    """Enter the smallest and the largest parent bore that may be gauged, and what binds."""
    _enter_doubts(ledger)
    ledger.fact(CHANCE, Given(chance, Kind.CHOSEN, "the shop's settings"))
    guard = ledger.default("guard_factor")
    ledger.fact(GUARD, Given(guard.value, Kind.CHOSEN, guard.source, guard.note))
    if ledger.has(SHOP_BIAS.id):
        _enter_ends_with_habit(ledger)
    else:
        _enter_high(ledger, least="fit.least", standard=FIT.id)
        _enter_low(ledger, LOW, limit="fit.limit_fit", standard=MARGIN.id)
    ledger.compute(
        BINDS,
        binding_ends,
        CENTRALLY,
        casting_fit="fit.yield_fit",
        sleeve_fit="fit.sleeve_yield_fit",
    )
    _say(ledger, system)


def _enter_high(ledger: Ledger, *, least: str, standard: str) -> None:
    """Enter the largest bore that keeps a least, with the doubt of the fit by its name."""
    ledger.compute(
        HIGH,
        largest_bore,
        CENTRALLY,
        outside_diameter="sleeve.od",
        least=least,
        standard=standard,
        chance=CHANCE.id,
    )


def _enter_low(ledger: Ledger, line: Line, *, limit: str, standard: str) -> None:
    """Enter the smallest bore that keeps a limit, with the doubt of what is left to it."""
    ledger.compute(
        line,
        smallest_bore,
        CENTRALLY,
        outside_diameter="sleeve.od",
        limit_fit=limit,
        standard=standard,
        guard=GUARD.id,
    )


def _enter_ends_with_habit(ledger: Ledger) -> None:
    """Enter both ends where a habit was accepted: it is in the fit to expect, not in the gauge.

    Above, the least is kept by the fit to expect.  Below, the parts bear the tighter of both,
    with the habit or without: the sleeve was as tight as gauged before anything gave way.
    """
    ledger.fact(HABIT, _standard_of(ledger, SHOP_BIAS.id, need="the shop's habit"))
    habit = {"part": SHOP_BIAS.id}
    ledger.compute(LEAST, rest_of, CENTRALLY, whole="fit.least", **habit)
    ledger.compute(EXPECTED, combined_standard, CENTRALLY, one=FIT.id, other=HABIT.id)
    _enter_high(ledger, least=LEAST.id, standard=EXPECTED.id)
    ledger.compute(BORNE, rest_of, CENTRALLY, whole="fit.limit_fit", **habit)
    ledger.compute(LEFT, combined_standard, CENTRALLY, one=MARGIN.id, other=HABIT.id)
    _enter_low(ledger, LOW_MEASURED, limit="fit.limit_fit", standard=MARGIN.id)
    _enter_low(ledger, LOW_EXPECTED, limit=BORNE.id, standard=LEFT.id)
    ledger.compute(LOW, larger, CENTRALLY, one=LOW_MEASURED.id, other=LOW_EXPECTED.id)


def _enter_doubts(ledger: Ledger) -> None:
    """Enter the doubt of the fit, of the parts' limit, and of what lies between both."""
    ledger.fact(SLEEVE, _standard_of(ledger, "sleeve.od", need="sleeve as measured"))
    if ledger.has("bore.size"):
        # Both are gauged: what their gauges share has cancelled in the fit already.
        ledger.fact(FIT, _standard_of(ledger, "fit.cold", need="fit"))
    else:
        told = {"one": SLEEVE.id, "other": READING.id}
        ledger.compute(FIT, unshared_standard, CENTRALLY, common=SHARED.id, **told)
    ledger.fact(LIMIT, _standard_of(ledger, "fit.limit_fit", need="what the parts bear"))
    ledger.compute(MARGIN, combined_standard, CENTRALLY, one=FIT.id, other=LIMIT.id)


def _standard_of(ledger: Ledger, identity: str, *, need: str) -> Given:
    """The standard uncertainty of an answer as a fact; missing where the answer is."""
    entry = ledger.entry(identity)
    if entry.is_missing:
        return Given(None, Kind.ASSUMED, need=need)
    doubt = entry.answer.doubt
    standard = 0.0 if doubt is None else doubt.standard
    return Given(standard, Kind.ASSUMED, f"the budget of: {entry.answer.label}")


def _say(ledger: Ledger, system: str) -> None:
    """Say so where no bore is allowed, or where the target or its limits lie outside."""
    known = [ledger.value(one) for one in (LOW.id, HIGH.id, "bore.target")]
    if any(one is None for one in known):
        return
    low, high, target = (float(one) for one in known)
    if low > high:
        ledger.caution(
            "no-bore-allowed",
            "No parent bore leaves both the least and what the parts bear good: a gauge that "
            "knows the fit better, a lighter least, or a casting whose radius is measured.",
            "iso-14253-1",
        )
        return
    for past, end, words in ((target - high, high, "above"), (low - target, low, "below")):
        if past > 0.0:
            size = shown(end, quantity=Q.SIZE.value, system=system)
            ledger.caution(
                "target-not-allowed",
                f"The fit that is wanted asks for a bore {words} {size.figure} {size.unit}, where "
                "the least or what the parts bear is no longer good by the shop's own rules. "
                "Choose another fit, or a gauge that knows it better.",
                "iso-14253-1",
            )
            return
    tolerance = float(ledger.value("cut.tolerance") or 0.0)
    if target + tolerance > high or target - tolerance < low:
        said = [shown(one, quantity=Q.SIZE.value, system=system) for one in (low, high)]
        ledger.advise(
            f"The cut's own limits reach past what may be gauged: stay from {said[0].figure} to "
            f"{said[1].figure} {said[1].unit}."
        )
