"""The quick answer at the boring head: next ask, what to dial, chances, passes; bad input."""

from __future__ import annotations

import re

import pytest

from sleevewright.errors import SleevewrightError
from sleevewright.services.quick import quick, quick_document, quick_lines

PAIR = ("asked=4thou", "got=3.4thou")


def told(*words: str) -> dict[str, object]:
    """The document of a quick answer."""
    return quick_document(quick("cut", words))


def text(*words: str) -> str:
    """The lines of a quick answer."""
    return "\n".join(quick_lines(quick("cut", words)))


def number(found: dict[str, object], key: str) -> float:
    """A number of the document."""
    value = found[key]
    assert isinstance(value, (int, float)), value
    return float(value)


def test_asked_four_got_three_point_four_asks_three_point_six() -> None:
    """3.06 thou are left at a share of 0.85; limits wide enough hold nothing back: 3.6 thou."""
    found = told("now=2.99694in", "target=3.0000in", "within=1.5thou", *PAIR)
    assert number(found, "next_ask_um") / 25.4 == pytest.approx(3.6, abs=0.005)
    assert (found["passes_left"], found["move"]) == (1, "cut")


def test_tight_limits_hold_the_ask_back_to_the_risk() -> None:
    """At half a thou the ask is less than the rest asks for, and its chance is the risk."""
    found = told("now=2.9964in", "target=3.0000in", "within=0.5thou", *PAIR, "graduation=0.001thou")
    assert number(found, "next_ask_um") / 25.4 < 3.6 / 0.85
    assert number(found, "chance_beyond") == pytest.approx(0.005, abs=3e-4)
    assert 0.5 < number(found, "chance_inside") < 1.0


def test_radius_and_diameter_stand_beside_every_order() -> None:
    """A head on diameter turns twice the figure; both orders carry both words."""
    words = ("now=2.95in", "target=3.0000in", "graduation=0.1thou")
    radius, diameter = (told(*words, f"head={one}") for one in ("radius", "diameter"))
    assert number(diameter, "head_turn_um") == pytest.approx(
        2.0 * number(radius, "head_turn_um"), abs=2.6
    )
    for one in ("radius", "diameter"):
        orders = [
            line for line in text(*words, f"head={one}").splitlines() if "set the head" in line
        ]
        assert orders
        for line in orders:
            assert re.search(r"thou on radius \([\d.]+ thou on diameter\)", line)
            assert f"its dial reads {one}" in line


def test_what_the_last_pass_left_is_on_the_head_still() -> None:
    """Asked 4.0, got 3.4: 0.6 of the next ask is dialled already."""
    words = ("now=2.99694in", "target=3.0000in", "within=1.5thou", *PAIR, "head=diameter",
             "graduation=0.1thou")  # fmt: skip
    assert number(told(*words), "head_turn_um") / 25.4 == pytest.approx(3.0, abs=0.11)
    assert "0.6 thou on diameter is on the head still" in text(*words)


def test_a_head_that_stands_too_far_out_is_turned_back_past_its_lost_motion() -> None:
    """Asked 8, got 5: 3 is on the head and 2 is asked: back, further back, and up again."""
    words = ("now=2.9985in", "target=3.0000in", "within=1.5thou", "asked=8thou", "got=5thou")
    turned = told(*words)["graduations"]
    assert isinstance(turned, int)
    assert turned < 0
    said = text(*words)
    assert "turn the head back" in said
    back, up = -turned + 5, 5  # two thou of lost motion are four graduations, and one to be sure
    assert f"go {back} counter-clockwise and come {up} up again clockwise" in said
    assert "+−" not in said
    assert "-1 grad" not in said
    assert re.search(r"\b1 graduations", said) is None


def test_figures_are_of_what_the_head_can_be_set_to() -> None:
    """A coarse dial cannot be set to the ask: the chance shown is that of the graduation below."""
    words = ("now=2.9964in", "target=3.0000in", "within=0.5thou", *PAIR)
    fine, coarse = told(*words, "graduation=0.01thou"), told(*words)
    assert number(coarse, "next_ask_um") / 25.4 == pytest.approx(3.6, abs=1e-6)
    assert number(coarse, "chance_inside") < 0.5 < number(fine, "chance_inside")
    assert number(coarse, "bore_after_mm") < number(fine, "bore_after_mm")
    assert "A finer dial serves" in text(*words)
    assert "The ask is held back" in text(*words)
    again = told("now=2.9990in", "target=3.0000in", "asked=8thou", "got=6thou")
    assert again["move"] == "stop boring, the dial is too coarse"
    assert again["next_ask_um"] is None


@pytest.mark.parametrize(("asked", "got"), [("1thou", "1.7thou"), ("4thou", "5thou")])
def test_no_bar_takes_more_than_it_is_asked(asked: str, got: str) -> None:
    """Asked 1, took 1.7: the dial or a reading is off, and that is told."""
    words = ("now=2.99in", "target=3.0in", f"asked={asked}", f"got={got}")
    assert "A bar takes no more than it is asked" in text(*words)
    assert "no more than it is asked" not in text(*words[:2], "asked=4thou", "got=4.2thou")


def test_a_rung_starts_where_the_one_before_it_ends() -> None:
    """Held back or rounded, the passes add up: each takes about its share to the bore after it."""
    found = told("now=2.9950in", "target=3.0000in", "within=0.1thou", "graduation=0.7thou")
    bore, share = 2.9950 * 25.4, number(found, "share")
    passes = found["passes"]
    assert isinstance(passes, list)
    assert len(passes) > 1
    for one in passes:
        assert one["after_mm"] - bore == pytest.approx(share * one["asked_um"] * 1e-3, abs=1.5e-4)
        bore = one["after_mm"]


def test_a_stop_tells_too_large_and_too_small() -> None:
    """Close under the upper limit 47 % are too large; on the limit itself is no refusal."""
    near = text("now=3.00039in", "target=3.0000in")
    assert re.search(r"53 % chance.*47 % that it is too large already", near)
    assert "Chance that it lies inside" in near
    assert "ends inside" not in near
    assert "stop" in text("now=3.0005in", "target=3.0000in", "within=0.5thou")


def test_a_gauge_that_fills_the_limits_is_told_of_first() -> None:
    """Set wrong by 3 thou it is the gauge that is at fault, not the hone's turn."""
    said = text("now=2.9964in", "target=3.0000in", "setting=3thou")
    assert "Gauge better first" in said
    assert "hone" not in said.partition("stop: ")[2].partition("assumed")[0]


def test_several_passes_teach_more_than_one() -> None:
    """Pairs in order by comma; two of one share bring the estimate to it."""
    one = told("now=2.9964in", "target=3.0000in", "asked=8thou", "got=6thou")
    two = told("now=2.9964in", "target=3.0000in", "asked=8thou,8thou", "got=6thou,6thou")
    assert 0.75 < number(two, "share") < number(one, "share") < 0.85


def test_sizes_without_a_unit_take_that_of_the_other_lengths() -> None:
    """Thou beside them make inches, and the answer says so; with no other length it is refused."""
    bare = told("now=2.9964", "target=3.0000", "within=0.5thou", *PAIR)
    full = told("now=2.9964in", "target=3.0000in", "within=0.5thou", *PAIR)
    assert bare["next_ask_um"] == full["next_ask_um"]
    assert "unit of what carries none" in str(bare["assumed"])
    with pytest.raises(SleevewrightError, match="No unit was given"):
        told("now=2.9964", "target=3.0000")


def test_inside_it_says_stop() -> None:
    """A bore at the middle of wide limits is left alone, and no ask is given."""
    found = told("now=2.9999in", "target=3.0000in", "within=2thou")
    assert found["move"] == "stop, it is inside"
    assert found["next_ask_um"] is None
    assert "stop: you are inside" in text("now=2.9999in", "target=3.0000in", "within=2thou")


def test_twice_as_much_asks_whether_it_was_on_radius() -> None:
    """Asked 4, took 8 is told of, teaches nothing and says nothing of where the head stands."""
    words = ("now=2.95in", "target=3.0in", "asked=4thou", "got=8thou")
    assert "set that far on radius" in text(*words)
    assert told(*words)["share"] == told(*words[:2])["share"]
    assert "on the head still" not in text(*words)


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("now=3.0010in", "target=3.0000in"), "Metal cannot be put back.*larger sleeve"),
        (("now=2.9in", "target=3.0in", "asked=4thou", "got=-3thou"), "makes a bore larger"),
        (("now=2.9in", "target=3.0in", "asked=0thou", "got=3thou"), "more than nought"),
        (("now=2.9in", "target=3.0in", "asked=4thou,4thou", "got=3thou"), "as many as asked, 2"),
        (("now=2.9in", "target=3.0in", "head=dia"), "radius or diameter"),
        (("now=2.9in", "target=3.0in", "within=3in"), "a small length"),
        (("now=2.9in", "target=3.0in", "graduation=0thou"), "more than nought"),
        (("now=2.9in",), "target"),
    ],
)
def test_bad_input_says_what_serves(words: tuple[str, ...], message: str) -> None:
    """Each refusal names its input, what is allowed, and what to do."""
    with pytest.raises(SleevewrightError, match=message):
        told(*words)
