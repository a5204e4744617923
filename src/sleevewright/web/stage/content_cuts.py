"""What stands on the pages of the stages that cut: answers, large ones first, in sections."""

from __future__ import annotations

from sleevewright.web.stage.content_hone import hone_lead, hone_rows, hone_sections
from sleevewright.web.stage.contents import ALLOWED_BORE, WARM_BORE, Content, form_of

OLD = Content(lead=("old.fit",), rows=("old.stock", "old.wall", "old.next", "bore.target"))

PARENT = Content(
    lead=("bore.target",),
    rows=(
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
    lead=("bore.target", *hone_lead("honefit")),
    rows=(
        *hone_rows("honefit"),
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
    sections=hone_sections("honefit"),
)

FACE = Content(rows=("counterbore.stand_out",))

PISTON = Content(
    lead=("finish.bored",),
    rows=(
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
    lead=("finish.bore", *hone_lead("hone")),
    rows=(
        *hone_rows("hone"),
        "finish.size",
        *form_of("finish.as_gauged", "finish"),
        "finish.clearance",
        "finish.wall",
    ),
    sections=hone_sections("hone"),
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
