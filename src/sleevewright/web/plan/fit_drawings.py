"""The fit as pictures: from cold to hot, and over both temperatures.

Values go into the unit of the job and texts beside them; the pictures draw what they are
handed, and this picks which answers those are.
"""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from sleevewright.planning.answers import Answer, Judgement, Quantity
from sleevewright.web.pictures.fit_bar import FitPicture, FitRow
from sleevewright.web.pictures.running_map import RunningPicture, StatePoint, running_map
from sleevewright.web.plan.viewer import Viewer

MINUS = "\N{MINUS SIGN}"
STATES = (("Cold", "fit.cold"), ("Running", "fit.running"), ("Hard pull", "fit.hard"))
"""Rows of the fit picture."""

RUNNING_MAP = "fit.map"
MAP_BAND, BAND_AXIS = "fit.map_band", "running.line_axis"
AXES = ("casting_temperatures", "sleeve_temperatures")
DROP_TEMPERATURES = ("heat.casting", "heat.sleeve")


def fit_picture(viewer: Viewer) -> FitPicture | None:
    """The fit from cold to hot, as far as it is known."""
    rows = tuple(row for name, one in STATES if (row := _fit_row(viewer, name, one)))
    if not rows:
        return None
    unit = viewer.unit(Quantity.DEVIATION)
    drop = _drop_row(viewer)
    said = [f"{row.name} {row.figure} {unit} {row.verdict}".strip() for row in rows]
    if drop is not None:
        said.append(
            f"At the drop {drop.figure.lstrip(MINUS)} {unit} of slip, {drop.verdict}".rstrip(", ")
        )
    if viewer.figure("fit.least"):
        said.append(f"The least, cold, {viewer.figure('fit.least')}")
    limit = viewer.number("fit.yield_fit")
    return FitPicture(
        rows=rows,
        unit=unit,
        says=f"The fit from cold to hot, diametral. {'. '.join(said)}.",
        limit=None if limit is None else viewer.deviation(number_of(limit)),
        drop=drop,
    )


def running_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The fit over both temperatures, with the states that were told as points."""
    named = dict(answer.basis.inputs) if answer.basis else {}
    if not all(axis in named for axis in AXES):
        return None
    axes: list[Any] = [viewer.plan.answer(named[axis]).value for axis in AXES]
    casting, sleeve = (tuple(viewer.degrees(float(one)) for one in axis) for axis in axes)
    fits: Any = answer.value
    rows = [row for name, one in STATES[1:] if (row := _fit_row(viewer, name, one))]
    unit = viewer.unit(Quantity.DEVIATION)
    said = "; ".join(f"{row.name} at {row.temperatures} leaves {row.figure} {unit}" for row in rows)
    picture = RunningPicture(
        unit=viewer.unit(Quantity.TEMPERATURE),
        casting=casting,
        sleeve=sleeve,
        fits=tuple(tuple(viewer.deviation(float(one)) for one in row) for row in fits),
        least=next((row.least for row in rows if row.least is not None), None),
        states=tuple(s for name, one in STATES[1:] if (s := _state(viewer, name, one))),
        says=f"How tight over casting and sleeve temperature, diametral. {said}.",
        band=_band(viewer),
    )
    return running_map(picture)


def _band(viewer: Viewer) -> tuple[tuple[tuple[float, float], ...], ...]:
    """The lines where one fit in twenty and nineteen in twenty are open, where they are known."""
    if not all(viewer.knows(one) for one in (MAP_BAND, BAND_AXIS)):
        return ()
    rows: Any = viewer.plan.answer(MAP_BAND).value
    axis: Any = viewer.plan.answer(BAND_AXIS).value
    if rows is None:
        return ()
    return tuple(
        tuple(
            (viewer.degrees(float(casting)), viewer.degrees(float(sleeve)))
            for casting, sleeve in zip(axis, row, strict=True)
        )
        for row in (rows[0], rows[-1])
    )


def number_of(answer: Answer) -> float:
    """The value of an answer that is a number."""
    return float(answer.value) if isinstance(answer.value, (int, float)) else 0.0


def _fit_row(viewer: Viewer, name: str, identity: str) -> FitRow | None:
    answer = viewer.number(identity)
    if answer is None:
        return None
    value = number_of(answer)
    low, high = (answer.doubt.low, answer.doubt.high) if answer.doubt else (value, value)
    judged = answer.judgement
    return FitRow(
        name=name,
        temperatures=_in_words(viewer, _heats(viewer, _inputs(answer))),
        value=viewer.deviation(value),
        low=viewer.deviation(low),
        high=viewer.deviation(high),
        figure=viewer.figure(identity),
        verdict=judged.verdict.value if judged else "",
        least=_least(viewer, identity, judged),
    )


def _least(viewer: Viewer, identity: str, judged: Judgement | None) -> float | None:
    """What a state needs: the limit it was judged against, or the shop's least when cold."""
    if judged is not None and judged.side == "least":
        return viewer.deviation(judged.limit)
    least = viewer.number("fit.least") if identity == "fit.cold" else None
    return None if least is None else viewer.deviation(number_of(least))


def _drop_row(viewer: Viewer) -> FitRow | None:
    """Slip is drawn to the left: it is tightness below nothing."""
    answer = viewer.number("heat.slip")
    if answer is None:
        return None
    value = -viewer.deviation(number_of(answer))
    figure = MINUS + viewer.figure("heat.slip").lstrip("+")
    temperatures = _in_words(viewer, _heats(viewer, DROP_TEMPERATURES))
    casting = viewer.number("heat.casting")
    judged = casting.judgement if casting else None
    verdict = judged.verdict.value if judged else ""
    return FitRow("At the drop", temperatures, value, value, value, figure, verdict)


def _inputs(answer: Answer) -> tuple[str, ...]:
    return tuple(source for _, source in answer.basis.inputs) if answer.basis else ()


def _heats(viewer: Viewer, sources: tuple[str, ...]) -> list[Answer]:
    """The temperatures among some answers: casting and sleeve where both are known."""
    known = [one for source in sources if (one := viewer.number(source))]
    heats = [one for one in known if one.quantity is Quantity.TEMPERATURE]
    return heats if len(heats) == len(AXES) else []


def _in_words(viewer: Viewer, heats: list[Answer]) -> str:
    """Casting and sleeve, as ``200/230 °F``."""
    figures = "/".join(viewer.figure(one.id) for one in heats)
    return f"{figures} {viewer.unit(Quantity.TEMPERATURE)}" if figures else ""


def _state(viewer: Viewer, name: str, identity: str) -> StatePoint | None:
    """The two temperatures of a state, where both are known."""
    answer = viewer.number(identity)
    heats = _heats(viewer, _inputs(answer)) if answer else []
    if not heats:
        return None
    casting, sleeve = (viewer.degrees(number_of(one)) for one in heats)
    across, high = (_degrees_of_doubt(viewer, one) for one in heats)
    return StatePoint(name, casting, sleeve, (across, high))


def _degrees_of_doubt(viewer: Viewer, heat: Answer) -> float:
    """Standard deviation of a temperature in the degrees of the job."""
    if heat.doubt is None:
        return 0.0
    value = number_of(heat)
    return viewer.degrees(value + heat.doubt.standard) - viewer.degrees(value)
