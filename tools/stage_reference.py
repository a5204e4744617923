"""Pages of the reference that follow from the catalogue of stages and the list of settings."""

from __future__ import annotations

from collections.abc import Iterator

from reference_tables import table
from sleevewright.jobs.catalog import LIFE, sheet_of
from sleevewright.jobs.stagefield import CHOICE, QUANTITY, StageField, StageGrid, StageSheet
from sleevewright.services.setting_specs import specs

STAGES = """\
Each stage of the route with its hold and everything that it can be told. A cell is the name
under which a value is told, on a page, over [the interface](../records.md) or in an export.
`<port>` stands for the name of a port, `<n>` for a number from 1. What a stage waits for, and
the minutes of its work, can be told at any of them. *Whole job* is told once for all cylinders.
"""
ONLY = {
    "ports": "with ports",
    "flange": "with a flange",
    "jacket": "with a water jacket",
    "plain": "without a flange",
    "plain wall": "without ports",
}
"""Where a cell is asked at all, in words."""


def stages_page() -> str:
    """Every stage: its hold, its cells, its sets of readings, its events."""
    parts = ["# Stages and cells\n", STAGES]
    for stage in LIFE:
        sheet = sheet_of(stage.key)
        hold = f"Hold: {stage.hold}." if stage.hold else "No hold."
        skipped = f" Not for: {', '.join(stage.skipped_by)}." if stage.skipped_by else ""
        parts.append(f"## {stage.title}\n\nStage `{stage.key}`. {hold}{skipped}\n")
        parts += _of(sheet)
    return "\n".join(parts)


def _of(sheet: StageSheet) -> Iterator[str]:
    """Cells, sets and events of a stage."""
    head = ("cell", "title", "what it is", "as", "kind", "asked")
    yield table(head, (_row(field) for field in sheet.fields))
    if sheet.grids:
        head = ("set of readings", "title", "what it is", "read", "asked")
        yield table(head, (_grid_row(grid) for grid in sheet.grids))
    if sheet.events:
        yield f"Events: {', '.join(f'`{what}`' for what in sheet.events)}.\n"


def _row(field: StageField) -> tuple[str, ...]:
    """One cell."""
    if field.sort == CHOICE:
        form = " / ".join(field.allowed)
    elif field.dimension is not None and field.sort == QUANTITY:
        form = f"{field.dimension.value}, as `{field.example}`"
    else:
        form = f"{field.sort}, as `{field.example}`"
    asked = [ONLY.get(field.only, field.only), "whole job" if field.per_job else ""]
    return (f"`{field.cell}`", field.title, field.doc, form, field.kind, _joined(asked))


def _grid_row(grid: StageGrid) -> tuple[str, ...]:
    """One feature that is gauged."""
    around = "around zero" if grid.is_deviation else "around a size"
    lands = "ports left out" if grid.has_port_lands else ""
    asked = [ONLY.get(grid.only, grid.only), lands]
    return (f"`{grid.feature}`", grid.title, grid.doc, f"{grid.sense}, {around}", _joined(asked))


def _joined(parts: list[str]) -> str:
    return ", ".join(part for part in parts if part)


def shop_rows() -> list[tuple[str, ...]]:
    """Everything that a shop may set: key, title, sentence, what stands without it, range."""
    return [
        (
            f"`{one.key}`",
            f"{one.group}: {one.title}",
            one.sentence,
            one.text or "nothing",
            one.allowed_words("inch"),
        )
        for one in specs()
    ]
