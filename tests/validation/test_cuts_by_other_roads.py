"""Speeds, forces, bars and roughness against numerical integrals, root finders and other tables."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from sleevewright.core.cutting.cutting_tables import force_law
from sleevewright.core.cutting.deflection import (
    bar_frequency,
    bar_give,
    tapered_bar_give,
)
from sleevewright.core.cutting.finish_roughness import (
    mean_roughness,
    ridge_height,
    ridge_height_brammertz_1961,
)
from sleevewright.core.cutting.force import (
    CutEdge,
    chip_thickness,
    radial_force,
    radial_share,
    specific_force,
)
from sleevewright.core.cutting.interrupted import Window, most_open
from sleevewright.core.cutting.speeds import spindle_turns
from sleevewright.core.cutting.taken import cut_taken, depth_taken

LEAD = math.radians(75.0)
BEHIND = math.radians(15.0)
STEEL = 2.06e11


def by_integral(length: float, thickness: object, modulus: float) -> float:
    """Give of a cantilever by the integral of x squared over its stiffness (Castigliano)."""

    def strip(x: float) -> float:
        return x**2 / (modulus * math.pi * thickness(x) ** 4 / 64.0)  # type: ignore[operator]  # a plain function

    return float(quad(strip, 0.0, length, limit=200)[0])


@pytest.mark.parametrize(("end", "root"), [(0.016, 0.016), (0.012, 0.030), (0.030, 0.020)])
def test_a_tapered_bar_gives_as_its_integral_does(end: float, root: float) -> None:
    """Closed form and integral agree, whichever end is the thicker."""
    closed = tapered_bar_give(
        overhang=0.11, end_diameter=end, root_diameter=root, bar_modulus=STEEL
    )
    road = by_integral(0.11, lambda x: end + (root - end) * x / 0.11, STEEL)
    assert closed == pytest.approx(road, rel=1e-9)


def test_a_bar_swings_as_a_chain_of_masses_does() -> None:
    """The lowest root of a beam of 300 lumped strips lies within 0.5 % of the closed form."""
    length, bar, density, count = 0.1016, 0.0254, 7850.0, 300
    x = (np.arange(count) + 0.5) / count * length
    inertia = math.pi * bar**4 / 64.0
    near, far = np.minimum.outer(x, x), np.maximum.outer(x, x)
    gives = near**2 * (3.0 * far - near) / (6.0 * STEEL * inertia)
    mass = density * math.pi * bar**2 / 4.0 * length / count
    largest = float(np.linalg.eigvalsh(gives * mass)[-1])
    closed = bar_frequency(overhang=length, bar=bar, bar_modulus=STEEL, bar_density=density)
    assert closed == pytest.approx(1.0 / (2.0 * math.pi * math.sqrt(largest)), rel=5e-3)


@pytest.mark.parametrize(("feed", "nose"), [(2e-4, 8e-4), (5e-5, 4e-4), (2e-4, 4e-4), (1e-5, 1e-3)])
def test_roughness_is_that_of_the_profile(feed: float, nose: float) -> None:
    """Rz and Ra of 400 001 points of the arc (ISO 21920-2: height, mean of the absolute)."""
    x = np.linspace(-0.5 * feed, 0.5 * feed, 400_001)
    y = x**2 / (nose + np.sqrt(nose**2 - x**2))
    mean = np.trapezoid(y, x) / feed
    ra = np.trapezoid(np.abs(y - mean), x) / feed
    told = {"feed": feed, "nose": nose, "end_angle": BEHIND}
    assert float(ridge_height(**told)) == pytest.approx(float(np.ptp(y)), rel=1e-9)
    assert float(mean_roughness(**told)) == pytest.approx(float(ra), rel=1e-6)


def test_a_parabola_is_the_limit_of_a_fine_feed() -> None:
    """At a fiftieth of the nose Ra is f^2 / (18 sqrt 3 r) to 1e-4, and not f^2 / (32 r)."""
    feed, nose = 2e-5, 1e-3
    ra = float(mean_roughness(feed=feed, nose=nose, end_angle=BEHIND))
    assert ra == pytest.approx(feed**2 / (18.0 * math.sqrt(3.0) * nose), rel=1e-4)
    assert ra / (feed**2 / (32.0 * nose)) == pytest.approx(1.0264, abs=2e-4)


def test_a_chip_that_is_too_thin_only_adds() -> None:
    """Brammertz 1961 (from memory) is the geometry where nothing is squeezed, else more."""
    told = {"geometric": 3e-6, "nose": 4e-4, "feed": 1e-4}
    assert ridge_height_brammertz_1961(least_chip=0.0, **told) == 3e-6
    by_hand = 3.0 + 2.0 + 2.0 * 400.0 * 4.0 / 100.0**2
    found = ridge_height_brammertz_1961(least_chip=4e-6, **told)
    assert 1e6 * found == pytest.approx(by_hand, rel=1e-12)


@pytest.mark.parametrize("depth", [2e-5, 1e-4, 2.9e-4, 5e-4, 2e-3])
def test_a_chip_is_as_thick_as_the_edge_that_cuts_is_long(depth: float) -> None:
    """Length and direction of the edge by 200 001 points of its outline."""
    nose, feed = 4e-4, 1e-4
    turn = np.linspace(0.0, LEAD, 200_001)
    along, up = nose * np.sin(turn), nose * (1.0 - np.cos(turn))
    rest = max(0.0, depth - up[-1])
    along = np.append(along, along[-1] + rest / math.tan(LEAD))
    up = np.append(up, up[-1] + rest)
    cuts = up <= depth * (1.0 + 1e-12)
    length = float(np.hypot(np.diff(along[cuts]), np.diff(up[cuts])).sum())
    told = {"depth": depth, "feed": feed, "nose": nose, "lead": LEAD}
    assert float(chip_thickness(**told)) == pytest.approx(depth * feed / length, rel=1e-4)
    chord = math.atan2(depth, float(along[cuts][-1]) + 0.5 * feed)
    share = float(radial_share(thrust_share=0.5, **told))
    assert share == pytest.approx(0.5 * math.cos(chord), rel=1e-4)


def test_forces_of_iron_lie_with_those_of_other_tables() -> None:
    """Chips of 0.25 mm: 1.6 J/mm3 for cast iron, 0.7 to 0.8 for aluminium (Groover's table).

    Iron is met within a tenth.  Aluminium is 30 % above that table: another edge and alloy;
    its range reaches down to it.
    """
    iron, light = force_law("grey-iron"), force_law("aluminium")
    chip = 2.5e-4
    assert specific_force(kc11=iron.kc11, mc=iron.mc, thickness=chip) == pytest.approx(
        1.6e9, rel=0.1
    )
    low = specific_force(kc11=light.low, mc=light.mc, thickness=chip)
    assert low < 0.8e9 < specific_force(kc11=light.kc11, mc=light.mc, thickness=chip)


@pytest.mark.parametrize(
    ("feed", "printed"),
    [(0.16, 2.05), (0.25, 1.80), (0.4, 1.60), (0.63, 1.45), (1.0, 1.30), (1.6, 1.15)],
)
def test_grey_iron_falls_with_feed_as_another_table_says(feed: float, printed: float) -> None:
    """Six printed forces of EN-GJL-250 by feed at 45 degrees (manual of a chuck), to 15 %."""
    law = force_law("grey-iron")
    thickness = 1e-3 * feed * math.sin(math.radians(45.0))
    found = specific_force(kc11=law.kc11, mc=law.mc, thickness=thickness)
    assert found == pytest.approx(1e9 * printed, rel=0.15)


@pytest.mark.parametrize(
    ("metal", "printed"),
    [
        ("grey-iron", (2.11, 1.80, 1.60, 1.40, 1.33)),
        ("hard-iron", (3.19, 2.80, 2.60, 2.45, 2.27)),
    ],
)
def test_irons_fall_with_feed_as_a_third_table_says(metal: str, printed: tuple[float, ...]) -> None:
    """Forces by feed of grey iron of 200 HB and hard iron of 46 HRC (a page on power).

    Grey iron, whose law is another table's, to 15 %; hard iron, whose law is a line through
    these, to 2 %.
    """
    law, near = force_law(metal), 0.15 if metal == "grey-iron" else 0.02
    for feed, force in zip((1e-4, 2e-4, 3e-4, 4e-4, 6e-4), printed, strict=True):
        found = specific_force(kc11=law.kc11, mc=law.mc, thickness=feed)
        assert found == pytest.approx(1e9 * force, rel=near)


def test_what_is_taken_is_the_root_of_a_root_finder() -> None:
    """The settled depth and the root by bracketing agree to 1e-9, over soft and stiff bars."""
    edge = CutEdge(5e-5, 4e-4, LEAD, 1.15e9, 0.2, 0.5)
    for give in (1e-8, 1e-7, 1e-6, 1e-5):

        def miss(depth: float, give: float = give) -> float:
            return depth + give * float(radial_force(depth=depth, edge=edge)) - 5e-5

        road = 2.0 * brentq(miss, 1e-9, 5e-5, xtol=1e-16, rtol=1e-14)
        found = cut_taken(ask=1e-4, own_give=give, holder_give=0.0, edge=edge)
        assert float(found) == pytest.approx(road, rel=1e-9)


def test_a_force_in_proportion_takes_the_share_of_two_springs() -> None:
    """The share k / (k + c) and the settled depth agree where the force is c times the depth."""
    taken = depth_taken(depth=1e-4, edge_give=1.0 / 3e6, radial_force=lambda depth: 1e6 * depth)
    assert taken / 1e-4 == pytest.approx(3e6 / (3e6 + 1e6), rel=1e-10)


def test_most_is_open_where_a_scan_finds_it() -> None:
    """A scan of 5 001 depths with the arcs summed up at each finds no less left to cut."""
    ports = (Window(0.030, 0.048, 0.030), Window(0.036, 0.050, 0.018), Window(0.036, 0.050, 0.018),
             Window(0.044, 0.060, 0.022))  # fmt: skip
    diameter = 0.060
    least = 1.0
    for depth in np.linspace(0.0, 0.07, 5001):
        here = [one.width for one in ports if one.roof < depth < one.floor]
        least = min(least, 1.0 - sum(2.0 * math.asin(w / diameter) for w in here) / math.tau)
    found = most_open(port_windows=ports, diameter=diameter)
    assert found.cutting_share == pytest.approx(least, abs=1e-12)
    assert found.count == 4
    assert 0.044 < found.depth < 0.048


def test_the_rule_of_the_shop_is_the_same_rounded() -> None:
    """The rule rpm = 3.82 ft/min over inches differs by less than its rounding, 0.01 in 3.82."""
    turns = 60.0 * float(spindle_turns(cutting_speed=300.0 * 0.3048 / 60.0, diameter=3.0 * 0.0254))
    assert turns == pytest.approx(3.82 * 300.0 / 3.0, rel=0.005 / 3.82)


def test_a_straight_bar_is_a_taper_that_is_none() -> None:
    """Both forms agree for one thickness, and with a cantilever of the handbooks, L^3/3EI."""
    one = bar_give(overhang=0.1, bar=0.02, bar_modulus=STEEL)
    taper = tapered_bar_give(overhang=0.1, end_diameter=0.02, root_diameter=0.02, bar_modulus=STEEL)
    assert one == pytest.approx(taper, rel=1e-12)
    assert one == pytest.approx(0.1**3 / (3.0 * STEEL * math.pi * 0.02**4 / 64.0), rel=1e-12)
