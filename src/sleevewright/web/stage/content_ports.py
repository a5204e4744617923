"""What stands on the pages of the stages about the ports: answers and sections, stage by stage."""

from __future__ import annotations

from sleevewright.web.stage.contents import Content
from sleevewright.web.stage.fit_sections import Section

FOUND_PORTS: tuple[Section, ...] = (
    Section("Signs of hand work", prefixes=("signs.",)),
    Section("Left and right of the ports", prefixes=("found.pair.",), is_open=False),
    Section("When the ports open", prefixes=("timing.found.",), is_open=False),
)
"""As found: what the map comes to."""

CHOICE_PORTS: tuple[Section, ...] = (
    Section("What the ports are to become", prefixes=("target.",)),
    Section("What rings allow", prefixes=("portlimits.target.",), is_open=False),
)
"""Choice: which map is stock."""

SLEEVE_PORTS: tuple[Section, ...] = (
    Section("Left and right of the ports", prefixes=("sleeve.pair.",), is_open=False),
    Section("What rings allow", prefixes=("portlimits.supplied.",), is_open=False),
)
"""Sleeve in hand: what it brings."""

READY_PORT_LEAD: tuple[str, ...] = ("clock.rotate",)
READY_PORTS: tuple[Section, ...] = (
    Section(
        "Clocking: its window, and what it saves",
        (
            "clock.said",
            "clock.turn",
            "clock.rim",
            "clock.window_low",
            "clock.window_high",
            "clock.chord",
            "clock.down",
            "clock.would_down",
            "clock.left",
        ),
    ),
    Section("What a scribe is worth", ("clock.scribe_turn", "clock.scribe_wall"), is_open=False),
)
"""Make ready: where to clock it."""

COOL_PORTS: tuple[Section, ...] = (Section("Clocking, as set", ("clock.off", "clock.as_set")),)
"""Cool and prove: where it came to lie."""

PORTS = Content(
    sections=(
        Section("Timing against what it is to be", prefixes=("timing.change.",)),
        Section("When the ports open now", prefixes=("timing.now.",), is_open=False),
        Section("Edges, with what each rests on", prefixes=("grind.",), is_open=False),
        Section("What rings allow", prefixes=("portlimits.left.",), is_open=False),
        Section("As the cylinder came", prefixes=("ports.",), is_open=False),
    ),
)
"""Ports: what to grind, and what it comes to."""
