"""Honing as it may be told: lengths, passes, a bore so much under its target."""

from __future__ import annotations

from typing import Any

from sleevewright.jobs.model import Entry
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.hone_told import PISTON, HonePass, HoneTold


def length(value: float) -> Entry:
    """A length that was told."""
    return Entry(value, f"{value * 1e3:g} mm", "measured")


def passed(*told: tuple[float, float], grit: float | None = 220.0) -> tuple[HonePass, ...]:
    """Passes of strokes and what they took, in micrometres."""
    return tuple(
        HonePass(str(number), Entry(strokes, f"{strokes:g}"), length(taken * 1e-6), grit)
        for number, (strokes, taken) in enumerate(told, start=1)
    )


def told_of(water: Plan, under: float = 30e-6, **more: Any) -> HoneTold:
    """Honing to the piston with the bore so much under its target."""
    target = water.answer("finish.bore").value
    assert isinstance(target, float)
    now = more.pop("now", length(target - under))
    return HoneTold(PISTON, now=now, **more)


def said(stage: StageAnswers, identity: str) -> Any:
    """The answer of a stage with this id."""
    return next(answer for answer in stage.answers if answer.id == identity)
