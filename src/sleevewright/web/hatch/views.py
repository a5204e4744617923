"""The page of the metronome as a record: its fields, its figures, its table of rates."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sleevewright.errors import InputError
from sleevewright.planning.hazards import SPINDLE
from sleevewright.services.metronome import UNITS, Metronome, metronome
from sleevewright.web.stage.views import StepView

FIELDS = (
    ("bore", "Bore, diametral", "2.7555", "70"),
    ("rpm", "Spindle, turns a minute", "150", "150"),
    ("stroke", "Stroke between the reversals", "3.0", "75"),
    ("angle", "Crosshatch wanted, included", "45", "45"),
    ("cycles", "Or full cycles a minute", "89", "89"),
    ("drive", "Stroke driven by", "crank", "crank"),
)
"""Name, words, example for inch and for metric."""

NEEDED = ("bore", "rpm", "stroke")


@dataclass(frozen=True)
class FieldView:
    """One field of the form."""

    name: str
    label: str
    text: str
    example: str
    unit: str
    message: str = ""


@dataclass(frozen=True)
class Where:
    """Where the page stands: its own address, the page it came from, its title, its route."""

    title: str
    action: str
    back: str
    back_words: str
    base: str = ""
    stage_title: str = ""
    steps: tuple[StepView, ...] = ()


@dataclass(frozen=True)
class HatchPage:
    """Everything that the page shows."""

    where: Where
    units: str
    fields: tuple[FieldView, ...]
    found: Metronome | None
    others: tuple[str, ...]  # refusals that belong to no field
    cautions: tuple[str, ...]
    table: Mapping[str, object]

    @property
    def is_refused(self) -> bool:
        """Whether something that was typed cannot be taken."""
        return bool(self.others) or any(one.message for one in self.fields)


def hatch_page(where: Where, texts: Mapping[str, str], units: str) -> HatchPage:
    """The page of what was typed; without the three that it needs it only asks."""
    found, messages = None, {}
    if all(texts.get(name, "").strip() for name in NEEDED):
        try:
            found = metronome(texts, units)
        except InputError as refused:
            messages[refused.field] = str(refused)
    cautions = () if found is None else tuple(one.text for one in found.answer.cautions)
    return HatchPage(
        where=where,
        units=units,
        fields=_fields(texts, units, messages),
        found=found,
        others=tuple(text for name, text in messages.items() if name not in _NAMES),
        cautions=cautions or (SPINDLE.text,),
        table={} if found is None else _table(found),
    )


_NAMES = tuple(name for name, *_ in FIELDS)


def _fields(
    texts: Mapping[str, str], units: str, messages: Mapping[str, str]
) -> tuple[FieldView, ...]:
    """The form as it was filled in."""
    metric = units == "metric"
    return tuple(
        FieldView(
            name,
            label,
            texts.get(name, ""),
            examples[metric],
            _unit(name, is_metric=metric),
            messages.get(name, ""),
        )
        for name, label, *examples in FIELDS
    )


def _unit(name: str, *, is_metric: bool) -> str:
    """What stands behind a field."""
    if name == "drive":
        return "or even"
    return UNITS[name][is_metric] if name in UNITS else "a minute"


def _table(found: Metronome) -> dict[str, object]:
    """What the device looks up."""
    rates = found.rates
    return {
        "at": found.at,
        "cycles": [one.cycles for one in rates],
        "shown": [[one.figure, one.included, one.line, one.axis, one.mean] for one in rates],
    }
