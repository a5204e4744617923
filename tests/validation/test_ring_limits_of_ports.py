"""Windows, bars and chamfers against what is printed, drawn geometry and other roads."""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from sleevewright.core.engine.ring_ends import window_share
from sleevewright.core.materials import default
from sleevewright.core.ports.chamfer import (
    chamfer_advance,
    chamfer_height,
    chamfer_lasts,
    chamfer_width,
)
from sleevewright.core.ports.outline import PortShape, port_outline
from sleevewright.core.ports.ring_limits import ring_bow_ratio, wall_between
from sleevewright.errors import InputError
from sleevewright.planning.ring_limits_said import ring_limit, ring_limits

STROKE, ROD = 0.072, 0.125


def test_jennings_1973_shares_of_an_exhaust_window() -> None:
    """Jennings, Two-Stroke Tuner's Handbook, 1973: start at 62 % of the bore, at most 70 %.

    On a bore of 66.4 mm that is 41.17 and 46.48 mm, by hand.
    """
    start, most = default("window_start"), default("window_most")
    assert start.source == most.source == "jennings-1973"
    assert window_share(chord=41.168e-3, bore=66.4e-3) == pytest.approx(start.value, abs=1e-9)
    assert window_share(chord=46.48e-3, bore=66.4e-3) == pytest.approx(most.value, abs=1e-9)


def test_limits_of_common_practice_carry_their_range() -> None:
    """Transfers 45 to 50 %, bars 3 to 5 and 4 to 5 mm, corners, relief, chamfers: as said."""
    told = {one.id: (one.low, one.high) for one in ring_limits()}
    assert told["transfer_width"] == (0.45, 0.50)
    assert told["exhaust_bar"] == (0.003, 0.005)
    assert told["transfer_bar"] == (0.004, 0.005)
    assert told["exhaust_corner"] == (0.006, 0.010)
    assert told["transfer_corner"] == (0.003, 0.004)
    assert (told["chamfer_least"][0], told["chamfer_most"][1]) == (0.0004, 0.001)
    assert all(one.source == "practice" for one in ring_limits())
    assert "45 to 50 %" in ring_limit("transfer_width").words
    assert "common practice" in ring_limit("transfer_width").words


def sag(span: float) -> float:
    """Sag of a beam of unit stiffness under a unit load, by finite differences."""
    count = 401
    step = span / (count - 1)
    inner = count - 2
    second = (np.diag(-2.0 * np.ones(inner)) + np.diag(np.ones(inner - 1), 1)
              + np.diag(np.ones(inner - 1), -1)) / step**2  # fmt: skip
    moment = np.linalg.solve(second, -np.ones(inner))
    return float(np.abs(np.linalg.solve(second, -moment)).max())


@pytest.mark.parametrize(("wider", "says"), [(1.05, 0.22), (1.10, 0.46)])
def test_a_wider_window_weighs_by_the_fourth_power(wider: float, says: float) -> None:
    """Five per cent wider is 22 % more, ten per cent 46 %; a beam solved by steps agrees."""
    ratio = float(ring_bow_ratio(width=wider * 0.042, reference_width=0.042))
    assert ratio - 1.0 == pytest.approx(says, abs=0.005)
    assert ratio == pytest.approx(sag(wider * 0.042) / sag(0.042), rel=1e-9)


def test_the_wall_between_windows_is_that_of_a_library_of_geometry() -> None:
    """Two hundred pairs of windows, apart, touching and across each other, against shapely."""
    rng = np.random.default_rng(7)
    overlaps = 0
    for _ in range(200):
        outlines = []
        for _ in range(2):
            width, height = rng.uniform(5e-3, 30e-3, 2)
            radius = rng.uniform(0.0, 0.45) * min(width, height)
            roof = rng.uniform(0.03, 0.06)
            shape = PortShape(
                roof=roof, floor=roof + height, top=width, bottom=width,
                radii=(radius,) * 4, centre=rng.uniform(0.0, 0.06),
            )  # fmt: skip
            outlines.append(port_outline(shape))
        one, other = outlines
        expected = Polygon(one).distance(Polygon(other))
        overlaps += expected == 0.0
        assert wall_between(one, other, round_bore=10.0) == pytest.approx(expected, abs=1e-12)
        assert wall_between(other, one, round_bore=10.0) == pytest.approx(expected, abs=1e-12)
    assert 20 < overlaps < 180


def test_the_wall_between_windows_goes_the_shorter_way_round() -> None:
    """One window just before the seam and one just after it are neighbours."""
    one = port_outline(PortShape(0.05, 0.07, 0.02, 0.02, centre=0.011))
    other = port_outline(PortShape(0.05, 0.07, 0.02, 0.02, centre=0.189))
    assert wall_between(one, other, round_bore=0.2) == pytest.approx(0.002, abs=1e-12)
    held = port_outline(PortShape(0.055, 0.06, 0.004, 0.004, centre=0.011))
    assert wall_between(one, held, round_bore=0.2) == 0.0


@pytest.mark.parametrize("depth", [0.1e-3, 0.3e-3, 0.5e-3])
@pytest.mark.parametrize("degrees", [15.0, 22.0, 30.0])
def test_a_chamfer_is_that_of_a_drawn_section(depth: float, degrees: float) -> None:
    """A flat is drawn from the edge of the window at its angle and cut with the bore's face.

    The section is drawn with the face upright, the window's edge level, and the line through
    the point of the edge that lies as deep in the wall as the chamfer.
    """
    angle, far = math.radians(degrees), 0.02
    start = np.array([depth, 0.0])
    end = start + far * np.array([-math.sin(angle), math.cos(angle)])
    face = LineString([(0.0, 0.0), (0.0, far)])
    met = LineString([start, end]).intersection(face)
    told = {"depth": depth, "angle": angle}
    assert float(chamfer_height(**told)) == pytest.approx(met.y, rel=1e-9)
    drawn = math.dist((met.x, met.y), tuple(start))
    assert float(chamfer_width(**told)) == pytest.approx(drawn, rel=1e-9)


def test_a_chamfer_of_a_millimetre_by_three_tenths_has_a_usual_angle() -> None:
    """Tuning texts tell 1 mm along the wall by 0.3 mm deep: within 15 to 30 degrees (practice)."""
    angle = math.atan2(0.3, 1.0)
    assert math.radians(15.0) < angle < math.radians(30.0)
    assert float(chamfer_height(depth=0.3e-3, angle=angle)) == pytest.approx(1e-3, rel=1e-12)
    usual = default("chamfer_angle")
    assert (usual.low, usual.high) == pytest.approx((math.radians(15.0), math.radians(30.0)))


def drop_by_vectors(angle: float) -> float:
    """Drop of the piston from the places of crank pin and wrist pin."""
    pin = 0.5 * STROKE * np.array([math.sin(angle), math.cos(angle)])
    wrist = pin[1] + math.sqrt(ROD**2 - pin[0] ** 2)
    return 0.5 * STROKE + ROD - wrist


def test_the_advance_of_a_chamfer_is_that_of_a_crank_turned_by_hand() -> None:
    """Where the crown passes the roof and the end of its chamfer, found by halving the turn."""

    def passes(depth: float) -> float:
        low, high = 0.0, math.pi
        for _ in range(60):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if drop_by_vectors(middle) < depth else (low, middle)
        return low

    crank = {"deck_clearance": 0.0, "stroke": STROKE, "rod": ROD}
    for roof, height in ((0.0375, 1e-3), (0.056, 0.6e-3)):
        told = float(chamfer_advance(height=height, roof_depth=roof, **crank))
        assert told == pytest.approx(passes(roof) - passes(roof - height), abs=1e-12)
        assert float(chamfer_lasts(told)) == pytest.approx(2.0 * told)
    assert float(chamfer_advance(height=0.0, roof_depth=0.0375, **crank)) == 0.0


def test_chamfers_that_cannot_be_are_refused() -> None:
    """A flat across the wall, one along it, a negative one: each with its field."""
    for wrong in (0.0, math.pi / 2.0, -0.1):
        with pytest.raises(InputError, match="chamfer angle"):
            chamfer_height(depth=1e-3, angle=wrong)
    with pytest.raises(InputError, match="chamfer depth"):
        chamfer_width(depth=-1e-3, angle=0.4)
    with pytest.raises(InputError, match="advance"):
        chamfer_lasts(-0.1)
    with pytest.raises(InputError, match="width"):
        ring_bow_ratio(width=0.0, reference_width=0.04)
