"""What is told beside a wrap of the ports: its wall, its paper, its length when it lies flat."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sleevewright.core.ports.wrap import rim_length, wrap_length
from sleevewright.core.uncertainty.inputs import Shape
from sleevewright.errors import InputError
from sleevewright.planning.answers import Answer, Kind, Plan, Quantity, StageAnswers
from sleevewright.planning.beside import beside, from_plan, known_in, ledger_of
from sleevewright.planning.ledger import Given, Line

KEY = "wrap"

CLOCKED = "clock.turn"
"""Answer that tells how far the sleeve is to be turned, clockwise seen from the deck."""

FLANGE_OD = "flange.od"

WALL = Line("wrap.wall", "Wall that the paper lies against", Quantity.SIZE, "diametral")
PAPER = Line("wrap.paper", "Paper", Quantity.SIZE, "thickness of one sheet")
OUTSIDE = Line("wrap.outside", "Round the outside", Quantity.COUNT, is_detail=True)
LENGTH = Line(
    "wrap.length",
    "Length of the strip when it lies flat",
    Quantity.SIZE,
    "from butt line to butt line",
)
RIM = Line(
    "wrap.rim", "Mark along the rim of the flange", Quantity.SIZE,
    "clockwise seen from the deck; minus is counter-clockwise",
)  # fmt: skip


@dataclass(frozen=True)
class WrapTold:
    """What a wrap rests on.

    Attributes
    ----------
    wall : float
        Diameter that the paper lies against. [m]
    wall_source : str
        Where that is from.
    is_outside : bool
        Whether it goes round the outside of the sleeve.
    paper : float | None
        Thickness of the paper as it was typed; nothing for what the shop usually has. [m]
    paper_text : str
        How it was typed.
    """

    wall: float
    wall_source: str
    is_outside: bool = False
    paper: float | None = None
    paper_text: str = ""


def wrapping(plan: Plan, told: WrapTold) -> StageAnswers:
    """The figures of a wrap, each with its kind, doubt and formula.

    Raises
    ------
    InputError
        If the paper cannot be.
    """
    ledger = ledger_of(plan)
    ledger.fact(WALL, Given(told.wall, Kind.COMPUTED, told.wall_source))
    usual = ledger.default("paper_thickness")
    if told.paper is None:
        half = (usual.high - usual.low) / 2.0
        given = Given(usual.value, Kind.ASSUMED, usual.source, usual.stated,
                      half / math.sqrt(3.0), shape=Shape.RECTANGULAR)  # fmt: skip
    else:
        given = Given(told.paper, Kind.TYPED, "this sheet", told.paper_text)
    paper = usual.value if told.paper is None else told.paper
    # A paper that cannot be is refused here: the ledger would only leave its length out.
    wrap_length(diameter=told.wall, paper=paper, is_outside=told.is_outside)
    ledger.fact(PAPER, given)
    ledger.fact(OUTSIDE, Given(told.is_outside, Kind.CHOSEN, "this sheet"))
    ledger.compute(LENGTH, wrap_length, diameter=WALL.id, paper=PAPER.id, is_outside=OUTSIDE.id)
    if known_in(plan, CLOCKED) is not None and known_in(plan, FLANGE_OD) is not None:
        from_plan(ledger, plan, CLOCKED, need="clocking before the drop")
        from_plan(ledger, plan, FLANGE_OD, need="diameter of the flange")
        ledger.compute(RIM, rim_length, flange_diameter=FLANGE_OD, angle=CLOCKED)
    return beside(plan, KEY, "Paper", ledger.result())


def paper_of(stage: StageAnswers) -> float:
    """Thickness of the paper of a wrap, in metres."""
    value = number_of(stage, PAPER.id).value
    if not isinstance(value, float):
        raise InputError("thickness of the paper", "not known", "", "a length")
    return value


def number_of(stage: StageAnswers, identity: str) -> Answer:
    """An answer of the wrap by its name."""
    return next(one for one in stage.answers if one.id == identity)
