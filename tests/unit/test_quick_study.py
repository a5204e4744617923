"""The quick answer about a gauge: its figures by numpy alone, and what it refuses."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from sleevewright.errors import InputError, MissingInput
from sleevewright.services.quick import quick, quick_document, quick_lines

ALONE = "study=+1um,0um,+2um;+5um,+4um,+5um;0um,+1um,-1um"
READ = np.array([[1.0, 0.0, 2.0], [5.0, 4.0, 5.0], [0.0, 1.0, -1.0]])


def test_one_hand_is_the_pooled_scatter_of_its_repeats() -> None:
    """Three variances pooled (JCGM 100, 4.2.4), with the ends of chi-square on six degrees."""
    found = quick_document(quick("study", (ALONE, "step=1um")))
    pooled = READ.var(axis=1, ddof=1).mean()
    assert found["repeat_um"] == pytest.approx(pooled**0.5, abs=1e-3)
    assert found["degrees_of_freedom"] == 6.0
    low, high = ((6.0 * pooled / stats.chi2.ppf(share, 6)) ** 0.5 for share in (0.975, 0.025))
    assert (found["repeat_low_um"], found["repeat_high_um"]) == pytest.approx((low, high))
    assert "people_um" not in found


def test_people_are_answered_where_two_read() -> None:
    """Two hands exactly 3 um apart on two features: 3 / 2^(1/2) um, decimal commas read."""
    words = ("study=0,0um,0,2um,0,4um|3,0um,3,2um,3,4um;5,0um,5,2um,5,4um|8,0um,8,2um,8,4um",)
    found = quick_document(quick("study", words))
    between = 3.0 / 2.0**0.5
    assert found["people_um"] == pytest.approx((between**2 - 0.04 / 3.0) ** 0.5, rel=1e-3)
    assert found["assumed"] == {"step": "0.1 thou"}


def test_two_digits_are_shown_in_the_unit_that_was_typed() -> None:
    """In thou where thou were typed, with the interval beside the figure."""
    text = quick_lines(quick("study", (ALONE.replace("um", "thou"), "step=0.1thou")))[0]
    assert "0.88 thou; 19 times in 20 from 0.57 thou to 1.9 thou" in text


def test_readings_that_are_all_equal_have_an_interval_that_holds_their_figure() -> None:
    """What a step hides, step / 12^(1/2) (JCGM 100, F.2.2.1), is in the interval too."""
    answer = quick("study", ("study=1thou,1thou,1thou;2thou,2thou,2thou", "step=0.1thou"))
    found = quick_document(answer)
    assert found["repeat_um"] == pytest.approx(2.54 / 12.0**0.5, rel=1e-3)
    assert found["repeat_low_um"] <= found["repeat_um"] <= found["repeat_high_um"] + 1e-3
    assert "19 times in 20 from 0 thou to 0.029 thou" in quick_lines(answer)[0]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("study=+1um,0um;+5um",), "equally often"),
        (("study=+1um,0um|1um,2um;+5um,4um",), "equally often"),
        (("study=+1um,0um;+5thou,4thou",), "one unit for all readings"),
        (("study=+1um,0um",), "two features and two repeats"),
        (("study=+1,0;1,2",), "study"),
    ],
)
def test_what_is_no_study_is_refused(words: tuple[str, ...], said: str) -> None:
    """Half a study, two units, one feature, no unit: named."""
    with pytest.raises(InputError, match=said):
        quick("study", words)


def test_a_study_without_readings_is_shown_how() -> None:
    """The example is one that can be typed."""
    with pytest.raises(MissingInput, match="study="):
        quick("study", ())
