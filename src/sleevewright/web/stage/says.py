"""What a stage says: its answers in figures, under their headings, with what is to be watched."""

from __future__ import annotations

from collections.abc import Sequence

from sleevewright.planning.answers import Kind
from sleevewright.planning.shown import BLANK
from sleevewright.web.plan.views import AnswerView
from sleevewright.web.stage.contents import Content
from sleevewright.web.stage.rows import Rows
from sleevewright.web.stage.said import SaysSection, SaysView
from sleevewright.web.stage.unwanted import unwanted


def says_of(told: Rows, content: Content, key: str) -> SaysView:
    """The answers of a stage, in figures."""
    viewer = told.viewer
    left_out = unwanted(viewer.plan, key)
    rows = _rows(told, [one for one in content.rows if one not in left_out], content.prefixes)
    sections = tuple(
        SaysSection(one.heading, own, one.is_open)
        for one in content.sections
        if (own := _rows(told, one.rows, one.prefixes))
    )
    lead = tuple(
        told.lead(one) for one in content.lead if viewer.knows(one) and one not in left_out
    )
    advice = tuple(
        text for stage in viewer.plan.stages if stage.key == key for text in stage.advice
    )
    watched = CAUTIONED.get(key, ())
    cautions = tuple(
        one.text for one in viewer.plan.cautions if one.code.partition(":")[2].startswith(watched)
    )
    shown = tuple(one for one in lead if _is_shown(one))
    return SaysView(rows, sections, shown, advice, cautions=cautions if watched else ())


def _rows(told: Rows, names: Sequence[str], prefixes: tuple[str, ...]) -> tuple[AnswerView, ...]:
    """The named answers, then every worked-out one whose name begins like that."""
    viewer = told.viewer
    rows = [told.row(one) for one in names if viewer.knows(one)]
    for answer in viewer.plan.answers():
        is_worked_out = answer.kind is Kind.COMPUTED and not answer.is_detail
        if is_worked_out and answer.id.startswith(prefixes or ("\0",)):
            rows.append(told.row(answer.id))
    return tuple(rows)


CAUTIONED = {
    "ports": ("grind.", "ports.", "timing.now.", "portlimits.left", "target.map", "found.map"),
    "found": ("found.", "timing.found."),
    "fit": ("fit.yielded", "fit.neighbour", "fit.ring", "fit.web"),
    "heat": ("heat.dose", "fit.neighbour"),
    "choice": ("portlimits.target", "target."),
    "sleeve": ("sleeve.", "flange.", "portlimits.supplied"),
    "old": ("old.",),
    "parent": ("bore.", "old.thin"),
    "counterbore": ("counterbore.",),
    "honefit": ("bore.", "sleeve.", "fithatch"),
    "ready": ("sleeve.", "cast.map", "found.map", "clock."),
    "cool": ("cool.", "sleeve.id"),
    "face": ("face.",),
    "piston": ("finish.", "piston.", "warm."),
    "hone": ("finish.", "hatch"),
    "rings": ("rings.",),
    "release": ("finish.", "bore.", "sleeve.", "cool.", "counterbore.", "flange."),
}
"""What was held back, or is to be watched, is told of at which stage."""


def _is_shown(answer: AnswerView) -> bool:
    """A large figure stands only where it is known."""
    return answer.shown.figure not in ("", BLANK)
