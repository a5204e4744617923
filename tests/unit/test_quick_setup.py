"""Quick answers at the mill: a sweep with its sense and axes, a swing, a pair, a lean."""

from __future__ import annotations

import math

import pytest

from sleevewright.errors import SleevewrightError
from sleevewright.services.quick import quick, quick_document

SWEEP = ("readings=0:+3thou,90:+1thou,180:-3thou,270:-1thou", "mount=spindle")
LEAN = (
    "top=0:+3thou,90:+1thou,180:-3thou,270:-1thou",
    "bottom=0:+1thou,90:0thou,180:-1thou,270:0thou",
    "apart=2.6in",
    "mount=spindle",
)


def numbers(topic: str, *words: str) -> dict[str, object]:
    """The document of a quick answer."""
    return quick_document(quick(topic, words))


def test_sweep_allows_for_lever_sense_and_how_the_table_counts() -> None:
    """A lever at 60 degrees halves it; clockwise turns Y; +X to the left turns what is seen."""
    plain = numbers("sweep", *SWEEP)
    lever = numbers("sweep", *SWEEP, "lever=60deg")
    assert float(str(lever["move_x_um"])) == pytest.approx(0.5 * float(str(plain["move_x_um"])))
    clockwise = numbers("sweep", *SWEEP, "counted=clockwise")
    assert clockwise["move_y_um"] == -float(str(plain["move_y_um"]))
    other = numbers("sweep", *SWEEP, "plus_x=left", "plus_y=toward you")
    assert (other["move_x_um"], other["right_um"]) == (76.2, -76.2)


@pytest.mark.parametrize(
    ("plus_x", "plus_y", "dials", "seen"),
    [
        ("right", "away", (3.0, 1.0), (3.0, 1.0)),
        ("right", "toward you", (3.0, -1.0), (3.0, 1.0)),
        ("left", "toward you", (3.0, 1.0), (-3.0, -1.0)),
        ("left", "away", (3.0, -1.0), (-3.0, -1.0)),
        ("away", "left", (3.0, 1.0), (-1.0, 3.0)),
    ],
)
def test_the_quick_move_is_told_as_each_dial_counts(
    plus_x: str, plus_y: str, dials: tuple[float, float], seen: tuple[float, float]
) -> None:
    """Near at +X by 3 and a quarter turn counter-clockwise by 1: +Y toward you counts that down.

    What the hands see is the same however Y counts; dials times their ways give it again.
    """
    found = numbers("sweep", *SWEEP, f"plus_x={plus_x}", f"plus_y={plus_y}")
    told = [float(str(found[key])) / 25.4 for key in ("move_x_um", "move_y_um")]
    hands = [float(str(found[key])) / 25.4 for key in ("right_um", "away_um")]
    assert told == pytest.approx(dials)
    assert hands == pytest.approx(seen)
    ways = {"right": (1, 0), "left": (-1, 0), "away": (0, 1), "toward you": (0, -1)}
    again = [
        dials[0] * first + dials[1] * second
        for first, second in zip(ways[plus_x], ways[plus_y], strict=True)
    ]
    assert hands == pytest.approx(again)


def test_a_sweep_over_an_arc_answers_and_warns() -> None:
    """Forty degrees: the doubt is many times the move, and the caution says how far it reaches."""
    found = numbers("sweep", "readings=0:+3um,20:+1um,40:-1um", "mount=spindle")
    assert float(str(found["move_doubt_um"])) > 10.0 * float(str(found["offset_um"]))
    assert any("reach over 40°" in text for text in found["cautions"])  # type: ignore[attr-defined] # a list


@pytest.mark.parametrize(
    ("read", "offset", "is_out"),
    [("3.2thou", 40.64, True), ("1.0thou", 12.7, False), ("+1.6thou,-1.4thou", 38.1, True)],
)
def test_a_swing_or_a_pair_gives_a_verdict(read: str, offset: float, is_out: bool) -> None:
    """Half of the swing, half of the difference; against 1 thou."""
    found = numbers("swing", f"read={read}")
    value = found.get("offset_um", found.get("towards_um"))
    assert value == pytest.approx(offset)
    assert found["is_out"] is is_out


def test_a_pair_that_lies_near_asks_for_the_pair_square_to_it() -> None:
    """One pair sees one line: it is never good by itself."""
    found = numbers("swing", "read=+0.1thou,-0.1thou")
    assert found["verdict_is_good"] is False
    assert "square to it" in str(found["remedies"])


def test_lean_gives_the_shim_where_the_span_is_given() -> None:
    """(2, 1) thou over 2.6 in are 0.86 thou an inch; over 5 in a shim of 4 thou."""
    found = numbers("lean", *LEAN, "span=5.0in")
    assert found["lean"] == pytest.approx(math.hypot(2.0, 1.0) / 2600.0, rel=1e-9)
    assert found["shim_um"] == pytest.approx(101.6)
    assert "shim_um" not in numbers("lean", *LEAN)


@pytest.mark.parametrize(
    ("topic", "words", "told"),
    [
        ("sweep", (*SWEEP, "counted=left"), "counter-clockwise or clockwise"),
        ("sweep", (*SWEEP, "plus_x=right", "plus_y=left"), "square to"),
        ("sweep", (*SWEEP, "lever=85deg"), "angle of the lever"),
        ("sweep", ("readings=0:+3um,0:+1um,180:-1um", "mount=spindle"), "3 or more for a centre"),
        ("swing", ("read=+1thou,-1thou,+2thou",), "one swing, or two opposite"),
        ("swing", ("read=-3thou",), "total swing"),
        ("lean", (*LEAN[:2], "apart=0in", "mount=spindle"), "distance between the depths"),
    ],
)
def test_a_refusal_at_the_mill_says_what_is_wrong(
    topic: str, words: tuple[str, ...], told: str
) -> None:
    """It names what was given and what is taken."""
    with pytest.raises(SleevewrightError, match=told):
        quick(topic, words)
