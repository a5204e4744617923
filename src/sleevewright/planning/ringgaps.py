"""Stage Rings: end gaps against the sources, the bore that a gap tells, what is filed off, hot.

Gaps are lengths along the wall, cold unless hot is said; bores are diametral at 20 degC.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from sleevewright.core.allowances import rest_of
from sleevewright.core.engine.ring_gap import (
    WIDEST,
    bore_from_gap,
    filing_needed,
    gap_in_bore,
    gap_share,
    hot_ring_gap,
    ring_gap,
)
from sleevewright.jobs.model import Engine, Entry
from sleevewright.planning.answers import Kind, Plan, Quantity, StageAnswers, Verdict
from sleevewright.planning.beside import beside, from_plan, ledger_of, told_size
from sleevewright.planning.engine_rules import (
    ANY,
    GAPS,
    Setting,
    cooling_of,
    fitting,
    strokes_of,
    usual_rule,
)
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR, enter_default
from sleevewright.planning.judging import against_limit
from sleevewright.planning.ledger import CENTRALLY, Given, How, Ledger, Line
from sleevewright.planning.proofing import within
from sleevewright.planning.ringports import Pegged, enter_pegs
from sleevewright.planning.warming import enter_strain

Q = Quantity
BORE = Line("rings.bore", "Bore that the rings run in", Q.SIZE, "diametral", is_detail=True)
SKIRT = Line(
    "rings.skirt_off",
    "Feeler at the skirt, off the gauged clearance",
    Q.DEVIATION,
    "diametral",
    of="a feeler reads low on a barrelled skirt",
)
FIRST = "top"
GAUGED = "finish.as_gauged"
BY_GAUGE, AS_PLANNED = "by the gauge", "as planned"
SQUARED = (
    "Push the ring down with the piston so that it lies square, between the ports where the bore "
    "is least worn, never across a window; then the feeler, without force."
)
FILE = (
    "File one end only, square and dry, from the outside inwards; break the edges, wash, gauge "
    "again. Metal off is quick, and nothing puts it back."
)
NO_FILE = (
    "The gap may be beyond its alarm already: file nothing off it. Another ring, or the next "
    "oversize; no file closes a gap."
)
SLIP = (
    "The tip sheet of 3.5 thou by the inch prints 12 thou as its example for 3 in; its own rule "
    "gives 10.5: a slip of the sheet, and its least is the lower one."
)
WRONG = (
    "gap and gauge disagree, something is wrong: the ring not square or over a port, another "
    "ring, a gauge set off, or a bore that is not round. Gauge both again before it is released"
)


@dataclass(frozen=True)
class Ring:
    """What was told of one ring."""

    part: str  # "top" or "second"
    gap: Entry | None = None
    wanted: Entry | None = None
    known_gap: Entry | None = None
    known_bore: Entry | None = None


@dataclass(frozen=True)
class RingsTold:
    """What was told of the rings, their pegs, and the skirt by feeler."""

    rings: tuple[Ring, ...]
    pegged: Pegged
    skirt: Entry | None = None


def rings_stage(plan: Plan, engine: Engine, told: RingsTold) -> StageAnswers:
    """Gaps of the rings, the bore that they tell, pegs and ports, the skirt by feeler."""
    ledger = ledger_of(plan)
    _enter_bore(ledger, plan)
    is_hot = any(ring.gap is not None for ring in told.rings) and enter_strain(ledger, plan)
    for ring in told.rings:
        _enter_ring(ledger, plan, engine, _believed(ledger, ring), is_hot=is_hot)
    enter_pegs(ledger, plan, told.pegged, BORE.id)
    _enter_skirt(ledger, plan, told.skirt)
    ledger.advise(SQUARED)
    return beside(plan, "rings", "Rings", ledger.result())


def _enter_bore(ledger: Ledger, plan: Plan) -> None:
    """Enter the bore: as gauged after the hone, else as it is to be; it says which."""
    gauged = next((one for one in plan.answers() if one.id == GAUGED), None)
    is_gauged = gauged is not None and gauged.value is not None
    name = GAUGED if is_gauged else "finish.bore"
    from_plan(ledger, plan, name, need="the finished bore gauged, or the piston")
    line = replace(BORE, of=BY_GAUGE if is_gauged else AS_PLANNED)
    ledger.compute(line, rest_of, whole=name, part=_nought(ledger))


def _nought(ledger: Ledger) -> str:
    """The id of a nought, to carry a value over under another name."""
    line = Line("rings.nought", "nothing", Q.DEVIATION, is_detail=True)
    ledger.fact(line, Given(0.0, Kind.CHOSEN, source="derived"))
    return line.id


def _believed(ledger: Ledger, ring: Ring) -> Ring:
    """The ring without a gap that can not be one."""
    bore = ledger.value(BORE.id)
    known = None if ring.known_bore is None else ring.known_bore.value
    return replace(
        ring,
        gap=_kept(ledger, ring, ring.gap, bore, "end gap"),
        wanted=_believed_wanted(ledger, ring, bore),
        known_gap=_kept(ledger, ring, ring.known_gap, known, "gap in the known bore"),
    )


def _kept(
    ledger: Ledger, ring: Ring, entry: Entry | None, bore: float | None, words: str
) -> Entry | None:
    """A gap that is more than nothing and at most a twentieth of its bore; else it is said."""
    if entry is None or bore is None or 0.0 < entry.value <= WIDEST * bore:
        return entry
    text = (
        f"{ring.part.capitalize()} ring: {words} of {entry.text} is not counted. A gap is more "
        "than nothing and at most a twentieth of the bore: gauge it again, and see the unit."
    )
    code = f"not-counted-{ring.part}-{words.replace(' ', '-')}:rings."
    ledger.caution(code, text, "derived")
    return None


def _believed_wanted(ledger: Ledger, ring: Ring, bore: float | None) -> Entry | None:
    """The gap that is wanted, unless it lies beyond the alarm: nothing is filed to that."""
    wanted = _kept(ledger, ring, ring.wanted, bore, "wanted gap")
    alarm = ledger.default("ring_gap_alarm")
    if wanted is None or bore is None or wanted.value <= ring_gap(bore=bore, share=alarm.value):
        return wanted
    text = (
        f"{ring.part.capitalize()} ring: a wanted gap of {wanted.text} is not counted. It lies "
        f"beyond the alarm of {alarm.stated}, where the bore is oversize for the ring: see the "
        "ring's own sheet, and the unit."
    )
    ledger.caution(f"wanted-beyond-alarm-{ring.part}:rings.", text, "ring-sheet")
    return None


def _enter_ring(ledger: Ledger, plan: Plan, engine: Engine, ring: Ring, *, is_hot: bool) -> None:
    """Enter what is wanted of one ring, and what its gap says."""
    key, name = f"rings.{ring.part}", f"{ring.part.capitalize()} ring"
    _enter_wanted(ledger, plan, engine, ring)
    if ring.gap is None:
        return
    feeler = ledger.default("gap_feeler").value
    ledger.fact(
        Line(f"{key}_gap", f"{name}, end gap", Q.DEVIATION, of="squared, cold"),
        told_size(ring.gap, doubt=feeler, need=f"end gap of the {ring.part} ring"),
    )
    _judge_gap(ledger, key, name)
    ledger.compute(
        Line(f"{key}_file", f"{name}, file off", Q.DEVIATION, of="both ends together"),
        filing_needed,
        wanted=f"{key}_wanted",
        gap=f"{key}_gap",
    )
    if ledger.has(f"{key}_file") and ledger.value(f"{key}_file") > 0.0:
        _say_filing(ledger, key)
    if is_hot:
        _enter_hot(ledger, key, name)
    _enter_cross_check(ledger, ring)


def _say_filing(ledger: Ledger, key: str) -> None:
    """Say how to file; of a gap that may be beyond its alarm, that no file helps."""
    judged = ledger.entry(f"{key}_share").answer.judgement
    is_wide = judged is not None and judged.verdict is not Verdict.GOOD
    ledger.advise(NO_FILE if is_wide else FILE)


def _enter_wanted(ledger: Ledger, plan: Plan, engine: Engine, ring: Ring) -> None:
    """Enter the gap that is wanted, and what sources say of it."""
    key, name = f"rings.{ring.part}", f"{ring.part.capitalize()} ring"
    bore = ledger.value(BORE.id)
    asked = Setting(
        bore or 0.05, strokes_of(engine.kind), "", cooling_of(engine.cooling), ring.part
    )
    found = fitting(GAPS, asked)
    if bore is not None:
        for one in found:
            if one.part == ANY and ring.part != FIRST:
                continue  # what is said of any ring stands once
            whose = "Any ring" if one.part == ANY else name
            line = Line(f"{key}_says.{one.id}", f"{whose}: {one.said_by}", Q.TEXT, of=one.note)
            words = one.range_said(bore, system=plan.units)  # the label says who says it
            ledger.fact(line, Given(words, Kind.COMPUTED, source=one.source, typed=one.stated))
        if any(one.source == "ring-sheet" for one in found):
            ledger.advise(SLIP)
    line = Line(f"{key}_wanted", f"{name}, gap wanted", Q.DEVIATION, of="cold")
    if ring.wanted is not None:
        ledger.fact(line, told_size(ring.wanted, doubt=0.0, need=name))
        return
    rule = usual_rule(found)
    share = Line(f"{key}_wanted_share", f"{name}, gap by the bore", Q.RATIO, is_detail=True)
    ledger.fact(share, Given(rule[0], Kind.ASSUMED, rule[1].source, rule[1].stated))
    ledger.compute(line, ring_gap, CENTRALLY, bore=BORE.id, share=share.id)


def _judge_gap(ledger: Ledger, key: str, name: str) -> None:
    """Enter what is left over the least gap, and the gap by the bore against the alarm."""
    least, alarm = ledger.default("ring_gap_least"), ledger.default("ring_gap_alarm")
    line = Line(f"{key}_least_share", "least gap by the bore", Q.RATIO, is_detail=True)
    enter_default(ledger, line, None, least.name)
    needed = Line(f"{key}_least", f"{name}, least gap", Q.DEVIATION, is_detail=True)
    ledger.compute(needed, ring_gap, CENTRALLY, bore=BORE.id, share=line.id)
    tight = against_limit(0.0, "least", remedy="too tight: it butts when hot; file it")
    ledger.compute(
        Line(f"{key}_over_least", f"{name}, over the least gap", Q.DEVIATION),
        rest_of,
        How(judge=tight),
        whole=f"{key}_gap",
        part=needed.id,
    )
    wide = against_limit(
        alarm.value, "most", remedy="too wide for this bore: wrong ring, or an oversize bore"
    )
    ledger.compute(
        Line(f"{key}_share", f"{name}, gap by the bore", Q.SLOPE, of="by the diameter"),
        gap_share,
        How(judge=wide),
        gap=f"{key}_gap",
        bore=BORE.id,
    )


def _enter_hot(ledger: Ledger, key: str, name: str) -> None:
    """Enter the gap that is left hot, against the least of it."""
    least = ledger.default("ring_hot_least").value
    judge = against_limit(least, "least", remedy="file it: ends that butt break ring and piston")
    ledger.compute(
        Line(
            f"{key}_hot",
            f"{name}, gap left hot",
            Q.DEVIATION,
            of="ring and wall as assumed, low in the bore: the tight side",
        ),
        hot_ring_gap,
        How(judge=judge),
        gap=f"{key}_gap",
        bore=BORE.id,
        bore_strain="warm.strain",
        ring_growth="rings.growth",
        ring_temperature="rings.temperature",
    )


def _enter_cross_check(ledger: Ledger, ring: Ring) -> None:
    """Enter the bore that the gap tells against the gauged one, each with its doubt."""
    if ring.known_gap is None or ring.known_bore is None:
        return
    key, name = f"rings.{ring.part}", f"{ring.part.capitalize()} ring"
    feeler, gauge = (ledger.default(one).value for one in ("gap_feeler", "gauge_setting"))
    for cell, said, doubt, words in (
        ("known_gap", ring.known_gap, feeler, "gap in the known bore"),
        ("known_bore", ring.known_bore, gauge, "known bore"),
    ):
        quantity = Q.DEVIATION if cell == "known_gap" else Q.SIZE
        line = Line(f"{key}_{cell}", f"{name}, {words}", quantity, is_detail=True)
        ledger.fact(line, told_size(said, doubt=doubt, need=words))
    known = {"reference_gap": f"{key}_known_gap", "reference_bore": f"{key}_known_bore"}
    words = f"{name}, gap to expect"
    line = Line(f"{key}_expected", words, Q.DEVIATION)
    ledger.compute(line, gap_in_bore, CENTRALLY, bore=BORE.id, **known)
    told = Line(f"{key}_bore", f"{name}, bore that its gap tells", Q.SIZE, "diametral")
    ledger.compute(told, bore_from_gap, gap=f"{key}_gap", **known)
    is_gauged = ledger.entry(BORE.id).answer.of == BY_GAUGE
    against = "gauged one" if is_gauged else "planned one"
    off = Line(f"{key}_bore_off", f"{name}, its bore off the {against}", Q.DEVIATION, "diametral")
    judge = within(ledger, "gap_check_within", WRONG) if is_gauged else None
    if not is_gauged:
        ledger.advise("The gap is held against the planned bore: gauge the finished one as well.")
    entry = ledger.compute(off, rest_of, How(judge=judge), whole=told.id, part=BORE.id)
    judged = entry.answer.judgement
    if judged is not None and judged.verdict is Verdict.OUT:
        ledger.caution(f"gap-against-gauge-{ring.part}:rings.", f"{name}: {WRONG}.", "derived")


def _enter_skirt(ledger: Ledger, plan: Plan, skirt: Entry | None) -> None:
    """Enter the feeler at the skirt against the clearance as gauged."""
    if skirt is None:
        return
    from_plan(ledger, plan, "finish.gap", need="the finished bore gauged")
    line = Line("rings.skirt_gap", "Skirt by feeler", Q.DEVIATION, is_detail=True)
    feeler = ledger.default("gap_feeler").value
    ledger.fact(line, told_size(skirt, doubt=feeler, need="skirt by feeler"))
    ledger.compute(SKIRT, rest_of, whole=line.id, part="finish.gap")
    off = ledger.value(SKIRT.id)
    if off is not None and off > STATED_COVERAGE_FACTOR * feeler / 2.0:
        text = (
            "The feeler at the skirt passes wider than bore less piston: a feeler reads low on a "
            "barrel, not high. Is it this piston, or is the bore gauge set off?"
        )
        ledger.caution("skirt-feeler-wide:rings.", text, "practice")
