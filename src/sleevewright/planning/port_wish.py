"""What was chosen for a port, and what is still missing for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sleevewright.jobs.catalog_targets import (
    ALL_AGREEING,
    AS_FOUND,
    BY_FOUND,
    BY_LIBRARY,
    BY_TYPED,
    NOT_TOUCHED,
    OWN,
    STOCK,
    UNKNOWN,
)
from sleevewright.planning.port_sources import Offer

LIBRARY_FIRST = (
    "The shop's own maps are read on the page Which map is stock: where they alone tell it, "
    "freeze it there first, then clock"
)


@dataclass(frozen=True)
class PortWish:
    """What was chosen for one port."""

    wanted: str = AS_FOUND
    source: str = ALL_AGREEING
    touched: str = UNKNOWN
    reason: str = ""
    by: str = ""
    words: str = ""  # what a frozen target was taken from
    clash: str = ""  # what was told twice and not the same

    @property
    def is_on_itself(self) -> bool:
        """Whether a port is wanted as it was found, with no other source behind it."""
        return self.touched == NOT_TOUCHED or self.source == BY_FOUND or self.wanted == AS_FOUND

    @property
    def lacks_a_reason(self) -> bool:
        """Whether one source was picked for a stock port and nobody said why."""
        return self.wanted == STOCK and self.source != ALL_AGREEING and not self.reason


def needs_of(
    name: str, wish: PortWish, offers: Sequence[Offer], *, is_disputed: bool
) -> tuple[str, ...]:
    """What is missing for the target that was chosen."""
    if wish.clash:
        return (f"{name}: two values stand for “{wish.clash}”; keep one of them at Choice",)
    lacking = _lacking(name, wish, offers)
    if lacking:
        return (lacking,)
    if is_disputed and wish.lacks_a_reason:
        return (
            f"{name}: say why “{wish.source}” and no other is its source; its sources do not agree",
        )
    return ()


def _lacking(name: str, wish: PortWish, offers: Sequence[Offer]) -> str:
    """The sizes or the source that is missing; empty where nothing is."""
    is_typed = any(one.kind == BY_TYPED for one in offers)
    if is_typed or (wish.wanted != OWN and wish.source != BY_TYPED and wish.is_on_itself):
        return ""
    if wish.wanted == OWN or wish.source == BY_TYPED:
        return f"{name}: the sizes that it is to have; until then it stays as found"
    if wish.source != ALL_AGREEING and all(one.kind != wish.source for one in offers):
        more = f". {LIBRARY_FIRST}" if wish.source == BY_LIBRARY else ""
        return f"{name}: no source of the kind “{wish.source}” is at hand; it stays as found{more}"
    if not any("roof" in one.edges for one in offers):
        return f"{name}: no source of its roof is at hand; it stays as found. {LIBRARY_FIRST}"
    return ""
