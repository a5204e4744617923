"""Answers that are a table rather than a number: readings, and the fit over two temperatures."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.metrology.grid import GridReadings, SizeGrid
from sleevewright.planning.answers import Answer, Plan, Quantity
from sleevewright.planning.shown import BLANK, ShownNumber
from sleevewright.units import display_unit
from sleevewright.web.plan.views import TableView

AXES = ("casting_temperatures", "sleeve_temperatures")
MOST_COLUMNS = 10
"""A finer table is thinned to this: its picture is elsewhere, its values in the document."""

Floats = NDArray[np.float64]


class Like(Protocol):
    """Shows a value that belongs to an answer."""

    def __call__(
        self, answer: Answer, value: float, quantity: Quantity | None = None
    ) -> ShownNumber:
        """The value in the figures of the answer, or of another quantity."""


def table_of(plan: Plan, answer: Answer, like: Like, *, system: str) -> TableView | None:
    """The table of an answer, where it is one."""
    value = answer.value
    if isinstance(value, GridReadings):
        cells, quantity = value.readings, Quantity.SIZE
    elif isinstance(value, SizeGrid):
        cells, quantity = value.sizes, Quantity.DEVIATION
    elif isinstance(value, np.ndarray) and value.ndim == 2:
        return _over_temperatures(plan, answer, like, value, system=system)
    else:
        return None
    depth = display_unit(Quantity.SIZE.value, system=system)
    unit = display_unit(quantity.value, system=system)
    depths = [like(answer, float(one), Quantity.SIZE).figure for one in value.stations]
    return TableView(
        says=f"{unit}; a row is a depth in {depth}, a column an angle",
        columns=tuple(f"{math.degrees(one):.0f}°" for one in value.directions),
        rows=tuple(zip(depths, _cells(answer, like, cells, quantity), strict=True)),
    )


def _over_temperatures(
    plan: Plan, answer: Answer, like: Like, value: Floats, *, system: str
) -> TableView | None:
    """The fit for each pair of temperatures; its axes are inputs of the answer."""
    named = dict(answer.basis.inputs) if answer.basis else {}
    if not all(axis in named for axis in AXES):
        return None
    every = math.ceil(max(value.shape) / MOST_COLUMNS)
    down, across = (
        tuple(
            like(answer, float(one), Quantity.TEMPERATURE).figure
            for one in _axis(plan.answer(named[axis]).value)[::every]
        )
        for axis in AXES
    )
    degree = display_unit(Quantity.TEMPERATURE.value, system=system)
    unit = display_unit(Quantity.DEVIATION.value, system=system)
    cells = _cells(answer, like, value[::every, ::every], Quantity.DEVIATION)
    return TableView(
        says=f"{unit}; a row is the casting in {degree}, a column the sleeve in {degree}",
        columns=across,
        rows=tuple(zip(down, cells, strict=True)),
    )


def _axis(value: Any) -> list[float]:
    return list(value) if isinstance(value, Iterable) else []


def _cells(answer: Answer, like: Like, values: Floats, quantity: Quantity) -> list[tuple[str, ...]]:
    """Figures of every cell; a blank where nothing was read."""
    return [
        tuple(
            BLANK if math.isnan(one) else like(answer, float(one), quantity).figure for one in row
        )
        for row in values
    ]
