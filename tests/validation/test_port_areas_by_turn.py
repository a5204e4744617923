"""Areas of ports over the turn: against shapely's clipping, quadrature and closed forms.

The reference library is shapely, which clips the same polygons; plane geometry gives the
rectangle, the stadium and the projection of a window of a round wall.
"""

import itertools
import math

import numpy as np
import pytest
from scipy.integrate import quad
from shapely.geometry import Polygon, box

from sleevewright.core.engine.volumes import swept_volume
from sleevewright.core.ports.area_doubt import (
    AreaAsTold,
    angle_area_near,
    angles_apart,
    areas_together,
    blowdown_area_near,
    share_changed,
)
from sleevewright.core.ports.breathing import (
    effective_area,
    flowing_area,
    least_area,
    time_area,
    volume_at_opening,
)
from sleevewright.core.ports.chamfer import chamfer_height
from sleevewright.core.ports.crank import Crank
from sleevewright.core.ports.crank_offset import lasts_below, passes_down, passes_up
from sleevewright.core.ports.curves import (
    curve_angle_area,
    mean_open_area,
    mid_angle_area,
    open_width,
    port_curves,
    roof_width,
    skirt_open_area,
)
from sleevewright.core.ports.exposed import exposed_area, open_area, specific_time_area
from sleevewright.core.ports.inlets import inlet_lasts
from sleevewright.core.ports.outline import Points, PortShape, port_outline
from sleevewright.errors import InputError

CRANK = Crank(0.072, 0.125, 0.0002, 0.001)
BORE = 0.0664


def window(roof: float, floor: float, width: float, radius: float, arch: float = 0.0) -> Points:
    """A window along the wall."""
    return port_outline(PortShape(roof, floor, width, width, (radius,) * 4, arch))


EXHAUST = window(0.0375, 0.072, 0.046, 0.009, 0.0012)
REAR = window(0.056, 0.0716, 0.022, 0.003)
LOW_REAR = window(0.0582, 0.0716, 0.022, 0.003)


def clipped(points: Points, top: float, bottom: float) -> float:
    """Area of an outline between two depths, by shapely."""
    return float(Polygon(points).intersection(box(-1.0, top, 1.0, bottom)).area)


@pytest.mark.parametrize("points", [EXHAUST, REAR], ids=["exhaust", "rear"])
def test_curves_against_shapely(points: Points) -> None:
    """Every fifth degree of a turn, above the crown and below the skirt, to a part in 10^12."""
    skirt = 0.030
    area = exposed_area(points)
    crown, below = port_curves(
        (("crown", area), ("skirt", area)), crank=CRANK, skirts=(None, skirt), steps=72
    ).areas
    for number, angle in enumerate(np.linspace(0.0, 2.0 * math.pi, 73)):
        depth = float(CRANK.depth_at(angle))
        assert crown[number] == pytest.approx(clipped(points, -1.0, depth), abs=1e-14)
        assert below[number] == pytest.approx(clipped(points, depth + skirt, 1.0), abs=1e-14)


def test_angle_area_against_quadrature() -> None:
    """The curve's trapezia against scipy's adaptive quadrature, whole and between two angles."""
    area = exposed_area(EXHAUST)
    curves = port_curves((("exhaust", area),), crank=CRANK)
    for first, last in ((0.0, 2.0 * math.pi), (1.4671, 2.0233)):
        by_quad = quad(
            lambda t: float(open_area(area, depth=float(CRANK.depth_at(t)))),
            first,
            last,
            limit=400,
            epsabs=1e-12,
        )[0]
        own = curve_angle_area(curves.of("exhaust"), angles=curves.angles, first=first, last=last)
        assert float(own) == pytest.approx(by_quad, rel=2e-6)
    none = curve_angle_area(curves.of("exhaust"), angles=curves.angles, first=2.0, last=1.0)
    assert float(none) == 0.0


def test_pieces_add_up_to_the_turn() -> None:
    """Angle-areas of neighbouring pieces together are that of the whole turn."""
    curves = port_curves((("rear", exposed_area(REAR)),), crank=CRANK)
    ends = (0.0, 1.234, 2.0, 3.3333, 2.0 * math.pi)
    parts = [
        float(curve_angle_area(curves.of("rear"), angles=curves.angles, first=a, last=b))
        for a, b in itertools.pairwise(ends)
    ]
    whole = float(curve_angle_area(curves.of("rear"), angles=curves.angles))
    assert sum(parts) == pytest.approx(whole, rel=1e-12)


def test_opening_and_closing_differ_with_the_pin_off_the_axis() -> None:
    """Both halves are alike on the axis, and change places with the sign of the offset."""
    area = exposed_area(EXHAUST)

    def halves(offset: float) -> tuple[float, float]:
        curves = port_curves((("e", area),), crank=Crank(0.072, 0.125, 0.0, offset))
        row, angles = curves.of("e"), curves.angles
        return (
            float(curve_angle_area(row, angles=angles, last=math.pi)),
            float(curve_angle_area(row, angles=angles, first=math.pi)),
        )

    on, plus, minus = halves(0.0), halves(0.002), halves(-0.002)
    assert on[0] == pytest.approx(on[1], rel=1e-12)
    assert plus[0] < on[0] < minus[0]
    assert plus[0] == pytest.approx(minus[1], rel=1e-12)


def test_low_rear_opens_late_and_loses_a_fifth() -> None:
    """Roof 2.2 mm low: 4.6 degrees late, 118.9 for 128.2, -20.3 % of itself (derived here)."""
    crank = Crank(0.072, 0.125)
    late = {roof: math.degrees(passes_down(edge_depth=roof, **crank.parts))
            for roof in (0.0375, 0.056, 0.0582)}  # fmt: skip
    assert late[0.0375] == pytest.approx(84.04, abs=0.005)
    assert late[0.056] == pytest.approx(115.91, abs=0.005)
    assert late[0.0582] - late[0.056] == pytest.approx(4.6, abs=0.05)
    lasts = math.degrees(lasts_below(edge_depth=0.0582, **crank.parts))
    assert lasts == pytest.approx(118.9, abs=0.05)
    areas = (("rear", exposed_area(REAR)), ("low", exposed_area(LOW_REAR)))
    curves = port_curves(areas, crank=crank)
    stock, low = (float(one) for one in curve_angle_area(curves.areas, angles=curves.angles))
    assert share_changed(former_area=stock, present_area=low) == pytest.approx(-0.203, abs=5e-4)
    volume = swept_volume(bore=BORE, stroke=0.072)
    worth = specific_time_area(angle_area=stock, speed=8000.0 / 60.0 * 2.0 * math.pi, volume=volume)
    assert worth == pytest.approx(0.00244, abs=1e-5)


def test_units_of_the_specific_time_area() -> None:
    """1 s mm2/cm3 is 1 s/m, 1 s cm2/cm3 is 100 s/m; TA = AA/(6 N) with degrees and rpm."""
    area = 100e-6 * math.radians(60.0)
    by_degrees = 100.0 * 60.0 / (6.0 * 5000.0)  # mm2 s
    speed = 5000.0 / 60.0 * 2.0 * math.pi
    assert time_area(angle_area=area, speed=speed) * 1e6 == pytest.approx(by_degrees, rel=1e-12)
    one = specific_time_area(angle_area=1e-6, speed=1.0, volume=1e-6)
    assert one == pytest.approx(1.0, rel=1e-12)
    hundred = specific_time_area(angle_area=1e-4, speed=1.0, volume=1e-6)
    assert hundred == pytest.approx(100.0, rel=1e-12)


def test_the_volume_makes_a_factor() -> None:
    """Trapped above a roof 37.5 mm down is 0.52 of what is swept; with the chamber it is more."""
    swept = swept_volume(bore=BORE, stroke=0.072)
    trapped = volume_at_opening(
        clearance_volume=0.0, bore=BORE, roof_depth=0.0375, deck_clearance=0.0
    )
    assert trapped / swept == pytest.approx(37.5 / 72.0, rel=1e-12)
    whole = volume_at_opening(
        clearance_volume=2e-5, bore=BORE, roof_depth=0.0375, deck_clearance=0.0
    )
    assert whole - trapped == pytest.approx(2e-5, rel=1e-12)
    with pytest.raises(InputError, match="roof below"):
        volume_at_opening(clearance_volume=0.0, bore=BORE, roof_depth=0.0, deck_clearance=0.001)


def test_middle_area_is_no_integral() -> None:
    """Middle area by time and the integral differ on the same port by a ratio that is told.

    A window whose open area grows in proportion to the angle past its opening would give twice
    the middle area times half the time, that is, the same; a real one lies above.
    """
    area = exposed_area(EXHAUST)
    crank = Crank(0.072, 0.125)
    opens, closes = (f(edge_depth=0.0375, **crank.parts) for f in (passes_down, passes_up))
    by_hand = mid_angle_area(area, crank=crank, opens=opens, closes=closes)
    middle = 0.5 * (opens + math.pi)
    shown = clipped(EXHAUST, -1.0, float(crank.depth_at(middle)))
    assert by_hand == pytest.approx(shown * (2.0 * math.pi - opens - closes), rel=1e-12)
    curves = port_curves((("e", area),), crank=crank)
    whole = float(curve_angle_area(curves.of("e"), angles=curves.angles))
    assert 1.05 < by_hand / whole < 1.25
    mean = mean_open_area(angle_area=whole, lasts=2.0 * math.pi - opens - closes)
    assert mean == pytest.approx(shown * whole / by_hand, rel=1e-12)
    with pytest.raises(InputError, match="lasts"):
        mean_open_area(angle_area=whole, lasts=0.0)


@pytest.mark.parametrize(("plan", "rise"), [(0.0, 0.0), (0.3, 0.0), (-0.4, 0.25)])
def test_projected_window_is_chord_by_height(plan: float, rise: float) -> None:
    """The integral of f.n over the round wall is chord by height by both cosines."""
    half, height = 0.42, 0.0156
    flow = (math.cos(rise) * math.cos(plan), math.cos(rise) * math.sin(plan))
    over_wall = quad(
        lambda t: BORE / 2.0 * (flow[0] * math.cos(t) + flow[1] * math.sin(t)), -half, half
    )[0]
    chord = BORE * math.sin(half)
    own = effective_area(chord=chord, open_height=height, plan_angle=plan, elevation=rise)
    assert own == pytest.approx(over_wall * height, rel=1e-12)


def test_what_lets_through_is_the_least() -> None:
    """The throat counts where it is the narrower, and a coefficient only where one is chosen."""
    assert least_area(effective=4e-4, throat=3e-4) == 3e-4
    assert least_area(effective=2e-4, throat=3e-4) == 2e-4
    assert flowing_area(area=4e-4, discharge=0.75) == pytest.approx(3e-4)
    for wrong in (0.0, 1.2):
        with pytest.raises(InputError, match="coefficient"):
            flowing_area(area=4e-4, discharge=wrong)
    with pytest.raises(InputError, match="plan"):
        effective_area(chord=0.02, open_height=0.02, plan_angle=1.6, elevation=0.0)


def test_first_order_is_the_slope_of_the_whole() -> None:
    """Moving roof, sides or deck by 20 microns changes the angle-area as the doubt says."""
    crank, step = Crank(0.072, 0.125), 2e-5

    def whole(roof: float, deck: float, wider: float = 0.0) -> float:
        points = window(roof, 0.0716, 0.024 + wider, 0.004)
        made = port_curves((("m", exposed_area(points)),), crank=Crank(0.072, 0.125, deck))
        return float(curve_angle_area(made.of("m"), angles=made.angles))

    area = exposed_area(window(0.056, 0.0716, 0.024, 0.004))
    angles = np.linspace(0.0, 2.0 * math.pi, 3601)
    sweep = np.trapezoid(open_width(area, depth=np.asarray(crank.depth_at(angles))), angles)
    height = np.clip(np.asarray(crank.depth_at(angles)), 0.056, 0.0716) - 0.056
    told = AreaAsTold(whole(0.056, 0.0), roof_width(area), float(sweep),
                      float(np.trapezoid(height, angles)), 0.056, 0.0)  # fmt: skip
    lasts = lasts_below(edge_depth=0.056, **crank.parts)
    for roof, deck, wider in ((0.056 + step, 0.0, 0.0), (0.056, step, 0.0), (0.056, 0.0, step)):
        own = angle_area_near(as_told=told, lasts=lasts, roof_depth=roof, sides_out=wider,
                              deck_clearance=deck)  # fmt: skip
        change = whole(roof, deck, wider) - told.angle_area
        assert own - told.angle_area == pytest.approx(change, rel=0.02)


def test_blowdown_near_its_angles() -> None:
    """A later transfer adds what the exhaust then has open; a lower exhaust roof takes a strip."""
    area, crank = exposed_area(EXHAUST), Crank(0.072, 0.125)
    curves = port_curves((("e", area),), crank=crank)
    first, last = (float(passes_down(edge_depth=h, **crank.parts)) for h in (0.0375, 0.056))

    def blown(until: float) -> float:
        made = curve_angle_area(curves.of("e"), angles=curves.angles, first=first, last=until)
        return float(made)

    told = AreaAsTold(blown(last), roof_width(area), 0.0, 0.0, 0.0375, 0.0)
    then = float(np.interp(last, curves.angles, curves.of("e")))
    more = {"as_told": told, "area": then, "told_opens": last}
    later = blowdown_area_near(blowdown=last - first, roof_depth=0.0375, opens=last + 1e-3, **more)
    assert later - told.angle_area == pytest.approx(blown(last + 1e-3) - blown(last), rel=0.01)
    lower = blowdown_area_near(blowdown=last - first, roof_depth=0.0376, opens=last, **more)
    moved = port_curves(
        (("e", exposed_area(window(0.0376, 0.072, 0.046, 0.009, 0.0012))),), crank=crank
    )
    real = float(curve_angle_area(moved.of("e"), angles=moved.angles, last=last))
    assert lower - told.angle_area == pytest.approx(real - told.angle_area, rel=0.12)


def test_widths_near_the_roof_are_not_taken_in_by_an_edge_without_height() -> None:
    """A roof that leans by a rounding error, as angles make it, keeps its width."""
    points = np.array([[0.0, 0.05], [0.02, 0.05 + 1e-17], [0.02, 0.07], [0.0, 0.07 - 1e-17]])
    points[1, 1] = np.nextafter(0.05, 1.0)
    area = exposed_area(points)
    assert roof_width(area) == pytest.approx(0.02, rel=1e-9)
    assert float(open_width(area, depth=0.06)) == pytest.approx(0.02, rel=1e-6)


def test_inlet_is_open_about_top_dead_centre() -> None:
    """Floor 108 mm down, skirt 70 mm: it opens and closes where the crown stands at 38 mm."""
    crank = Crank(0.072, 0.125, 0.0, 0.001)
    opens = passes_up(edge_depth=0.108 - 0.070, **crank.parts)
    closes = passes_down(edge_depth=0.108 - 0.070, **crank.parts)
    lasts = inlet_lasts(opens=opens, closes=closes)
    assert lasts == pytest.approx(
        2.0 * math.pi - lasts_below(edge_depth=0.038, **crank.parts), abs=1e-12
    )
    area = exposed_area(window(0.085, 0.108, 0.030, 0.003))
    curves = port_curves((("inlet", area),), crank=crank, skirts=(0.070,))
    is_open = curves.of("inlet") > 1e-15
    half = len(curves.angles) // 2
    assert math.degrees(curves.angles[:half][is_open[:half]].max()) == pytest.approx(
        math.degrees(closes), abs=0.11
    )
    assert curves.of("inlet")[half] == 0.0
    assert curves.of("inlet")[0] == pytest.approx(area.whole, rel=1e-12)
    with pytest.raises(InputError, match="skirt"):
        skirt_open_area(area, depth=0.0, skirt=0.0)
    with pytest.raises(InputError, match="opens"):
        inlet_lasts(opens=-0.1, closes=1.0)


def test_flat_chamfer_reaches_far() -> None:
    """At 45 degrees as high as it is deep, at 15 degrees 3.73 times; a blunt one is refused."""
    as_high = chamfer_height(depth=0.4e-3, angle=math.pi / 4.0)
    assert as_high == pytest.approx(0.4e-3)
    flat = chamfer_height(depth=0.4e-3, angle=math.radians(15.0))
    assert flat == pytest.approx(0.4e-3 * (2.0 + math.sqrt(3.0)), rel=1e-12)
    with pytest.raises(InputError, match="chamfer"):
        chamfer_height(depth=0.4e-3, angle=1.58)


def test_sums_and_differences_are_plain() -> None:
    """Two windows together, and how far apart two openings are."""
    assert areas_together(one=2e-4, other=3e-4) == pytest.approx(5e-4)
    assert angles_apart(later=2.0, sooner=1.5) == 0.5
    with pytest.raises(InputError, match="former area"):
        share_changed(former_area=0.0, present_area=1.0)
    with pytest.raises(InputError, match="steps"):
        port_curves((), crank=Crank(0.072, 0.125), steps=8)


@pytest.mark.parametrize("left", [0.02, 0.24])
def test_roof_that_falls_by_one_rounding_has_its_whole_area(left: float) -> None:
    """One ulp between two corners of a roof turns no area round: shapely's area, from any start."""
    deeper = float(np.nextafter(0.056, 1.0))
    corners = [(left, 0.056), (left + 0.018, deeper), (left + 0.018, 0.0716), (left, 0.0716)]
    for points in (corners, corners[::-1], corners[1:] + corners[:1]):
        found = exposed_area(np.array(points))
        assert found.whole == pytest.approx(Polygon(points).area, rel=1e-9)
        assert np.all(np.diff(found.areas) > 0.0)
        assert np.diff(found.levels).min() > 1e-12
