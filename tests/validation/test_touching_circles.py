"""Minimum zone, ring and plug: optimality checked by others, and whole searches.

Definitions: ISO 12181-1 (from memory).  Second roads: a linear programme of scipy, the
diagrams of Qhull (an independent library that scipy carries), a search of all centres that
four points can hold, and the conditions of optimality computed here from the points alone.
"""

import math

import numpy as np
import pytest
from scipy.optimize import linprog
from scipy.spatial import Delaunay, Voronoi

from sleevewright.core.metrology import minimum_zone_circle
from sleevewright.core.metrology.contacts import Contact
from sleevewright.core.metrology.touching_circles import circumscribed_circle, inscribed_circle

ROUNDING = 2e-15  # metres, some last bits of a coordinate of 60 mm
Points = tuple[np.ndarray, np.ndarray]


def random_points(stream: np.random.Generator, *, most: int, least_arc: float = 30.0) -> Points:
    """Points of an arc with both ends, in any order; random, even or lobed; form 0.5 to 50 um."""
    count = int(stream.integers(4, most + 1))
    arc = math.radians(stream.uniform(least_arc, 360.0))
    inner = stream.uniform(0.0, 1.0, count - 2)
    turn = np.concatenate([[0.0, 1.0], inner]) * arc if stream.random() < 0.5 else (
        np.arange(count) * arc / count if arc > 6.0 else np.linspace(0.0, arc, count)
    )  # fmt: skip
    form = 5e-6 * 10.0 ** stream.uniform(-1.0, 1.0)
    wall = stream.uniform(20e-3, 60e-3) + stream.uniform(-form, form, count)
    if stream.random() < 0.2:
        wall = 30e-3 + form * np.cos(int(stream.integers(2, 7)) * turn)
    order = stream.permutation(count)
    turn, wall = turn[order] + stream.uniform(0.0, 2.0 * math.pi), wall[order]
    x, y = stream.uniform(-0.02, 0.02, 2)
    return x + wall * np.cos(turn), y + wall * np.sin(turn)


def closed_points(stream: np.random.Generator, *, most: int) -> Points:
    """Points all round, even or nearly so, in any order; random or lobed form up to 50 um."""
    count = int(stream.integers(5, most + 1))
    off = stream.uniform(-0.3, 0.3, count) * float(stream.random() < 0.7)
    turn = (stream.permutation(count) + off) * 2.0 * math.pi / count
    form = 5e-6 * 10.0 ** stream.uniform(-1.0, 1.0)
    wall = stream.uniform(20e-3, 60e-3) + stream.uniform(-form, form, count)
    if stream.random() < 0.2:
        wall = 30e-3 + form * np.cos(int(stream.integers(2, 7)) * turn)
    x, y = stream.uniform(-0.02, 0.02, 2)
    return x + wall * np.cos(turn), y + wall * np.sin(turn)


def seen_from(points: Points, x: float, y: float) -> tuple[np.ndarray, np.ndarray]:
    """Distances from a centre and the directions to the points."""
    dx, dy = points[0] - x, points[1] - y
    distance = np.hypot(dx, dy)
    return distance, np.column_stack([dx, dy]) / distance[:, None]


def pull_of(directions: np.ndarray, contacts: tuple[Contact, ...]) -> np.ndarray:
    """Directions weighed with shares, once the shares are shown to be such."""
    shares = np.array([one.share for one in contacts])
    assert (shares > 0.0).all()
    assert shares.sum() == pytest.approx(1.0, abs=1e-8)
    return shares @ directions[[one.point for one in contacts]]


def assert_zone_is_best(points: Points) -> None:
    """Conditions of Karush, Kuhn and Tucker, from the points alone."""
    found = minimum_zone_circle(*points)
    distance, directions = seen_from(points, found.x, found.y)
    assert distance.max() <= found.outer_radius + ROUNDING
    assert distance.min() >= found.inner_radius - ROUNDING
    for contacts, edge in ((found.outer, distance.max()), (found.inner, distance.min())):
        assert np.abs(distance[[one.point for one in contacts]] - edge).max() < 10 * ROUNDING
    left = pull_of(directions, found.outer) - pull_of(directions, found.inner)
    assert float(np.hypot(*left)) < 1e-8
    assert found.zone == pytest.approx(found.outer_radius - found.inner_radius, abs=ROUNDING)


def assert_ring_is_best(points: Points) -> None:
    """All within; two or three contacts whose directions cancel: no smaller one, anywhere."""
    found = circumscribed_circle(*points)
    distance, directions = seen_from(points, found.x, found.y)
    assert distance.max() <= found.radius + ROUNDING
    assert distance[list(found.contacts)].min() >= found.radius - 10 * ROUNDING
    assert float(np.hypot(*pull_of(directions, found.held_by))) < 1e-8


def assert_plug_is_best(points: Points) -> None:
    """All outside; contacts whose directions cancel: no shift makes it larger at first."""
    found = inscribed_circle(*points)
    distance, directions = seen_from(points, found.x, found.y)
    assert distance.min() >= found.radius - ROUNDING
    assert distance[list(found.contacts)].max() <= found.radius + 10 * ROUNDING
    assert float(np.hypot(*pull_of(directions, found.held_by))) < 1e-8


def assert_sets_are_best(count: int, seed: int) -> None:
    """All three on random sets of 4 to 50 points; ring and plug on closed ones."""
    stream = np.random.default_rng(seed)
    for _ in range(count):
        assert_zone_is_best(random_points(stream, most=50))
        closed = closed_points(stream, most=50)
        assert_ring_is_best(closed)
        assert_plug_is_best(closed)


def test_optimality_is_verified_on_three_hundred_sets() -> None:
    """Every one has contacts and shares that prove it."""
    assert_sets_are_best(300, 51)


@pytest.mark.parametrize("step", [1e-6, 2.54e-6, 1e-5])
def test_points_of_a_read_out_are_ties_and_no_trouble(step: float) -> None:
    """Even lobes in coordinates rounded to a step: many points touch at once."""
    stream = np.random.default_rng(53)
    for count in (4, 6, 8, 12, 24, 36, 72, 360):
        for lobes in (0, 2, 3, 4, 6):
            turn = np.arange(count) * 2.0 * math.pi / count
            wall = stream.choice([20e-3, 30e-3]) + 5e-6 * np.cos(lobes * turn)
            x, y = (
                np.round(part / step) * step for part in (wall * np.cos(turn), wall * np.sin(turn))
            )
            assert_zone_is_best((x, y))
            assert_ring_is_best((x, y))
            assert_plug_is_best((x, y))


@pytest.mark.slow
def test_optimality_is_verified_on_ten_thousand_sets() -> None:
    """Every one of ten thousand has contacts and shares that prove it."""
    assert_sets_are_best(10_000, 52)


def test_the_check_of_optimality_sees_a_centre_that_is_off() -> None:
    """Shares that do not cancel, or a point that sticks out by 1e-12 m, do not pass."""
    points = random_points(np.random.default_rng(3), most=20, least_arc=350.0)
    found = minimum_zone_circle(*points)
    distance, directions = seen_from(points, found.x + 1e-12, found.y)
    held = [one.point for one in found.outer]
    assert np.abs(distance[held] - distance.max()).max() > 10 * ROUNDING
    turned = (Contact(found.outer[0].point, 0.9), Contact(found.outer[1].point, 0.1))
    left = pull_of(directions, turned) - pull_of(directions, found.inner)
    assert float(np.hypot(*left)) > 1e-3


def narrowest_of_all(points: Points, x: float, y: float, far: float) -> float:
    """Least zone over all centres where two pairs of points are each equally far away.

    Only such centres can hold a zone; those farther than ``far`` from a place are left out.
    """
    places = np.column_stack(points) - [x, y]
    first, second = np.triu_indices(len(places), 1)
    lines = 2.0 * (places[second] - places[first])
    levels = (places[second] ** 2).sum(1) - (places[first] ** 2).sum(1)
    a, b = np.triu_indices(len(first), 1)
    whole = lines[a, 0] * lines[b, 1] - lines[a, 1] * lines[b, 0]
    told = np.abs(whole) > 1e-13 * np.abs(lines).max() ** 2
    a, b, whole = a[told], b[told], whole[told]
    centres = np.column_stack([
        levels[a] * lines[b, 1] - levels[b] * lines[a, 1],
        lines[a, 0] * levels[b] - lines[b, 0] * levels[a],
    ]) / whole[:, None]  # fmt: skip
    centres = centres[np.hypot(*centres.T) < far]
    away = np.hypot(*(places[:, :, None] - centres.T[None]).transpose(1, 0, 2))
    return float(np.ptp(away, axis=0).min())


def test_zone_is_the_narrowest_of_all_centres() -> None:
    """200 sets of 4 to 8 points, arcs from 30 degrees: none within a radius is narrower."""
    stream = np.random.default_rng(61)
    for _ in range(200):
        points = random_points(stream, most=8)
        found = minimum_zone_circle(*points)
        best = narrowest_of_all(points, found.x, found.y, found.radius)
        assert found.zone == pytest.approx(best, abs=1e-13)


def test_no_centre_within_the_sure_distance_is_narrower() -> None:
    """2,000 random centres within ``sure_within`` of each of 50 zones and plugs."""
    stream = np.random.default_rng(62)
    for _ in range(50):
        points = closed_points(stream, most=12)
        turn, far = stream.uniform(0.0, 2.0 * math.pi, 2000), stream.uniform(0.0, 1.0, 2000) ** 3
        for found, side in ((minimum_zone_circle(*points), 0), (inscribed_circle(*points), 1)):
            assert 0.0 < found.sure_within < found.radius
            x = found.x + found.sure_within * far * np.cos(turn)
            y = found.y + found.sure_within * far * np.sin(turn)
            away = np.hypot(points[0][:, None] - x, points[1][:, None] - y)
            if side == 0:
                assert np.ptp(away, axis=0).min() >= found.zone - ROUNDING
            else:
                assert away.min(axis=0).max() <= found.radius + ROUNDING


def test_zone_agrees_with_a_linear_programme() -> None:
    """Scipy's highs, in micrometres, centred anew twice: the same zone and contacts.

    The programme's own tolerance is 1e-7 of its unit, so that 1e-12 m is asked for.
    """
    stream = np.random.default_rng(63)
    for _ in range(30):
        points = random_points(stream, most=50, least_arc=180.0)
        centre, zone = np.array([points[0].mean(), points[1].mean()]), 0.0
        for _ in range(4):
            distance, u = seen_from(points, *centre)
            off, one = 1e6 * (distance - distance.mean()), np.ones(len(distance))
            rows = np.vstack([np.column_stack([-u, -one, 0 * one]),
                              np.column_stack([u, 0 * one, one])])  # fmt: skip
            solved = linprog([0, 0, 1, -1], A_ub=rows, b_ub=np.concatenate([-off, off]),
                             bounds=[(None, None)] * 4, method="highs")  # fmt: skip
            centre, zone = centre + 1e-6 * solved.x[:2], 1e-6 * solved.fun
        found = minimum_zone_circle(*points)
        assert found.zone == pytest.approx(zone, abs=1e-12)
        assert (found.x, found.y) == pytest.approx(tuple(centre), abs=1e-9)


def test_ring_and_plug_agree_with_the_diagrams_of_qhull() -> None:
    """300 closed sets: farthest-point diagram round, triangles that hold their centre within."""
    stream = np.random.default_rng(64)
    for _ in range(300):
        turn = (np.arange(12) + stream.uniform(-0.4, 0.4, 12)) * math.pi / 6.0
        wall = 30e-3 + stream.uniform(-20e-6, 20e-6, 12)
        points = wall * np.cos(turn), wall * np.sin(turn)
        places = 1e3 * np.column_stack(points)
        a, b = np.triu_indices(12, 1)
        centres = np.vstack([
            Voronoi(places, furthest_site=True).vertices, 0.5 * (places[a] + places[b]),
        ])  # fmt: skip
        farthest = np.hypot(*(places[:, :, None] - centres.T[None]).transpose(1, 0, 2)).max(0)
        ring = circumscribed_circle(*points)
        assert 1e3 * ring.radius == pytest.approx(farthest.min(), abs=1e-9)
        diagram, mesh = Voronoi(places), Delaunay(places)
        inside = diagram.vertices[mesh.find_simplex(diagram.vertices) >= 0]
        nearest = np.hypot(*(places[:, :, None] - inside.T[None]).transpose(1, 0, 2)).min(0)
        plug = inscribed_circle(*points)
        assert 1e3 * plug.radius == pytest.approx(nearest.max(), abs=1e-9)


@pytest.mark.parametrize("lobes", [2, 3, 4, 5, 7])
def test_zone_and_least_squares_of_lobes_are_twice_the_amplitude(lobes: int) -> None:
    """Derived: r = R + a cos(n t) has the centre of its axis as the best, and 2 a of form."""
    from sleevewright.core.metrology import fit_circle

    turn = np.arange(12 * lobes) * math.pi / (6.0 * lobes)
    wall = 31e-3 + 5e-6 * np.cos(lobes * turn)
    x, y = wall * np.cos(turn), wall * np.sin(turn)
    assert minimum_zone_circle(x, y).zone == pytest.approx(10e-6, abs=1e-9)
    assert fit_circle(x, y).peak_to_valley == pytest.approx(10e-6, abs=1e-9)


def test_an_offset_touches_nothing_but_the_centre() -> None:
    """Exact: an ellipse of half axes a and b has zone a - b, ring a and plug b."""
    turn = np.arange(360) * math.pi / 180.0
    x, y = 0.4 + 30.01e-3 * np.cos(turn), -0.3 + 30e-3 * np.sin(turn)
    assert minimum_zone_circle(x, y).zone == pytest.approx(10e-6, abs=1e-13)
    assert circumscribed_circle(x, y).radius == pytest.approx(30.01e-3, abs=1e-13)
    # Between two points of the wall a circle of points leaves room for 5e-13 m more.
    assert inscribed_circle(x, y).radius == pytest.approx(30e-3, abs=1e-12)
