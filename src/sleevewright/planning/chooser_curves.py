"""The curves of the chooser: which answers are drawn over the interference, and their limits.

An answer is drawn under the id that it has in the plan, and is reckoned by the same
function, so that a curve passes through the plan's own number where the fit stands now.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from sleevewright.core.fits.rings import casting_hoop_stress, sleeve_hoop_stress
from sleevewright.planning.moving import Moved


@dataclass(frozen=True)
class Limit:
    """What a curve is held against, and why.

    ``of`` makes the limit from the moved answers; without it the limit is the default that
    ``source`` names.  Where it ``is_spread`` its own doubt and
    what it shares with the curve count, as the strength of a ring whose outside is a band.
    """

    side: str
    words: str
    of: Callable[[Moved], Any] | None
    source: str  # id of the entry, or name of the default, whose source is told
    is_spread: bool = False


@dataclass(frozen=True)
class Drawn:
    """One curve: the answer that it draws, its limit, and what stands for a missing root."""

    id: str
    limit: Limit | None = None
    is_root: bool = False  # nan: let go already where there is no fit, else never


def _entry(identity: str) -> Callable[[Moved], Any]:
    return lambda moved: moved.value(identity)


def _casting_hoop(moved: Moved) -> Any:
    return casting_hoop_stress(moved.value("fit.rings"), pressure=moved.value("fit.limit_pressure"))


def _sleeve_hoop(moved: Moved) -> Any:
    pressure = moved.value("fit.sleeve_limit_pressure")
    return sleeve_hoop_stress(moved.value("fit.rings"), pressure=pressure)


_HOT = Limit("least", "the least that is to be left hot", _entry("running.least"), "running.least")
_OVEN = Limit("most", "the casting's limit of heat", _entry("heat.limit"), "heat.limit")
_CASTING = Limit(
    "most",
    "what the casting bears at its bore: first yield of a plain ring, or for iron its share of "
    "the tensile strength",
    _casting_hoop,
    "casting.strength",
    is_spread=True,
)
_SLEEVE = Limit(
    "least",
    "squeeze at which the sleeve's bore begins to yield; squeeze counts as negative",
    _sleeve_hoop,
    "sleeve.strength",
    is_spread=True,
)
_MARGIN = Limit(
    "least", "nothing left to the nearer of both limits", lambda _: 0.0, "casting.strength"
)
_SLIP = Limit(
    "least",
    "slip on the gauge that the drop and the carry need",
    _entry("heat.gauged_slip"),
    "heat.slip",
    is_spread=True,
)
_STOCK = Limit(
    "least",
    "the least that is to be left to bore and hone",
    None,
    "least_finishing_stock",
)

CHANCE = "fit.below_least"
"""The one curve that is a chance."""

CURVES = (
    Drawn("fit.running", _HOT),
    Drawn("fit.hard", _HOT),
    Drawn(CHANCE),
    Drawn("fit.pressure"),
    Drawn("fit.casting_hoop", _CASTING),
    Drawn("fit.sleeve_hoop", _SLEEVE),
    Drawn("fit.limit_margin", _MARGIN),
    Drawn("fit.hold"),
    Drawn("fit.torque"),
    Drawn("fit.grip", is_root=True),
    Drawn("fit.opens", is_root=True),
    Drawn("heat.casting", _OVEN),
    Drawn("heat.oven"),
    Drawn("heat.slip_at_limit", _SLIP),
    Drawn("fit.close_up"),
    Drawn("finish.stock", _STOCK),
    Drawn("cool.lift"),
)
"""In the order in which they are told."""

BEHIND = (*(one.id for one in CURVES), "casting.strength", "sleeve.strength")
"""Everything that the picture asks for: what is missing of it is named."""

MARKED = ("fit.least", "fit.wanted", "fit.cold", "fit.yield_fit", "fit.sleeve_yield_fit")
"""Interferences of the plan that the picture is read by."""
