"""The few numbers that a job without a name is planned from: which keys of a job they are."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.jobs.fields import fields_of


@dataclass(frozen=True)
class TrialField:
    """One entry: a key of the job file, the words beside it, and the unit it is shown with.

    A number without a unit is taken in the unit that stands beside its field.
    """

    path: str
    label: str
    inch: str = ""
    metric: str = ""
    example_inch: str = ""
    example_metric: str = ""
    is_first: bool = True  # shown at once; the others stand behind one press

    @property
    def name(self) -> str:
        """What an address and a form call it."""
        return self.path.replace(".", "-")

    @property
    def allowed(self) -> tuple[str, ...]:
        """The words that it takes, where it takes words."""
        table, _, key = self.path.partition(".")
        return fields_of(table)[key].allowed

    def unit(self, system: str) -> str:
        """The unit beside the field."""
        return self.inch if system == "inch" else self.metric

    def example(self, system: str) -> str:
        """What such an entry looks like."""
        return self.example_inch if system == "inch" else self.example_metric


def _size(path: str, label: str, inch: str, metric: str, *, is_first: bool = True) -> TrialField:
    return TrialField(path, label, "in", "mm", inch, metric, is_first)


def _thou(path: str, label: str, inch: str, metric: str, *, is_first: bool = True) -> TrialField:
    return TrialField(path, label, "thou", "µm", inch, metric, is_first)


def _heat(path: str, label: str, inch: str, metric: str, *, is_first: bool = True) -> TrialField:
    return TrialField(path, label, "°F", "°C", inch, metric, is_first)


FIELDS = (
    _size("sleeve.outside_diameter", "Sleeve, outside", "2.640", "67.06"),
    _size("sleeve.inside_diameter", "Sleeve, inside", "2.340", "59.44"),
    TrialField("casting.material", "Casting metal"),
    TrialField("sleeve.material", "Sleeve metal"),
    _size("casting.outside_diameter", "Casting, outside", "3.70", "94.0"),
    _size("sleeve.length", "Contact length", "3.50", "89"),
    _thou("fit.wanted", "How tight, wanted", "3.4", "86"),
    _thou("fit.least", "The least", "2.6", "66"),
    _thou("heat.slip", "Slip to drop with", "5.4", "137"),
    _heat("casting.limit", "Casting limit", "446", "230"),
    _heat("running.casting", "Casting, running", "280", "138"),
    _heat("running.sleeve", "Sleeve, running", "330", "166"),
    _size("casting.inside_diameter", "Parent bore, cut", "2.6366", "66.97"),
    TrialField("engine.cooling", "Cooled by"),
    _size("sleeve.flange_diameter", "Flange, outside", "2.840", "72.1", is_first=False),
    _size("sleeve.flange_thickness", "Flange, thick", "0.157", "4.0", is_first=False),
    _thou("fit.flange_wanted", "How tight, flange", "2.0", "51", is_first=False),
    _size("engine.stroke", "Stroke", "2.360", "60.0", is_first=False),
    _size("engine.rod", "Rod, centres", "4.725", "120.0", is_first=False),
    _size("port.roof", "Exhaust roof down", "1.345", "34.2", is_first=False),
    _heat("heat.ambient", "Room", "70", "21", is_first=False),
    TrialField("casting.mass", "Casting weighs", "lb", "kg", "3.2", "1.45", is_first=False),
)
"""In the order of the page."""

BY_NAME = {field.name: field for field in FIELDS}
FIRST_WANTED = (
    "sleeve.outside_diameter",
    "casting.material",
    "sleeve.material",
    "fit.wanted",
    "sleeve.inside_diameter",
    "casting.outside_diameter",
    "sleeve.length",
    "heat.slip",
)
"""What the plan cannot do without, in the order in which it is asked for."""
