"""Odd readings in the oven: named, held out, nothing lost; and what the needle alone may say."""

from __future__ import annotations

from dataclasses import replace

import pytest

from oven_scores import ALLOY, DIAMETER, GO, IRON, ROOM, THOU, TIGHT, heating
from sleevewright.core.heat.heating import (
    DoorOpening,
    HeatedFit,
    Heating,
    OvenReading,
    ReadyForecast,
)
from sleevewright.core.heat.joining import slip
from sleevewright.core.heat.ready import ready_forecast
from sleevewright.core.heat.ready_said import GO as GO_WORD
from sleevewright.core.heat.ready_said import STOP, WAIT, ready_in, ready_word
from sleevewright.errors import InputError

SETTING = 212.0 + 273.15
LOOKS = ((300.0, 75.0), (540.0, 109.0), (780.0, 132.0), (1020.0, 149.0))


def _grown(celsius: float, diameter: float = DIAMETER, tight: float = TIGHT) -> float:
    """Slip on the gauge with the casting so hot."""
    return float(
        slip(
            diameter=diameter,
            interference=tight,
            casting_law=ALLOY,
            sleeve_law=IRON,
            casting_temperature=celsius + 273.15,
            sleeve_temperature=ROOM,
        )
    )


def _good() -> list[OvenReading]:
    """Four looks that go together."""
    return [OvenReading(time, _grown(hot), hot + 273.15) for time, hot in LOOKS]


def _doors(readings: list[OvenReading]) -> tuple[DoorOpening, ...]:
    """One opening for each look."""
    return tuple(DoorOpening(one.time) for one in readings)


def _told(readings: list[OvenReading], known: Heating | None = None) -> ReadyForecast:
    """The forecast after these looks."""
    now = max(one.time for one in readings if one.time < 20000.0)
    return ready_forecast(known or heating(SETTING), tuple(readings), _doors(readings), now=now)


def test_good_looks_say_nothing_and_all_count() -> None:
    """Four pairs that go together are eight values and no remark."""
    told = _told(_good())
    assert told.remarks == ()
    assert told.used == 8
    assert list(told.ready) == sorted(told.ready)
    assert told.now <= told.look_again <= told.ready[1]


@pytest.mark.parametrize(
    ("change", "code", "what"),
    [
        ({"temperature": (132.0 * 1.8 + 32.0) + 273.15}, "f-as-c", "temperature"),
        ({"temperature": (132.0 - 32.0) / 1.8 + 273.15}, "c-as-f", "temperature"),
        ({"growth": _grown(132.0) / 0.0254}, "thou-as-mm", "growth"),
        ({"growth": _grown(132.0) * 0.0254}, "mm-as-thou", "growth"),
        ({"growth": -_grown(132.0)}, "sign", "growth"),
        ({"temperature": 190.0 + 273.15}, "off", "temperature"),
    ],
)
def test_slip_of_units_is_named_and_held_out(
    change: dict[str, float], code: str, what: str
) -> None:
    """One wrong value among eight is the one that is held out, by its own name."""
    readings = _good()
    readings[2] = replace(readings[2], **change)
    told = _told(readings)
    held = [one for one in told.remarks if one.is_held_out]
    assert [(one.code, one.what, one.time) for one in held] == [(code, what, 780.0)]
    assert told.used == 7
    assert told.ready[2] == pytest.approx(_told(_good()).ready[2], abs=60.0)


def test_order_of_telling_changes_nothing_but_is_said() -> None:
    """Looks told backwards give the same forecast and a remark."""
    told = _told(_good()[::-1])
    assert {one.code for one in told.remarks} == {"order"}
    assert told.ready == _told(_good()).ready


def test_two_at_one_time_are_said() -> None:
    """Two looks at one time are both used and named."""
    readings = _good()
    told = _told([*readings, readings[1]])
    assert "twice" in {one.code for one in told.remarks}
    assert told.used == 10


def test_growth_that_falls_is_asked_about() -> None:
    """Growth that falls between two looks is named with what it was."""
    readings = _good()
    readings[3] = OvenReading(1020.0, _grown(110.0))
    fell = [one for one in _told(readings).remarks if one.code == "fell"]
    assert [one.time for one in fell] == [1020.0]


def test_probe_that_stands_still_is_no_probe() -> None:
    """A probe that does not move while the bore grows is held out at every look."""
    readings = [replace(one, temperature=296.0) for one in _good()]
    told = _told(readings)
    assert {one.code for one in told.remarks} == {"still"}
    assert told.used == 4


def test_probe_on_a_fin_is_known_by_the_growth() -> None:
    """A probe 25 K ahead of the growth at every look is on thin metal."""
    readings = [replace(one, temperature=float(one.temperature or 0.0) + 25.0) for one in _good()]
    told = _told(readings)
    assert {one.code for one in told.remarks} == {"fin"}
    assert told.temperature_now == pytest.approx(149.0 + 273.15, abs=5.0)


def test_minutes_told_as_hours_are_left_out() -> None:
    """A look seventeen hours after the loading belongs to no heat."""
    readings = _good()
    readings[3] = replace(readings[3], time=1020.0 * 60.0)
    told = _told(readings)
    assert [one.code for one in told.remarks] == ["hours"]
    assert told.used == 6


def test_oven_below_its_target_says_never() -> None:
    """An oven 20 K under what is wanted never gets there, and no time is made up."""
    told = ready_forecast(heating(155.0 + 273.15), (), (), now=0.0)
    assert told.chance_never > 0.95
    assert ready_in(forecast=told, level=0.5) == float("inf")


def test_flange_that_is_slower_decides() -> None:
    """A flange with more fit makes the ready time later and is named."""
    body = heating(SETTING)
    flange = HeatedFit(0.067056, 5.5 * THOU, GO)
    both = replace(body, fits=(*body.fits, ("flange", flange)))
    readings = [*_good(), OvenReading(1020.0, _grown(149.0, 0.067056, 5.5 * THOU), fit="flange")]
    told = _told(readings, both)
    assert told.decides == "flange"
    assert told.ready[2] > _told(_good()).ready[2] + 60.0


def test_needle_alone_says_go() -> None:
    """Go needs the needle past its go by the guard at every fit; time and probe do not."""
    known = heating(SETTING)
    over = OvenReading(1500.0, GO + 0.4 * THOU)
    near = OvenReading(1500.0, GO + 0.2 * THOU)
    probe = OvenReading(1500.0, None, 470.0)
    word = [
        ready_word(heating=known, readings=one, guard=1.645)
        for one in ((over,), (near,), (probe,), ())
    ]
    assert word == [GO_WORD, WAIT, WAIT, WAIT]
    both = replace(known, fits=(*known.fits, ("flange", HeatedFit(0.067, TIGHT, GO))))
    assert ready_word(heating=both, readings=(over,), guard=1.645) == WAIT
    flange = OvenReading(1510.0, GO + THOU, fit="flange")
    assert ready_word(heating=both, readings=(over, flange), guard=1.645) == GO_WORD


def test_needle_that_does_not_go_with_the_others_must_be_read_twice() -> None:
    """A minus told as plus is past its go once, which is no go; a second look makes it one."""
    looks = [*_good(), OvenReading(1080.0, GO + 0.9 * THOU)]
    told = _told(looks)
    assert [one.code for one in told.remarks] == ["off"]
    words = []
    for more in ((), (OvenReading(1140.0, GO + THOU),)):
        read = (*looks, *more)
        words.append(
            ready_word(
                heating=heating(SETTING), readings=read, guard=1.645, forecast=_told(list(read))
            )
        )
    assert words[0] == WAIT
    again = replace(told, remarks=(*told.remarks, replace(told.remarks[0], time=1140.0,
                                                          read=GO + THOU)))  # fmt: skip
    assert ready_word(heating=heating(SETTING), readings=read, guard=1.645, forecast=again) == (
        GO_WORD
    )


def test_minutes_told_as_hours_are_held_out_and_do_not_move_now() -> None:
    """After three hours a casting at 75 degC is no reading of three hours; one at 200 degC is."""
    late = OvenReading(3.0 * 3600.0, _grown(75.0), 75.0 + 273.15)
    told = ready_forecast(heating(SETTING), (late,), (), now=late.time)
    assert [one.code for one in told.remarks] == ["hours"]
    assert told.now == 0.0
    assert told.ready[2] > 600.0
    soaked = OvenReading(3.0 * 3600.0, _grown(205.0), 205.0 + 273.15)
    told = ready_forecast(heating(SETTING), (soaked,), (), now=soaked.time)
    assert (told.remarks, told.now) == ((), soaked.time)


def test_over_the_limit_stops_by_probe_or_by_growth() -> None:
    """A probe over the limit stops; so does growth that only such a heat can give."""
    known = heating(SETTING)
    by_probe = OvenReading(1500.0, None, 232.0 + 273.15)
    by_growth = OvenReading(1500.0, _grown(233.0))
    for one in (by_probe, by_growth):
        assert ready_word(heating=known, readings=(one,), guard=1.645) == STOP


@pytest.mark.parametrize(
    ("readings", "known", "field"),
    [
        ((OvenReading(-5.0, 0.0),), {}, "time of a reading"),
        ((OvenReading(5.0, 0.0, growth_standard=0.0),), {}, "doubt of a growth"),
        ((), {"oven": -1.0}, "oven"),
        ((), {"fits": ()}, "fits"),
        ((), {"time_constant": 0.0}, "time constant"),
    ],
)
def test_impossible_values_are_refused_by_name(
    readings: tuple[OvenReading, ...], known: dict[str, object], field: str
) -> None:
    """What cannot be is refused with the name of its field."""
    with pytest.raises(InputError, match=field):
        ready_forecast(replace(heating(SETTING), **known), readings, (), now=0.0)  # type: ignore[arg-type]  # any field of the record
