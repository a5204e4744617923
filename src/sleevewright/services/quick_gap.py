"""Quick question at the vice: whether a ring's end gap is right, and which bore it tells."""

from __future__ import annotations

import math
from collections.abc import Iterable

from sleevewright.core.allowances import rest_of
from sleevewright.core.engine.ring_gap import (
    WIDEST,
    bore_from_gap,
    filing_needed,
    gap_share,
    hot_ring_gap,
    ring_gap,
)
from sleevewright.core.materials import default, material
from sleevewright.core.uncertainty.decision import GUARD_FACTOR, decide_within
from sleevewright.errors import Caution, InputError
from sleevewright.planning.answers import Answer, Verdict
from sleevewright.planning.engine_rules import (
    GAPS,
    Setting,
    cooling_of,
    fitting,
    usual_rule,
)
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.hazards import RING
from sleevewright.planning.ring_hot import HotRing, gap_left_hot
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, needed, optional, read_words
from sleevewright.units import Dimension, parse, shown

CASTING = ("Metal of the casting that the sleeve sits in; for the gap left hot.", "aluminium-356")
GAP_INPUTS = (
    *needed("bore", "gap", "cooling"),
    QuickInput("strokes", "two"),
    QuickInput("ring", "top"),
    QuickInput("casting", "unknown-aluminium", said=CASTING),
    *optional("wanted_gap", "ref_bore", "ref_gap"),
)
SLEEVE = "grey-iron"
SQUARED = Caution(
    "ring-squared",
    "Gap as gauged with the ring squared by the piston, between the ports, never over a window.",
    "practice",
)
AGREE = {"good": "they agree", "too close to call": "too close to call", "out": "they disagree"}
AGAIN = "read both gaps again, and gauge both bores: they are too near the limit to say"
TOO_HOT = "too little may be left hot by these assumptions: file it wider, or ask its maker"
NARROW = (
    "narrower than the least, and no wider gap is wanted: ask the ring's maker before it runs, "
    "or file it to what is usual"
)
OFF = (
    "gap and bore disagree: the ring not square or over a port, another ring, or a gauge set "
    "off; gauge both again"
)


def quick_gap(words: Iterable[str]) -> QuickAnswer:
    """Range of the sources, verdict, what to file, what is left hot, and the bore it tells."""
    typed = read_words("gap", GAP_INPUTS, words)
    bore = typed.value("bore")
    gap = _gap(typed, "gap", bore)
    strokes, part = (
        _one_of(typed, *one) for one in (("strokes", ("two", "four")), ("ring", ("top", "second")))
    )
    found = fitting(GAPS, Setting(bore, strokes, "", cooling_of(_cooling(typed)), part))
    least, alarm = (_share_of(one, bore) for one in ("ring_gap_least", "ring_gap_alarm"))
    wanted = _wanted(typed, bore, usual_rule(found)[0], alarm)
    cold = _verdict(gap, least, alarm)
    hot = _hot(typed, bore, gap)
    told, called = _told_bore(typed, bore, gap)
    is_wide = cold is not Verdict.GOOD and gap > (least + alarm) / 2.0
    lines = (
        Line("least_um", "Least gap", least, "deviation", ring_gap),
        Line("most_um", "Beyond it the bore is oversize", alarm, "deviation", ring_gap),
        wanted,
        Line("share_1", "Gap by the bore", float(gap_share(gap=gap, bore=bore)), "slope",
             gap_share),
        _file(wanted, gap, is_wide=is_wide),
        _hot_line(typed, hot),
        *told,
    )  # fmt: skip
    verdict = _worst(cold, _verdict_of(hot), called)
    remedies = (
        *_remedies(cold, is_wide=is_wide, is_filed=float(wanted.value or 0.0) > gap),
        *((TOO_HOT,) if _verdict_of(hot) is not Verdict.GOOD else ()),
        *((OFF,) if called is Verdict.OUT else ()),
        *((AGAIN,) if called is Verdict.TOO_CLOSE else ()),
    )
    says = [f"source: {one.said(bore, system=typed.system)}" for one in found]
    return QuickAnswer(
        "gap", typed, lines, (SQUARED, RING), remedies, is_out=verdict is Verdict.OUT,
        extra=(("verdict", verdict.value), ("says", says)),
        said=(f"verdict: {verdict.value}", *says),
    )  # fmt: skip


def _length(typed: Typed, name: str) -> float:
    """A length that no key of the job file stands for."""
    return parse(typed.text(name), field=name, dimension=Dimension.LENGTH).value


def _gap(typed: Typed, name: str, bore: float) -> float:
    """A gap that can be one of this bore."""
    value = _length(typed, name)
    if not 0.0 < value <= WIDEST * bore:
        most = shown(WIDEST * bore, quantity="deviation", system=typed.system)
        allowed = f"more than 0, at most a twentieth of the bore, {most.figure} {most.unit}"
        raise InputError(name, typed.text(name), "", allowed, "Is it this ring, and the unit?")
    return value


def _one_of(typed: Typed, name: str, allowed: tuple[str, ...]) -> str:
    """A word out of a few."""
    said = typed.text(name).lower()
    if said not in allowed:
        raise InputError(name, said, "", " or ".join(allowed))
    return said


def _cooling(typed: Typed) -> str:
    """How the engine is cooled, as it was typed."""
    said = typed.text("cooling").lower()
    allowed = typed.inputs["cooling"].field.allowed
    if said not in allowed:
        raise InputError("cooling", said, "", ", ".join(allowed))
    return said


def _share_of(name: str, bore: float) -> float:
    """A share of the bore by its default, as a gap."""
    return float(ring_gap(bore=bore, share=default(name).value))


def _wanted(typed: Typed, bore: float, share: float, alarm: float) -> Line:
    """The gap that is wanted: as its maker says, else the middle of what is usual."""
    if "wanted_gap" in typed.words:
        value, note = _gap(typed, "wanted_gap", bore), "as given"
        if value > alarm:
            most = shown(alarm, quantity="deviation", system=typed.system)
            allowed = f"at most {most.figure} {most.unit}, beyond which the bore is oversize"
            hint = "Is it the gap of this ring, and the unit?"
            raise InputError("wanted_gap", typed.text("wanted_gap"), "", allowed, hint)
    else:
        value, note = float(ring_gap(bore=bore, share=share)), "middle of what is usual"
        typed.assume("wanted gap by the bore", f"{1e3 * share:.3g} thou/in")
    return Line("wanted_um", "Gap wanted", value, "deviation", ring_gap, note=note)


def _file(wanted: Line, gap: float, *, is_wide: bool) -> Line:
    """What is filed off; nothing of a gap that may be beyond its alarm."""
    off = float(filing_needed(wanted=float(wanted.value or 0.0), gap=gap))
    if is_wide:
        note, off = "nothing: no file closes a gap", 0.0
    else:
        note = "both ends together" if off else "nothing: as wide as the gap wanted"
    return Line("file_um", "File off", off, "deviation", filing_needed, note=note)


def _hot(typed: Typed, bore: float, gap: float) -> Answer:
    """The gap that is left hot, of a sleeve in its casting, with all that it assumes."""
    cooling, casting = typed.text("cooling").lower(), typed.metal("casting")
    ring = HotRing(bore, gap, material(SLEEVE), casting, cooling)
    for words, known in ring.assumed():
        typed.assume(words, known.stated)
    typed.assume("sleeve", SLEEVE)
    return gap_left_hot(ring)


def _hot_line(typed: Typed, hot: Answer) -> Line:
    """The gap left hot, between which ends it lies, and its verdict."""
    note = "low in the bore, the tight side; below nought its ends butt"
    if hot.doubt is not None:
        low, high = (
            shown(one, quantity="deviation", system=typed.system)
            for one in (hot.doubt.low, hot.doubt.high)
        )
        note = f"{_verdict_of(hot).value}, {low.figure} to {high.figure} {high.unit}; {note}"
    return Line("hot_um", "Gap left hot", float(str(hot.value)), "deviation", hot_ring_gap,
                note=note)  # fmt: skip


def _verdict_of(answer: Answer) -> Verdict:
    """The verdict on an answer; good where it has none."""
    return Verdict.GOOD if answer.judgement is None else answer.judgement.verdict


def _worst(*called: Verdict) -> Verdict:
    """The worst of all that is judged."""
    return max(called, key=(Verdict.GOOD, Verdict.TOO_CLOSE, Verdict.OUT).index)


def _verdict(gap: float, least: float, most: float) -> Verdict:
    """The gap against the sheet's least and alarm, with the feeler's doubt."""
    standard = default("gap_feeler").value / STATED_COVERAGE_FACTOR
    called = decide_within(gap, standard=standard, least=least, most=most, guard=GUARD_FACTOR)
    return Verdict(called.value)


def _remedies(cold: Verdict, *, is_wide: bool, is_filed: bool) -> tuple[str, ...]:
    """What to do where the gap is not called good."""
    if cold is Verdict.GOOD:
        return ()
    if is_wide:
        return ("another ring, or the next oversize: no file closes a gap",)
    filed = "file it to the gap wanted, one end only, square; gauge again"
    return (filed if is_filed else NARROW,)


def _told_bore(typed: Typed, bore: float, gap: float) -> tuple[list[Line], Verdict]:
    """The bore that the gap tells, and the verdict on the one that was given."""
    given = [name for name in ("ref_bore", "ref_gap") if name in typed.words]
    if not given:
        return [], Verdict.GOOD
    if len(given) == 1:
        other = "ref_gap" if given == ["ref_bore"] else "ref_bore"
        raise InputError(other, "nothing", "", f"one to go with {given[0]}",
                         "The gap of this ring in a bore of known size.")  # fmt: skip
    reference = typed.value("ref_bore")
    known = {"reference_gap": _gap(typed, "ref_gap", reference), "reference_bore": reference}
    told = float(bore_from_gap(gap=gap, **known))
    off = float(rest_of(whole=told, part=bore))
    within = default("gap_check_within")
    typed.assume("its bore off the gauged one, at most", within.stated)
    # two gaps by feeler and two bores by gauge stand in the difference
    half = math.hypot(default("gap_feeler").value / math.pi, default("gauge_setting").value)
    standard = math.sqrt(2.0) * half / STATED_COVERAGE_FACTOR
    called = decide_within(
        off, standard=standard, least=-within.value, most=within.value, guard=GUARD_FACTOR
    )
    lines = [
        Line("told_bore_mm", "Bore that the gap tells", told, "size", bore_from_gap, "diametral"),
        Line("bore_off_um", "Off the bore as given", off, "deviation", rest_of, "diametral",
             AGREE[called.value]),
    ]  # fmt: skip
    return lines, Verdict(called.value)
