"""Tables of clearances and gaps: every row has a known source, and what can not be is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from sleevewright.core.tables import Row
from sleevewright.errors import InputError
from sleevewright.planning.engine_rules import (
    CLEARANCES,
    GAPS,
    Setting,
    cooling_of,
    fitting,
    place_words,
    rule_of,
    rules,
    strokes_of,
    usual_rule,
)

GOOD = {
    "id": "x", "source": "practice", "evidence": "practice", "said_by": "practice",
    "strokes": "any", "kind": "any", "cooling": "any", "part": "", "size_low": "",
    "size_high": "", "basis": "clearance", "bound": "range", "low": "1e-5", "high": "2e-5",
    "unit": "m", "stated": "10 to 20 µm", "note": "",
}  # fmt: skip


@pytest.mark.parametrize("name", [CLEARANCES, GAPS])
def test_every_row_has_its_own_name_and_a_source_that_is_listed(root: Path, name: str) -> None:
    """Names once only; sources have their entry, or are common practice and say so."""
    listed = (root / "docs" / "sources" / "engine.md").read_text(encoding="utf-8")
    names = [one.id for one in rules(name)]
    assert len(names) == len(set(names)) > 5
    for one in rules(name):
        assert (one.source == "practice") is (one.evidence == "practice"), one.id
        assert one.source == "practice" or f"## {one.source}\n" in listed, one.id
        assert one.stated, one.id


@pytest.mark.parametrize(
    "changed",
    [
        {"low": "3e-5"},
        {"unit": "1"},
        {"bound": "some"},
        {"kind": "wrought"},
        {"size_low": "0.07", "size_high": "0.05"},
        {"low": "much"},
    ],
)
def test_a_row_that_cannot_be_right_is_refused(changed: dict[str, str]) -> None:
    """Ends the wrong way round, another unit, words that are not known."""
    assert rule_of(Row("here line 1", GOOD)).id == "x"
    with pytest.raises(InputError, match="here line 1"):
        rule_of(Row("here line 1", GOOD | changed))


def test_what_is_not_known_shuts_nothing_out() -> None:
    """A kind that was not told leaves cast and forged; a bore elsewhere leaves none of its size."""
    both = {one.id for one in fitting(CLEARANCES, Setting(0.073, "two", "", "air"))}
    forged = {one.id for one in fitting(CLEARANCES, Setting(0.073, "two", "forged", "air"))}
    assert {"usual-cast-air", "usual-forged-air"} <= both
    assert forged < both
    assert "two-forged-73" in forged
    small = fitting(CLEARANCES, Setting(0.055, "two", "forged", "air"))
    assert "two-forged-73" not in {one.id for one in small}


def test_places_count_a_limit_as_within() -> None:
    """At the very end of a range a figure is within it."""
    rule = rule_of(Row("r", GOOD))
    assert [rule.place_of(one, 0.07) for one in (9e-6, 1e-5, 2e-5, 3e-5)] == [
        "below", "within", "within", "above",
    ]  # fmt: skip
    assert place_words((rule,), 3e-5, 0.07) == "of 1 that fit: above 1"
    assert place_words((), 3e-5, 0.07) == "nothing that fits"
    assert rule.said(0.07, system="metric").startswith("10 µm to 20 µm")


def test_usual_gap_follows_cooling_and_falls_back_on_the_least() -> None:
    """Air 5, water 4.25 thou by the inch; a compressor has the sheet's least and a tenth more."""
    shares = [
        usual_rule(fitting(GAPS, Setting(0.07, strokes, "", cooling, "top")))[0]
        for strokes, cooling in (("two", "air"), ("two", "water"), ("four", "air"))
    ]
    assert shares == pytest.approx([0.005, 0.00425, 0.0045])
    neither = fitting(GAPS, Setting(0.07, strokes_of("compressor"), "", "air", "top"))
    assert {one.source for one in neither} == {"ring-sheet"}
    assert usual_rule(neither)[0] == pytest.approx(0.00385)
    assert (strokes_of("compressor"), cooling_of("racing")) == ("neither", "air")
