"""What is left of a fit when hot, by a second road; and the identities of flange and length.

Expansion of A356 as in the ASM data sheet (means 21.5, 22.5, 23.5e-6/K to 100, 200,
300 degC); grey iron after EN 1561, from memory.  Answers derived.
"""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from fit_examples import ALUMINIUM_356, BODY, GREY_IRON, INCH, THOU, celsius, kelvin
from sleevewright.core.expansion import ExpansionLaw, thermal_strain
from sleevewright.core.fits.flange import (
    ShrinkFit,
    caught_first,
    flange_lift,
    length_mismatch,
    slip_difference,
    tighter_hot,
)
from sleevewright.core.fits.interference import room_temperature_shift
from sleevewright.core.fits.running import (
    grip_caution,
    grip_temperature,
    interference_for_rest,
    opening_casting_temperature,
    running_interference,
    running_map,
)
from sleevewright.core.fits.ties import caught_together, equal_hot_slip

LAWS = {"casting_law": ALUMINIUM_356, "sleeve_law": GREY_IRON}
IRON = {"casting_law": GREY_IRON, "sleeve_law": GREY_IRON}


def left_at(casting: float, sleeve: float, interference: float, **laws: ExpansionLaw) -> float:
    """Interference left at two temperatures in degC."""
    return float(
        running_interference(
            diameter=BODY,
            interference=interference,
            casting_temperature=kelvin(casting),
            sleeve_temperature=kelvin(sleeve),
            **(laws or LAWS),
        )
    )


def test_map_agrees_with_strains_written_out() -> None:
    """Each cell of the map is sleeve minus bore with both strains from the means."""
    castings, sleeves = np.array([293.15, 373.15, 453.15]), np.array([293.15, 473.15])
    grid = running_map(
        diameter=BODY,
        interference=3.2 * THOU,
        casting_temperatures=castings,
        sleeve_temperatures=sleeves,
        **LAWS,
    )
    assert grid.shape == (3, 2)
    for row, casting in enumerate(castings - 273.15):
        for column, sleeve in enumerate(sleeves - 273.15):
            mean_c = (20.5 + 0.010 * casting) * 1e-6
            mean_s = (10.57 + 0.00597 * sleeve) * 1e-6
            bore = (BODY - 3.2 * THOU) * (1.0 + mean_c * (casting - 20.0))
            outside = BODY * (1.0 + mean_s * (sleeve - 20.0))
            assert grid[row, column] == pytest.approx(outside - bore, abs=1e-12)


@pytest.mark.parametrize("thou", [0.4, 1.6, 2.4, 3.2, 4.0, 6.0])
def test_grip_agrees_with_a_bracketed_search(thou: float) -> None:
    """The closed form finds the root that a search finds in the running interference."""
    grip = grip_temperature(diameter=BODY, interference=thou * THOU, **LAWS)
    found = brentq(lambda t: left_at(t, t, thou * THOU), 20.0, 400.0, xtol=1e-10)
    assert celsius(grip) == pytest.approx(found, abs=1e-6)


@pytest.mark.parametrize("excess", [0.0, 10.0, 20.0, 30.0])
def test_opening_agrees_with_a_bracketed_search(excess: float) -> None:
    """With the sleeve hotter by a fixed difference the fit opens where a search says."""
    opening = opening_casting_temperature(
        diameter=BODY, interference=3.2 * THOU, sleeve_excess=excess, **LAWS
    )
    found = brentq(lambda t: left_at(t, t + excess, 3.2 * THOU), 20.0, 400.0, xtol=1e-10)
    assert celsius(opening) == pytest.approx(found, abs=1e-6)


def test_linear_rule_is_near_the_exact_grip() -> None:
    """i/((a_c - a_s) D), the rule with constant means, is within half a per cent."""
    laws = {"casting_law": ExpansionLaw(22.5e-6, 0.0), "sleeve_law": ExpansionLaw(11.0e-6, 0.0)}
    grip = grip_temperature(diameter=62e-3, interference=110e-6, **laws)
    rule = 110e-6 / (11.5e-6 * 62e-3)
    assert rule == pytest.approx(154.3, abs=0.05)
    assert grip - 293.15 == pytest.approx(rule, rel=5e-3)


def test_iron_in_iron_has_no_grip_temperature() -> None:
    """Equal laws never free a fit by common heat; the rest even grows a little."""
    assert math.isnan(grip_temperature(diameter=BODY, interference=2.2 * THOU, **IRON))
    warm = left_at(230.0, 230.0, 2.2 * THOU, **IRON)
    assert 2.2 * THOU < warm < 2.21 * THOU


def test_fit_that_is_loose_when_cold_has_no_grip_temperature() -> None:
    """A clearance at 20 degC is not gripped above it."""
    assert math.isnan(grip_temperature(diameter=BODY, interference=-1.0 * THOU, **LAWS))


def test_sleeve_that_grows_more_than_its_casting_never_opens() -> None:
    """With the metals exchanged heat tightens the fit and there is no root."""
    swapped = {"casting_law": GREY_IRON, "sleeve_law": ALUMINIUM_356}
    assert math.isnan(grip_temperature(diameter=BODY, interference=3.2 * THOU, **swapped))


def test_the_smaller_of_two_roots_is_taken() -> None:
    """Where the casting's mean falls with heat there are two roots; the lower one is the grip."""
    falling = {
        "casting_law": ExpansionLaw(25e-6, -0.02e-6),
        "sleeve_law": ExpansionLaw(11e-6, 0.0),
    }
    grip = grip_temperature(diameter=BODY, interference=1.0 * THOU, **falling)
    found = brentq(lambda t: left_at(t, t, 1.0 * THOU, **falling), 20.0, 200.0, xtol=1e-10)
    assert celsius(grip) == pytest.approx(found, abs=1e-6)
    assert left_at(celsius(grip) + 1.0, celsius(grip) + 1.0, 1.0 * THOU, **falling) < 0.0


def test_nearly_equal_metals_carry_a_caution() -> None:
    """A root beyond the data of either metal is given with a caution, a usual one without."""
    near = {"casting_law": ExpansionLaw(11.2e-6, 0.006e-6), "sleeve_law": GREY_IRON}
    far = grip_temperature(diameter=BODY, interference=2.2 * THOU, **near)
    caution = grip_caution(float(far), **near)
    assert caution is not None
    assert "not within any heat the parts may see" in caution.text
    usual = grip_temperature(diameter=BODY, interference=3.2 * THOU, **LAWS)
    assert grip_caution(float(usual), **LAWS) is None
    assert grip_caution(math.nan, **IRON) is None


def test_caution_follows_the_metal_that_is_known_less_far() -> None:
    """Between the ends of both ranges, 300 and 400 degC, the caution names the lower one."""
    caution = grip_caution(kelvin(350.0), **LAWS)
    assert caution is not None
    assert "(300 degC)" in caution.text


def test_wanted_rest_comes_back() -> None:
    """Cutting for a rest leaves that rest; roughness and doubt come on top."""
    inputs = {"diameter": BODY, "casting_temperature": 423.15, "sleeve_temperature": 443.15}
    cold = interference_for_rest(rest=1.0 * THOU, **inputs, **LAWS)
    assert running_interference(interference=cold, **inputs, **LAWS) == pytest.approx(
        1.0 * THOU, abs=1e-14
    )
    more = interference_for_rest(
        rest=1.0 * THOU, roughness_loss=0.3 * THOU, doubt=0.4 * THOU, **inputs, **LAWS
    )
    assert more - cold == pytest.approx(0.7 * THOU, rel=1e-9)


def test_room_shift_is_the_difference_of_local_expansions() -> None:
    """Ten degF above 20 degC loosen iron in aluminium by 0.138 thou; iron in iron by nothing."""
    inputs = {"diameter": BODY, "room": 293.15 + 10.0 / 1.8}
    aluminium = room_temperature_shift(interference=3.2 * THOU, **inputs, **LAWS)
    iron = room_temperature_shift(interference=2.2 * THOU, **inputs, **IRON)
    assert aluminium / THOU == pytest.approx(-0.138, abs=0.0006)
    assert iron / THOU == pytest.approx(0.0, abs=0.0005)


@pytest.mark.parametrize("celsius_from", [143.1, 115.0, 60.0, 43.0])
def test_lift_by_the_fit_agrees_with_lift_by_the_strains(celsius_from: float) -> None:
    """The lift z (i - i(T))/D differs from z (eps_c - eps_s) by z i eps_c/D."""
    z = 47.5e-3
    cold = 3.2 * THOU
    lift = flange_lift(
        anchor_length=z,
        interference=cold,
        interference_left=left_at(celsius_from, celsius_from, cold),
        diameter=BODY,
    )
    strains = length_mismatch(anchor_length=z, temperature=kelvin(celsius_from), **LAWS)
    casting = thermal_strain(ALUMINIUM_356, temperature=kelvin(celsius_from))
    assert lift == pytest.approx(strains - z * cold * casting / BODY, abs=1e-15)
    assert lift == pytest.approx(strains, rel=5e-3)


BODY_FIT = ShrinkFit(diameter=BODY, interference=3.2 * THOU)
FLANGE = 2.640 * INCH


@pytest.mark.parametrize(
    ("thou", "tighter", "first"),
    [
        (1.5, "body", "body"),
        (3.0, "body", "body"),
        (3.5, "body", "flange"),
        (4.5, "flange", "flange"),
    ],
)
def test_flange_and_body_swap_order_between_hot_and_cooling(
    thou: float, tighter: str, first: str
) -> None:
    """Between the two ties the flange has more slip hot and is still caught first."""
    flange = ShrinkFit(diameter=FLANGE, interference=thou * THOU)
    hot = {"casting_temperature": kelvin(176.4), "sleeve_temperature": kelvin(21.0)}
    assert tighter_hot(body=BODY_FIT, flange=flange, **hot, **LAWS) == tighter
    assert caught_first(body=BODY_FIT, flange=flange, **LAWS) == first


def test_ties_are_where_slips_and_grips_are_equal() -> None:
    """At the hot tie both slips, at the cooling tie both grip temperatures are the same."""
    hot = {"casting_temperature": kelvin(176.4), "sleeve_temperature": kelvin(21.0)}
    level = equal_hot_slip(body=BODY_FIT, flange_diameter=FLANGE, **hot, **LAWS)
    flange = ShrinkFit(diameter=FLANGE, interference=level)
    assert level / THOU == pytest.approx(3.76, abs=0.02)
    difference = slip_difference(body=BODY_FIT, flange=flange, **hot, **LAWS)
    assert difference == pytest.approx(0.0, abs=1e-15)
    assert tighter_hot(body=BODY_FIT, flange=flange, **hot, **LAWS) == "tie"
    together = caught_together(body=BODY_FIT, flange_diameter=FLANGE)
    grips = [
        grip_temperature(diameter=d, interference=i, **LAWS)
        for d, i in ((BODY, 3.2 * THOU), (FLANGE, together))
    ]
    assert grips[0] == pytest.approx(grips[1], abs=1e-9)
    tied = ShrinkFit(diameter=FLANGE, interference=together)
    assert caught_first(body=BODY_FIT, flange=tied, **LAWS) == "tie"


def test_fits_that_nothing_catches_are_told_apart() -> None:
    """Iron in iron: neither; a flange with clearance in aluminium: the body."""
    clearance = ShrinkFit(diameter=FLANGE, interference=-1.0 * THOU)
    assert caught_first(body=BODY_FIT, flange=BODY_FIT, **IRON) == "neither"
    assert caught_first(body=BODY_FIT, flange=clearance, **LAWS) == "body"
    assert caught_first(body=clearance, flange=BODY_FIT, **LAWS) == "flange"


def test_order_is_told_for_each_sample() -> None:
    """With samples of the flange's interference each gets its own answer."""
    samples = ShrinkFit(diameter=FLANGE, interference=np.array([1.5, 4.5]) * THOU)
    hot = {"casting_temperature": kelvin(176.4), "sleeve_temperature": kelvin(21.0)}
    assert list(tighter_hot(body=BODY_FIT, flange=samples, **hot, **LAWS)) == ["body", "flange"]
    assert list(caught_first(body=BODY_FIT, flange=samples, **LAWS)) == ["body", "flange"]
