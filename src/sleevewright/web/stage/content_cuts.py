"""What stands on the pages of the stages that cut: answers, large ones first, in sections."""

from __future__ import annotations

from sleevewright.web.stage.contents import ALLOWED_BORE, WARM_BORE, Content, form_of
from sleevewright.web.stage.fit_sections import Section

OLD = Content(
    lead=("old.least_wall", "old.fit"),
    rows=("old.thin", "old.wall_low", "old.least_at", "old.least_depth", "old.wall_allows"),
    sections=(
        Section("How it comes out", ("old.way", "old.way_not", "old.shell", "old.frees_at",
                                     "old.neighbour"), is_open=False),
        Section("Old iron left in the wall", ("old.gone_at", "old.past_keys", "old.iron_share",
                                              "old.islands_share", "old.islands_arc",
                                              "old.island_back", "old.liner_outside",
                                              "old.wall_at_iron"), is_open=False),
        Section("The sleeve in hand, or the next", ("old.stock", "old.next", "old.next_blank",
                                                    "old.next_fit", "old.next_bore",
                                                    "bore.target")),
        Section("The wall in full", ("old.wall_limit", "old.ledge_thin", "old.ledge_wall",
                                     "old.shifted", "old.even_by", "old.even_at", "old.wall"),
                is_open=False),
    ),
)  # fmt: skip

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
        "old.least_wall",
        "old.thin",
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
