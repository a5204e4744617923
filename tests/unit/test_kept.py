"""What was reckoned last is handed out again only while all that it was made from is the same."""

from __future__ import annotations

from pathlib import Path

import pytest

from benches import EXAMPLES, app_in
from sleevewright.errors import StateError
from sleevewright.services.entry_bodies import body_of
from sleevewright.services.jobs import look, server_draft
from sleevewright.services.kept import Kept
from sleevewright.services.settings import change_setting

NUMBER = "D-175"


def counted(made: list[int]) -> int:
    """A thing that tells how often it was made."""
    made.append(1)
    return len(made)


def test_made_once_while_its_basis_is_the_same() -> None:
    """The second who asks gets the first one's; another basis makes it anew."""
    kept, made = Kept(), list[int]()
    first = kept.get("one", (1, "a"), lambda: counted(made))
    assert kept.get("one", (1, "a"), lambda: counted(made)) == first == 1
    assert kept.get("one", (2, "a"), lambda: counted(made)) == 2
    assert kept.get("one", (1, "a"), lambda: counted(made)) == 3


def test_the_one_asked_for_longest_ago_goes() -> None:
    """No more is kept than may be."""
    kept, made = Kept(most=2), list[int]()
    for key in ("one", "two", "one", "three"):
        kept.get(key, (), lambda: counted(made))
    assert len(made) == 3
    kept.get("one", (), lambda: counted(made))
    assert len(made) == 3
    kept.get("two", (), lambda: counted(made))
    assert len(made) == 4


def test_a_refusal_is_not_kept() -> None:
    """What could not be made is tried again."""
    kept = Kept()

    def refuse() -> int:
        raise StateError("it", "not yet", "later")

    with pytest.raises(StateError):
        kept.get("one", (), refuse)
    assert kept.get("one", (), lambda: 5) == 5


def test_a_look_follows_records_and_settings(tmp_path: Path) -> None:
    """The same while nothing is told; another after a reading and after a setting."""
    app = app_in(tmp_path / "data", [EXAMPLES / "demo-air-175.toml"])
    bench = app.state.bench
    try:
        first = look(bench, NUMBER)
        assert look(bench, NUMBER) is first
        told = {"cylinder": 1, "cell": "fit.wanted", "text": "4.1 thou", "source": "keyed"}
        body = body_of("value", told, bench.store.folded(NUMBER))
        bench.store.append([server_draft(NUMBER, "value", body)])
        second = look(bench, NUMBER)
        assert second.plan is not None
        assert first.plan is not None
        assert second.plan.answer("fit.wanted").value != first.plan.answer("fit.wanted").value
        change_setting(bench, "cut_tolerance", "0.4 thou")
        assert look(bench, NUMBER) is not second
    finally:
        bench.close()
