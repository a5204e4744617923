"""Pegs and ports round the bore as a picture, from the answers of stage Rings."""

from __future__ import annotations

from markupsafe import Markup

from sleevewright.planning.answers import Answer, Verdict
from sleevewright.planning.ringports import Placed
from sleevewright.web.pictures.ring_pegs import Peg, PegsPicture, ring_pegs
from sleevewright.web.plan.viewer import Viewer

AROUND, PEG = "rings.around", "rings.peg."


def ring_pegs_drawing(viewer: Viewer, answer: Answer) -> Markup | None:
    """The picture, where ports are placed round the bore; ``answer`` tells the clear walls."""
    if not viewer.knows(AROUND):
        return None
    told = viewer.plan.answer(AROUND).value
    if not isinstance(told, tuple):
        return None
    openings = tuple(one for one in told if isinstance(one, Placed))
    pegs = tuple(_pegs(viewer))
    words = [f"Peg {one.name} is {'clear' if one.is_good else 'not clear'}." for one in pegs]
    says = f"Ports round the bore from above. {' '.join(words)} Clear wall: {answer.value}."
    return ring_pegs(PegsPicture(openings, pegs, says))


def _pegs(viewer: Viewer) -> list[Peg]:
    """The pegs whose angle was told, with their verdict."""
    found = []
    for answer in viewer.plan.answers():
        if not (answer.id.startswith(PEG) and answer.id.endswith(".angle")):
            continue
        name = answer.id.removeprefix(PEG).removesuffix(".angle")
        room = viewer.number(f"{PEG}{name}.room")
        judged = None if room is None else room.judgement
        is_good = judged is not None and judged.verdict is Verdict.GOOD
        if isinstance(answer.value, float):
            found.append(Peg(name, answer.value, is_good))
    return found
