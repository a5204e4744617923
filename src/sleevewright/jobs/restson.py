"""What the verdict of a plan rests on: sets of readings, and cells that were told.

A verdict that a hold asks for may turn when any of this is told anew; a hold that was lifted
says then that something was told since.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True)
class RestsOn:
    """Features whose sets count, and how the names of the cells begin."""

    features: tuple[str, ...] = ()
    cells: tuple[str, ...] = ()


_PARTS = ("fit.", "casting.", "sleeve.")
_BORE = ("parent-bore", "parent-pass")
_SET_UP = RestsOn(("sweep-top", "sweep-bottom"), ("setup.",))
_FORM = RestsOn(_BORE, ("casting.",))
_FIT = RestsOn(("sleeve-od", *_BORE), _PARTS)
_WALL = RestsOn(
    ("wall-left", "casting-outside", "sweep-top", "sweep-bottom", "sleeve-od"),
    ("old.", "setup.", "counterbore.", "engine.", *_PARTS),
)
_SLIP = RestsOn(("sleeve-od",), ("heat.", *_PARTS))
_PROOF = RestsOn(
    ("cooled-bore", "sleeve-id", "sleeve-od", "finish-bore", *_BORE),
    (*_PARTS, "ready.sleeve_cut", "piston.bored", "piston.pass/", "hone.pass/"),
)
_FINISH = RestsOn(("finish-bore",), ("piston.", "sleeve."))

RESTS_ON: Mapping[str, RestsOn] = {
    "setup.offset": _SET_UP,
    "setup.tilt": _SET_UP,
    "old.thin": _WALL,
    "old.ledge_thin": _WALL,
    "bore.out_of_round": _FORM,
    "bore.taper": _FORM,
    "bore.stock": _FIT,
    "counterbore.ledge": RestsOn(("counterbore-depth",), ("counterbore.burr",)),
    "counterbore.off_step": RestsOn(
        (), ("counterbore.step_depth", "sleeve.overall", "fit.stand_out")
    ),
    "counterbore.corner_spare": RestsOn((), ("counterbore.corner", "sleeve.under_radius")),
    "counterbore.register_clear": RestsOn(
        ("flange-thickness",),
        ("counterbore.register", "counterbore.body_below", "counterbore.sits_on", "sleeve.overall"),
    ),
    "fit.below_least": _FIT,
    "fit.flange_below_least": RestsOn(("flange-od", "counterbore"), _PARTS),
    "ready.od": RestsOn(("sleeve-od", "sleeve-od-again"), ("sleeve.",)),
    "heat.body_go": _SLIP,
    "heat.flange_go": _SLIP,
    "cool.seated": RestsOn(("stand-out", "flange-thickness", "counterbore-depth"), ("fit.",)),
    "cool.proof": _PROOF,
    "cool.proved_below_least": _PROOF,
    "finish.out_of_round": _FINISH,
    "finish.taper": _FINISH,
    "finish.clearance": _FINISH,
    "hone.grid_cold": RestsOn(("finish-bore",)),
}
"""Id of an answer, and what its verdict rests on."""
