"""Quick question about a fit: what the sources say side by side, the preset, the least."""

from __future__ import annotations

from collections.abc import Iterable

from sleevewright.core.allowances import interference_for_ratio, larger, smaller
from sleevewright.core.materials import material, material_names
from sleevewright.errors import InputError
from sleevewright.jobs.problems import nearest
from sleevewright.planning.believed import refuse_beyond
from sleevewright.planning.fit_advice import (
    Advice,
    Pairing,
    advice_for,
    not_counted_for,
    said_figures,
    span_of,
)
from sleevewright.planning.fit_disagreements import ChosenFit, disagreements
from sleevewright.planning.fit_presets import (
    TELL_BOTH,
    Preset,
    family_of,
    no_preset_said,
    preset_for,
    ratio_said,
    reason_said,
)
from sleevewright.planning.fit_statements import (
    COOLINGS,
    EVIDENCE_SAID,
    FAMILIES,
    STANDS,
    Statement,
    words_taken,
)
from sleevewright.services.quick_answer import Line, QuickAnswer
from sleevewright.services.quick_inputs import (
    QuickInput,
    Typed,
    needed,
    optional,
    read_words,
)
from sleevewright.units import to_unit

ADVICE_INPUTS = (
    *needed("diameter", "cooling", "casting"),
    QuickInput("flanged", "no"),
    *optional("wanted", "least"),
)


def quick_advice(words: Iterable[str]) -> QuickAnswer:
    """What each source says for a pairing at its diameter, the preset, and the least."""
    typed = read_words("advice", ADVICE_INPUTS, words)
    pairing = _pairing(typed)
    preset = preset_for(pairing.casting, pairing.cooling)
    advice = advice_for(pairing)
    told = not_counted_for(pairing)
    against = _against(typed, pairing, preset)
    why = reason_said(preset, pairing.diameter, system=typed.system)
    said = (
        *(_said(one, typed) for one in advice),
        *(f"not counted: {one.said_by}: “{one.as_said}”: {one.reason}" for one in told),
        *(
            f"words: “{word}” is taken as {means}"
            for word, means in words_taken((*(one.statement for one in advice), *told))
        ),
        f"preset: {ratio_said(preset, typed.system)} (common practice, no source)",
        f"preset: {why}",
        "preset: a shop sets its own under Settings, Fits by metal and cooling",
        *(f"goes against: {words}" for words in against),
    )
    extra = (
        ("says", [_document(one) for one in advice]),
        ("not_counted", [{"said_by": one.said_by, "reason": one.reason} for one in told]),
        ("preset_reason", why),
        ("goes_against", list(against)),
    )
    return QuickAnswer("advice", typed, _lines(preset, pairing, advice), extra=extra, said=said)


def _pairing(typed: Typed) -> Pairing:
    """Metal, cooling, diameter and flange as they were typed."""
    cooling = typed.text("cooling")
    if cooling not in COOLINGS[:-1]:
        raise InputError("cooling", cooling, "", f"one of {', '.join(COOLINGS[:-1])}")
    name, known = typed.text("casting"), (*FAMILIES[:-1], *material_names())
    if name not in known:
        hint = nearest(name, known).capitalize()
        raise InputError("casting", name, "", "aluminium, iron or a metal that is known", hint)
    family = name if name in FAMILIES else family_of(material(name).family)
    if family is None:
        allowed = f"aluminium or iron: {no_preset_said(name)}"
        raise InputError("casting", name, "", allowed, TELL_BOTH)
    return Pairing(family, cooling, typed.value("diameter"), typed.is_true("flanged") or None)


def _lines(preset: Preset, pairing: Pairing, advice: tuple[Advice, ...]) -> tuple[Line, ...]:
    """The preset's fit and least, and the ends of what all sources say."""
    diameter, span = pairing.diameter, span_of(advice)
    least = larger if preset.least_flat.value else interference_for_ratio
    found = [
        Line("wanted_um", "Preset, wanted", preset.wanted_at(diameter), "deviation",
             interference_for_ratio, "diametral", "the body, both parts at 20 °C"),
        Line("least_um", "Preset, the least", preset.least_at(diameter), "deviation", least,
             "diametral", "what no fit is to fall short of"),
    ]  # fmt: skip
    if span is not None:
        ends = (("lowest_um", "Sources, lowest", span.low, span.lowest, smaller),
                ("highest_um", "Sources, highest", span.high, span.highest, larger))  # fmt: skip
        found += [
            Line(key, label, end, "deviation", relation, "diametral", one.statement.said_by)
            for key, label, end, one, relation in ends
        ]  # fmt: skip
    return tuple(found)


def _against(typed: Typed, pairing: Pairing, preset: Preset) -> tuple[str, ...]:
    """What a wanted fit or a least goes against; nothing where none was typed."""
    wanted, least = typed.given("wanted"), typed.given("least")
    if wanted is None and least is None:
        return ()
    for name, fit in (("wanted", wanted), ("least", least)):
        refuse_beyond(name, fit or 0.0, diameter=pairing.diameter, system=typed.system)
    choice = ChosenFit(
        pairing,
        preset,
        preset.wanted_at(pairing.diameter) if wanted is None else wanted,
        preset.least_at(pairing.diameter) if least is None else least,
        least is not None,
        typed.system,
    )
    return tuple(one.words for one in disagreements(choice) if one.asks)


def _said(one: Advice, typed: Typed) -> str:
    """One source in a line."""
    said: Statement = one.statement
    own = "" if one.is_own else "; on no metal in particular"
    right = "" if said.standing == STANDS else f"; put right: {said.reason}"
    figures = said_figures(one, system=typed.system)
    return f"says: {figures:<24} {said.said_by} ({EVIDENCE_SAID[said.evidence]}{own}{right})"


def _document(one: Advice) -> dict[str, object]:
    """One source as data: its ends at this diameter in micrometres."""
    low, high = (
        None if end is None else round(to_unit(end, "µm"), 3) for end in (one.low, one.high)
    )
    said = one.statement
    return {
        "id": said.id,
        "said_by": said.said_by,
        "bound": said.bound,
        "low_um": low,
        "high_um": high,
        "as_said": said.as_said,
        "means": said.means,
        "standing": said.standing,
        "reason": said.reason,
        "source": said.source,
        "evidence": said.evidence,
        "is_own": one.is_own,
    }
