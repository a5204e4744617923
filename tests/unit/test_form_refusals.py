"""Form that cannot be told says how much it wants; words fit what was found."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.typing import NDArray

from sleevewright.core.metrology.grid import GridReadings
from sleevewright.core.metrology.ovals import Ovals, ovals_of
from sleevewright.core.metrology.profile import (
    NO_PORTS,
    NamedShape,
    PortBand,
    Ports,
    Profile,
    critical_factor,
    profile_of,
)
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.core.metrology.shape_words import (
    bore_shape,
    bow_of,
    first_amount,
    outside_shape,
    round_words,
    second_amount,
    shape_title,
)
from sleevewright.errors import InputError

Array = NDArray[np.float64]
UM = 1e-6
DEPTHS = (0.010, 0.030, 0.060, 0.080)
FOUR = (0.0, 45.0, 90.0, 135.0)
SCATTER = Repeatability(UM, 12.0)


def grid(
    rows: list[list[float]], depths: tuple[float, ...] = DEPTHS, angles: tuple[float, ...] = FOUR
) -> GridReadings:
    """Readings in microns over 60 mm."""
    read = 0.06 + UM * np.array(rows)
    return GridReadings(np.array(depths[: len(rows)]), np.radians(angles[: read.shape[1]]), read)


def profile(
    readings: GridReadings, *, ports: Ports = NO_PORTS, scatter: Repeatability = SCATTER
) -> Profile:
    """Shape along the depth."""
    return profile_of(
        readings=readings, part_expansion=0.0, gauge_expansion=0.0, reading=scatter, ports=ports
    )


def ovals(readings: GridReadings, contacts: float = 2.0) -> Ovals:
    """Lobes that the stations share."""
    return ovals_of(
        readings=readings,
        part_expansion=0.0,
        gauge_expansion=0.0,
        reading=SCATTER,
        contacts=contacts,
    )


def level(*means: float, across: int = 4) -> list[list[float]]:
    """Rows that are round."""
    return [[mean] * across for mean in means]


def test_one_depth_has_no_shape_and_two_have_no_barrel() -> None:
    """Two stations for a taper, three for a barrel or a waist, and both messages say so."""
    with pytest.raises(InputError, match=r"stations: 1 .* two or more, three for barrel or waist"):
        profile(grid(level(0.0)))
    two = profile(grid(level(0.0, 20.0)))
    assert "two depths do not tell a barrel" in bore_shape(profile=two)
    with pytest.raises(InputError, match=r"stations: 2 .* three or more .* Read a depth between"):
        bow_of(profile=two)
    assert bow_of(profile=profile(grid(level(0.0, 9.0, 0.0)))) == pytest.approx(9.4 * UM, rel=0.1)


def test_two_directions_have_no_axis() -> None:
    """Three directions at one station, or the message says which are usual."""
    with pytest.raises(InputError, match=r"directions: 2 .* 3 or more .* 0, 45, 90 and 135"):
        ovals(grid(level(0.0, 0.0, across=2)))
    with pytest.raises(InputError, match=r"directions: 2 .* 3 or more"):
        # Half a turn further the same two points are measured again.
        ovals(grid(level(0.0, 0.0), angles=(0.0, 90.0, 180.0, 270.0)))
    with pytest.raises(InputError, match=r"contacts: 4 .* 2, or 3"):
        ovals(grid(level(0.0)), contacts=4.0)


@pytest.mark.parametrize(
    ("depths", "said"),
    [
        ((0.010, 0.010, 0.060), "there twice"),
        ((0.060, 0.030, 0.080), "from the deck downwards"),
    ],
)
def test_depths_go_downwards_once_each(depths: tuple[float, ...], said: str) -> None:
    """A depth twice or out of order is refused with what to do."""
    with pytest.raises(InputError, match=said):
        profile(grid(level(0.0, 0.0, 0.0), depths=depths))


def test_an_angle_that_is_there_twice_is_refused() -> None:
    """A whole turn further is the same direction."""
    with pytest.raises(InputError, match=r"directions: 0 deg .* each angle once"):
        profile(grid(level(0.0, 0.0, 0.0), angles=(0.0, 90.0, 360.0, 45.0)))


def test_lands_that_share_no_direction_are_not_compared() -> None:
    """One station read at 0 and 45, the other at 90 and 135: an oval would look like taper."""
    blank = math.nan
    rows = [[0.0, 0.0, blank, blank], [blank, blank, 0.0, 0.0]]
    with pytest.raises(InputError, match="read at several stations"):
        profile(grid(rows))


def test_scatter_must_be_known() -> None:
    """Without scatter every difference would be certain."""
    with pytest.raises(InputError, match="scatter of a reading"):
        profile(grid(level(0.0, 1.0)), scatter=Repeatability(0.0, 0.0))
    with pytest.raises(InputError, match="degrees of freedom"):
        critical_factor(stations=3, looked_for=2, degrees_of_freedom=0.0)
    with pytest.raises(InputError, match="stations"):
        critical_factor(stations=1, looked_for=2, degrees_of_freedom=9.0)


@pytest.mark.parametrize(
    ("means", "inside", "outside"),
    [
        ((0, 0, 0, 0), "straight, as far as these readings tell", "straight, as far as these"),
        ((0, 9, 18, 24), "tapered, wider at the bottom", "tapered, wider at the bottom"),
        ((24, 18, 9, 0), "tapered, wider at the top", "tapered, wider at the top"),
        ((0, 14, 14, 0), "barrel, widest at mid-height", "barrel, widest at mid-height"),
        ((14, 0, 0, 14), "waist, narrowest at mid-height", "waist, narrowest"),
        ((14, 0, 0, 0), "bell-mouth at the top", "large at the top"),
        ((-14, 0, 0, 0), "tight at the top", "small at the top"),
        ((0, 0, 0, 14), "bell-mouth at the bottom", "large at the bottom"),
    ],
)
def test_words_for_each_shape(means: tuple[float, ...], inside: str, outside: str) -> None:
    """A bore has a bell-mouth, an outside is large at its end."""
    found = profile(grid(level(*means)))
    assert bore_shape(profile=found).startswith(inside)
    assert outside_shape(profile=found).startswith(outside)


def test_a_step_is_named_by_its_port() -> None:
    """Wider below the exhaust port by 14 microns; a port beyond the readings is no step."""
    ports = Ports((PortBand("exhaust", 0.035, 0.055), PortBand("boost", 0.090, 0.099)))
    found = profile(grid(level(0.0, 0.0, 14.0, 14.0)), ports=ports)
    assert bore_shape(profile=found).startswith("step at the exhaust port, wider below it")
    assert first_amount(profile=found) == pytest.approx(14.0 * UM, rel=1e-6)
    with pytest.raises(InputError, match="named shapes"):
        second_amount(profile=found)
    above = NamedShape("step", "exhaust", -14.0 * UM, UM, -16.0 * UM, -12.0 * UM)
    assert shape_title(above, is_bore=False) == "step at the exhaust port, wider above it"


def test_two_shapes_have_two_amounts_and_the_rest_is_uneven() -> None:
    """A flare on a taper is told as both; a wave of six depths is no plain shape."""
    depths = tuple(0.01 * k for k in range(1, 7))
    both = profile(grid(level(60.0, 10.0, 20.0, 30.0, 40.0, 50.0), depths=depths))
    assert {one.form for one in both.named} == {"taper", "top"}
    assert second_amount(profile=both) > 40.0 * UM
    wave = profile(grid(level(0.0, 30.0, 0.0, 30.0, 0.0, 30.0), depths=depths))
    assert "uneven from depth to depth" in bore_shape(profile=wave)


@pytest.mark.parametrize(("ends", "said"), [(-40.0, "tight"), (40.0, "bell-mouth")])
def test_two_ends_alike_are_told_in_one_word(ends: float, said: str) -> None:
    """Six depths, the outer two off by 40 microns: both ends, not two shapes."""
    depths = tuple(0.01 * k for k in range(1, 7))
    found = profile(grid(level(ends, 0.0, 0.0, 0.0, 0.0, ends), depths=depths))
    assert bore_shape(profile=found) == f"{said} at both ends"
    assert outside_shape(profile=found).endswith("at both ends")


def test_words_for_round_say_what_is_not_seen() -> None:
    """Where it is widest, half a turn apart; and which lobes such a gauge misses."""
    angles = np.radians(FOUR)
    rows = np.tile(20.0 * np.cos(2.0 * (angles - math.radians(30.0))), (3, 1)).tolist()
    said = round_words(ovals=ovals(grid(rows)))
    assert said == "oval, widest at 30° and 210°; three lobes are not seen"
    flat = round_words(ovals=ovals(grid(level(0.0, 0.0))))
    assert flat == "round, as far as these readings tell; three lobes are not seen"
    turned = tuple(20.0 * k for k in range(6))
    lobes = np.tile(20.0 * np.cos(3.0 * np.radians(turned)), (2, 1)).tolist()
    three = round_words(ovals=ovals(grid(lobes, angles=turned), contacts=3.0))
    assert three == "three-lobed, widest at 0°, 120° and 240°; an oval is not seen"
