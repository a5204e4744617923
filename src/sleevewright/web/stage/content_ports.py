"""What stands on the pages of the stages about the ports: answers and sections, stage by stage."""

from __future__ import annotations

from sleevewright.web.stage.contents import Content
from sleevewright.web.stage.fit_sections import Section

FOUND_PORTS: tuple[Section, ...] = (
    Section("When the ports open", prefixes=("timing.found.",), is_open=False),
)
"""As found: what the map comes to."""

CHOICE_PORTS: tuple[Section, ...] = ()
"""Choice: which map is stock."""

SLEEVE_PORTS: tuple[Section, ...] = ()
"""Sleeve in hand: what it brings."""

READY_PORT_LEAD: tuple[str, ...] = ()
READY_PORTS: tuple[Section, ...] = ()
"""Make ready: where to clock it."""

COOL_PORTS: tuple[Section, ...] = ()
"""Cool and prove: where it came to lie."""

PORTS = Content(
    sections=(
        Section("Timing against what it is to be", prefixes=("timing.change.",)),
        Section("When the ports open now", prefixes=("timing.now.",), is_open=False),
        Section("As the cylinder came", prefixes=("ports.",), is_open=False),
    ),
)
"""Ports: what to grind, and what it comes to."""
