"""What stands on the pages of heat, drop and cooling: sections, stage by stage."""

from __future__ import annotations

from sleevewright.web.stage.fit_sections import Section

OLD_HEAT: tuple[Section, ...] = ()
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

COOL_SECTIONS: tuple[Section, ...] = ()
"""Cool and prove: what happens while it cools."""
