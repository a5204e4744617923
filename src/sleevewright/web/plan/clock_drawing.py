"""The clocking mark as a picture, from the answers of stage Make ready."""

from __future__ import annotations

import math

from markupsafe import Markup

from sleevewright.core.ports.mapped import PortMap
from sleevewright.planning.answers import Answer
from sleevewright.planning.clock_words import NOTHING
from sleevewright.planning.grind_said import length_words
from sleevewright.web.pictures.clock_mark import ClockPicture, Opening, clock_mark
from sleevewright.web.plan.viewer import Viewer

CLOCK_TITLE = "Clocking mark, seen from the deck"


def clock_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The flange from the deck with scribe, mark and arrow; ``answer`` is the turn."""
    if not isinstance(answer.value, float):
        return None
    turn = answer.value if abs(answer.value) >= NOTHING else 0.0
    rim = _value(viewer, "clock.rim")
    said = viewer.plan.answer("clock.said").value
    degrees = f"{math.degrees(abs(turn)):.1f}°"
    figure = degrees if rim is None else length_words(abs(rim), viewer.system)
    low, high = _value(viewer, "clock.window_low_turn"), _value(viewer, "clock.window_high_turn")
    window = None if low is None or high is None else (low, high)
    wanted = viewer.plan.answer("clock.target").value
    openings: tuple[Opening, ...] = ()
    if isinstance(wanted, PortMap):
        openings = tuple(Opening(one.name, one.middle, one.span / 2.0) for one in wanted.ports)
    says = f"The flange seen from the deck: {said}."
    return clock_mark(
        ClockPicture(turn, figure if turn else "no turn", degrees, window, openings, says)
    )


def _value(viewer: Viewer, identity: str) -> float | None:
    """A number of the plan; nothing where it is not known."""
    if not viewer.knows(identity):
        return None
    value = viewer.plan.answer(identity).value
    return value if isinstance(value, float) else None
