"""What holds of the form of every grid: turned, moved, scaled, upside down."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.ovals import Ovals, ovals_of
from sleevewright.core.metrology.profile import NO_PORTS, Profile, profile_of
from sleevewright.core.metrology.repeatability import Repeatability

Array = NDArray[np.float64]
UM = 1e-6
SCATTER = Repeatability(UM, 14.0)
MIRROR = {"top": "bottom", "bottom": "top"}


def read(stations: int, directions: int, seed: int, form: float) -> GridReadings:
    """A part with some taper, bow and oval, scatter of a micron."""
    stream = np.random.default_rng(seed)
    depths = np.sort(stream.uniform(0.0, 0.1, stations)) + 0.01 * np.arange(stations)
    angles = np.arange(directions) * math.pi / directions
    place = (depths - depths[0]) / np.ptp(depths)
    line, bow, oval = stream.uniform(-form, form, 3)
    sizes = 0.06 + UM * (
        line * place[:, None]
        + 4.0 * bow * (place * (1.0 - place))[:, None]
        + oval * np.cos(2.0 * angles - stream.uniform(0.0, 6.0))
        + stream.standard_normal((stations, directions))
    )
    return GridReadings(depths, angles, sizes)


grids = st.builds(
    read, st.integers(3, 6), st.integers(3, 8), st.integers(0, 2**31), st.floats(0.0, 30.0)
)


def profile(readings: GridReadings, scatter: Repeatability = SCATTER) -> Profile:
    """Shape along the depth."""
    return profile_of(
        readings=readings,
        part_expansion=0.0,
        gauge_expansion=0.0,
        reading=scatter,
        ports=NO_PORTS,
    )


def oval(readings: GridReadings, scatter: Repeatability = SCATTER) -> Ovals:
    """Oval that all stations share."""
    return ovals_of(
        readings=readings, part_expansion=0.0, gauge_expansion=0.0, reading=scatter, contacts=2.0
    )


@given(readings=grids, turn=st.floats(-6.0, 6.0))
def test_turning_the_directions_turns_the_axis_and_nothing_else(
    readings: GridReadings, turn: float
) -> None:
    """The zero of the angles is a choice: amount and shape stay, the long axis follows."""
    turned = GridReadings(readings.stations, readings.directions + turn, readings.readings)
    one, other = oval(readings), oval(turned)
    assert abs(one.amount - other.amount) < 1e-12
    off = 2.0 * (other.axis - one.axis - turn)
    assert abs(math.remainder(off, 2.0 * math.pi)) * one.amount < 1e-11
    assert abs(profile(turned).change - profile(readings).change) < 1e-13


@given(readings=grids, shift=st.floats(-1e-3, 1e-3))
def test_a_setting_error_makes_no_form(readings: GridReadings, shift: float) -> None:
    """All readings larger by as much: every amount and word stays."""
    moved = GridReadings(readings.stations, readings.directions, readings.readings + shift)
    one, other = profile(readings), profile(moved)
    assert abs(one.change - other.change) < 1e-12
    assert [each.form for each in one.named] == [each.form for each in other.named]
    assert abs(oval(readings).amount - oval(moved).amount) < 1e-12


@given(readings=grids, scale=st.floats(0.5, 2.0))
@settings(max_examples=50)
def test_form_grows_with_the_part(readings: GridReadings, scale: float) -> None:
    """Sizes and scatter scaled alike: amounts scale, words stay."""
    scaled = GridReadings(readings.stations, readings.directions, scale * readings.readings)
    wide = Repeatability(scale * UM, SCATTER.degrees_of_freedom)
    one, other = profile(readings), profile(scaled, wide)
    assert abs(scale * one.change - other.change) < 1e-12
    assert [each.form for each in one.named] == [each.form for each in other.named]
    assert abs(scale * oval(readings).high - oval(scaled, wide).high) < 1e-12


@given(readings=grids.filter(lambda one: one.stations.size > 3))
def test_upside_down_top_and_bottom_change_places(readings: GridReadings) -> None:
    """Depths counted from the other end: taper turns its sign, a barrel stays a barrel.

    Three depths leave no room: two pairs of shapes then fit alike, and the first is taken.
    """
    whole = readings.stations[0] + readings.stations[-1]
    over = GridReadings(
        (whole - readings.stations)[::-1], readings.directions, readings.readings[::-1]
    )
    one, other = profile(readings), profile(over)
    assert abs(one.change + other.change) < 1e-12
    assert one.bow is not None
    assert other.bow is not None
    assert abs(one.bow - other.bow) < 1e-12
    swapped = [MIRROR.get(each.form, each.form) for each in one.named]
    assert swapped == [each.form for each in other.named]


@given(readings=grids)
def test_bounds_enclose_what_was_found(readings: GridReadings) -> None:
    """Low, amount, high in this order; nothing is negative that cannot be."""
    found = oval(readings)
    assert 0.0 <= found.low <= found.amount <= found.high
    assert 0.0 <= found.axis <= math.pi
    for one in profile(readings).named:
        assert one.low <= one.amount <= one.high
        assert one.low > 0.0 or one.high < 0.0
