"""The quick topic on the proof: what it says, and what it refuses."""

from __future__ import annotations

import pytest

from sleevewright.errors import InputError
from sleevewright.services.quick import quick, quick_document

JOB = (
    "sleeve_od=2.6402in", "sleeve_id=2.340in", "parent_bore=2.6368in", "casting_od=3.70in",
    "casting=aluminium-356", "sleeve=grey-iron", "least=2.6thou",
)  # fmt: skip


def said(cooled: str, *more: str) -> dict[str, object]:
    """The answer as a program reads it."""
    return quick_document(quick("proof", (*JOB, f"cooled_bore={cooled}", *more)))


def test_a_bore_that_closed_as_it_should_proves_its_fit() -> None:
    """3.4 thou that close 2.1: near what was measured, narrower than 0.5 thou, no surprise."""
    told = said("2.3379in")
    assert told["interference_um"] == pytest.approx(86.36)
    assert told["closed_um"] == pytest.approx(53.34)
    assert abs(float(str(told["surprise_1"]))) < 1.0
    width = float(str(told["proved_high_um"])) - float(str(told["proved_low_um"]))
    assert width < 2.0 * 12.7
    assert float(str(told["below_least_1"])) < 0.001
    assert told["is_out"] is False


def test_a_bore_that_hardly_closed_is_out_and_says_so() -> None:
    """A tenth of a thou: out, with the fit by the close-up alone beside their mean."""
    told = said("2.3399in")
    assert told["is_out"] is True
    assert float(str(told["alone_um"])) < 10.0
    assert "contradict each other" in " ".join(map(str, told["cautions"]))  # type: ignore[call-overload]  # a list of texts


def test_a_bore_that_closed_too_far_is_told_too() -> None:
    """3.2 thou of 3.4: more than any casting gives, a caution and no good."""
    told = said("2.3366in")
    assert "closed more than the fit gives" in str(told["cautions"])


def test_a_band_of_the_casting_narrows_what_is_proved() -> None:
    """A casting known between two diameters proves more than one of one usual figure."""
    wide = said("2.3379in", "close_up_doubt=0.05thou")
    near = said("2.3379in", "close_up_doubt=0.05thou", "casting_low=3.68in", "casting_high=3.72in")
    widths = [
        float(str(one["proved_high_um"])) - float(str(one["proved_low_um"])) for one in (wide, near)
    ]
    assert widths[1] < 0.8 * widths[0]


@pytest.mark.parametrize(
    ("told", "other"), [("casting_low", "casting_high"), ("casting_high", "casting_low")]
)
def test_one_end_of_the_casting_asks_for_the_other(told: str, other: str) -> None:
    """An end alone is no band: it is never put aside in silence."""
    with pytest.raises(InputError, match=f"Give {other} too") as refused:
        said("2.3379in", f"{told}=3.70in")
    assert refused.value.field == told


@pytest.mark.parametrize(
    ("word", "field"),
    [
        ("cooled_bore=2.35in", "cooled_bore"),
        ("casting_high=4in", "casting_low"),
        ("fit_doubt=0thou", "fit_doubt"),
    ],
)
def test_what_cannot_be_is_refused_with_its_name(word: str, field: str) -> None:
    """After larger than before, a casting inside its sleeve, a fit without doubt."""
    key = word.partition("=")[0]
    words = [one for one in (*JOB, "cooled_bore=2.3379in") if one.partition("=")[0] != key]
    more = ("casting_low=2.5in",) if word.startswith("casting_high") else ()
    with pytest.raises(InputError) as refused:
        quick("proof", (*words, word, *more))
    assert refused.value.field == field
