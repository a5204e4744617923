"""A quick verdict before a whole sweep: the total swing alone, or one pair of readings."""

from __future__ import annotations

import math
from dataclasses import replace

from sleevewright.core.metrology.centring import pair_offset, swing_offset
from sleevewright.core.metrology.sweep import lever_reading
from sleevewright.planning.answers import Doubt, Judgement, Kind, Quantity, Verdict
from sleevewright.planning.centred import length_doubt, offset_judge
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.ledger import CENTRALLY, Given, Ledger, Line
from sleevewright.planning.proofing import Gauged, reading_doubt
from sleevewright.planning.setup_told import SetUpTold

Q = Quantity

SWING = Line("setup.swing", "Total swing", Q.DEVIATION, of="twice the offset", is_detail=True)
BY_SWING = Line(
    "setup.by_swing", "Centre off, by the total swing", Q.DEVIATION, "radial", of="half of it"
)
HERE = Line("setup.pair_here", "First of the pair", Q.READING, is_detail=True)
OPPOSITE = Line("setup.pair_opposite", "Opposite of it", Q.READING, is_detail=True)
BY_PAIR = Line(
    "setup.by_pair",
    "Move towards the first of the pair",
    Q.READING,
    "radial",
    of="along that line only",
)
SQUARE_TO_IT = "read the pair square to it: this one says nothing of that direction"


def quick_looks(ledger: Ledger, told: SetUpTold) -> None:
    """Answers from a swing or a pair, where one was told."""
    share = float(lever_reading(1.0, angle=told.lever))
    one = share * reading_doubt(ledger, Gauged(), "indicator_setting")
    standard = one / math.sqrt(2.0)
    limit = ledger.default("centring").value
    swing = told.figure("swing")
    if swing is not None:
        ledger.fact(SWING, Given(share * swing.value, Kind.MEASURED, "the job", swing.text))
        ledger.compute(BY_SWING, swing_offset, CENTRALLY, swing=SWING.id)
        judged = swing_judged(float(ledger.value(BY_SWING.id)), standard, limit)
        found = float(ledger.value(BY_SWING.id))
        ledger.amend(BY_SWING.id, doubt=length_doubt(found, standard), judgement=judged)
    here, opposite = told.figure("pair_here"), told.figure("pair_opposite")
    if here is not None and opposite is not None:
        ledger.fact(HERE, Given(share * here.value, Kind.MEASURED, "the job", here.text))
        ledger.fact(OPPOSITE, Given(share * opposite.value, Kind.MEASURED, "", opposite.text))
        line = replace(BY_PAIR, of=_along_words(told))
        ledger.compute(line, pair_offset, CENTRALLY, here=HERE.id, opposite=OPPOSITE.id)
        _doubted(
            ledger, BY_PAIR, standard, pair_judged(float(ledger.value(BY_PAIR.id)), standard, limit)
        )


def _along_words(told: SetUpTold) -> str:
    """Where the first of the pair stands, and that nothing else was looked at."""
    at = told.figure("pair_at")
    return "along that line only" if at is None else f"first at {at.text}, along that line only"


def _doubted(ledger: Ledger, line: Line, standard: float, judged: Judgement) -> None:
    value = float(ledger.value(line.id))
    half = STATED_COVERAGE_FACTOR * standard
    doubt = Doubt(standard, value - half, value + half, 0.95, "linear")
    ledger.amend(line.id, doubt=doubt, judgement=judged)


def swing_judged(value: float, standard: float, limit: float) -> Judgement:
    """An offset by the total swing against its limit."""
    return offset_judge(limit, "sweep all round to know which way")(value, None, standard)


def pair_judged(value: float, standard: float, limit: float) -> Judgement:
    """A pair may say *out*; it never says *good*, since it sees one line alone."""
    judged = offset_judge(limit, "sweep all round, then move")(abs(value), None, standard)
    if judged.verdict is Verdict.OUT:
        return judged
    return Judgement(Verdict.TOO_CLOSE, limit, "most", judged.rule, SQUARE_TO_IT)
