"""The quick topic on crosshatch: every line answers, both conventions, what is asked back."""

from __future__ import annotations

import math

import pytest

from sleevewright.errors import InputError, MissingInput
from sleevewright.services.quick import quick, quick_document, quick_lines

HONE = ("bore=2.75in", "rpm=150", "stroke=3.0in")
METRIC = ("bore=62mm", "rpm=200", "stroke=90mm")


def test_strokes_for_45_degrees() -> None:
    """89 cycles a minute in 2.75 in at 150 turns on 3.0 in, as the trade works it out."""
    document = quick_document(quick("crosshatch", (*HONE, "drive=even")))
    assert document["cycles_permin"] == pytest.approx(89.46, abs=0.01)
    assert document["included_deg"] == pytest.approx(45.0)
    assert document["line_deg"] == pytest.approx(22.5)
    assert document["axis_deg"] == pytest.approx(135.0)
    assert document["assumed"] == {"angle": "45 deg"}


def test_a_crank_is_set_for_what_is_read_in_the_middle() -> None:
    """57 cycles read 45 degrees in the middle; by the mean the trade's 89 stand beside them."""
    found = quick_document(quick("crosshatch", HONE))
    assert found["cycles_permin"] == pytest.approx(89.46 * 2.0 / math.pi, abs=0.01)
    assert found["cycles_mean_permin"] == pytest.approx(89.46, abs=0.01)
    assert found["middle_deg"] == pytest.approx(45.0)
    assert found["included_deg"] == pytest.approx(29.54, abs=0.01)


def test_recommended_strokes_are_moved_off_their_track() -> None:
    """100 cycles at 200 turns make 45 degrees in their own tracks: others are told, and why."""
    words = ("bore=62mm", "rpm=200", "stroke=80.68mm", "cycles=70", "drive=even")
    answer = quick("crosshatch", words)
    assert quick_document(answer)["cycles_permin"] == pytest.approx(98.0, abs=0.11)
    assert "100.0 cycles a minute would make the wanted angle" in "\n".join(quick_lines(answer))


def test_every_line_has_a_figure() -> None:
    """With and without cycles nothing stays blank."""
    for more in ((), ("cycles=89",), ("angle=40deg", "cycles=70")):
        found = quick("crosshatch", (*HONE, *more))
        assert all(line.value is not None for line in found.lines)
        assert "none" not in " ".join(quick_lines(found)).split()


def test_the_metric_case_is_31_and_not_149() -> None:
    """60 cycles on 90 mm: 30.99 included, 149.01 about the axis, each named."""
    answer = quick("crosshatch", (*METRIC, "cycles=60", "drive=even"))
    document = quick_document(answer)
    assert document["included_deg"] == pytest.approx(30.99, abs=0.01)
    assert document["axis_deg"] == pytest.approx(149.01, abs=0.01)
    text = "\n".join(quick_lines(answer))
    assert "included, toward the circumference" in text
    assert "16.14 m/min" in text


def test_an_angle_above_90_degrees_is_asked_about() -> None:
    """135 degrees may be 45 about the axis."""
    said = quick_document(quick("crosshatch", (*HONE, "angle=135deg")))["cautions"]
    assert any("Was it measured about the axis? Then the included angle is 45°" in one
               for one in said)  # fmt: skip


@pytest.mark.parametrize(("cycles", "word"), [("30", "too flat"), ("150", "too steep")])
def test_flat_and_steep_say_what_they_do(cycles: str, word: str) -> None:
    """Beyond 30 and 60 degrees; between them nothing is said."""
    said = " ".join(
        quick_document(quick("crosshatch", (*HONE, f"cycles={cycles}", "drive=even")))["cautions"]
    )
    assert word in said
    fine = " ".join(
        quick_document(quick("crosshatch", (*HONE, "cycles=92", "drive=even")))["cautions"]
    )
    assert "too" not in fine
    assert "No gloves" in fine


def test_a_whole_ratio_is_told() -> None:
    """150 turns and 75 cycles."""
    said = " ".join(quick_document(quick("crosshatch", (*HONE, "cycles=75")))["cautions"])
    assert "2.00 turns in a cycle: after 1 cycle each grit" in said


@pytest.mark.parametrize(
    ("words", "match"),
    [
        (("bore=2.75in", "rpm=150"), "stroke=3.0in"),
        (("bore=2.75", "rpm=150", "stroke=3in"), "bore"),
        (("bore=2.75in", "rpm=0", "stroke=3in"), "rpm"),
        ((*HONE, "angle=180deg"), "angle"),
        ((*HONE, "cycles=5000"), "cycles"),
        ((*HONE, "drive=belt"), "drive"),
    ],
)
def test_refusals_name_the_field(words: tuple[str, ...], match: str) -> None:
    """What is missing, has no unit, or cannot be meant."""
    with pytest.raises((InputError, MissingInput), match=match):
        quick("crosshatch", words)
