"""The quick topic on lobes: factors, advice, and what two gauges say together."""

from __future__ import annotations

import pytest

from sleevewright.errors import InputError
from sleevewright.services.quick import quick, quick_document, quick_lines


def text(*words: str) -> str:
    """The answer as it is printed."""
    return "\n".join(quick_lines(quick("lobes", words)))


def test_three_lobes_are_hidden_from_two_points() -> None:
    """Factors of ISO 4292 for three lobes; the advice names a gauge of three points."""
    document = quick_document(quick("lobes", ()))
    assert document["two_points_1"] == 0.0
    assert document["vee_60_1"] == pytest.approx(3.0, abs=0.01)
    assert document["vee_72_1"] == pytest.approx(2.618, abs=0.001)
    said = document["cautions"][0]
    assert "in a bore take a gauge of three points, or a sweep" in said
    assert "A gauge of two points reads it as round." in said


def test_five_lobes_are_seen_by_neither_gauge() -> None:
    """A sweep inside, a vee of 108 degrees outside."""
    said = text("lobes=5")
    assert "in a bore take a sweep with an indicator" in said
    assert "vee of 108°" in said


def test_two_gauges_that_differ_show_odd_lobes() -> None:
    """One thou between them is at least one thou of out-of-round on radius."""
    said = text("two_point=3.0000in", "three_point=2.9990in")
    assert "Odd lobes, at least" in said
    assert "1.0 thou  radial; three points below two" in said
    assert "would rub" in said


def test_two_gauges_that_agree_rule_nothing_out() -> None:
    """Within both settings no lobes are shown, and the next step is named."""
    said = text("two_point=76.200mm", "three_point=76.203mm")
    assert "agree within their settings" in said
    assert "by 20 degrees" in said
    assert "three points above two" in said


def test_a_turned_gauge_of_three_points_shows_half_of_its_range() -> None:
    """1.2 thou between largest and smallest are 0.6 thou of out-of-round on radius."""
    said = text("three_largest=3.0006in", "three_smallest=2.9994in")
    assert "Lobes, as turned" in said
    assert "0.6 thou  radial" in said


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (("lobes=1",), "lobes: 1 cannot be used; allowed is a whole number from 2 to 30"),
        (("lobes=three",), "lobes: three"),
        (("two_point=76mm",), "three_point: nothing"),
        (("three_point=76mm",), "two_point: nothing"),
        (("three_largest=76mm",), "three_smallest: nothing"),
        (("three_largest=76mm", "three_smallest=77mm"), "three_largest: 76mm .* swapped"),
    ],
)
def test_refusals(words: tuple[str, ...], field: str) -> None:
    """What is wrong, what is allowed, what to do."""
    with pytest.raises(InputError, match=field):
        quick("lobes", words)
