"""Use case: what was told at the counterbore, handed to the planner."""

from __future__ import annotations

from sleevewright.errors import SleevewrightError
from sleevewright.jobs.sets import LEDGE_DEPTHS, burr_is_off
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.ledge_cut import CounterboreTold, counterbore_cut
from sleevewright.planning.ledge_depths import DepthTold
from sleevewright.planning.ledge_register import RegisterTold
from sleevewright.planning.ledge_seat import CornerTold
from sleevewright.services.cut_told import CutTold
from sleevewright.services.stop_pieces import stop_of

PLAIN = "plain"


def counterbore_told(plan: Plan, told: CutTold) -> StageAnswers:
    """The answers of stage Counterbore beside the plan."""
    flat = told.length("face.flat") or told.length("found.deck_flat")
    stop, problem = None, ""
    try:
        stop = stop_of(told.text("counterbore.stop_set"), told.text("counterbore.stop_own"))
    except SleevewrightError as refused:
        problem = str(refused)
    return counterbore_cut(
        plan,
        CounterboreTold(
            DepthTold(
                told.gauged(LEDGE_DEPTHS),
                burr_is_off(told.folded, cylinder=told.cylinder),
                flat,
                told.length("counterbore.faced"),
                told.text("counterbore.datum"),
                told.length("counterbore.datum_off"),
                told.length("counterbore.deck_thickness"),
            ),
            RegisterTold(
                told.length("counterbore.register"),
                told.length("counterbore.body_below"),
                told.length("sleeve.overall"),
                told.text("counterbore.sits_on"),
                told.length("counterbore.step_depth"),
            ),
            CornerTold(
                told.length("sleeve.under_radius"),
                told.length("counterbore.corner"),
                told.text("counterbore.corner_form"),
            ),
            stop,
            told.text("sleeve.flange") == PLAIN,
            told.shop.settings.least_chance_most,
            problem,
        ),
    )
