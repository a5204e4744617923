"""A drop as it was told: tries, seconds, how each was known."""

from __future__ import annotations

import pytest

from sleevewright.jobs.drops import dropped
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import Record

RECEIVED = "2026-12-01T12:00:00.000Z"


def folded(*said: tuple[str, str, str]) -> Folded:
    """A job with happenings of the drop: what, when, how it was known."""
    made = Folded()
    for number, (what, at, result) in enumerate(said, 1):
        body = {"cylinder": 1, "stage": "drop", "what": what, "at": at, "result": result}
        made.add(Record("J-31", number, f"{number:032x}", "d", number, RECEIVED, "event", 1, body))
    return made


def at(second: float) -> str:
    """A moment of the morning."""
    return f"2026-12-01T11:09:{second:06.3f}Z"


def test_no_entry_is_no_drop() -> None:
    """A sleeve that was only seated has no seconds."""
    assert dropped(folded(("seated", at(5.0), "pedal 3")), cylinder=1) is None


def test_seconds_that_were_told_count_before_moments() -> None:
    """A clock that was set in mid drop changes nothing; where no seconds are told it counts."""
    found = dropped(
        folded(
            ("in", at(2.0), "pedal 0"),
            ("clocked", at(50.0), "key 2.5"),
            ("seated", at(6.25), ""),
            ("still-loose", at(22.0), "afterwards 20"),
        ),
        cylinder=1,
    )
    assert found is not None
    assert (found.clocked, found.gripped) == (2.5, None)
    assert found.seated == pytest.approx(4.25)
    assert found.still_loose_at == 20.0
    assert found.known_by == {
        "in": "pedal", "clocked": "key", "seated": "pressed", "still-loose": "afterwards",
    }  # fmt: skip


def test_the_newest_try_has_only_what_came_after_it() -> None:
    """Of two tries the later counts, however late the earlier one came; a correction holds."""
    found = dropped(
        folded(
            ("in", at(30.0), "helper 0"),
            ("seated", at(34.0), "helper 4"),
            ("in", at(2.0), "pedal 0"),
            ("stuck", at(5.0), "pedal 3"),
            ("seated", at(35.0), "afterwards 5"),
        ),
        cylinder=1,
    )
    assert found is not None
    assert (found.number, found.stuck, found.seated) == (2, None, 5.0)
    assert found.known_by["seated"] == "afterwards"
    assert dropped(folded(("in", at(1.0), "")), cylinder=2) is None
