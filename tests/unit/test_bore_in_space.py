"""The bore in space: places go there and back, keep their hand, and nothing else is asked for."""

from __future__ import annotations

import gzip
import itertools
import json
import math
import re
from collections.abc import Iterator
from html import unescape
from importlib import resources

import numpy as np
import pytest
from starlette.testclient import TestClient

from ported_jobs import PORTED, also, as_left, ported_bench
from sleevewright.core.ports.outline import PortShape, port_outline
from sleevewright.core.ports.solid import densely, places_on_wall, points_of_places
from sleevewright.web.app import Serving, create_app

PAGE = f"/jobs/{PORTED}/1/ports/bore"


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A client of a bench with the ported barrel."""
    bench = ported_bench(tmp_path_factory.mktemp("space"))
    also(bench, as_left())
    app = create_app(bench, Serving())
    with TestClient(app, base_url="http://127.0.0.1:8000") as found:
        yield found
    bench.close()


def drawn(client: TestClient) -> dict[str, object]:
    """What the page hands to the device."""
    text = client.get(PAGE).text
    found = re.search(r'<data id="bore" value="([^"]*)"', text)
    assert found is not None
    told = json.loads(unescape(found.group(1)))
    assert isinstance(told, dict)
    return told


def test_points_go_to_the_wall_and_back() -> None:
    """A thousand points within half a turn, there and back to rounding."""
    rng = np.random.default_rng(3)
    points = np.column_stack([rng.uniform(-3.1, 3.1, 1000), rng.uniform(0.0, 0.1, 1000)])
    there = places_on_wall(points, diameter=0.0664)
    np.testing.assert_allclose(points_of_places(there), points, atol=1e-14)
    np.testing.assert_allclose(np.hypot(there[:, 0], there[:, 1]), 0.0332, atol=1e-15)


def test_a_growing_angle_goes_clockwise_seen_from_the_deck() -> None:
    """Seen from above, clockwise is a negative cross product, all the way round."""
    angles = np.linspace(0.0, 2.0 * math.pi, 37)
    there = places_on_wall(np.column_stack([angles, np.zeros(37)]), diameter=0.06)
    x, y = there[:, 0], there[:, 1]
    cross = x[:-1] * y[1:] - y[:-1] * x[1:]
    assert (cross < 0.0).all()
    assert tuple(there[0].round(6)) == (0.0, 0.03, 0.0)  # the datum lies at the top of the page


def test_what_the_device_draws_is_the_map_that_was_told(client: TestClient) -> None:
    """Every outline comes back to its angles and depths, in millimetres, and in its hand."""
    told = drawn(client)
    maps = told["maps"]
    assert isinstance(maps, list)
    assert [one["dash"] for one in maps] == ["dash", "dot", "longdashdot"]
    found = maps[1]
    gaps = [at for at, x in enumerate(found["x"]) if x is None]
    assert len(gaps) == 5
    ends = [-1, *gaps, len(found["x"])]
    middles, roofs = [], []
    for start, end in itertools.pairwise(ends):
        places = np.array([found[axis][start + 1 : end] for axis in "xyz"], dtype=float).T / 1e3
        back = points_of_places(places)
        np.testing.assert_allclose(places[0], places[-1])
        turn = np.unwrap(back[:, 0])
        middles.append(math.degrees((turn.min() + turn.max()) / 2.0) % 360.0)
        roofs.append(back[:, 1].min() * 1e3)
    expected = [0.0, 294.0, 66.0, 248.0, 112.0, 180.0]
    apart = [
        (one - other + 180.0) % 360.0 - 180.0 for one, other in zip(middles, expected, strict=True)
    ]
    assert apart == pytest.approx([0.0] * 6, abs=0.01)
    assert roofs == pytest.approx([37.5, 56.0, 56.0, 56.0, 56.0, 56.0], abs=0.002)


def test_from_the_deck_the_page_is_seen_the_right_way_up(client: TestClient) -> None:
    """The eye is above, up is the datum, so that the first axis goes to the right.

    Right is what looks along the view crossed with up; it must be the side of a quarter turn
    clockwise.
    """
    views = drawn(client)["views"]
    assert isinstance(views, list)
    deck = next(one for one in views if one["words"] == "From the deck")
    eye, up = (np.array([deck[key][axis] for axis in "xyz"]) for key in ("eye", "up"))
    right = np.cross(-eye, up)
    quarter = places_on_wall(np.array([[math.pi / 2.0, 0.0]]), diameter=1.0)[0]
    assert right @ quarter > 0.9
    inside = next(one for one in views if one["words"] == "From the axis, to the exhaust")
    looks = np.array([inside["center"][axis] - inside["eye"][axis] for axis in "xyz"])
    right = np.cross(looks, [0.0, 0.0, 1.0])
    clockwise = places_on_wall(np.array([[0.1, 0.0]]), diameter=1.0)[0]
    assert right @ clockwise > 0.0  # to the right seen from the axis


def test_outlines_lie_on_the_wall_and_keep_their_corners() -> None:
    """No piece is wider than two degrees; every corner of the outline is still there."""
    points = port_outline(PortShape(0.03, 0.05, 0.04, 0.03)) / np.array([0.033, 1.0])
    made = densely(points, finest=math.radians(2.0))
    assert np.abs(np.diff(made[:, 0])).max() <= math.radians(2.0) + 1e-12
    assert all((np.abs(made - corner).sum(axis=1) < 1e-12).any() for corner in points)
    assert (made[0] == made[-1]).all()


def test_the_page_asks_this_bench_alone_and_holds_the_same_as_tables(client: TestClient) -> None:
    """No address of another host, no script in the page; every port stands in a table."""
    text = client.get(PAGE).text
    for address in re.findall(r'(?:src|href)="([^"]*)"', text):
        assert address.startswith(("/", "data:,")), address
    assert not re.search(r"<script(?![^>]*src=)", text)
    assert "style=" not in text
    table = text[text.index("<table") :]
    for name in ("exhaust", "main left", "rear right", "boost"):
        assert table.count(f'<th scope="row">{name}</th>') == 3
    assert "294.0" in table
    assert "Angles grow clockwise seen from the deck" in text


def test_what_draws_is_the_installed_file_pressed_once(client: TestClient) -> None:
    """The address carries the content's name; pressed and plain are one; another name is none."""
    address = re.search(r'src="(/drawing/[^"]*)"', client.get(PAGE).text)
    assert address is not None
    plain = resources.files("plotly").joinpath("package_data", "plotly.min.js").read_bytes()
    pressed = client.get(address.group(1), headers={"Accept-Encoding": "gzip"})
    assert pressed.content == plain
    assert pressed.headers["content-encoding"] == "gzip"
    assert "immutable" in pressed.headers["cache-control"]
    assert int(pressed.headers["content-length"]) < len(plain) // 2
    assert int(pressed.headers["content-length"]) == len(gzip.compress(plain, 6, mtime=0))
    bare = client.get(address.group(1), headers={"Accept-Encoding": "identity"})
    assert "content-encoding" not in bare.headers
    assert bare.content == plain
    assert client.get("/drawing/000000000000/plotly.min.js").status_code == 404


def test_doors_lead_to_the_bore_and_to_the_sheet(client: TestClient) -> None:
    """From As found and Ports to the bore; from Ports and Release to the sheet, as a PDF."""
    for stage, path in (("found", "bore"), ("ports", "bore"), ("ports", "before-after.pdf"),
                        ("release", "before-after.pdf")):  # fmt: skip
        here = f"/jobs/{PORTED}/1/{stage}"
        assert f'href="{here}/{path}"' in client.get(here).text
        answer = client.get(f"{here}/{path}")
        assert answer.status_code == 200
        if path.endswith("pdf"):
            assert answer.content.startswith(b"%PDF")


def test_without_places_the_page_says_what_is_missing(
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    """Heights alone draw no bore: nothing is drawn, and what to tell is said."""
    bench = ported_bench(tmp_path_factory.mktemp("bare"), without=(".angle", "ports."))
    with TestClient(create_app(bench, Serving()), base_url="http://127.0.0.1:8000") as client:
        text = client.get(PAGE).text
    bench.close()
    assert "plotly.min.js" not in text
    assert "middle round the bore of every port" in text
