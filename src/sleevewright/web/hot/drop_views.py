"""The drop screen as a record: what stands on it, and what its modules read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from sleevewright.errors import Caution
from sleevewright.services.drop_screen import DropScreen
from sleevewright.web.stage.page import Seen

STALE = 120.0
"""Age from which a gauged slip is told to be old. [s]"""


@dataclass(frozen=True)
class DropPage:
    """Everything that the page shows."""

    number: str
    cylinder: int
    store: str
    last: int
    back: str
    screen: DropScreen
    hazards: Sequence[Caution]
    table: Mapping[str, Any]  # what the modules read


def drop_page(seen: Seen, screen: DropScreen, hazards: Sequence[Caution]) -> DropPage:
    """The page of a screen."""
    cases = {one.key: asdict(one) for one in screen.branches}
    return DropPage(
        number=seen.look.number,
        cylinder=seen.look.cylinder,
        store=seen.shop.store,
        last=seen.folded.last,
        back=seen.at("drop"),
        screen=screen,
        hazards=hazards,
        table={
            "lineUp": screen.line_up,
            "expected": screen.expected,
            "latest": screen.latest,
            "hasPorts": screen.has_ports,
            "slipAge": screen.slip_age,
            "outAge": screen.out_age,
            "stale": STALE,
            "heads": {cell: list(ids) for cell, ids in screen.heads.items()},
            "cases": cases,
        },
    )
