"""The dial of a boring head, the ladder of passes, and passes that are not taken at their word."""

from __future__ import annotations

import pytest

from sleevewright.core.cutting.head_dial import HeadDial, dial_order, head_turn
from sleevewright.core.cutting.ladder import Depths, boring_ladder
from sleevewright.core.cutting.pass_doubts import HALF, LESS, NOTHING_ASKED, TWICE, Pass, doubts_of
from sleevewright.core.cutting.passes import CutState, expected_taken, state_after
from sleevewright.errors import InputError

THOU = 25.4e-6
USUAL = CutState(0.85, 0.0, 0.1**2, 0.0, (0.2 * THOU) ** 2)
DEPTHS = Depths(40 * THOU, 10 * THOU, 4 * THOU, 2 * THOU)
VARIANCE = (0.18 * THOU) ** 2


def test_the_head_is_set_by_half_of_the_diameter() -> None:
    """3.6 thou on diameter is 1.8 on the head: 18 graduations of a tenth on radius, 36 on diameter.

    Plain halving; common practice at the boring head.
    """
    on_radius = HeadDial(True, 0.1 * THOU, True, 0.0)
    on_diameter = HeadDial(False, 0.1 * THOU, True, 0.0)
    for head, count, turned in ((on_radius, 18, 1.8), (on_diameter, 36, 3.6)):
        order = dial_order(boring_head=head, head_move=3.6 * THOU)
        assert (order.graduations, order.back) == (count, 0)
        assert order.radius / THOU == pytest.approx(1.8)
        assert order.diameter / THOU == pytest.approx(3.6)
        assert order.rounding == pytest.approx(0.0, abs=1e-12)
        turn = head_turn(boring_head=head, head_move=3.6 * THOU)
        assert turn / THOU == pytest.approx(turned)


@pytest.mark.parametrize("move", [0.3, 1.1, 2.94, 7.77, -0.4])
def test_rounding_never_asks_for_more(move: float) -> None:
    """Whole graduations ask at most what was wanted, by less than one graduation, and say by what.

    Lost motion of 2 thou is 5 graduations back at half a thou each: four, and one past.
    """
    head = HeadDial(True, 0.5 * THOU, True, 2 * THOU)
    order = dial_order(boring_head=head, head_move=move * THOU)
    assert order.diameter <= move * THOU + 1e-12
    assert move * THOU - order.diameter == pytest.approx(order.rounding, abs=1e-15)
    assert order.rounding < THOU
    assert order.back == 5


@pytest.mark.parametrize(("graduation", "backlash"), [(0.0, 0.0), (1e-6, -1e-6)])
def test_a_head_that_cannot_be_is_refused(graduation: float, backlash: float) -> None:
    """A graduation of nought and a negative lost motion name themselves."""
    head = HeadDial(True, graduation, True, backlash)
    with pytest.raises(InputError, match="of the head"):
        dial_order(boring_head=head, head_move=1e-5)


@pytest.mark.parametrize("rest", [1.0, 3.0, 7.0, 12.0, 19.0, 44.0, 130.0])
@pytest.mark.parametrize("last", [0.0, 4.0, 30.0])
def test_the_ladder_ends_at_the_target_with_two_alike(rest: float, last: float) -> None:
    """What the passes take adds up to the rest; the last two ask the same; none is too deep."""
    state = CutState(0.82, 0.3 * THOU, 0.01, 0.0, 1e-12)
    ladder = boring_ladder(
        bore=0.067 - rest * THOU, bore_target=0.067, cut_state=state, pass_depths=DEPTHS,
        last_asked=last * THOU,
    )  # fmt: skip
    taken = sum(float(expected_taken(cut_state=state, cut_asked=one.ask)) for one in ladder)
    assert taken == pytest.approx(rest * THOU, rel=1e-9)
    assert ladder[-1].bore_after == pytest.approx(0.067, abs=1e-12)
    if len(ladder) > 1:
        assert ladder[-1].ask == pytest.approx(ladder[-2].ask)
    for one in ladder:
        most = {"rough": 40.0, "semi-finish": 12.5, "finish": 12.5}[one.pass_kind]
        assert one.ask <= (most + 0.5) * THOU


def test_rough_semi_finish_and_two_finish_passes() -> None:
    """From 60 thou: two rough, semi-finish, two finish; a pass of that depth saves the second."""
    found = boring_ladder(
        bore=0.067 - 60 * THOU, bore_target=0.067, cut_state=CutState(1.0, 0.0, 0.0, 0.0, 0.0),
        pass_depths=DEPTHS, last_asked=0.0,
    )  # fmt: skip
    kinds = [one.pass_kind for one in found]
    assert kinds == ["rough", "rough", "semi-finish", "finish", "finish"]
    assert [one.ask / THOU for one in found] == pytest.approx([21.0, 21.0, 10.0, 4.0, 4.0])
    again = boring_ladder(
        bore=0.067 - 3.6 * THOU, bore_target=0.067, cut_state=USUAL, pass_depths=DEPTHS,
        last_asked=4 * THOU,
    )  # fmt: skip
    assert len(again) == 1


@pytest.mark.parametrize("target", [0.0669, 0.067])
def test_a_target_below_the_bore_is_refused(target: float) -> None:
    """Metal cannot be put back, and the refusal says what serves."""
    with pytest.raises(InputError, match=r"Metal cannot be put back.*larger sleeve"):
        boring_ladder(
            bore=0.067, bore_target=target, cut_state=USUAL, pass_depths=DEPTHS, last_asked=0.0
        )


@pytest.mark.parametrize(
    ("asked", "taken", "why"),
    [
        (4.0, 3.4, ""),
        (4.0, 8.0, TWICE),
        (4.0, 1.7, HALF),
        (4.0, -1.0, LESS),
        (0.0, 1.0, NOTHING_ASKED),
        (4.0, 2.9, ""),
    ],
)
def test_a_factor_of_two_is_seen(asked: float, taken: float, why: str) -> None:
    """Asked 4, took 8: on radius? Half of what is usual: on diameter? Less depth alone is none."""
    passes = [Pass("1", 4 * THOU, 3.4 * THOU), Pass("2", asked * THOU, taken * THOU)]
    assert doubts_of(passes, USUAL, VARIANCE) == ("", why)


def test_a_doubted_pass_teaches_nothing() -> None:
    """After a doubled pass the next honest one is judged, and learned, as if it had not been."""
    passes = [Pass("1", 4 * THOU, 8 * THOU), Pass("2", 4 * THOU, 3.4 * THOU)]
    assert doubts_of(passes, USUAL, VARIANCE) == (TWICE, "")


@pytest.mark.parametrize(
    ("asked", "taken", "words"), [(0.0, 1e-5, "asked"), (1e-4, -1e-6, "makes a bore larger")]
)
def test_a_pass_that_cannot_have_been_is_refused(asked: float, taken: float, words: str) -> None:
    """Nothing asked, or less than nothing taken, is refused with what to look at."""
    with pytest.raises(InputError, match=words):
        state_after(cut_state=USUAL, cut_asked=[asked], cut_taken=[taken], taken_standard=1e-6)
