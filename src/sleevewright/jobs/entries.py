"""From what stands right of an equals sign to an entry: read, judged, and its kind known."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.errors import InputError, clipped
from sleevewright.jobs.field import Field, Span
from sleevewright.jobs.model import Entry
from sleevewright.jobs.places import Place
from sleevewright.jobs.problems import Findings, key_of, nearest
from sleevewright.units import Dimension, Spoken, parse, shown

BLANKS = ("", "-", "\N{EN DASH}", "\N{EM DASH}")
"""What may stand for a value that is not known yet."""

KINDS = ("measured", "typed", "chosen", "assumed")
_PARTS = ("value", "kind", "doubt")

_QUANTITIES = {
    Dimension.LENGTH: "size",
    Dimension.TEMPERATURE: "temperature",
    Dimension.TEMPERATURE_DIFFERENCE: "temperature difference",
    Dimension.MASS: "mass",
    Dimension.PRESSURE: "pressure",
    Dimension.TIME: "time",
    Dimension.ANGLE: "angle",
    Dimension.EXPANSION: "expansion",
    Dimension.RATIO: "ratio",
    Dimension.FRACTION: "ratio",
    Dimension.VOLUME: "volume",
    Dimension.FORCE: "force",
    Dimension.TORQUE: "torque",
    Dimension.TURNING: "turning speed",
    Dimension.AREA: "area",
}
_FINE = 1.5e-3  # below this a length is a deviation, not a size [m]

_POINT = "Is the point in the wrong place?"
_ALWAYS = ((10.0, _POINT), (0.1, _POINT))
_OTHER_SLIPS = (
    *_ALWAYS,
    (1000.0, "A thousand times too small: is the unit the one that was meant?"),
    (0.001, "A thousand times too large: is the unit the one that was meant?"),
)

# The slip by the unit that was typed: what it would be had the other one been meant.
_OTHER_UNIT = {
    "mm": ((25.4, "Was it entered in inches?"), (0.001, "Was µm meant for mm?")),
    "in": ((1.0 / 25.4, "Was it entered in millimetres?"), (0.001, "Was thou meant for in?")),
    "thou": ((1.0 / 25.4, "Was it entered in µm?"), (1000.0, "Was in meant for thou?")),
    "µm": ((25.4, "Was it entered in thou?"), (1000.0, "Was mm meant for µm?")),
}


@dataclass(frozen=True)
class Counted:
    """How a reading without a unit is counted, and the nominal that a sign refers to."""

    unit: str
    nominal: float | None


def read_entry(field: Field, raw: object, place: Place, findings: Findings) -> Entry | None:
    """The entry that a value stands for, or ``None`` and a problem more."""
    kind, said = field.kind, raw
    if isinstance(raw, dict):
        kind = _stated_kind(raw, field, place, findings)
        said = _stated_value(raw, field, place, findings)
        if kind == "" or said is None:
            return None
    text = _as_text(field, said, place, findings)
    if text is None or text.strip() in BLANKS:
        return None
    spoken = read_quantity(field, text, place, findings)
    if spoken is None or not is_believed(field, spoken, place, findings):
        return None
    return Entry(spoken.value, spoken.text, kind, spoken.doubt)


def read_quantity(
    field: Field,
    text: str,
    place: Place,
    findings: Findings,
    counted: Counted | None = None,
) -> Spoken | None:
    """What a text says, or ``None`` and a problem more."""
    kind = span_of(field).dimension
    name = key_of(place)
    try:
        if counted is None:
            return parse(text, field=name, dimension=kind)
        return parse(text, field=name, dimension=kind, nominal=counted.nominal, unit=counted.unit)
    except InputError as refusal:
        findings.add(place, str(refusal))
        return None


def is_believed(field: Field, spoken: Spoken, place: Place, findings: Findings) -> bool:
    """Whether a value lies where such values lie; else a problem that names the slip."""
    refusal = disbelief(field, spoken, key_of(place), findings.system)
    if refusal is not None:
        findings.add(place, str(refusal))
    return refusal is None


def disbelief(field: Field, spoken: Spoken, name: str, system: str) -> InputError | None:
    """Why a value is not believed, with its likely slip; nothing where it is."""
    span = span_of(field)
    room = 1e-9 * max(abs(span.low), abs(span.high))
    if span.low - room <= spoken.value <= span.high + room:
        return None
    allowed = " to ".join(amount(end, span, system) for end in (span.low, span.high))
    return InputError(name, spoken.text.strip(), "", allowed, _slip(spoken, span))


def amount(value: float, span: Span, system: str) -> str:
    """A value in the units of the job, as it is written in a sentence."""
    quantity = _QUANTITIES[span.dimension]
    if quantity == "size" and max(abs(span.low), abs(span.high)) < _FINE:
        quantity = "deviation"
    figures = shown(value, quantity=quantity, system=system, given=True)
    return f"{figures.figure} {figures.unit}".strip()


def span_of(field: Field) -> Span:
    """The span of a quantity; the table of fields gives one to every quantity."""
    if field.span is None:
        raise TypeError(f"{field.path} is not a quantity")
    return field.span


def _slip(spoken: Spoken, span: Span) -> str:
    """The slips that would explain a value far off; empty where none does."""
    if span.dimension in (Dimension.TEMPERATURE, Dimension.TEMPERATURE_DIFFERENCE):
        return "Was it entered in F for C, or C for F?"
    slips = _OTHER_SLIPS
    if span.dimension is Dimension.LENGTH:
        slips = (*_OTHER_UNIT.get(spoken.unit, ()), *_ALWAYS)
    found = [words for factor, words in slips if span.low <= spoken.value * factor <= span.high]
    return " ".join(dict.fromkeys(found)) if spoken.value != 0.0 else ""


def _stated_kind(raw: dict[str, object], field: Field, place: Place, findings: Findings) -> str:
    """Kind of a value that is written with its kind; empty with a problem more."""
    for key in raw:
        if key not in _PARTS:
            findings.add(
                (*place, key), f"{field.path} has no {clipped(key)!r}; {nearest(key, _PARTS)}"
            )
    kind = raw.get("kind", field.kind)
    if kind not in KINDS:
        told = f"{field.path}: {_said(kind)} is no kind of number; {nearest(str(kind), KINDS)}"
        findings.add((*place, "kind"), told)
        return ""
    return str(kind)


def _stated_value(
    raw: dict[str, object], field: Field, place: Place, findings: Findings
) -> object | None:
    """Value of an inline table, its doubt written behind it."""
    if "value" not in raw:
        findings.add(place, f"{field.path}: the value is missing; write {{ value = ... }}.")
        return None
    if "doubt" not in raw:
        return raw["value"]
    texts = [_as_text(field, raw[key], (*place, key), findings) for key in ("value", "doubt")]
    if texts[0] is None or texts[1] is None:
        return None
    return f"{texts[0]} ± {texts[1]}"


def _said(raw: object) -> str:
    """A value of the file as a message repeats it."""
    return clipped(repr(raw))


def _as_text(field: Field, raw: object, place: Place, findings: Findings) -> str | None:
    """The text of a value; a bare number only where there is no unit to give."""
    if isinstance(raw, str):
        return raw
    if isinstance(raw, int | float) and not isinstance(raw, bool):
        if span_of(field).dimension is Dimension.RATIO:
            return repr(raw)
        told = f"{key_of(place)}: {_said(raw)} has no unit; write it in quotes with one, as"
        findings.add(place, f"{told} {field.key} = {field.example}.")
        return None
    told = f"{key_of(place)}: a quantity is expected, as {field.key} = {field.example}."
    findings.add(place, told)
    return None
