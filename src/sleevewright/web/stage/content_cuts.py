"""What stands on the pages of the stages that cut: answers, large ones first, in sections."""

from __future__ import annotations

from sleevewright.planning.cut_lines import cut_rows
from sleevewright.web.stage.content_hone import hone_lead, hone_rows, hone_sections
from sleevewright.web.stage.content_hot import OLD_HEAT
from sleevewright.web.stage.contents import ALLOWED_BORE, WARM_BORE, Content, form_of
from sleevewright.web.stage.fit_sections import Section
from sleevewright.web.stage.hatch_sections import FIT_HATCH_SECTION, HATCH_SECTION

SPEED_HEADING = "Speed, feed and what the bar gives"


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


OLD = Content(
    lead=("old.least_wall", "old.stock"),
    rows=("old.thin", "old.wall_low", "old.least_at", "old.least_depth", "old.wall_allows"),
    sections=(
        *OLD_HEAT,
        Section("How it comes out", ("old.way", "old.way_not", "old.shell", "old.frees_at",
                                     "old.neighbour"), is_open=False),
        Section("Old iron left in the wall", ("old.gone_at", "old.past_keys", "old.iron_share",
                                              "old.islands_share", "old.islands_arc",
                                              "old.island_back", "old.liner_outside",
                                              "old.wall_at_iron"), is_open=False),
        Section("The sleeve in hand, or the next", ("old.fit", "old.next", "old.next_blank",
                                                    "old.next_fit", "old.next_bore",
                                                    "bore.target")),
        Section("The wall in full", ("old.wall_limit", "old.ledge_thin", "old.ledge_wall",
                                     "old.shifted", "old.even_by", "old.even_at", "old.wall"),
                is_open=False),
        Section(SPEED_HEADING, cut_rows("old"), is_open=False),
    ),
)  # fmt: skip

PARENT = Content(
    lead=(*_lead_cut("bore"), "bore.bored"),
    rows=(
        *_next_cut("bore"),
        "bore.target",
        "bore.bored_low",
        "bore.target_high",
        "bore.hone_stock",
        "bore.hone_left",
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
    sections=(_passes("bore"), Section(SPEED_HEADING, cut_rows("parent"), is_open=False)),
)

COUNTERBORE_PLAIN = Content(
    lead=("counterbore.out_on_step", "counterbore.off_step"), rows=("counterbore.stand_out",)
)
"""Of a sleeve without a flange: what it stands on, and how far out."""

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
            "Strength of the ledge, and what the size rests on",
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
    sections=(*hone_sections("honefit"), FIT_HATCH_SECTION),
)

FACE = Content(
    lead=("face.squish_after",),
    rows=(
        "face.squish_before",
        "face.squish_change",
        "face.squish_read",
        "face.squish_apart",
        "face.squish_unlike",
        "face.squish_tilt_before",
        "face.squish_tilt_after",
        "face.squish_least",
        "face.ratio_before",
        "face.ratio_after",
        "face.trapped_before",
        "face.trapped_after",
        "face.cut_volume",
        "face.datum",
        "face.maps",
    ),
    sections=(
        Section("Timing, port by port", prefixes=("ports.", "face.port."), is_open=False),
        Section(
            "Volumes",
            (
                "face.volume_before",
                "face.volume_after",
                "face.volume_change",
                "face.volume_sum",
                "face.volume_unlike",
                "face.swept",
                "face.in_gasket",
                "face.on_deck",
                "face.band",
                "face.band_volume",
                "face.squish_sum",
                "face.squish_loss",
                "face.deck_after",
            ),
            is_open=False,
        ),
        Section("Gaskets", ("face.gasket_base", "face.gasket_head", "face.to_correct")),
        Section(
            "The face itself",
            (
                "face.flat",
                "face.flat_cut",
                "face.stand_out",
                "face.stand_out_low",
                "face.stand_out_high",
                "face.roughness",
                "face.roughness_most",
                "counterbore.stand_out",
            ),
        ),
    ),
)

PISTON = Content(
    lead=(*_lead_cut("finish"), "finish.too_large", "finish.bored"),
    rows=(
        *_next_cut("finish"),
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
        _passes("finish"),
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
        Section(SPEED_HEADING, cut_rows("piston"), is_open=False),
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
    sections=(*hone_sections("hone"), HATCH_SECTION),
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
