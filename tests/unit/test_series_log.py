"""A logged temperature as text: there and back, its gaps, and what is asked of it."""

from __future__ import annotations

import pytest

from sleevewright.errors import InputError
from sleevewright.jobs.serieslog import (
    last_value,
    rate_now,
    series_of_text,
    series_text,
    value_at,
)

TEXT = "within 0.2; casting -60 293.2, 0 293.2, 600 353.2 | 1200 400.0, 1500 410.0; oven 0 470.0, 900 480.0"  # noqa: E501 -- one text


def test_text_of_a_series_goes_there_and_back() -> None:
    """What was written is read as the same, gaps and oven with it."""
    series = series_of_text(TEXT)
    assert series_text(series) == TEXT
    assert series.casting.gaps == ((600.0, 1200.0),)
    assert series.oven is not None
    assert series.oven.kelvin.tolist() == [470.0, 480.0]


def test_nothing_is_known_in_a_gap() -> None:
    """Within a run the line holds; in a gap and outside there is no value, only a last one."""
    casting = series_of_text(TEXT).casting
    assert value_at(casting, 300.0) == pytest.approx(323.2, abs=1e-9)
    assert value_at(casting, 1200.0) == 400.0
    assert value_at(casting, 900.0) is None
    assert value_at(casting, 1501.0) is None
    assert last_value(casting, 900.0) == (353.2, 300.0)
    assert last_value(casting, 1800.0) == (410.0, 300.0)
    assert last_value(casting, -61.0) is None


def test_rate_is_of_the_run_that_it_lies_in() -> None:
    """The rate never reaches over a gap, and an old reading has none."""
    casting = series_of_text(TEXT).casting
    assert rate_now(casting, 500.0) == pytest.approx(0.1, abs=1e-9)
    assert rate_now(casting, 1300.0) == pytest.approx(10.0 / 300.0, abs=1e-6)
    assert rate_now(casting, 2500.0) is None
    assert rate_now(casting, 1200.0) is None


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("casting 0 293.2", "two points"),
        ("casting 0 293.2, 60", "casting, point 2"),
        ("casting 60 293.2, 0 294", "times that rise"),
        ("casting 0 20.0, 60 25.0", "is it in kelvin"),
        ("oven 0 300, 60 310", "a part 'casting'"),
        ("fish 0 300", "a part 'casting'"),
        ("casting 0 293.2, nan 294", "casting, point 2"),
    ],
)
def test_a_text_that_is_no_series_is_refused(text: str, said: str) -> None:
    """The error names the point and what is allowed."""
    with pytest.raises(InputError, match=said):
        series_of_text(text)
