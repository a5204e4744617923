"""What holds for every gauge that compares: its sign, its warmth, its zero, and for every wait."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st

from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.heat.gauging import gauge_warming, hidden_by_warmth, target_plug
from sleevewright.core.heat.joining import needle_position
from sleevewright.core.heat.levelling import levelling_time, nearness_for_length
from sleevewright.core.heat.lump import lump_temperature
from sleevewright.core.metrology.comparator import fit_from_dial, size_over_master, zero_error
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.gaugesetting import turned
from sleevewright.jobs.setreading import exact_reading

THOU = 25.4e-6
SETTING = {"resolution_error": 0.0, "repeat_error": 0.0, "form_error": 0.0}
tenths = st.integers(-80, 80)
rises = st.floats(-10.0, 30.0)
sizes = st.floats(0.03, 0.12)
times = st.floats(0.0, 3600.0)
BODY = {"unit": "thou", "nominal": "2.6360 in"}
NOMINAL_NM = 66_954_400


def nanometres(text: str, sign: str, entry: str) -> int:
    """What a reading says on a dial that runs so."""
    body = {**BODY, "entry": entry, "sign": sign}
    return exact_reading(text, body, Folded(), field="bore", is_deviation=False)[0]


@given(tenths, st.sampled_from(["size", "deviation"]))
def test_a_dial_that_runs_backwards_says_the_mirror_of_it(tenth: int, entry: str) -> None:
    """One reading on either dial lies as far from the nominal, to the other side."""
    text = f"{tenth / 10:+.1f}"
    larger = nanometres(text, "plus-larger", entry)
    smaller = nanometres(text, "plus-smaller", entry)
    assert larger + smaller == 2 * NOMINAL_NM
    assert larger - NOMINAL_NM == tenth * 2540


@given(tenths)
def test_turning_a_sign_twice_gives_the_text_back(tenth: int) -> None:
    """The convention is a round trip, and a whole size is never turned."""
    backwards = {"sign": "plus-smaller"}
    text = f"{tenth / 10:+.1f}"
    assert turned(turned(text, backwards), backwards) == text
    whole = f"{2.636 + tenth * 1e-4:.4f} in"
    assert nanometres(whole, "plus-smaller", "size") == nanometres(whole, "plus-larger", "size")


@given(sizes, st.floats(-100e-6, 20e-6), rises, rises, rises)
def test_the_fit_off_the_dial_is_sleeve_less_bore(
    size: float, over: float, part: float, gauge: float, master: float
) -> None:
    """Whatever the temperatures, the dial and the two sizes say the same fit."""
    at = {"part_expansion": 21e-6, "part_rise": part, "gauge_expansion": 11.5e-6,
          "gauge_rise": gauge, "master_expansion": 10.7e-6, "master_rise": master}  # fmt: skip
    bore = size_over_master(master_size=size, on_dial=over, setting_error=0.0, **SETTING, **at)
    fit = fit_from_dial(diameter=size, on_dial=over, setting_error=0.0, **SETTING, **at)
    assert math.isclose(fit, size - bore, abs_tol=1e-15)


@given(sizes, rises, st.floats(0.1, 30.0))
def test_a_gauge_that_warmed_since_its_master_shows_too_little(
    size: float, set_at: float, warmed: float
) -> None:
    """Of one reading the bore is the larger, the warmer the gauge has become since."""
    at = {"part_expansion": 21e-6, "part_rise": 0.0, "gauge_expansion": 11.5e-6,
          "master_expansion": 11.5e-6, "master_rise": set_at}  # fmt: skip
    cool = size_over_master(master_size=size, on_dial=0.0, setting_error=0.0, gauge_rise=set_at,
                            **SETTING, **at)  # fmt: skip
    warm = size_over_master(master_size=size, on_dial=0.0, setting_error=0.0,
                            gauge_rise=set_at + warmed, **SETTING, **at)  # fmt: skip
    hidden = hidden_by_warmth(diameter=size, gauge_expansion=11.5e-6, gauge_warmed=warmed)
    assert math.isclose(warm - cool, hidden, abs_tol=1e-13)
    assert hidden > 0.0


@given(st.floats(250.0, 500.0), st.floats(273.0, 320.0), times, st.floats(60.0, 2000.0))
def test_a_gauge_never_gets_warmer_than_its_bore(
    bore: float, gauge: float, time: float, constant: float
) -> None:
    """It starts as it went in, moves towards the bore and stops there."""
    part = {"bore_temperature": bore, "gauge_temperature": gauge, "time_constant": constant}
    now = gauge_warming(**part, time=time)
    later = gauge_warming(**part, time=time + 60.0)
    whole = bore - gauge
    assert gauge_warming(**part, time=0.0) == 0.0
    assert abs(now) <= abs(later) <= abs(whole) * (1.0 + 1e-12)
    assert now * whole >= 0.0


@given(st.integers(-200, 200), st.integers(-200, 200))
def test_a_zero_that_moved_is_halved_between_its_ends(start: int, end: int) -> None:
    """What is added lies between the two ends; a zero that stood still leaves no doubt."""
    correction, standard = zero_error(zero_start=start * 1e-7, zero_end=end * 1e-7)
    low, high = sorted((-start * 1e-7, -end * 1e-7))
    assert low <= correction <= high or math.isclose(correction, low, abs_tol=1e-18)
    assert math.isclose(standard * math.sqrt(12.0), abs(end - start) * 1e-7, abs_tol=1e-18)


@given(st.floats(275.0, 330.0), st.floats(285.0, 300.0), st.floats(0.5, 5.0))
def test_a_part_that_has_lain_is_as_near_as_was_wanted(
    warm: float, room: float, within: float
) -> None:
    """After the time the lump is exactly so near; where it was that near at once, no wait."""
    wait = float(
        levelling_time(part_temperature=warm, room=room, within=within, time_constant=1200.0)
    )
    left = lump_temperature(time=wait, start=warm, air=room, time_constant=1200.0) - room
    if abs(warm - room) <= within:
        assert wait == 0.0
    else:
        assert math.isclose(abs(left), within, rel_tol=1e-9)


@given(st.floats(0.5e-6, 20e-6), st.floats(9e-6, 24e-6), sizes)
def test_nearness_is_worth_the_length_it_was_asked_for(
    worth: float, expansion: float, diameter: float
) -> None:
    """The growth over the answered difference is the length."""
    near = nearness_for_length(worth=worth, expansion=expansion, diameter=diameter)
    assert math.isclose(near * expansion * diameter, worth, rel_tol=1e-12)


@given(sizes, st.floats(50e-6, 250e-6), st.floats(255.0, 300.0))
def test_the_plug_and_the_needle_say_go_at_one_bore(
    size: float, slip: float, sleeve_at: float
) -> None:
    """Two roads: a plug at 20 degC is as large as the bore is where the needle says go."""
    law = ExpansionLaw(10.7e-6, 6e-9, 200.0)
    plug = target_plug(diameter=size, slip=slip, sleeve_law=law, sleeve_temperature=sleeve_at,
                       plug_expansion=11.5e-6, plug_temperature=293.15)  # fmt: skip
    needle = needle_position(slip=slip, carry_loss=0.0, diameter=size, sleeve_law=law,
                             sleeve_at_drop=sleeve_at, sleeve_at_zero=293.15)  # fmt: skip
    assert math.isclose(plug, size + needle, abs_tol=1e-15)
