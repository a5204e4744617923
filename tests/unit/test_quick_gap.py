"""The quick topic on ring gaps: lines, verdicts, the bore it tells, and what it refuses.

Figures: tip sheet of a ring maker (3.5 and 8 thou by the inch), trade magazine of 2019 (5.0 for
the second ring of a hot street engine); the bore by pi, reckoned here.
"""

from __future__ import annotations

import math

import pytest
from test_piston_and_rings import planned

from sleevewright.errors import InputError
from sleevewright.services.quick import quick, quick_document, quick_lines

BENCH = ("bore=2.7555in", "gap=18thou", "cooling=water")
THOU = 25.4


def test_the_example_answers_every_line() -> None:
    """2.7555 in: 9.6 thou at least, 22 the alarm, 9.6 to 13.8 usual; nothing is filed off."""
    found = quick_document(quick("gap", BENCH))
    assert found["least_um"] == pytest.approx(2.7555 * 3.5 * THOU, abs=2e-3)
    assert found["most_um"] == pytest.approx(2.7555 * 8.0 * THOU, abs=2e-3)
    assert found["wanted_um"] == pytest.approx(2.7555 * 4.25 * THOU, abs=2e-3)
    assert found["file_um"] == 0.0
    assert 0.0 < found["hot_um"] < 18.0 * THOU
    assert found["verdict"] == "good"
    assert len(found["says"]) == 3
    said = "\n".join(quick_lines(quick("gap", BENCH)))
    for words in ("9.6 thou", "22.0 thou", "verdict: good", "assumed: ring over the sleeve"):
        assert words in said


@pytest.mark.parametrize(
    ("gap", "verdict"),
    [("8thou", "out"), ("9.7thou", "too close to call"), ("14thou", "good"), ("26thou", "out")],
)
def test_verdict_has_three_answers(gap: str, verdict: str) -> None:
    """Too tight, within the feeler's doubt of the least, good, and wider than the alarm."""
    answer = quick("gap", ("bore=2.7555in", f"gap={gap}", "cooling=water"))
    assert dict(answer.extra)["verdict"] == verdict
    assert answer.is_out is (verdict == "out")
    assert bool(answer.remedies) is (verdict != "good")


def test_the_bore_that_the_gap_tells() -> None:
    """11 thou in 2.7500 in, 18 here: 7/pi thou more, 3.3 below what was given: they disagree."""
    answer = quick("gap", (*BENCH, "ref_bore=2.7500in", "ref_gap=11thou"))
    found = quick_document(answer)
    told = (2.75 + 7e-3 / math.pi) * 25.4
    assert found["told_bore_mm"] == pytest.approx(told, abs=1e-6)
    assert found["bore_off_um"] == pytest.approx((told - 2.7555 * 25.4) * 1e3, abs=2e-3)
    assert "they disagree" in "\n".join(quick_lines(answer))
    assert any("gauge both again" in one for one in answer.remedies)
    agrees = quick("gap", ("bore=2.7522in", *BENCH[1:], "ref_bore=2.7500in", "ref_gap=11thou"))
    assert "they agree" in "\n".join(quick_lines(agrees))
    assert not any("gauge both again" in one for one in agrees.remedies)


def test_second_ring_of_a_street_engine() -> None:
    """4 in, four-stroke, second: 20 thou; with 15 there are 5 to file off."""
    words = ("bore=4in", "gap=15thou", "cooling=air", "strokes=four", "ring=second")
    found = quick_document(quick("gap", words))
    assert found["wanted_um"] == pytest.approx(20.0 * THOU, abs=1e-3)
    assert found["file_um"] == pytest.approx(5.0 * THOU, abs=1e-3)


def test_what_its_maker_wants_goes_before_the_usual() -> None:
    """A gap that was given is the one that is filed to."""
    found = quick_document(
        quick("gap", ("bore=70mm", "gap=0.3mm", "cooling=fan", "wanted_gap=0.4mm"))
    )
    assert found["wanted_um"] == 400.0
    assert found["file_um"] == pytest.approx(100.0, abs=1e-3)


@pytest.mark.parametrize(
    ("words", "verdict", "remedy"),
    [
        (("bore=70mm", "gap=0.27mm", "cooling=air"), "too close to call", "left hot"),
        (
            ("bore=70mm", "gap=0.35mm", "cooling=water", "ref_bore=69mm", "ref_gap=0.3mm"),
            "out",
            "disagree",
        ),
        (("bore=70mm", "gap=0.25mm", "cooling=water", "wanted_gap=0.2mm"), "too close to call",
         "no wider gap is wanted"),
        (("bore=70mm", "gap=0.55mm", "cooling=water", "wanted_gap=0.559mm"), "too close to call",
         "no file closes"),
    ],
)  # fmt: skip
def test_the_verdict_is_the_worst_of_all_that_is_judged(
    words: tuple[str, ...], verdict: str, remedy: str
) -> None:
    """Hot, the bore that it tells and the sheet's limits; what to do never contradicts them."""
    answer = quick("gap", words)
    assert dict(answer.extra)["verdict"] == verdict
    assert any(remedy in one for one in answer.remedies)
    told = " ".join(answer.remedies)
    if "no file" in told or "no wider" in told:
        assert quick_document(answer)["file_um"] == 0.0
        assert "file it to the gap wanted" not in told


def test_what_is_left_hot_is_that_of_the_stage() -> None:
    """2.4020 in, 10 thou, air: 6.1 thou at stage Rings, 6.0 here; a free iron sleeve left 1.6."""
    found = quick_document(quick("gap", ("bore=2.4020in", "gap=10thou", "cooling=air")))
    told = planned(("rings.top_gap", "10 thou"), until="rings")
    assert found["hot_um"] == pytest.approx(told.answer("rings.top_hot").value * 1e6, abs=5.0)
    assert found["assumed"]["casting"] == "unknown-aluminium"
    assert found["assumed"]["close-up of the bore, of the fit"] == "60 %"
    iron = ("bore=2.4020in", "gap=10thou", "cooling=air", "casting=grey-iron")
    assert quick_document(quick("gap", iron))["hot_um"] < found["hot_um"]


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (("bore=70mm", "gap=0.57mm", "cooling=water", "wanted_gap=0.9mm"), "wanted_gap"),
        (("bore=70mm", "gap=0.3mm", "cooling=air", "casting=lead"), "casting"),
        (("bore=70mm", "gap=0mm", "cooling=air"), "gap"),
        (("bore=70mm", "gap=4mm", "cooling=air"), "gap"),
        (("bore=70mm", "gap=-0.2mm", "cooling=air"), "gap"),
        (("bore=70mm", "gap=0.3mm", "cooling=steam"), "cooling"),
        (("bore=70mm", "gap=0.3mm", "cooling=air", "ring=third"), "ring"),
        (("bore=70mm", "gap=0.3mm", "cooling=air", "strokes=six"), "strokes"),
        (("bore=70mm", "gap=0.3mm", "cooling=air", "ref_gap=0.3mm"), "ref_bore"),
        (("bore=7mm", "gap=0.3mm", "cooling=air"), "bore"),
    ],
)
def test_refusals_name_the_field(words: tuple[str, ...], field: str) -> None:
    """A gap of nought or of more than a twentieth, words that are not known, half a reference."""
    with pytest.raises(InputError) as refused:
        quick("gap", words)
    assert refused.value.field == field
