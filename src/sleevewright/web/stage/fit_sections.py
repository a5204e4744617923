"""The answers of stage Fit under headings, in the order in which a fit is thought over."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Section:
    """Answers of a stage that belong together, under a heading of their own."""

    heading: str
    rows: tuple[str, ...] = ()
    prefixes: tuple[str, ...] = ()
    is_open: bool = True  # else behind one press


FIT_SECTIONS = (
    Section(
        "Which fits are good",
        ("fit.range", "fit.range_undecided", "fit.range_opens", "fit.best"),
    ),
    Section("What this shop has learned", ("shop.bias",)),
    Section("Hot", ("fit.hard", "fit.grip", "fit.opens")),
    Section(
        "Where it opens, and how likely",
        (
            "fit.hard_short",
            "fit.grip_p05",
            "fit.grip_p50",
            "fit.grip_p95",
            "fit.opens_p05",
            "fit.opens_p50",
            "fit.opens_p95",
            "fit.running_opens",
            "fit.hard_opens",
            "fit.open_says",
            "fit.hard_gap_p95",
        ),
        is_open=False,
    ),
    Section(
        "Stress and close-up",
        (
            "fit.close_up",
            "fit.casting_hoop",
            "fit.yielded",
            "fit.carried",
            "fit.web_hoop",
            "fit.neighbour",
            "fit.hard_bite",
            "fit.ringed_pressure",
            "fit.ringed_casting",
            "fit.ring_hoop",
        ),
        is_open=False,
    ),
    Section(
        "What holds it",
        (
            "fit.hold",
            "fit.running_hold",
            "fit.hard_hold",
            "fit.running_ratio",
            "fit.hard_ratio",
            "fit.hard_ratio_p05",
            "fit.hard_ratio_p95",
            "fit.friction_says",
            "fit.hold_unknowns",
        ),
        is_open=False,
    ),
    Section(
        "The flange",
        (
            "fit.flange",
            "fit.counterbore_opens",
            "fit.flange_left",
            "fit.flange_loose",
            "fit.flange_needed",
            "fit.flange_pressure",
            "fit.body_pressure",
            "fit.ledge_hoop",
            "fit.caught_first",
            "fit.flange_first",
            "fit.tighter_hot",
            "fit.flange_shear",
            "fit.flange_bending",
            "fit.seat_pressure",
        ),
        is_open=False,
    ),
    Section(
        "A thin casting",
        ("fit.thin_says", "fit.thin_step_hold", "fit.thin_step_pull"),
        is_open=False,
    ),
    Section(
        "The room and the finish",
        (
            "fit.room",
            "fit.room_says",
            "fit.roughness",
            "fit.effective_none",
            "fit.effective_low",
            "fit.effective_high",
        ),
        is_open=False,
    ),
    Section(
        "What others say",
        (
            "fit.disagrees",
            "fit.reason",
            "fit.least",
            "fit.least_per_inch",
            "fit.preset",
            "fit.advised",
            "fit.iso_class",
            "fit.ansi_class",
            "fit.iso_grade",
        ),
        prefixes=("fit.says.", "fit.not_counted."),
        is_open=False,
    ),
)
"""What stands on the page; what is asked for least stands behind a press."""
