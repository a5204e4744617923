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

COOL_SECTIONS: tuple[Section, ...] = ()
"""Cool and prove: what happens while it cools."""
