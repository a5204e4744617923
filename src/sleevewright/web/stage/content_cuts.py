"""What stands on the pages of the stages that cut: answers, large ones first, in sections."""

from __future__ import annotations

from sleevewright.web.stage.contents import ALLOWED_BORE, WARM_BORE, Content, form_of
from sleevewright.web.stage.fit_sections import Section

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
    lead=(
        "counterbore.next_feed",
        "counterbore.to_go",
        "counterbore.diameter",
        "counterbore.depth_now",
    ),
    rows=(
        "counterbore.too_deep",
        "counterbore.stand_out",
        "flange.thickness",
        "sleeve.accept.flange_spread",
        "counterbore.depth",
        "counterbore.ledge",
        "counterbore.lies",
        "counterbore.out_high",
        "counterbore.out_low",
        "counterbore.uneven",
        "counterbore.uneven_most",
        "counterbore.corner_spare",
        "counterbore.rides",
        "counterbore.rides_hot",
        "counterbore.edge_wanted",
        "counterbore.register_clear",
        "counterbore.touches_first",
        "counterbore.out_on_step",
    ),
    sections=(
        Section(
            "The stop",
            (
                "counterbore.touched",
                "counterbore.stop",
                "counterbore.stack",
                "counterbore.stack_others",
                "counterbore.stack_off",
            ),
        ),
        Section(
            "To go at each place, and how the ledge lies",
            (
                *(f"counterbore.to_go_{number}" for number in range(1, 9)),
                "counterbore.rise",
                "counterbore.deepest_toward",
                "counterbore.tilt",
                "counterbore.off_plane",
                "counterbore.touches",
                "counterbore.rocks",
                "counterbore.deck_left",
            ),
            is_open=False,
        ),
        Section(
            "How wide, and what each choice does",
            (
                "counterbore.size",
                "counterbore.allowed_low",
                "counterbore.allowed_high",
                "counterbore.allowed_by",
                "counterbore.over_low",
                "counterbore.below_high",
                "counterbore.if_clearance",
                "counterbore.if_interference",
                "fit.flange",
                "fit.flange_left",
                "fit.flange_needed",
            ),
            is_open=False,
        ),
        Section(
            "Flange or bottom, cold and hot",
            (
                "counterbore.register_gap",
                "counterbore.bottom_first",
                "counterbore.register_running",
                "counterbore.register_drop",
            ),
            is_open=False,
        ),
        Section(
            "What ledge and chain bear",
            (
                "fit.seat_pressure",
                "fit.ledge_hoop",
                "chain.off_counterbore",
                "chain.room_left",
            ),
            is_open=False,
        ),
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
