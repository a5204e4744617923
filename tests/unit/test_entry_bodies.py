"""Bodies that devices hand in: what is known of each kind is taken, and nothing else."""

from __future__ import annotations

from typing import Any

import pytest

from sleevewright.errors import InputError
from sleevewright.services.entry_bodies import body_of
from told_jobs import Teller

OWN, OTHER = f"{7:032x}", f"{8:032x}"


def event(**said: Any) -> dict[str, Any]:
    """An event as it is kept."""
    body = {"cylinder": 1, "stage": "drop", "what": "in", **said}
    return body_of("event", body, Teller().folded)


@pytest.mark.parametrize(
    "at",
    ["2026-11-24T09:30:00Z", "2026-11-24T09:30:00.250+01:00", "2026-11-24T09:30"],
)
def test_an_event_keeps_its_moment_as_it_was_told(at: str) -> None:
    """With a zone or without; what the device said is not rewritten."""
    assert event(at=at)["at"] == at
    assert "at" not in event()


@pytest.mark.parametrize(
    "at", ["not a time", "09:30", "2026-11-24", "0001-01-01T00:00:00Z", "9999-12-31T23:59:59Z"]
)
def test_an_event_at_no_moment_is_held_back(at: str) -> None:
    """Waiting times are reckoned from it; a day alone, or a year without benches, is none."""
    with pytest.raises(InputError, match="a moment as"):
        event(at=at)


def test_an_event_happens_at_a_stage_of_the_route() -> None:
    """Another word would be found on no page."""
    assert event(stage="after", what="note")["stage"] == "after"
    with pytest.raises(InputError, match="stage"):
        event(stage="nonsense")


def test_a_value_cannot_replace_itself() -> None:
    """It would be acknowledged and never stand anywhere."""
    body = {"cylinder": 1, "cell": "intake.marks", "text": "tag", "replaces": [OTHER, OWN]}
    with pytest.raises(InputError, match="not the own one"):
        body_of("value", body, Teller().folded, own=OWN)
    kept = body_of("value", body, Teller().folded, own=f"{9:032x}")
    assert kept["replaces"] == [OTHER, OWN]
