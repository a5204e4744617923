"""What the page of a stage shows beside what it asks for, as a record."""

from __future__ import annotations

from dataclasses import dataclass

from sleevewright.web.stage.fit_sections import Section
from sleevewright.web.stage.views import EventPress


@dataclass(frozen=True)
class Content:
    """What a stage shows beside what it asks for."""

    lead: tuple[str, ...] = ()  # what is cut or done next, large
    rows: tuple[str, ...] = ()
    prefixes: tuple[str, ...] = ()  # every worked-out answer of these names
    sections: tuple[Section, ...] = ()  # after the rows
    presses: tuple[EventPress, ...] = ()
    nominals: tuple[tuple[str, str], ...] = ()  # feature, answer or cell to start a set from


def press(what: str, words: str, result: str = "") -> EventPress:
    """One press for something that happens now."""
    return EventPress(what, words, result)


def form_of(base: str, named: str = "") -> tuple[str, ...]:
    """The answers on the form of a gauged feature; ``named`` is what its verdicts are called."""
    ranges = ("taper", "out_of_round")
    return (
        *(f"{named or base}.{one}" for one in ranges),
        *(f"{base}.{one}" for one in ("shape", "shape_1", "shape_2", "round", "oval")),
    )


WARM_BORE = ("bore.as_read", "bore.warmer", "bore.warmth_worth", "bore.soak")
"""What stands beside the size of a casting that was gauged warmer or colder than its gauge."""

ALLOWED_BORE = ("bore.allowed_low", "bore.allowed_high", "bore.allowed_by")
"""Sizes of the parent bore that may be gauged and leave the least and the limits good."""
