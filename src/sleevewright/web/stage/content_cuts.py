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
        "piston.as_bored",
        "piston.bored_off",
        "piston.stock_left",
        "chain.runout",
        "chain.off_sleeve",
        "chain.off_datum",
        "chain.wall",
        "chain.thin",
    ),
    sections=(
        Section(
            "The size",
            (
                "piston.at_20",
                "piston.finish",
                "piston.finish_most",
                "piston.bore_to",
                "piston.bored_least",
                "piston.bored_most",
                "piston.apart_worth",
                "piston.height_cost",
            ),
            is_open=False,
        ),
        Section(
            "Which clearance",
            ("piston.clearance", "piston.place"),
            prefixes=("piston.says.",),
            is_open=False,
        ),
        Section(
            "Warming up",
            (
                "warm.says",
                "warm.least",
                "warm.left",
                "warm.least_of_warm",
                "warm.when",
                "warm.minutes",
                "warm.over",
                "warm.wall_share",
                "warm.piston_time",
                "warm.cylinder_time",
                "warm.share",
                "warm.to_wall",
            ),
            is_open=False,
        ),
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

RINGS = Content(
    lead=("rings.top_wanted", "rings.top_file"),
    rows=("rings.top_over_least", "rings.top_share", "rings.top_hot"),
    sections=(
        Section(
            "The second ring",
            (
                "rings.second_wanted",
                "rings.second_file",
                "rings.second_over_least",
                "rings.second_share",
                "rings.second_hot",
            ),
        ),
        Section(
            "The bore that the gap tells",
            (
                "rings.top_bore",
                "rings.top_bore_off",
                "rings.top_expected",
                "rings.second_bore",
                "rings.second_bore_off",
                "rings.second_expected",
                "rings.skirt_off",
            ),
        ),
        Section(
            "Pegs and ports",
            ("rings.clear", "rings.not_placed"),
            prefixes=("rings.peg.", "rings.window."),
        ),
        Section(
            "What others say",
            prefixes=("rings.top_says.", "rings.second_says."),
            is_open=False,
        ),
    ),
)

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
