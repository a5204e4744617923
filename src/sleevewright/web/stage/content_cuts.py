"""What stands on the pages of the stages that cut: answers, large ones first, in sections."""

from __future__ import annotations

from sleevewright.web.stage.contents import ALLOWED_BORE, WARM_BORE, Content, form_of
from sleevewright.web.stage.fit_sections import Section

OLD = Content(lead=("old.fit",), rows=("old.stock", "old.wall", "old.next", "bore.target"))


def _lead_cut(of: str) -> tuple[str, ...]:
    """What to do at the boring head, large."""
    return (f"{of}.next_stop", f"{of}.head_turn", f"{of}.next_ask")


def _next_cut(of: str) -> tuple[str, ...]:
    """What stands beside the next boring pass."""
    names = ("next_move", "next_dial", "next_turn", "next_rounding", "next_pass_chance",
             "next_inside", "next_size", "passes_left")  # fmt: skip
    return tuple(f"{of}.{one}" for one in names)


def _passes(of: str) -> Section:
    """The passes to come and what the bar takes, behind one press."""
    names = ("schedule", "spring", "next_span", "stands", "share")
    return Section("Passes to come", tuple(f"{of}.{one}" for one in names), is_open=False)


PARENT = Content(
    lead=(*_lead_cut("bore"), "bore.target"),
    rows=(
        *_next_cut("bore"),
        *WARM_BORE,
        "bore.size",
        *form_of("bore"),
        "bore.odd_lobes",
        "bore.stock",
        "fit.cold",
        "fit.by_sizes",
        "chain.wall",
        *ALLOWED_BORE,
    ),
    sections=(_passes("bore"),),
)

COUNTERBORE = Content(
    lead=("counterbore.diameter", "counterbore.depth"),
    rows=(
        "counterbore.size",
        "counterbore.stand_out",
        "counterbore.ledge",
        "fit.flange",
        "chain.off_counterbore",
        "chain.room_left",
        "fit.flange_left",
        "fit.flange_needed",
        "fit.seat_pressure",
        "fit.ledge_hoop",
    ),
)

HONEFIT = Content(
    lead=("bore.target",),
    rows=(
        *WARM_BORE,
        "bore.size",
        *form_of("bore"),
        "bore.odd_lobes",
        "fit.cold",
        "fit.by_sizes",
        "fit.below_least",
        "bore.consumer_risk",
        "bore.producer_risk",
        *ALLOWED_BORE,
    ),
)

FACE = Content(rows=("counterbore.stand_out",))

PISTON = Content(
    lead=(*_lead_cut("finish"), "finish.bored"),
    sections=(_passes("finish"),),
    rows=(
        *_next_cut("finish"),
        "finish.bore",
        "finish.hone_stock",
        "finish.stock",
        "chain.runout",
        "chain.off_sleeve",
        "chain.off_datum",
        "chain.wall",
        "chain.thin",
    ),
)

HONE = Content(
    lead=("finish.bore",),
    rows=(
        "finish.size",
        *form_of("finish.as_gauged", "finish"),
        "finish.clearance",
        "finish.wall",
    ),
)

RINGS = Content()

CUT_CONTENTS: dict[str, Content] = {
    "old": OLD,
    "parent": PARENT,
    "counterbore": COUNTERBORE,
    "honefit": HONEFIT,
    "face": FACE,
    "piston": PISTON,
    "hone": HONE,
    "rings": RINGS,
}
"""By the key of the stage."""
