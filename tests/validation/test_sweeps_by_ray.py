"""Sweeps, shims and screws against plain geometry: a circle met by a ray, a body turned.

Source of every relation here: ``derived``, worked out a second way that shares no code with
the first; the lever's factors are the cosine law (``derived``, workshop tables ``practice``).
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sleevewright.core.metrology import sweep_offset
from sleevewright.core.metrology.moves import Centre, Move, setup_move
from sleevewright.core.metrology.screw import Screw, dial_stops
from sleevewright.core.metrology.setup import Lean, OneSweep, TwoSweeps, setup_lean
from sleevewright.core.metrology.shims import Stud, base_squareness, face_slope, stud_shims
from sleevewright.core.metrology.sweep import Mount, Sense, lever_reading
from sleevewright.core.metrology.sweepfigures import seen_points
from sleevewright.core.metrology.table import Axes, Way, move_by_dials, table_travel

RADIUS = 29e-3
TURN = 2.0 * math.pi


def met(centre: np.ndarray, origin: np.ndarray, along: np.ndarray, radius: float = RADIUS) -> float:
    """How far along a ray the circle is met: the farther root of the quadratic."""
    away = origin - centre
    half = float(away @ along)
    return -half + math.sqrt(half**2 - float(away @ away) + radius**2)


def turned(angle: float) -> np.ndarray:
    """Matrix that turns counter-clockwise."""
    return np.array([[math.cos(angle), -math.sin(angle)], [math.sin(angle), math.cos(angle)]])


def read(centre: np.ndarray, angles: np.ndarray, mount: Mount) -> np.ndarray:
    """What a plunger reads: positive where the wall pushes it in.

    On the spindle the ray turns; on the table the circle is carried round and the ray stays.
    """
    axis = np.zeros(2)
    if mount is Mount.SPINDLE:
        return np.array([RADIUS - met(centre, axis, turned(a) @ [1.0, 0.0]) for a in angles])
    return np.array([RADIUS - met(turned(a) @ centre, axis, np.array([1.0, 0.0])) for a in angles])


@pytest.mark.parametrize("mount", list(Mount))
@pytest.mark.parametrize("sense", list(Sense))
@pytest.mark.parametrize("count", [4, 5, 12, 72])
def test_the_move_brings_the_circle_under_the_spindle(
    mount: Mount, sense: Sense, count: int
) -> None:
    """Spindle or table, either way round: after the move the circle is centred."""
    centre = np.array([-0.06e-3, 0.035e-3])
    sign = 1.0 if sense is Sense.COUNTER else -1.0
    said = np.arange(count) * TURN / count
    found = sweep_offset(said, read(centre, sign * said, mount), mount=mount, sense=sense)
    assert np.hypot(*np.add(centre, [found.move_x, found.move_y])) < 2e-10


@pytest.mark.parametrize("mount", list(Mount))
@pytest.mark.parametrize("sense", list(Sense))
def test_points_are_drawn_where_they_were_read(mount: Mount, sense: Sense) -> None:
    """The nearest wall stands on the side of the move, whatever turned and however counted."""
    centre = np.array([-0.06e-3, 0.035e-3])
    sign = 1.0 if sense is Sense.COUNTER else -1.0
    said = np.arange(36) * TURN / 36
    one = OneSweep(tuple(said), tuple(read(centre, sign * said, mount)), mount, sense)
    found = sweep_offset(said, np.array(one.readings), mount=mount, sense=sense)
    seen = seen_points(read=one, sweep=found)
    highest = seen.directions[int(np.argmax(seen.deviations))]
    wanted = math.atan2(-centre[1], -centre[0])
    assert math.cos(highest - wanted) > math.cos(math.radians(6.0))


def test_taking_the_table_for_the_spindle_shows_in_the_second_sweep_alone() -> None:
    """One sweep cannot tell; the move then leaves twice the offset across +X."""
    centre = np.array([-0.06e-3, 0.035e-3])
    said = np.arange(8) * TURN / 8
    wrong = sweep_offset(said, read(centre, said, Mount.TABLE), mount=Mount.SPINDLE)
    assert wrong.residual == pytest.approx(0.0, abs=2e-9)
    left = np.add(centre, [wrong.move_x, wrong.move_y])
    assert left == pytest.approx([0.0, 2.0 * centre[1]], abs=1e-9)


@pytest.mark.parametrize(
    ("degrees", "factor"), [(10, 0.98), (20, 0.94), (30, 0.87), (40, 0.77), (50, 0.64), (60, 0.50)]
)
def test_factors_of_a_lever_as_workshop_tables_print_them(degrees: int, factor: float) -> None:
    """To the two digits that such tables print; source ``practice``, cosine law ``derived``."""
    true = float(lever_reading(1.0, angle=math.radians(degrees)))
    assert round(true, 2) == factor


def test_four_thou_on_a_lever_at_sixty_degrees_are_two() -> None:
    """0.004 in read is 0.002 in moved, as workshop tables print it (``practice``)."""
    assert round(float(lever_reading(0.004, angle=math.radians(60.0))), 4) == 0.0020


def test_a_round_bore_off_centre_shows_its_published_harmonics() -> None:
    """R 29 mm, e 0.030 mm at 40 degrees: 0.030000 at 40.00, swing 0.0600, oval 7.7586e-6 mm.

    The mean wall is 28.99999224 mm, R - e^2 / (4 R); source ``derived``.
    """
    towards = math.radians(40.0)
    centre = 0.030e-3 * np.array([math.cos(towards), math.sin(towards)])
    angles = np.radians(np.arange(360.0))
    found = sweep_offset(angles, read(centre, angles, Mount.SPINDLE), mount=Mount.SPINDLE)
    assert round(found.offset * 1e3, 6) == 0.030000
    assert round(math.degrees(math.atan2(-found.move_y, -found.move_x)), 2) == 40.00
    assert round(found.total_swing * 1e3, 4) == 0.0600
    assert (RADIUS - found.level) * 1e3 == pytest.approx(28.99999224, abs=1e-8)
    assert found.oval is not None
    assert found.oval * 1e3 == pytest.approx(7.7586e-6, abs=1e-9)
    assert found.oval == pytest.approx(0.030e-3**2 / (4.0 * RADIUS), rel=1e-5)


def tipped(lean: np.ndarray) -> np.ndarray:
    """Rotation that tips the upright axis by small slopes along X and Y."""
    axis = np.array([-lean[1], lean[0], 0.0])
    angle = float(np.hypot(*axis[:2]))
    if angle == 0.0:
        return np.eye(3)
    u = axis / angle
    cross = np.array([[0, -u[2], u[1]], [u[2], 0, -u[0]], [-u[1], u[0], 0]])
    return np.eye(3) + math.sin(angle) * cross + (1.0 - math.cos(angle)) * cross @ cross


def swept_cylinder(lean: np.ndarray, base: np.ndarray, apart: float) -> TwoSweeps:
    """Sweeps of a tipped cylinder at two depths, its wall met by rays at both heights."""
    axis = tipped(lean) @ [0.0, 0.0, 1.0]
    angles = np.arange(12) * TURN / 12
    both = [
        tuple(read(base + axis[:2] / axis[2] * height, angles, Mount.SPINDLE))
        for height in (apart, 0.0)
    ]
    return TwoSweeps(tuple(angles), both[0], both[1], apart)


def test_a_tipped_cylinder_leans_as_it_was_tipped() -> None:
    """The lean found is the slope of its axis, towards where its upper end lies."""
    lean = np.array([5e-4, -3e-4])
    found = setup_lean(sweeps=swept_cylinder(lean, np.array([2e-5, 1e-5]), 0.066))
    assert (found.lean_x, found.lean_y) == pytest.approx(tuple(lean), abs=1e-8)


def test_midway_leaves_the_same_at_both_depths() -> None:
    """After the move midway both depths stand off alike; by the top, only the bottom does."""
    two = swept_cylinder(np.array([5e-4, -3e-4]), np.array([2e-5, 1e-5]), 0.066)
    upper = sweep_offset(np.array(two.angles), np.array(two.upper), mount=Mount.SPINDLE)
    lower = sweep_offset(np.array(two.angles), np.array(two.lower), mount=Mount.SPINDLE)
    move = setup_move(sweeps=two)
    left = [
        math.hypot(one.move_x - move.move_x, one.move_y - move.move_y) for one in (upper, lower)
    ]
    assert left[0] == pytest.approx(left[1], rel=1e-9)
    top = setup_move(sweeps=two, centre=Centre.TOP.value)
    assert (top.move_x, top.move_y) == (upper.move_x, upper.move_y)


@pytest.mark.parametrize("count", [3, 4, 6])
def test_shims_set_a_tipped_body_upright(count: int) -> None:
    """Studs lifted by the exact heights turn the body so that its axis stands upright."""
    lean = np.array([4e-4, 7e-4])
    studs = tuple(Stud(str(k), 0.3 + k * TURN / count, 0.055) for k in range(count))
    found = stud_shims(lean=Lean(*lean, 0.0, 0.0, 0.0), studs=studs, step=1e-9)
    feet = np.array(
        [[s.radius * math.cos(s.angle), s.radius * math.sin(s.angle), 0] for s in studs]
    )
    lifted = feet + np.column_stack([np.zeros((count, 2)), found.stepped])
    normal = np.cross(lifted[1] - lifted[0], lifted[2] - lifted[0])
    normal = normal / normal[2]
    # The body stood leaning on a level seat; on the lifted feet it turns as the seat does.
    axis = tipped(normal[:2]) @ tipped(lean) @ [0.0, 0.0, 1.0]
    assert np.hypot(axis[0], axis[1]) < 2e-8
    assert found.left < 2e-8
    assert min(found.stepped) == 0.0


def test_rounded_shims_leave_the_lean_of_their_plane() -> None:
    """What is left is the lean less the slope of the plane through the rounded heights."""
    studs = tuple(Stud(str(k), k * TURN / 3.0, 0.05) for k in range(3))
    lean = Lean(3.3e-4, 1.9e-4, 0.0, 0.0, 0.0)
    found = stud_shims(lean=lean, studs=studs, step=25.4e-6)
    feet = [[s.radius * math.cos(s.angle), s.radius * math.sin(s.angle), 1.0] for s in studs]
    slope = np.linalg.solve(np.array(feet), np.array(found.stepped))
    assert (found.left_x, found.left_y) == pytest.approx(
        (lean.lean_x - slope[0], lean.lean_y - slope[1]), abs=1e-12
    )
    assert all(round(one / 25.4e-6, 9).is_integer() for one in found.stepped)
    assert found.left < 25.4e-6 / 0.05


def test_a_bore_square_to_a_sloping_base_is_square() -> None:
    """A whole casting tipped against the spindle: its bore and its base both are, by the same."""
    lean = np.array([4e-4, -2e-4])
    whole = tipped(lean)
    angles = np.arange(8) * TURN / 8
    normal = whole @ [0.0, 0.0, 1.0]
    heights = [
        -(normal[0] * 0.04 * math.cos(a) + normal[1] * 0.04 * math.sin(a)) / normal[2]
        for a in angles
    ]
    slope = face_slope(sweep=OneSweep(tuple(angles), tuple(heights)), radius=0.04)
    found = setup_lean(sweeps=swept_cylinder(lean, np.zeros(2), 0.07))
    assert base_squareness(lean=found, slope=slope) < 2e-8
    askew = setup_lean(sweeps=swept_cylinder(np.add(lean, [3e-4, 0.0]), np.zeros(2), 0.07))
    assert base_squareness(lean=askew, slope=slope) == pytest.approx(3e-4, abs=2e-8)


@pytest.mark.parametrize("plus_x", [way.value for way in Way])
@pytest.mark.parametrize("side", [1, -1])
def test_dials_turned_as_told_move_the_table_as_seen(plus_x: str, side: int) -> None:
    """A table whose dials drive it the stated ways ends where the move wanted it."""
    ways = {"right": (1, 0), "away": (0, 1), "left": (-1, 0), "toward you": (0, -1)}
    first = np.array(ways[plus_x])
    second = side * np.array([-first[1], first[0]])
    plus_y = next(name for name, way in ways.items() if tuple(second) == way)
    move = Move(1.5e-5, -0.5e-5, 0.0, 0.0)
    travel = table_travel(move=move, axes=Axes(plus_x, plus_y))
    went = travel.dial_x * first + travel.dial_y * second
    assert went == pytest.approx([travel.right, travel.away], abs=1e-18)
    wanted = move.move_x * first + move.move_y * np.array([-first[1], first[0]])
    assert went == pytest.approx(wanted, abs=1e-18)
    back = move_by_dials(dial_x=travel.dial_x, dial_y=travel.dial_y, axes=Axes(plus_x, plus_y))
    assert (back.move_x, back.move_y) == pytest.approx((move.move_x, move.move_y), abs=1e-18)


def driven(stops: list[float], start: float, backlash: float, *, counts_up: bool) -> float:
    """Where a table ends whose nut has lost motion: it follows only when its flank is met."""
    table = start  # the flank that was met last reads true
    low, high = (start - backlash, start) if counts_up else (start, start + backlash)
    for dial in stops:
        # The nut stands between dial - backlash and dial, seen from the side of the screw.
        if dial > high:
            table += dial - high
            low, high = dial - backlash, dial
        elif dial < low:
            table += dial - low
            low, high = dial, dial + backlash
    return table


@pytest.mark.parametrize("counts_up", [True, False])
@pytest.mark.parametrize("move", [38e-6, -38e-6, 4e-6, -4e-6])
def test_a_screw_with_lost_motion_ends_at_its_number(counts_up: bool, move: float) -> None:
    """Turned through the numbers that are said, the table has gone exactly the move."""
    backlash, start = 127e-6, 3.0e-3
    stops = dial_stops(start=start, move=move, screw=Screw(backlash, 254e-6, counts_up))
    through = [one for one in (stops.past, stops.to) if one is not None]
    ended = driven(through, start, backlash, counts_up=counts_up)
    assert ended - start == pytest.approx(move, abs=1e-15)
    if (move > 0) is not counts_up:
        straight = driven([stops.to], start, backlash, counts_up=counts_up)
        assert straight == start  # without going past, the dial turned and the table did not
