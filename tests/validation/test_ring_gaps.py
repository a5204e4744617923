"""Ring gaps against what is printed, and the bore that a gap tells against plain geometry.

Printed: tip sheet of a ring maker (0.0035 in by the inch at least, 0.008 alarm; its example of
0.012 in for 3 in is a slip), trade magazine of 2019 (0.0045 and 0.0050), tuner's handbook of
1973 (62 and 70 % of the bore).
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sleevewright.core.engine.ring_ends import (
    clear_lands,
    ring_end_room,
    window_half_angle,
    window_share,
)
from sleevewright.core.engine.ring_gap import (
    bore_from_gap,
    filing_needed,
    gap_in_bore,
    gap_share,
    hot_ring_gap,
    ring_gap,
)
from sleevewright.core.engine.skirt import looseness_of, skirt_at_reference, skirt_warmth
from sleevewright.core.materials import default
from sleevewright.errors import InputError

INCH = 25.4e-3
THOU = 25.4e-6
bores = st.floats(0.03, 0.2)


def test_rule_of_the_sheet_gives_another_gap_than_its_example() -> None:
    """0.0035 in by the inch of a 3 in bore is 0.0105 in; the sheet prints 0.012."""
    least = ring_gap(bore=3.0 * INCH, share=default("ring_gap_least").value)
    assert least == pytest.approx(0.0105 * INCH, rel=1e-12)
    assert abs(least - 0.012 * INCH) > 1.0 * THOU


@pytest.mark.parametrize(("share", "gap"), [(0.0045, 18.0), (0.0050, 20.0)])
def test_factors_of_the_magazine(share: float, gap: float) -> None:
    """A bore of 4 in with 0.0045 and 0.0050 in by the inch: 18 and 20 thou."""
    assert ring_gap(bore=4.0 * INCH, share=share) == pytest.approx(gap * THOU, rel=1e-12)
    assert gap_share(gap=gap * THOU, bore=4.0 * INCH) == pytest.approx(share, rel=1e-12)


def test_a_thou_of_bore_is_pi_thou_of_gap() -> None:
    """One thou of bore is 3.14 thou of gap; six thou of gap are nearly two of bore."""
    known = {"reference_gap": 11.0 * THOU, "reference_bore": 2.75 * INCH}
    wider = gap_in_bore(bore=2.751 * INCH, **known)
    assert (wider - 11.0 * THOU) / THOU == pytest.approx(math.pi, rel=1e-9)
    told = bore_from_gap(gap=17.0 * THOU, **known)
    assert (told - 2.75 * INCH) / THOU == pytest.approx(6.0 / math.pi, rel=1e-9)


@given(bores, st.floats(-0.004, 0.004))
def test_gap_and_bore_are_each_others_inverse(bore: float, part: float) -> None:
    """From a bore to its gap and back, for any ring that still goes in."""
    known = {"reference_gap": 0.015 * bore, "reference_bore": bore}
    other = bore * (1.0 + part)
    gap = gap_in_bore(bore=other, **known)
    assert bore_from_gap(gap=gap, **known) == pytest.approx(other, rel=1e-12)


@given(bores, st.floats(0.003, 0.02), st.floats(0.0, 400.0))
def test_ring_and_bore_that_grow_alike_keep_their_gap_by_the_bore(
    bore: float, share: float, rise: float
) -> None:
    """A ring of the bore's metal as warm as the bore: the gap grows as any length does."""
    alpha = 11e-6
    hot = hot_ring_gap(
        gap=share * bore,
        bore=bore,
        bore_strain=alpha * rise,
        ring_growth=alpha,
        ring_temperature=293.15 + rise,
    )
    assert hot == pytest.approx(share * bore, abs=1e-12)


def test_hot_gap_is_the_walls_circle_less_the_rings_length() -> None:
    """Both lengths grown one by one: circumference of the hot bore less the ring's own."""
    bore, gap, strain, alpha, rise = 70e-3, 0.3e-3, 0.8e-3, 11e-6, 130.0
    ring = (math.pi * bore - gap) * (1.0 + alpha * rise)
    exact = math.pi * bore * (1.0 + strain) - ring
    found = hot_ring_gap(
        gap=gap, bore=bore, bore_strain=strain, ring_growth=alpha, ring_temperature=293.15 + rise
    )
    assert found == pytest.approx(exact, abs=gap * alpha * rise * 1.01)


@given(st.floats(0.0, 1e-3), st.floats(0.0, 1e-3))
def test_filing_brings_the_gap_to_what_is_wanted(wanted: float, gap: float) -> None:
    """After filing the gap is the larger of both: no file closes one."""
    off = filing_needed(wanted=wanted, gap=gap)
    assert off >= 0.0
    assert gap + off == pytest.approx(max(wanted, gap), abs=1e-15)


@pytest.mark.parametrize("gap", [0.0, -1e-4, 3.6e-3, math.nan])
def test_a_gap_that_cannot_be_one_is_refused(gap: float) -> None:
    """Nought, below nought, wider than a twentieth of 70 mm, not a number."""
    with pytest.raises(InputError) as refused:
        gap_share(gap=gap, bore=70e-3)
    assert refused.value.field == "gap"


def test_width_of_a_window_against_the_handbooks_limits() -> None:
    """1.500 in across a bore of 2.7555 in is 54.4 %: below the 62 % to begin with."""
    share = window_share(chord=1.5 * INCH, bore=2.7555 * INCH)
    assert share == pytest.approx(0.5444, abs=5e-5)
    assert share < default("window_start").value < default("window_most").value
    assert (default("window_start").value, default("window_most").value) == (0.62, 0.70)


@given(st.floats(0.0, 6.28), st.floats(0.0, 6.28), st.floats(0.1, 0.9))
def test_wall_between_peg_and_window_is_measured_the_shorter_way(
    peg: float, window: float, part: float
) -> None:
    """Turning both together or naming an angle a turn later changes nothing."""
    told = {"chord": part * 70e-3, "bore": 70e-3, "gap": 0.3e-3}
    room = ring_end_room(peg=peg, window=window, **told)
    for turned in (1.0, 2.0 * math.pi):
        moved = ring_end_room(peg=peg + turned, window=window + turned, **told)
        assert moved == pytest.approx(room, abs=1e-12)
    assert ring_end_room(peg=window, window=peg, **told) == pytest.approx(room, abs=1e-12)
    most = (math.pi - math.asin(part)) * 35e-3
    assert room <= most


def test_wall_between_peg_and_window_on_a_drawing() -> None:
    """The same wall stepped off with dividers on a drawn circle, from the chord's own end."""
    corners = np.radians(30.0) + np.linspace(0.0, np.pi, 400_001)
    wall = 35.0 * np.column_stack([np.cos(corners), np.sin(corners)])
    middle = wall[0] / 35.0
    from_middle = wall @ np.array([-middle[1], middle[0]])  # half of the chord at the edge
    edge = int(np.argmax(from_middle >= 14.0))
    peg = int(np.argmax(corners >= math.radians(100.0)))
    drawn = np.hypot(*np.diff(wall[edge : peg + 1], axis=0).T).sum()
    room = ring_end_room(
        peg=math.radians(100.0), window=math.radians(30.0), chord=28e-3, bore=70e-3, gap=0.4e-3
    )
    assert room * 1e3 == pytest.approx(drawn - 0.2, abs=1e-3)
    half = window_half_angle(chord=28e-3, bore=70e-3)
    assert 2.0 * 35.0 * math.sin(half) == pytest.approx(28.0, rel=1e-12)


@given(st.lists(st.tuples(st.floats(0.0, 6.28), st.floats(0.05, 0.8)), max_size=6))
def test_clear_walls_are_what_the_windows_leave(told: list[tuple[float, float]]) -> None:
    """Against a count of 20,000 places round the bore, each seen or not seen through a window."""
    angles, parts = [one for one, _ in told], [part for _, part in told]
    lands = clear_lands(angles, [part * 70e-3 for part in parts], bore=70e-3)
    places = np.linspace(0.0, 2.0 * np.pi, 20_000, endpoint=False)
    is_clear = np.ones_like(places, dtype=bool)
    for angle, part in told:
        apart = np.abs((places - angle + np.pi) % (2.0 * np.pi) - np.pi)
        is_clear &= apart > math.asin(part)
    clear = sum(one.width for one in lands)
    assert clear == pytest.approx(is_clear.mean() * 2.0 * np.pi, abs=12.0 * np.pi / 20_000 + 1e-3)
    widths = [one.width for one in lands]
    assert widths == sorted(widths, reverse=True)
    for land in lands:
        if land.width > 1e-2:
            assert is_clear[int(land.middle / (2.0 * np.pi) * 20_000) % 20_000]


def test_a_chord_that_is_no_chord_is_refused() -> None:
    """As wide as the bore it is none; it may be an arc."""
    with pytest.raises(InputError, match="arc"):
        window_share(chord=70e-3, bore=70e-3)
    with pytest.raises(InputError, match="chords"):
        clear_lands([0.0], [], bore=70e-3)


def test_piston_and_micrometer_of_one_metal_read_true_when_warm() -> None:
    """What both grow by is not seen; aluminium on steel is, by the difference."""
    told = {"piston_diameter": 70e-3, "piston_temperature": 313.15}
    same = skirt_at_reference(piston_growth=11.5e-6, gauge_expansion=11.5e-6, **told)
    assert same == pytest.approx(70e-3, abs=1e-15)
    cast = skirt_at_reference(piston_growth=20.5e-6, gauge_expansion=11.5e-6, **told)
    assert cast - 70e-3 == pytest.approx(-70e-3 * 9e-6 * 20.0, rel=1e-3)
    worth = skirt_warmth(piston_diameter=70e-3, piston_growth=20.5e-6, difference=20.0)
    assert worth == pytest.approx(28.7e-6, rel=1e-9)
    assert looseness_of(clearance=2.5 * THOU, bore=2.5 * INCH) == pytest.approx(1e-3, rel=1e-12)


def test_a_piston_far_from_room_warmth_is_refused() -> None:
    """A hot piston is not gauged to a size."""
    with pytest.raises(InputError, match="piston above 20 degC"):
        skirt_at_reference(
            piston_diameter=70e-3, piston_temperature=373.15, piston_growth=20e-6,
            gauge_expansion=11.5e-6,
        )  # fmt: skip
