"""What would settle whether a ledge is square and a flange seated: a better depth gauge.

Setting and step of the gauge are all that is in doubt of them, and neither averages out when a
place is read more than once: another gauge of the list helps, more readings do not.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from sleevewright.jobs.model import Grid, Instrument
from sleevewright.planning.answers import Doubt, Judgement, Plan, SettlingWay, Verdict
from sleevewright.planning.athand import Gauging
from sleevewright.planning.beside import ledger_of, rejudged
from sleevewright.planning.facts import find_instrument
from sleevewright.planning.judging import judged_with
from sleevewright.planning.proofing import Gauged, most, reading_doubt
from sleevewright.planning.settling_ways import Timed, close_call, told_ways
from sleevewright.planning.shop import default_in

DEPTH_GAUGE = "depth-micrometer"

SEATS = (
    ("counterbore.ledge", "counterbore-depth", "ledge_spread", "the ledge", math.sqrt(2.0)),
    ("cool.seated", "stand-out", "seat_most", "the stand-out", 1.0),
)
"""Verdict, its readings, its limit, words, and doubts of one reading that it holds."""


def with_seat_ways(plan: Plan, sets: Mapping[str, Gauging]) -> Plan:
    """The plan with what would settle ledge and flange, where they are too close to call."""
    told: dict[str, Judgement] = {}
    for name, feature, limit, words, share in SEATS:
        judged, gauging = close_call(plan, name), sets.get(feature)
        if judged is not None and gauging is not None:
            found = _otherwise(plan, (name, limit, words, share), gauging)
            told[name] = told_ways(judged, found)
    return rejudged(plan, told)


def _otherwise(plan: Plan, seat: tuple[str, str, str, float], gauging: Gauging) -> Iterator[Timed]:
    """The same places read anew with another depth gauge of the list."""
    name, limit, words, share = seat
    value, ledger = plan.answer(name).value, ledger_of(plan)
    now = find_instrument(gauging.grid.instrument, gauging.instruments)
    kinds = {DEPTH_GAUGE} if now is None else {DEPTH_GAUGE, now.kind}
    count = sum(cell is not None for row in gauging.grid.readings for cell in row)
    once = default_in(plan.chosen, "setting_time").value
    each = default_in(plan.chosen, "reading_time").value
    for gauge in sorted({one.name: one for one in gauging.instruments}.values(), key=_name):
        if gauge is now or gauge.kind not in kinds or not isinstance(value, float):
            continue
        grid = Grid(gauging.grid.feature, gauge.name)
        held = Gauged(grid, gauging.instruments)
        standard = share * reading_doubt(ledger, held, "depth_micrometer_setting")
        doubt = Doubt(standard, value - standard, value + standard, 0.68, "linear")
        verdict = judged_with(most(ledger, limit, ""), value, doubt).verdict
        if verdict is not Verdict.TOO_CLOSE:
            said = f"{words} read anew with {gauge.name}, {count} readings"
            yield Timed(SettlingWay(said, count, standard, None), once + count * each)


def _name(gauge: Instrument) -> str:
    """Gauges are asked about in the order of their names."""
    return gauge.name
