"""The ladder of boring passes as a picture, from the answers beside the plan."""

from __future__ import annotations

from markupsafe import Markup

from sleevewright.planning.answers import Answer, Quantity
from sleevewright.planning.next_cut import Rungs
from sleevewright.planning.next_cut_said import Said
from sleevewright.planning.shown import percent_words
from sleevewright.web.pictures.pass_ladder import LadderPicture, Rung, pass_ladder
from sleevewright.web.plan.viewer import Viewer

REACH = 4.0
"""Passes are drawn back to where this many times the rest of now was missing."""
MOST_DONE = 4


def ladder_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The picture of what was cut and what is to be cut."""
    told = answer.value
    if not isinstance(told, Rungs):
        return None
    said, target = Said(viewer.system), told.limits.aim

    def off(size: float) -> float:
        return viewer.deviation(size - target)

    return pass_ladder(
        LadderPicture(
            done=_done(told, said, viewer),
            stands=off(told.stands),
            doubt=(off(told.doubt[0]), off(told.doubt[1])),
            planned=_planned(told, said, viewer),
            limits=(off(told.limits.low), off(told.limits.high)),
            unit=viewer.unit(Quantity.DEVIATION),
            says=_says(told, said),
        )
    )


def _done(told: Rungs, said: Said, viewer: Viewer) -> tuple[Rung, ...]:
    """Passes that were made, back from where the bore stands, the nearest few."""
    target, after, found = told.limits.aim, told.stands, list[Rung]()
    rest = max(abs(target - told.stands), told.limits.high - told.limits.low)
    for one in reversed(told.passes):
        before = after - one.taken
        if found and (len(found) == MOST_DONE or target - before > REACH * rest):
            break
        found.append(Rung(
            f"pass {one.number}:",
            viewer.deviation(before - target),
            viewer.deviation(after - target),
            viewer.deviation(before + one.asked - target),
            f"{said.small(one.taken)} of {said.small(one.asked)}",
        ))  # fmt: skip
        after = before
    return tuple(reversed(found))


def _planned(told: Rungs, said: Said, viewer: Viewer) -> tuple[Rung, ...]:
    """The next pass and those after it."""
    target, before, found = told.limits.aim, told.stands, list[Rung]()
    for number, one in enumerate(told.found.ladder):
        name = f"next: {one.pass_kind}, ask" if not number else f"then {one.pass_kind}, ask"
        after = viewer.deviation(one.bore_after - target)
        figure = said.small(one.ask)
        found.append(Rung(name, viewer.deviation(before - target), after, after, figure))
        before = one.bore_after
    return tuple(found)


def _says(told: Rungs, said: Said) -> str:
    """The answer in words: where it stands, what is asked next, with what chances."""
    rest = told.limits.aim - told.stands
    missing = f"{said.small(abs(rest))} {'is missing to' if rest >= 0.0 else 'above'} the target"
    cut = told.found
    if cut.ask <= 0.0:
        return f"Ladder of passes: {missing}; {cut.next_move.value}."
    return (
        f"Ladder of passes: {missing}. The next pass asks {said.small(cut.ask)} on diameter, "
        f"{said.small(0.5 * cut.ask)} on radius; {len(cut.ladder)} planned; "
        f"{percent_words(cut.chances_then.beyond)} chance that it passes the upper limit."
    )
