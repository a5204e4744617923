"""A rubbing from the file to the records: handed in, read beside the pages, confirmed, kept."""

from __future__ import annotations

import io
import json
import math
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import PIL.Image
import pytest
from click.testing import CliRunner
from starlette.testclient import TestClient

from benches import app_in, bench_in
from made_rubbings import Spoilt, made_rubbing, small_shapes, small_sheet
from sleevewright.cli.main import main
from sleevewright.errors import InputError, NotFound, SleevewrightError, StateError
from sleevewright.jobs.outlinetext import outline_of_text
from sleevewright.services.demo import tell
from sleevewright.services.jobs import open_job
from sleevewright.services.rubbing_desk import RubbingDesk
from sleevewright.services.rubbing_kept import Keeping, keep_outlines
from sleevewright.services.rubbings import ports_of, read_scan, told_of
from sleevewright.services.scan_files import grey_of

NAMES = tuple(small_shapes())
TEXTS = {"ports": ", ".join(NAMES), "bore": "44 mm", "down": "50 mm", "zero": "180"}
JOB = "R-1"


@pytest.fixture(scope="module")
def scan() -> bytes:
    """A sound scan as a PNG."""
    grey = made_rubbing(small_sheet(), Spoilt(dpi=100.0))
    made = io.BytesIO()
    PIL.Image.fromarray(grey.astype(np.uint8)).save(made, "PNG")
    return made.getvalue()


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[TestClient]:
    """A client of a bench with one ported job of which nothing else is told."""
    app = app_in(tmp_path_factory.mktemp("rubbing") / "data")
    opening = {"title": "invented", "units": "metric", "engine_kind": "two-stroke",
               "cooling": "air", "cylinders": 1}  # fmt: skip
    open_job(app.state.bench, JOB, opening)
    with TestClient(app, base_url="http://127.0.0.1:8000") as found:
        yield found
    app.state.bench.close()


def handed_in(client: TestClient, content: bytes) -> int:
    """The record of a scan that was handed in at As found."""
    told = {"stage": "found", "cylinder": "1", "caption": "rubbing"}
    answer = client.post(f"/api/jobs/{JOB}/attachments", data=told,
                         files={"file": ("wall.png", content, "image/png")})  # fmt: skip
    assert answer.status_code == 201
    return int(answer.json()["number"])


def read_of(client: TestClient, scan: int, **texts: str) -> str:
    """The key of a reading that is done."""
    body = {"cylinder": 1, "stage": "found", "scan": scan, "texts": {**TEXTS, **texts}}
    begun = client.post(f"/api/jobs/{JOB}/rubbings", json=body)
    assert begun.status_code == 202, begun.text
    key = str(begun.json()["key"])
    patience = time.monotonic() + 60.0
    while not client.get(f"/api/jobs/{JOB}/rubbings/{key}").json()["done"]:
        assert time.monotonic() < patience
        time.sleep(0.05)
    return key


def test_a_scan_becomes_the_map_of_the_cylinder(client: TestClient, scan: bytes) -> None:
    """Kept as it is first; shown before anything is stored; then each outline is a record."""
    bench = client.app.state.bench  # type: ignore[attr-defined]  # the application of the bench
    record = handed_in(client, scan)
    before = bench.store.folded(JOB).last
    key = read_of(client, record)
    assert bench.store.folded(JOB).last == before
    page = client.get(f"/jobs/{JOB}/1/found/rubbing", params={"read": key, **TEXTS})
    assert page.status_code == 200
    for name in NAMES:
        assert f"<option selected>{name}</option>" in page.text
    assert "about 95 %" in page.text
    assert "to the right is clockwise seen from the deck" in page.text
    picture = client.get(f"/api/jobs/{JOB}/rubbings/{key}/picture")
    assert picture.content.startswith(b"\xff\xd8\xff")
    kept = client.post(f"/api/jobs/{JOB}/rubbings/{key}/keep",
                       json={"map": "found", "names": list(NAMES)})  # fmt: skip
    assert kept.status_code == 201, kept.text
    folded = bench.store.folded(JOB)
    shapes = small_shapes()
    for name, turned in zip(NAMES, (180.0, -75.6, 28.8), strict=True):
        told = folded.value(f"port/{name}/found.outline")
        assert told.kind == "measured"
        corners = np.array(outline_of_text(told.text))
        assert corners[:, 1].min() == pytest.approx(shapes[name].roof, abs=3e-4)
        middle = math.degrees(corners[:, 0].min() + corners[:, 0].max()) / 2.0
        assert (middle - turned + 180.0) % 360.0 == pytest.approx(180.0, abs=0.5)
    assert folded.text("ports.found.widths") == "arc, along the wall"
    assert folded.text("ports.found.roof_doubt") == "0.200 mm"
    assert folded.text("ports.found.side_doubt") == "0.283 mm"
    again = client.post(f"/api/jobs/{JOB}/rubbings/{key}/keep",
                        json={"map": "found", "names": list(NAMES)})  # fmt: skip
    assert again.status_code == 201
    assert len(bench.store.folded(JOB).heads(f"port/{NAMES[0]}/found.outline")) == 1
    assert client.get(f"/jobs/{JOB}/1/found").status_code == 200


def test_wrong_names_a_wrong_map_and_a_refused_scan_are_not_kept(
    client: TestClient, scan: bytes
) -> None:
    """Two windows of one name, the other way round, a target; the maps that can be rubbed are."""
    bench = client.app.state.bench  # type: ignore[attr-defined]  # the application of the bench
    read = read_scan(scan, told_of(TEXTS, "metric"))
    last = bench.store.folded(JOB).last
    for names, key, match in (
        ((NAMES[0], NAMES[1], NAMES[1]), "found", "each of"),
        ((NAMES[0], NAMES[2], NAMES[1]), "found", "other way round"),
        (NAMES, "target", "chosen, not rubbed"),
    ):
        with pytest.raises(InputError, match=match):
            keep_outlines(bench, read, Keeping(JOB, 1, key, names))
    for key, count in (("supplied", 8), ("cast", 7), ("left", 7)):
        assert len(keep_outlines(bench, read, Keeping(JOB, 1, key, NAMES))) == count
    last = bench.store.folded(JOB).last
    assert bench.store.folded(JOB).text("ports.supplied.datum") == "top of the flange"
    refused = replace(read, rubbing=replace(read.rubbing, refused=("a seam",)))
    with pytest.raises(InputError, match="a seam"):
        keep_outlines(bench, refused, Keeping(JOB, 1, "found", NAMES))
    assert bench.store.folded(JOB).last == last


def test_a_list_typed_the_wrong_way_round_is_asked_about(scan: bytes, tmp_path: Path) -> None:
    """By left and right in the names, by another map of the cylinder; angles of all settle it."""
    bench = bench_in(tmp_path / "data")
    open_job(bench, JOB, {"units": "metric", "engine_kind": "two-stroke"})
    sound = read_scan(scan, told_of(TEXTS, "metric"))

    def kept(key: str, *names: str, angles: tuple[float, ...] = ()) -> None:
        read = replace(sound, told=replace(sound.told, names=names, angles=angles))
        keep_outlines(bench, read, Keeping(JOB, 1, key, names))

    with pytest.raises(InputError, match="called by, as seen from inside"):
        kept("found", NAMES[0], NAMES[2], NAMES[1])
    cells = {
        "port/exhaust/found.angle": "10 deg", "port/a/found.angle": "114.4 deg",
        "port/b/found.angle": "218.8 deg", "ports.supplied.roof_doubt": "0.05 mm",
        "port/c/supplied.roof": "22 mm", "ports.supplied.datum": "top of the flange",
    }  # fmt: skip
    told = [{"cylinder": 1, "cell": cell, "text": text} for cell, text in cells.items()]
    tell(bench, JOB, [{"record": "value", **one} for one in told])
    with pytest.raises(InputError, match="as in the map as found"):
        kept("supplied", "exhaust", "b", "a")
    with pytest.raises(InputError, match="as in the list"):
        kept("supplied", "exhaust", "b", "a", angles=(0.0, -1.82, 1.82))
    kept("supplied", "exhaust", "a", "b")
    kept("supplied", "exhaust", "b", "a", angles=(0.0, 1.82, -2.63))  # told of each: taken
    # A port of another hand stays in the map: the larger doubt is told of the whole.
    assert bench.store.folded(JOB).text("ports.supplied.roof_doubt") == "0.200 mm"
    assert bench.store.folded(JOB).text("ports.supplied.side_doubt") == "0.283 mm"
    bench.close()


def test_a_reading_that_is_gone_and_a_picture_of_nothing_are_said(client: TestClient) -> None:
    """A key that nobody knows: the page says what to do; a photo without bars says why."""
    page = client.get(f"/jobs/{JOB}/1/found/rubbing", params={"read": "ab" * 12})
    assert "no longer at hand" in page.text
    assert client.get(f"/api/jobs/{JOB}/rubbings/{'ab' * 12}").status_code == 404
    blank = io.BytesIO()
    PIL.Image.new("L", (400, 400), 230).save(blank, "PNG")
    key = read_of(client, handed_in(client, blank.getvalue()))
    assert "of the two bars" in client.get(f"/api/jobs/{JOB}/rubbings/{key}").json()["refused"]
    shown = client.get(f"/jobs/{JOB}/1/found/rubbing", params={"read": key})
    assert "of the two bars" in shown.text
    wrong = client.post(f"/api/jobs/{JOB}/rubbings", json={
        "stage": "found", "scan": 1, "texts": {"ports": "", "bore": "44"}})  # fmt: skip
    assert wrong.status_code == 422
    none = client.post(f"/api/jobs/{JOB}/rubbings", json={
        "stage": "found", "scan": 99999, "texts": TEXTS})  # fmt: skip
    assert none.status_code == 404


def test_the_desk_reads_two_at_once_and_forgets_the_oldest() -> None:
    """A third has to wait; a broken reading says so; another job sees nothing of it."""
    desk = RubbingDesk()

    def broken(_tell: object) -> object:
        raise SleevewrightError("no bars")

    keys = []
    for _ in range(9):
        keys.append(desk.begin("A", broken))  # type: ignore[arg-type]  # never gives an outcome
        while not desk.progress(keys[-1], "A").is_done:
            time.sleep(0.005)
    assert desk.progress(keys[-1], "A").refused == "no bars"
    with pytest.raises(NotFound):
        desk.progress(keys[0], "A")
    with pytest.raises(NotFound):
        desk.progress(keys[-1], "B")
    waiting = [True]

    def slow(_tell: object) -> object:
        while waiting:
            time.sleep(0.005)
        raise SleevewrightError("late")

    desk.begin("A", slow)  # type: ignore[arg-type]  # never gives an outcome
    desk.begin("A", slow)  # type: ignore[arg-type]  # never gives an outcome
    with pytest.raises(StateError, match="other scans"):
        desk.begin("A", slow)  # type: ignore[arg-type]  # never begun
    waiting.clear()


def test_what_is_typed_of_a_sheet_is_read_with_its_unit() -> None:
    """A bare number has the unit of the job, angles follow an at sign, mistakes are named."""
    told = told_of({**TEXTS, "bore": "1.732", "slot": "10 mm", "rubbed": "9.9 mm"}, "inch")
    assert told.bore == pytest.approx(1.732 * 25.4e-3)
    assert told.zero == pytest.approx(math.pi)
    assert told.edge == pytest.approx(5e-5)
    assert ports_of("exhaust @ 180, boost@ 0 deg") == (("exhaust", "boost"), (math.pi, 0.0))
    for texts, field in (
        ({**TEXTS, "bore": ""}, "bore"),
        ({**TEXTS, "ports": " , "}, "ports"),
        ({**TEXTS, "largest": "nothing"}, "largest"),
        ({**TEXTS, "slot": "10 mm"}, "rubbed"),
    ):
        with pytest.raises(InputError) as refused:
            told_of(texts, "metric")
        assert refused.value.field == field


def test_a_scan_is_opened_whatever_its_colours_and_nothing_else_is() -> None:
    """Sixteen bits, colour, see-through; text and a picture beyond any sheet are refused."""
    for picture in (
        PIL.Image.fromarray(np.full((9, 9), 60000, dtype=np.uint16)),
        PIL.Image.new("RGB", (9, 9), (233, 233, 233)),
        PIL.Image.new("RGBA", (9, 9), (0, 0, 0, 0)),
    ):
        made = io.BytesIO()
        picture.save(made, "PNG")
        assert grey_of(made.getvalue()).mean() == pytest.approx(240.0, abs=16.0)
    with pytest.raises(InputError, match="cannot be opened"):
        grey_of(b"no picture")


@pytest.mark.slow
def test_the_command_prints_every_port(tmp_path: Path, scan: bytes) -> None:
    """Roof, floor, width by arc, angle, and what it is worth; as JSON in metres."""
    file = tmp_path / "wall.png"
    file.write_bytes(scan)
    words = ["rubbing", str(file), "--bore", "44mm", "--down", "50mm", "--ports", TEXTS["ports"]]
    done = CliRunner().invoke(main, words, catch_exceptions=False)
    assert done.exit_code == 0
    for name in NAMES:
        assert name in done.output
    assert "clockwise seen from the deck" in done.output
    told = json.loads(CliRunner().invoke(main, [*words, "--json"]).output)
    assert [one["name"] for one in told["ports"]] == list(NAMES)
    assert told["ports"][0]["roof"] == pytest.approx(14e-3, abs=3e-4)
    gone = CliRunner().invoke(main, ["rubbing", "none.png", "--bore", "1mm", "--ports", "a"])
    assert gone.exit_code == 2
