"""What stands on the pages of heat, drop and cooling: sections, stage by stage."""

from __future__ import annotations

from sleevewright.web.stage.fit_sections import Section

OLD_HEAT: tuple[Section, ...] = (
    Section("Out by heat", ("old.heat_to", "old.chill_gain"), is_open=False),
)
"""Old sleeve out: what heat does for it."""

HEAT_LEAD: tuple[str, ...] = ()
"""Heat: what stands large before oven and slip."""

HEAT_SECTIONS: tuple[Section, ...] = (
    Section(
        "In the oven, as of the newest reading",
        (
            "ready_when.say",
            "ready_when.in",
            "ready_when.earliest",
            "ready_when.latest",
            "ready_when.look_again",
            "ready_when.slip_body",
            "ready_when.slip_flange",
            "ready_when.casting",
            "ready_when.never",
        ),
    ),
    Section("Where slip or margin falls short, in this order", prefixes=("heat.way.",)),
    Section(
        "Oven and limits",
        (
            "heat.margin_got",
            "heat.time_error",
            "heat.never",
            "heat.kind_soak",
            "heat.least_limit",
            "heat.least_limit_of",
            "heat.casting_of_limit",
            "heat.oven_is",
        ),
    ),
    Section(
        "Thin metal and frost",
        (
            "heat.kind_time_constant",
            "heat.fin_ahead",
            "heat.fin_late",
            "heat.freezer_frost",
            "heat.dry_ice_frost",
            "heat.nitrogen_frost",
            "heat.lighter_fit",
        ),
    ),
    Section(
        "What this casting's own growth means",
        (
            "ready_when.expansion",
            "ready_when.grip_calibrated",
            "ready_when.opens_calibrated",
            "ready_when.running_calibrated",
        ),
        is_open=False,
    ),
)
"""Heat: when it is ready, and what to do where the slip cannot be reached."""

DROP_SECTIONS: tuple[Section, ...] = (
    Section("If it stops or sits wrong", prefixes=("recover.case.",)),
    Section(
        "What that rests on",
        (
            "recover.reheat",
            "recover.slip_at_limit",
            "recover.by_ten",
            "recover.sleeve_cold",
            "recover.chilled",
        ),
        is_open=False,
    ),
)
"""Drop: what the seconds rest on, and what to do if it stops."""

COOL_LEAD: tuple[str, ...] = ("cool.state",)
"""Cool: which state it is in by its last reading, in a word."""

COOL_ROWS: tuple[str, ...] = ("cool.do", "cool.next")
"""Cool: what that asks, and what comes next."""

COOL_SECTIONS: tuple[Section, ...] = (
    Section(
        "When it may be let go",
        (
            "cool.last",
            "cool.caught_at",
            "cool.caught_in",
            "cool.unclamp_in",
            "cool.touch_safe",
            "cool.touch_in",
            "cool.measure_in",
            "cool.to_come",
            "cool.to_come_now",
        ),
    ),
    Section(
        "Which end grips first",
        (
            "cool.first_end",
            "cool.lift_by_end",
            "cool.lift_after",
            "cool.lift_mid",
            "cool.lift_bottom",
        ),
    ),
    Section(
        "What keeps the flange down",
        ("cool.hold_says", "cool.kept_share", "cool.kept_down", "cool.stud_left"),
    ),
    Section(
        "Friction, studs and springs",
        (
            "cool.friction_at_115",
            "cool.friction_at_60",
            "cool.friction_at_43",
            "cool.friction_cold",
            "cool.stud_pull",
            "cool.stud_most",
            "cool.stud_stretch",
            "cool.stud_shorter",
        ),
        is_open=False,
    ),
    Section(
        "Gauged warm",
        ("cool.corrected", "cool.eased", "cool.warm_bore"),
    ),
    Section(
        "Further down the curve",
        ("cool.in_50", "cool.in_30", "cool.in_26", "cool.in_23"),
        is_open=False,
    ),
)
"""Cool and prove: what happens while it cools."""
