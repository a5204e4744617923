"""The pictures of a stage: a map for each grid that was read, the oven, the running fit."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from markupsafe import Markup

from sleevewright.core.heat.soak import HeatingCurve
from sleevewright.core.metrology.grid import SizeGrid
from sleevewright.planning.answers import Answer, Quantity, StageAnswers
from sleevewright.planning.shown import shown_answer
from sleevewright.units import to_unit
from sleevewright.web.pictures.bore_map import MapPicture, MapRow, bore_map
from sleevewright.web.pictures.ink import nice_step, plain
from sleevewright.web.pictures.oven import OvenPicture, TemperatureTick, oven_curve
from sleevewright.web.plan.end_drawing import END_TITLE, FLANGE_LEFT, end_drawing
from sleevewright.web.plan.fit_drawings import RUNNING_MAP, number_of, running_drawing
from sleevewright.web.plan.viewer import Viewer


@dataclass(frozen=True)
class DrawingView:
    """A finished picture with its title."""

    title: str
    picture: Markup


def stage_drawings(viewer: Viewer, stage: StageAnswers) -> tuple[DrawingView, ...]:
    """The pictures that belong to a stage."""
    return tuple(found for answer in stage.answers if (found := _drawing(viewer, answer)))


def _drawing(viewer: Viewer, answer: Answer) -> DrawingView | None:
    """The picture of an answer that is better looked at than read."""
    if isinstance(answer.value, SizeGrid):
        title = f"{answer.label.partition(',')[0]}, unrolled"
        return DrawingView(title, bore_map(_map(viewer, answer, answer.value)))
    if isinstance(answer.value, HeatingCurve):
        picture = oven_curve(_oven(viewer, answer.value))
        return DrawingView("Slip of the body in the oven", picture)
    if answer.id == RUNNING_MAP and answer.value is not None:
        drawn = running_drawing(viewer, answer)
        return DrawingView("How tight over both temperatures", drawn) if drawn else None
    if answer.id == FLANGE_LEFT:
        drawn = end_drawing(viewer)
        return DrawingView(END_TITLE, drawn) if drawn else None
    return None


def _map(viewer: Viewer, answer: Answer, grid: SizeGrid) -> MapPicture:
    """Deviations of a grid in the unit of the job; a blank where nothing was read."""
    rows = tuple(
        MapRow(
            viewer.like(answer, float(depth), Quantity.SIZE).figure,
            tuple(None if math.isnan(one) else viewer.deviation(float(one)) for one in row),
        )
        for depth, row in zip(grid.stations, grid.sizes, strict=True)
    )
    read = [one for row in grid.sizes for one in row if not math.isnan(one)]
    low, high = (viewer.like(answer, end(read), Quantity.DEVIATION).figure for end in (min, max))
    unit = viewer.unit(Quantity.DEVIATION)
    return MapPicture(
        name=answer.id.replace(".", "-"),
        directions=tuple(round(math.degrees(one), 3) for one in grid.directions),
        rows=rows,
        unit=unit,
        depth_unit=viewer.unit(Quantity.SIZE),
        says=(
            f"{answer.label}, {answer.of}: from {low} to {high} {unit}, diametral, "
            f"{len(read)} readings at {len(rows)} depths."
        ),
    )


def _oven(viewer: Viewer, curve: HeatingCurve) -> OvenPicture:
    """The forecast in the unit of the job, with the slip that is wanted and the limit's."""
    go, limit = viewer.number("heat.slip"), viewer.number("heat.slip_at_limit")
    figure = viewer.figure("heat.slip")
    return OvenPicture(
        unit=viewer.unit(Quantity.DEVIATION),
        temperature_unit=viewer.unit(Quantity.TEMPERATURE),
        minutes=tuple(to_unit(t, "min") for t in curve.times),
        likely=tuple(viewer.deviation(value) for value in curve.slips),
        low=tuple(viewer.deviation(value) for value in curve.least),
        high=tuple(viewer.deviation(value) for value in curve.most),
        says=_oven_says(viewer),
        go=None if go is None else viewer.deviation(number_of(go)),
        go_figure=figure if figure.startswith("+") else f"+{figure}",
        go_temperature=viewer.figure("heat.casting"),
        limit=None if limit is None else viewer.deviation(number_of(limit)),
        limit_temperature=viewer.figure("heat.limit"),
        temperatures=_temperature_ticks(viewer, curve),
    )


def _oven_says(viewer: Viewer) -> str:
    """What the oven's picture answers, in a sentence."""
    unit = viewer.unit(Quantity.DEVIATION)
    said = []
    if viewer.figure("heat.slip"):
        said.append(f"Go at {viewer.figure('heat.slip')} {unit} of slip")
    soak = viewer.number("heat.soak")
    if soak is not None:
        time = shown_answer(soak, system=viewer.system)
        said.append(f"likely after {time.figure} {time.unit}")
    if viewer.figure("heat.slip_at_limit"):
        said.append(f"the casting's limit gives {viewer.figure('heat.slip_at_limit')} {unit}")
    return f"Slip against time in the oven, diametral. {'; '.join(said)}."


def _temperature_ticks(viewer: Viewer, curve: HeatingCurve) -> tuple[TemperatureTick, ...]:
    """Round temperatures of the casting, each at the slip that the curve gives it."""
    read = [viewer.degrees(t) for t in curve.temperatures]
    step = nice_step(read[-1] - read[0], 6)
    rounded = [step * k for k in range(math.ceil(read[0] / step), math.floor(read[-1] / step) + 1)]
    slips = np.interp(rounded, read, curve.slips)
    return tuple(
        TemperatureTick(viewer.deviation(float(slip)), plain(value))
        for value, slip in zip(rounded, slips, strict=True)
    )
