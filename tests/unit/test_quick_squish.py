"""The quick topic on squish: figures by hand, and what cannot be answered."""

import math
import re

import pytest

from sleevewright.core.engine.crank import port_duration, port_opens
from sleevewright.errors import SleevewrightError
from sleevewright.services.quick import quick, quick_document, quick_lines
from sleevewright.services.quick_squish import SQUISH_INPUTS

WORDS = ("bore=62mm", "stroke=58mm", "chamber=12.4ml", "deck=0.5mm", "gasket=0.8mm")
PORT = ("roof=28mm", "rod=120mm")
DISC = math.pi / 4.0 * 6.2**2 / 10.0  # cc of a millimetre


def answered(*words: str) -> dict[str, float]:
    """The document of the answer."""
    return quick_document(quick("squish", words))


def test_figures_before_and_after_a_deck_cut() -> None:
    """1.3 mm and 16.32 cc; after 0.25 mm off the deck 1.05 mm, and the timing stays."""
    found = answered(*WORDS, *PORT, "off_deck=0.25mm")
    volume, swept = 12.4 + 1.3 * DISC, 58.0 * DISC
    assert found["squish_mm"] == pytest.approx(1.3)
    assert found["volume_cc"] == pytest.approx(volume, rel=1e-6)
    assert found["ratio"] == pytest.approx(1.0 + swept / volume, rel=1e-6)
    assert found["trapped"] == pytest.approx(1.0 + 27.5 * DISC / volume, rel=1e-6)
    smaller = volume - 0.25 * DISC
    assert found["squish_after_mm"] == pytest.approx(1.05)
    assert found["ratio_after"] == pytest.approx(1.0 + swept / smaller, rel=1e-6)
    assert found["trapped_after"] == pytest.approx(1.0 + 27.5 * DISC / smaller, rel=1e-6)
    assert found["roof_after_mm"] == pytest.approx(27.75)
    assert found["longer_deg"] == pytest.approx(0.0, abs=1e-9)
    assert not found["is_out"]


def test_a_base_cut_moves_the_port() -> None:
    """The same squish, but a port that is open for less: exact difference of the crank."""
    found = answered(*WORDS, *PORT, "off_base=0.25mm")
    lasts = [
        port_duration(port_opens(roof_depth=28e-3, deck_clearance=deck, stroke=58e-3, rod=120e-3))
        for deck in (0.5e-3, 0.25e-3)
    ]
    assert found["longer_deg"] == pytest.approx(math.degrees(lasts[1] - lasts[0]), rel=1e-6)
    assert found["roof_after_mm"] == pytest.approx(28.0)


def test_every_line_answers() -> None:
    """No line says none, and a squish below the least says what to do."""
    answer = quick("squish", (*WORDS, *PORT, "off_deck=0.5mm"))
    lines = quick_lines(answer)
    assert all(line.value is not None for line in answer.lines)
    assert any(line.startswith("do instead: take nothing more off") for line in lines)
    assert not any("none" in line.split("  ") for line in lines)
    assert not quick("squish", (*WORDS, "off_deck=0.4mm", "cooling=water")).is_out


@pytest.mark.parametrize(
    ("told", "squish"),
    [(("deck=0mm", "step=1.1mm"), 1.1), (("deck=1mm",), 1.0), (("deck=-0.2mm", "step=1.4mm"), 1.2)],
)
def test_a_head_without_a_gasket_has_its_squish_from_deck_and_step(
    told: tuple[str, ...], squish: float
) -> None:
    """No gasket: deck and step alone; with neither the piston meets the head, and it says so."""
    found = answered(*WORDS[:3], "gasket=0mm", *told)
    assert found["squish_mm"] == pytest.approx(squish)
    with pytest.raises(SleevewrightError, match="tell its step"):
        answered(*WORDS[:3], "deck=0mm", "gasket=0mm")


@pytest.mark.parametrize(
    ("words", "match"),
    [
        ((*WORDS, "off_deck=1.4mm"), "−0.100 mm.*meet the head"),
        ((*WORDS[:3], "deck=-1mm", "gasket=0.8mm"), "meet the head"),
        ((*WORDS, "off_deck=-1mm"), "off_deck"),
        ((*WORDS, "off_deck=10mm"), "0 to 3 mm"),
        ((*WORDS, "roof=60mm"), "roof"),
        ((*WORDS, "roof=28mm", "rod=42mm"), "swapped"),
        ((*WORDS[:2], "chamber=200ml", *WORDS[3:]), "top dead centre"),
        ((*WORDS[:2], "chamber=12.4", *WORDS[3:]), "No unit"),
        ((*WORDS, "crown=20cc"), "crown"),
        ((*WORDS, "cooling=steam"), "air, fan, water, racing"),
    ],
)
def test_what_cannot_be_is_refused_with_its_reason(words: tuple[str, ...], match: str) -> None:
    """Each slip is named in the units that were typed."""
    with pytest.raises(SleevewrightError, match=match):
        quick("squish", words)


def test_the_verdict_and_what_was_assumed_speak_the_answer_s_units() -> None:
    """20 thou off leave less than the least: out, in inches, and so is what stood for nothing."""
    words = ("bore=2.7555in", "stroke=2.5in", "chamber=12cc", "deck=0in", "gasket=51.2thou")
    assert any(one.startswith("verdict: good;") for one in quick_lines(quick("squish", words)))
    lines = quick_lines(quick("squish", (*words, "off_deck=20thou")))
    assert "verdict: out; squish 0.0312 in is less than 0.0394 in" in lines
    assert "assumed: least squish = 39.4 thou" in lines
    assert not [one for one in lines if " mm" in one]
    doc = next(one for one in SQUISH_INPUTS if one.name == "cooling").doc
    assert "squish" in doc


def test_a_metric_answer_at_the_bar_says_no_feet_and_no_thou() -> None:
    """Defaults and the range of speeds are stated in inches and read in millimetres."""
    words = ("diameter=76mm", "metal=grey-iron", "feed=0.1mm", "depth=0.25mm")
    lines = quick_lines(quick("speeds", words))
    assert "assumed: bar = 25.4 mm" in lines
    assert any("61 to 107 m/min; 0.102 to 0.305 mm a turn" in one for one in lines)
    assert not [one for one in lines if re.search(r"\d (?:thou|in|ft/min)\b", one)]
