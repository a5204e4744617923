"""Pictures of the stages that cut: each where its answer is known."""

from __future__ import annotations

from sleevewright.planning.answers import Plan
from sleevewright.web.plan.crosshatch_drawing import HATCH_TITLE, hatch_drawing
from sleevewright.web.plan.hone_drawing import DWELL_TITLE, hone_drawing
from sleevewright.web.plan.ladder_drawing import ladder_drawing
from sleevewright.web.plan.ledge_drawing import LEDGE_TITLE, ledge_picture
from sleevewright.web.plan.ring_bore_drawing import ring_bore_drawing
from sleevewright.web.plan.ring_pegs_drawing import ring_pegs_drawing
from sleevewright.web.plan.squish_drawing import (
    change_drawing,
    gaskets_drawing,
    squish_drawing,
)
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.plan.wall_drawing import WALL_MAP, wall_drawing
from sleevewright.web.stage.cut_picture import CutPicture
from sleevewright.web.stage.hot_pictures import HOT_PICTURES
from sleevewright.web.stage.port_pictures import PORT_PICTURES
from sleevewright.web.stage.views import PictureView

CUT_PICTURES: tuple[CutPicture, ...] = (
    CutPicture("old", WALL_MAP, "Wall that the planned bore leaves", wall_drawing),
    CutPicture("parent", WALL_MAP, "Wall that the planned bore leaves", wall_drawing, is_last=True),
    CutPicture("face", "face.squish_before", "At top dead centre", squish_drawing),
    CutPicture("face", "face.squish_change", "What the cut does", change_drawing, is_last=True),
    CutPicture(
        "face", "face.gaskets", "Gaskets at hand, best first", gaskets_drawing, is_last=True
    ),
    CutPicture("parent", "bore.ladder", "Passes, asked and taken", ladder_drawing),
    CutPicture("piston", "finish.ladder", "Passes, asked and taken", ladder_drawing),
    CutPicture("hone", "hatch.included", HATCH_TITLE, hatch_drawing, is_last=True),
    CutPicture("honefit", "fithatch.included", HATCH_TITLE, hatch_drawing, is_last=True),
    CutPicture("rings", "rings.top_bore_off", "The bore, twice", ring_bore_drawing),
    CutPicture("rings", "rings.clear", "Pegs and ports", ring_pegs_drawing, is_last=True),
    CutPicture("counterbore", "counterbore.plane", LEDGE_TITLE, ledge_picture),
    CutPicture("honefit", "honefit.dwell", DWELL_TITLE, hone_drawing),
    CutPicture("hone", "hone.dwell", DWELL_TITLE, hone_drawing),
    *PORT_PICTURES,
    *HOT_PICTURES,
)
"""In the order in which they stand on the page."""


def cut_pictures(stage: str, plan: Plan | None) -> tuple[PictureView, ...]:
    """The pictures of a stage that cuts, as far as their answers are known."""
    if plan is None:
        return ()
    viewer = Viewer(plan, plan.units)
    found: list[PictureView] = []
    for one in CUT_PICTURES:
        if one.stage != stage or not viewer.knows(one.answer):
            continue
        answer = plan.answer(one.answer)
        drawn = None if answer.value is None else one.draw(viewer, answer)
        if drawn is not None:
            found.append(PictureView(one.title, drawn, is_last=one.is_last))
    return tuple(found)
