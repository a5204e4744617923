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
from sleevewright.core.engine.warmclearance import grown
from sleevewright.core.engine.warmup import share_of_rise
from sleevewright.core.expansion import REFERENCE_TEMPERATURE
from sleevewright.core.materials import default, material
from sleevewright.core.uncertainty.decision import GUARD_FACTOR, decide_within
from sleevewright.errors import Caution, InputError
from sleevewright.planning.answers import Verdict
from sleevewright.planning.engine_rules import (
    GAPS,
    Setting,
    cooling_of,
    fitting,
    usual_rule,
)
from sleevewright.planning.facts import STATED_COVERAGE_FACTOR
from sleevewright.planning.hazards import RING
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import QuickInput, Typed, needed, optional, read_words
from sleevewright.units import Dimension, parse, shown

GAP_INPUTS = (
    *needed("bore", "gap", "cooling"),
    QuickInput("strokes", "two"),
    QuickInput("ring", "top"),
    *optional("wanted_gap", "ref_bore", "ref_gap"),
)
SQUARED = Caution(
    "ring-squared",
    "Gap as gauged with the ring squared by the piston, between the ports, never over a window.",
    "practice",
)
AGREE = {"good": "they agree", "too close to call": "too close to call", "out": "they disagree"}
OFF = (
    "gap and bore disagree: the ring not square or over a port, another ring, or a gauge set "
    "off; gauge both again"
)


def quick_gap(words: Iterable[str]) -> QuickAnswer:
    """Range of the sources, verdict, what to file, what is left hot, and the bore it tells."""
    typed = read_words("gap", GAP_INPUTS, words)
    bore = typed.value("bore")
    gap = _gap(typed, "gap", bore)
    setting = Setting(
        bore, _one_of(typed, "strokes", ("two", "four")), "", _cooling(typed),
        _one_of(typed, "ring", ("top", "second")),
    )  # fmt: skip
    found = fitting(GAPS, setting)
    said = tuple(f"source: {one.said(bore, system=typed.system)}" for one in found)
    least, alarm = (_share_of(one, bore) for one in ("ring_gap_least", "ring_gap_alarm"))
    wanted = _wanted(typed, bore, usual_rule(found)[0])
    share = float(gap_share(gap=gap, bore=bore))
    lines = [
        Line("least_um", "Least gap", least, "deviation", ring_gap),
        Line("most_um", "Beyond it the bore is oversize", alarm, "deviation", ring_gap),
        wanted,
        Line("share_1", "Gap by the bore", share, "slope", gap_share),
        _file(wanted, gap),
        _hot(typed, bore, gap, setting.cooling),
    ]
    remedies = _remedies(lines, gap, least, alarm)
    told, is_off = _told_bore(typed, bore, gap)
    lines += told
    remedies += (OFF,) if is_off else ()
    verdict = _verdict(gap, least, alarm)
    said = (f"verdict: {verdict.value}", *said)
    return QuickAnswer(
        "gap", typed, tuple(lines), (SQUARED, RING), remedies, is_out=verdict is Verdict.OUT,
        extra=(("verdict", verdict.value), ("says", list(said[1:]))), said=said,
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
    """Air or water; what is fan-cooled or raced is air-cooled here."""
    said = typed.text("cooling").lower()
    allowed = typed.inputs["cooling"].field.allowed
    if said not in allowed:
        raise InputError("cooling", said, "", ", ".join(allowed))
    return cooling_of(said)


def _share_of(name: str, bore: float) -> float:
    """A share of the bore by its default, as a gap."""
    return float(ring_gap(bore=bore, share=default(name).value))


def _wanted(typed: Typed, bore: float, share: float) -> Line:
    """The gap that is wanted: as its maker says, else the middle of what is usual."""
    if "wanted_gap" in typed.words:
        value, note = _gap(typed, "wanted_gap", bore), "as given"
    else:
        value, note = float(ring_gap(bore=bore, share=share)), "middle of what is usual"
        typed.assume("wanted gap by the bore", f"{1e3 * share:.3g} thou/in")
    return Line("wanted_um", "Gap wanted", value, "deviation", ring_gap, note=note)


def _file(wanted: Line, gap: float) -> Line:
    """What is filed off."""
    off = float(filing_needed(wanted=float(wanted.value or 0.0), gap=gap))
    note = "both ends together" if off else "nothing: the gap is wide enough"
    return Line("file_um", "File off", off, "deviation", filing_needed, note=note)


def _hot(typed: Typed, bore: float, gap: float, cooling: str) -> Line:
    """The gap that is left hot, the bore growing as a free iron sleeve: the tight side."""
    sleeve = default(f"running_sleeve_{cooling}")
    over, growth = default("ring_over_sleeve"), default("ring_growth")
    wall = default("skirt_wall_share")
    rise = share_of_rise(rise=sleeve.value - REFERENCE_TEMPERATURE, share=wall.value)
    iron = material("grey-iron").expansion.reference
    left = hot_ring_gap(
        gap=gap,
        bore=bore,
        bore_strain=grown(growth=iron, rise=rise),
        ring_growth=growth.value,
        ring_temperature=sleeve.value + over.value,
    )
    typed.assume("sleeve, running", sleeve.stated)
    typed.assume("ring over the sleeve", over.stated)
    typed.assume("ring grows by", growth.stated)
    typed.assume("wall about it, of the sleeve's warmth", wall.stated)
    return Line("hot_um", "Gap left hot", float(left), "deviation", hot_ring_gap,
                note="low in the bore, the tight side; below nought its ends butt")  # fmt: skip


def _verdict(gap: float, least: float, most: float) -> Verdict:
    """The gap against the sheet's least and alarm, with the feeler's doubt."""
    standard = default("gap_feeler").value / STATED_COVERAGE_FACTOR
    called = decide_within(gap, standard=standard, least=least, most=most, guard=GUARD_FACTOR)
    return Verdict(called.value)


def _remedies(lines: list[Line], gap: float, least: float, most: float) -> tuple[str, ...]:
    """What to do where the gap is not called good, or does not stay open hot."""
    hot = next(line for line in lines if line.key == "hot_um").value
    found = []
    if _verdict(gap, least, most) is not Verdict.GOOD:
        middle = (least + most) / 2.0
        found.append(
            "file it to the gap wanted, one end only, square; gauge again"
            if gap < middle
            else "another ring, or the next oversize: no file closes a gap"
        )
    if hot is not None and hot < default("ring_hot_least").value:
        found.append("too little is left hot by these assumptions: file it wider, or ask its maker")
    return tuple(found)


def _told_bore(typed: Typed, bore: float, gap: float) -> tuple[list[Line], bool]:
    """The bore that the gap tells, and whether it contradicts the one that was given."""
    given = [name for name in ("ref_bore", "ref_gap") if name in typed.words]
    if not given:
        return [], False
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
    return lines, called.value == Verdict.OUT.value
