"""Seconds of a drop whose casting has been out of the oven for a known time."""

import math

import pytest

import heat_examples as shop
from benches import EXAMPLES
from sleevewright.errors import InputError
from sleevewright.planning.drop_now import after_carry
from sleevewright.planning.shop import Shop
from sleevewright.services.drop_changes import seconds_now
from sleevewright.services.jobfiles import load_job

IRON = shop.case("iron", interference=2.2, slip=3.99)


def test_each_second_out_takes_from_those_that_are_left() -> None:
    """A casting that is out for longer leaves fewer seconds and more chance of too few."""
    found = [after_carry(IRON, carried=time, seed=5, count=400) for time in (0.0, 20.0, 60.0)]
    assert found[0].line_up > found[1].line_up > found[2].line_up
    assert found[0].expected > found[1].expected > found[2].expected
    assert found[0].before_seated < found[2].before_seated


def test_slip_lost_in_ten_seconds_is_that_of_a_cooling_lump() -> None:
    """Ten seconds cost what a casting cooler by q (T - room) t / C costs: iron, 0.394 K/s.

    Checked by its own road: 24 W/(m K) on 95 mm, 209 K over the room, 1.21 kJ/K.
    """
    rate = 24.0 * shop.LENGTH * 209.0 / shop.capacity("iron", 46.0e-3)
    lost = 10.0 * rate * 13.4e-6 * 62.9e-3
    less = shop.case("iron", interference=2.2, slip=3.99 - lost / shop.THOU)
    slow = after_carry(IRON, carried=10.0, seed=5, count=400)
    cooler = after_carry(less, carried=0.0, seed=5, count=400)
    assert slow.expected == pytest.approx(cooler.expected, rel=0.02)


def test_line_up_is_never_above_five_seconds() -> None:
    """A drop that stays free for long shows five seconds, whatever the model says."""
    free = shop.case("aluminium", interference=1.6, slip=9.0)
    assert after_carry(free, carried=0.0, seed=5, count=400).line_up == pytest.approx(5.0)


@pytest.mark.parametrize("carried", [-1.0, 601.0, math.nan])
def test_times_that_cannot_be_are_refused(carried: float) -> None:
    """A negative time, more than ten minutes, none at all."""
    with pytest.raises(InputError, match="time out of the oven"):
        after_carry(IRON, carried=carried, seed=5, count=400)


def test_worked_job_answers_by_the_clock() -> None:
    """The worked job loses seconds between 5 s and two minutes out of the oven."""
    job = load_job(EXAMPLES / "demo-air-175.toml")
    early, late = (seconds_now(job, Shop(), out) for out in (5, 120))
    assert early is not None
    assert late is not None
    assert early.expected > late.expected
