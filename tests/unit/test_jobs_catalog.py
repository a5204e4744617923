"""The table of everything that the stages ask for."""

from __future__ import annotations

import pytest

from sleevewright.errors import NotFound
from sleevewright.jobs.catalog import (
    EVENTS,
    LIFE,
    StageField,
    field_of,
    grid_of_feature,
    sheet_of,
    simple_cells,
    stages_of,
)
from sleevewright.jobs.fields import FIELDS
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.model import FEATURES
from sleevewright.jobs.stagefield import CHOICE, QUANTITY, SORTS, TICK
from sleevewright.jobs.told import read_cell

OPENED_WITH = {"job.number", "job.units", "job.invented"}
IN_ROWS = ("port.", "grid.", "instrument.")

EVERY = [field for stage in LIFE for field in sheet_of(stage.key).fields]


def concrete(field: StageField) -> str:
    """A name that the cell can have."""
    return field.cell_for("exhaust" if field.each == "port" else 3) if field.each else field.cell


def test_every_stage_has_its_sheet_and_its_time() -> None:
    """Each stage of the life of a job asks for something, and for the minutes it took."""
    for stage in LIFE:
        cells = {field.cell for field in sheet_of(stage.key).fields}
        assert f"operation.{stage.key}.minutes" in cells
        assert {"waits.for", "waits.until"} <= cells
    assert LIFE[-1].key == "after"
    with pytest.raises(NotFound, match="stage"):
        sheet_of("painting")


@pytest.mark.parametrize("field", EVERY, ids=lambda field: field.cell)
def test_the_example_of_every_field_is_taken(field: StageField) -> None:
    """What a field shows as an example can be told for it, and comes to its dimension."""
    cell = concrete(field)
    assert field.sort in SORTS
    read = read_cell(cell, field.example, folded=Folded(), cylinder=1)
    if field.sort == QUANTITY:
        assert field.dimension is not None
        assert read.dimension == field.dimension.value
        assert field.span is not None
        assert read.value is not None
        assert field.span.low <= read.value <= field.span.high
    known = field_of(cell)
    assert known is not None
    assert known.title == field.title


def test_choices_have_more_than_one_answer_and_nothing_else_has_any() -> None:
    """A choice is one of several; its first answer is its example."""
    for field in EVERY:
        assert (len(field.allowed) > 1) == (field.sort == CHOICE), field.cell


def test_a_stage_asks_for_no_cell_twice() -> None:
    """Within one stage each cell stands once, and each title tells one cell."""
    for stage in LIFE:
        fields = sheet_of(stage.key).fields
        assert len({field.cell for field in fields}) == len(fields)
        assert len({field.title for field in fields}) == len(fields), stage.key


def test_every_key_of_a_job_file_is_a_cell() -> None:
    """Whatever a file can tell can be told at a stage, by the same name."""
    for field in FIELDS:
        if field.path in OPENED_WITH or field.path.startswith(IN_ROWS):
            continue
        known = field_of(field.path)
        assert known is not None, field.path
        assert known.span == field.span
        assert known.allowed == field.allowed


def test_keys_of_a_port_and_of_an_instrument_are_cells_of_each() -> None:
    """A port is told by its name inside of the cell."""
    for key in ("name", "found.roof", "found.floor", "found.width", "target", "target.roof",
                "left.roof", "left.chamfer"):  # fmt: skip
        assert field_of(f"port/main left/{key}") is not None
    assert field_of("instrument/mic 2-3/turn") is not None
    assert field_of("port//found.roof") is None
    assert field_of("old.island/0/angle_from") is None
    assert field_of("old.island/2/angle_from") is not None


def test_every_feature_of_a_plan_is_a_grid_of_a_stage() -> None:
    """What the plan reads of gauges is asked for somewhere."""
    for feature in FEATURES:
        assert grid_of_feature(feature) is not None
    for feature in ("sweep-top", "sweep-bottom", "stand-out", "feeler", "cooled-bore",
                    "finish-bore", "sleeve-od-again", "parent-pass"):  # fmt: skip
        assert grid_of_feature(feature) is not None
    assert grid_of_feature("crown") is None


def test_what_can_happen_is_named_once() -> None:
    """The events of the contract are all known."""
    assert {"wash", "wipe", "oven-in", "reading", "out", "in", "clocked", "seated", "gripped",
            "unclamped", "measured", "note"} <= set(EVENTS)  # fmt: skip


@pytest.mark.parametrize("kind", ["two-stroke", "four-stroke", "compressor"])
def test_a_simple_job_is_asked_of_its_own_kind_only(kind: str) -> None:
    """Cylinders without ports are asked for none, and every simple cell is on their route."""
    keys = {stage.key for stage in stages_of(kind)}
    cells = simple_cells(kind)
    asked = {field.cell for key in keys for field in sheet_of(key).fields}
    assert {field.cell for field in cells} <= asked
    assert any(field.only == "ports" for field in cells) == (kind == "two-stroke")


def test_ticks_of_a_stage_are_its_ticks() -> None:
    """The ticks stand by themselves for the pages that show them as a list."""
    ready = sheet_of("ready")
    assert {field.cell for field in ready.ticks} >= {"ready.dry", "ready.drained", "ready.burrs"}
    assert all(field.sort == TICK for field in ready.ticks)
