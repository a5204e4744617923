"""What must hold of every boring cut, whatever its figures."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.core.cutting.deflection import bar_give
from sleevewright.core.cutting.finish_roughness import mean_roughness, ridge_height
from sleevewright.core.cutting.force import CutEdge, edge_force, radial_force
from sleevewright.core.cutting.interrupted import spring_out
from sleevewright.core.cutting.speeds import spindle_turns, wall_speed
from sleevewright.core.cutting.taken import cut_taken

depths = st.floats(5e-6, 2e-3)
feeds = st.floats(1e-5, 5e-4)
noses = st.floats(5e-5, 2e-3)
leads = st.floats(math.radians(45.0), math.radians(90.0))
gives = st.floats(0.0, 2e-6)
more = st.floats(1.01, 3.0)


def edge(feed: float, nose: float, lead: float) -> CutEdge:
    """An edge in grey iron."""
    return CutEdge(feed, nose, lead, 1.15e9, 0.2, 0.5)


@given(depths, feeds, noses, leads, more)
def test_deeper_and_coarser_cuts_push_harder(
    depth: float, feed: float, nose: float, lead: float, factor: float
) -> None:
    """Main force rises with depth and with feed."""
    here = edge_force(depth=depth, edge=edge(feed, nose, lead))
    assert edge_force(depth=factor * depth, edge=edge(feed, nose, lead)) > here
    assert edge_force(depth=depth, edge=edge(factor * feed, nose, lead)) > here


@given(depths, feeds, noses, leads, more)
def test_a_larger_nose_pushes_off_more(
    depth: float, feed: float, nose: float, lead: float, factor: float
) -> None:
    """The radial force never falls as the nose grows."""
    small = radial_force(depth=depth, edge=edge(feed, nose, lead))
    large = radial_force(depth=depth, edge=edge(feed, factor * nose, lead))
    assert large >= small * (1.0 - 1e-9)


@given(st.floats(1e-5, 2e-3), feeds, noses, leads, gives, more)
def test_a_softer_bar_takes_less_and_never_all(  # noqa: PLR0917 - one strategy each
    asked: float, feed: float, nose: float, lead: float, give: float, factor: float
) -> None:
    """What is taken lies above nought, at most at the ask, and falls with the give."""
    told = {"ask": asked, "holder_give": 0.0, "edge": edge(feed, nose, lead)}
    stiff = cut_taken(own_give=give, **told)
    soft = cut_taken(own_give=factor * give + 1e-9, **told)
    assert 0.0 < soft < stiff <= asked


@given(st.floats(1e-5, 1e-3), feeds, noses, gives, more)
def test_asking_for_more_takes_more(
    asked: float, feed: float, nose: float, give: float, factor: float
) -> None:
    """The taken metal rises with the ask."""
    told = {"own_give": give, "holder_give": 4e-8, "edge": edge(feed, nose, 1.3)}
    assert cut_taken(ask=factor * asked, **told) > cut_taken(ask=asked, **told)


@given(noses, st.floats(0.02, 0.5), more)
def test_roughness_rises_with_feed_and_falls_with_the_nose(
    nose: float, share: float, factor: float
) -> None:
    """Rz and Ra are monotone, and Ra is near a quarter of Rz."""
    wide = 0.5 * math.pi
    feed = share * nose
    for measure in (ridge_height, mean_roughness):
        here = measure(feed=feed, nose=nose, end_angle=wide)
        assert measure(feed=factor * feed, nose=nose, end_angle=wide) > here
        assert measure(feed=feed, nose=factor * nose, end_angle=wide) < here
    height = ridge_height(feed=feed, nose=nose, end_angle=wide)
    assert 0.25 < mean_roughness(feed=feed, nose=nose, end_angle=wide) / height < 0.26


@given(st.floats(0.02, 0.3), st.floats(0.1, 50.0))
def test_turns_and_speed_go_there_and_back(diameter: float, speed: float) -> None:
    """The speed of the turns for a speed is that speed."""
    turns = spindle_turns(cutting_speed=speed, diameter=diameter)
    assert math.isclose(wall_speed(diameter=diameter, turns=turns), speed, rel_tol=1e-12)


@given(st.floats(0.02, 0.3), st.floats(0.005, 0.06), more)
def test_a_longer_bar_gives_by_the_cube(overhang: float, bar: float, factor: float) -> None:
    """Free length counts three times, thickness four times."""
    here = bar_give(overhang=overhang, bar=bar, bar_modulus=2e11)
    longer = bar_give(overhang=factor * overhang, bar=bar, bar_modulus=2e11)
    thicker = bar_give(overhang=overhang, bar=factor * bar, bar_modulus=2e11)
    assert math.isclose(longer / here, factor**3, rel_tol=1e-9)
    assert math.isclose(here / thicker, factor**4, rel_tol=1e-9)


@given(gives, st.floats(0.0, 100.0))
def test_nothing_springs_out_where_no_force_falls(give: float, force: float) -> None:
    """The same force before and after leaves the bore as it was."""
    assert spring_out(edge_give=give, force_before=force, force_after=force) == 0.0


def test_arrays_are_taken_one_by_one() -> None:
    """A row of asks gives what each gives alone."""
    asks = np.array([2e-5, 1e-4, 5e-4])
    told = {"own_give": 1e-7, "holder_give": 4e-8, "edge": edge(1e-4, 4e-4, 1.3)}
    row = cut_taken(ask=asks, **told)
    for one, taken in zip(asks, np.asarray(row), strict=True):
        assert math.isclose(float(cut_taken(ask=float(one), **told)), taken, rel_tol=1e-9)
