"""From answers of a plan to its pictures: values into the unit of the job, texts beside.

The pictures draw what they are handed; this picks which answers those are.
"""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from sleevewright.planning.answers import Answer, Quantity, StageAnswers
from sleevewright.planning.shown import shown_answer
from sleevewright.units import Dimension, display_unit, to_unit
from sleevewright.web.pictures.fit_bar import FitPicture, FitRow
from sleevewright.web.plan.views import Viewer

MINUS = "\N{MINUS SIGN}"
STATES = (("Cold", "fit.cold"), ("Running", "fit.running"), ("Hard pull", "fit.hard"))
"""Rows of the fit picture."""


@dataclass(frozen=True)
class DrawingView:
    """A finished picture with its title."""

    title: str
    picture: Markup


DROP_TEMPERATURES = ("heat.casting", "heat.sleeve")


def fit_picture(viewer: Viewer) -> FitPicture | None:
    """The fit from cold to hot, as far as it is known."""
    rows = tuple(row for name, one in STATES if (row := _fit_row(viewer, name, one)))
    if not rows:
        return None
    unit = display_unit(Quantity.DEVIATION.value, system=viewer.system)
    drop = _drop_row(viewer)
    said = [f"{row.name} {row.figure} {unit} {row.verdict}".strip() for row in rows]
    if drop is not None:
        said.append(f"At the drop {drop.figure.lstrip(MINUS)} {unit} of slip")
    least = _answer(viewer, "fit.least")
    if least is not None:
        said.append(f"The least {shown_answer(least, system=viewer.system).figure}")
    limit = _answer(viewer, "fit.yield_fit")
    return FitPicture(
        rows=rows,
        unit=unit,
        says=f"The fit from cold to hot, diametral. {'. '.join(said)}.",
        least=None if least is None else _deviation(viewer, _number(least)),
        limit=None if limit is None else _deviation(viewer, _number(limit)),
        drop=drop,
    )


def stage_drawings(viewer: Viewer, stage: StageAnswers) -> tuple[DrawingView, ...]:
    """The pictures that belong to a stage."""
    return ()


def _answer(viewer: Viewer, identity: str) -> Answer | None:
    """An answer of the plan that is a number; nothing where it is missing."""
    if not viewer.knows(identity):
        return None
    answer = viewer.plan.answer(identity)
    return answer if isinstance(answer.value, float) else None


def _number(answer: Answer) -> float:
    return float(answer.value) if isinstance(answer.value, (int, float)) else 0.0


def _deviation(viewer: Viewer, value: float) -> float:
    """A small length in the unit of the picture."""
    unit = display_unit(Quantity.DEVIATION.value, system=viewer.system)
    return to_unit(value, unit, dimension=Dimension.LENGTH)


def _fit_row(viewer: Viewer, name: str, identity: str) -> FitRow | None:
    answer = _answer(viewer, identity)
    if answer is None:
        return None
    value = _number(answer)
    low, high = (answer.doubt.low, answer.doubt.high) if answer.doubt else (value, value)
    inputs = answer.basis.inputs if answer.basis else ()
    judged = answer.judgement
    return FitRow(
        name=name,
        temperatures=_temperatures(viewer, tuple(source for _, source in inputs)),
        value=_deviation(viewer, value),
        low=_deviation(viewer, low),
        high=_deviation(viewer, high),
        figure=shown_answer(answer, system=viewer.system).figure,
        verdict=judged.verdict.value if judged else "",
    )


def _drop_row(viewer: Viewer) -> FitRow | None:
    """Slip is drawn to the left: it is tightness below nothing."""
    answer = _answer(viewer, "heat.slip")
    if answer is None:
        return None
    value = -_deviation(viewer, _number(answer))
    figure = MINUS + shown_answer(answer, system=viewer.system).figure.lstrip("+")
    temperatures = _temperatures(viewer, DROP_TEMPERATURES)
    return FitRow("At the drop", temperatures, value, value, value, figure, "")


def _temperatures(viewer: Viewer, sources: tuple[str, ...]) -> str:
    """Casting and sleeve, as ``200/230 °F``, where both are known."""
    known = [_answer(viewer, source) for source in sources]
    shown = [
        shown_answer(one, system=viewer.system)
        for one in known
        if one is not None and one.quantity is Quantity.TEMPERATURE
    ]
    if len(shown) != 2:
        return ""
    return f"{shown[0].figure}/{shown[1].figure} {shown[0].unit}"
