"""Use case: speed, feed and what the bar gives, at the stages that bore, from their cells."""

from __future__ import annotations

from dataclasses import replace

from sleevewright.core.cutting.closing_in import NextCut
from sleevewright.core.cutting.cutting_tables import cut_metal_of
from sleevewright.core.cutting.interrupted import Window
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.catalog_bars import TOOL_WORDS
from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.cut_meets import cutting_stage
from sleevewright.planning.cutting_conditions import Cut
from sleevewright.services.cut_told import CutTold
from sleevewright.units import from_unit

CELLS = ("tool", "feed_per_turn", "nose", "bar", "overhang", "bar_metal", "run_out")
"""Cells of a cut: where one of them is told, its stage answers."""


def old_speeds(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The cut through the old liner: iron first, then the casting."""
    if not _is_told(told, "old"):
        return None
    iron = told.text("old.iron")
    behind = _metal(told.job.casting.material)
    cut = Cut(
        "old",
        asked=_length(told, "old.asked"),
        metal=cut_metal_of(iron or "grey iron"),
        is_metal_told=bool(iron),
        diameter=_length(told, "old.liner_outside") or _length(told, "old.diameter"),
        diameter_of="bore.target",
        behind=behind if behind.startswith("aluminium") else "",
        liner_outside=_length(told, "old.liner_outside"),
        key_depth=told.length("old.key_depth"),
    )
    return cutting_stage(plan, _with_cells(cut, told))


def parent_speeds(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The cut of the parent bore, in the casting."""
    return _of_part(plan, told, "parent", told.job.casting.material, "bore.target")


def piston_speeds(plan: Plan, told: CutTold) -> StageAnswers | None:
    """The cut of the finish bore, in the sleeve."""
    return _of_part(plan, told, "piston", told.job.sleeve.material, "finish.bored")


PASSES_OF = {"parent": "bore", "piston": "finish"}
"""What the answers on the next pass of a stage begin with; they come before the speeds."""

SPEEDS = (old_speeds, parent_speeds, piston_speeds)
"""The stages that bore, in the order of the route."""


def _of_part(
    plan: Plan, told: CutTold, stage: str, material: str, diameter_of: str
) -> StageAnswers | None:
    """The cut of a stage in one of the job's parts."""
    if not _is_told(told, stage):
        return None
    usual = "grey iron" if stage == "piston" else "aluminium"
    cut = Cut(
        stage,
        asked=_last_ask(told, stage) or _next_ask(plan, stage),
        passes=_passes_left(plan, stage),
        metal=_metal(material) or cut_metal_of(usual),
        is_metal_told=bool(_metal(material)),
        diameter=None,
        diameter_of=diameter_of,
    )
    return cutting_stage(plan, _with_cells(cut, told))


def _is_told(told: CutTold, stage: str) -> bool:
    """Whether anything was told of the edge or the bar of a stage."""
    return any(told.text(f"{stage}.{one}") or told.length(f"{stage}.{one}") for one in CELLS)


def _with_cells(cut: Cut, told: CutTold) -> Cut:
    """The cut with what the cells of its stage tell of edge and bar."""
    stage = cut.stage
    return replace(
        cut,
        tool=TOOL_WORDS.get(told.text(f"{stage}.tool"), ""),
        turns=_turns(told, stage),
        feed=_length(told, f"{stage}.feed_per_turn"),
        nose=_length(told, f"{stage}.nose"),
        bar=_length(told, f"{stage}.bar"),
        overhang=_length(told, f"{stage}.overhang"),
        bar_of=told.text(f"{stage}.bar_metal"),
        run_out=told.length(f"{stage}.run_out"),
        windows=_windows(told),
    )


def _length(told: CutTold, cell: str) -> Entry | None:
    """A length above nought; a nought that was told is none."""
    entry = told.length(cell)
    return entry if entry is not None and entry.value > 0.0 else None


def _turns(told: CutTold, stage: str) -> Entry | None:
    """Turns of the spindle by the second."""
    cell = f"{stage}.speed"
    number = told.number(cell)
    if number is None or number <= 0.0:
        return None
    return Entry(from_unit(number, "rpm"), told.text(cell) or f"{number:g}", "typed")


def _last_ask(told: CutTold, stage: str) -> Entry | None:
    """What the newest pass was asked to take."""
    start = f"{stage}.pass/"
    asked = [_length(told, f"{start}{row}/asked") for row in told.rows(start)]
    return next((one for one in reversed(asked) if one is not None), None)


def _known(plan: Plan, identity: str) -> object:
    """Value of an answer; nothing where the plan lacks it."""
    return next((one.value for one in plan.answers() if one.id == identity), None)


def _next_ask(plan: Plan, stage: str) -> Entry | None:
    """What the next pass is asked, where none was told yet."""
    ask = _known(plan, f"{PASSES_OF[stage]}.next_ask")
    if not isinstance(ask, float) or ask <= 0.0:
        return None
    return Entry(ask, "the next cut, as asked", "computed")


def _passes_left(plan: Plan, stage: str) -> int:
    """Passes that are planned still; nought where none is asked."""
    planned = _known(plan, f"{PASSES_OF[stage]}.next_pass")
    return len(planned.ladder) if isinstance(planned, NextCut) and planned.ask > 0.0 else 0


def _metal(material: str) -> str:
    """A part's metal as a tool tells metals apart; empty where nobody can say."""
    if not material:
        return ""
    try:
        return cut_metal_of(material)
    except SleevewrightError:
        return ""


def _windows(told: CutTold) -> tuple[Window, ...]:
    """The ports whose roof, floor and width are known."""
    return tuple(
        Window(port.roof.value, port.floor.value, port.width.value)
        for port in told.job.ports
        if port.roof is not None and port.floor is not None and port.width is not None
    )
