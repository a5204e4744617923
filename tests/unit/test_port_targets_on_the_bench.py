"""Targets on a bench: the shop's own maps, freezing, letting go, the pages that show them."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient
from test_port_targets_of_jobs import cells_of

from sleevewright.errors import InputError, NotFound, StateError
from sleevewright.jobs.records import VALUE
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.entry_bodies import body_of
from sleevewright.services.jobs import look, open_job, server_draft
from sleevewright.services.port_library import engines_mapped, named_map
from sleevewright.services.signing import matched_of
from sleevewright.services.target_freeze import (
    Pick,
    freeze_targets,
    let_go,
    pick_target,
    seen_targets,
)
from sleevewright.store.portlibrary import mapped_cylinders
from sleevewright.web.app import create_app

OPENING = {"title": "barrel", "units": "metric", "engine_kind": "two-stroke", "invented": True}
ENGINE = {"engine.description": "249 cc single of an invented make"}


def tell(bench: Bench, number: str, cells: dict[str, str]) -> None:
    """Tell cells of a job as a device would."""
    folded, drafts = bench.store.folded(number), []
    for cell, text in cells.items():
        told = [one.id for one in folded.heads(cell)]
        body = {"cylinder": 1, "cell": cell, "text": text, "replaces": told}
        drafts.append(server_draft(number, VALUE, body_of(VALUE, body, folded)))
    bench.store.append(drafts)


def mapped(bench: Bench, number: str, roof: str, **more: str) -> None:
    """One job of the engine with its map, the rear roofs at a depth."""
    open_job(bench, number, OPENING)
    cells = {**ENGINE, **cells_of()}
    cells |= {f"port/rear {side}/found.roof": roof for side in ("left", "right")}
    tell(bench, number, {**cells, **more})


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with a job to be decided, and three of the same engine before it."""
    made = open_bench(tmp_path / "data")
    for number, roof in (("L-1", "55.90 mm"), ("L-2", "56.00 mm"), ("L-3", "55.95 mm")):
        mapped(made, number, roof)
    mapped(made, "J-1", "56.10 mm")
    yield made
    made.close()


def library_roof(bench: Bench) -> tuple[float, float]:
    """Roof and doubt that the library tells of the left rear of J-1."""
    target = seen_targets(bench, "J-1", 1).port("rear left")
    offers = [row for row in target.edges["roof"].said if row[0].kind == "library"]
    assert len(offers) == 1
    return offers[0][1], offers[0][2]


def test_library_is_the_mean_of_the_other_jobs(bench: Bench) -> None:
    """Three maps, the job itself not among them; never worth more than 0.1 mm; n is shown."""
    roof, standard = library_roof(bench)
    assert roof == pytest.approx(55.95e-3, abs=1e-9)
    assert standard == pytest.approx(0.1e-3, rel=0.03)
    offer = next(
        row[0] for row in seen_targets(bench, "J-1", 1).port("rear left").edges["roof"].said
        if row[0].kind == "library"
    )  # fmt: skip
    assert offer.count == 3
    assert "J-1" not in offer.words


@pytest.mark.slow
def test_hand_ported_map_is_left_out(bench: Bench) -> None:
    """A port that was marked as worked on by hand is in no mean; the others of its job are."""
    tell(bench, "L-1", {"port/rear left/touched": "yes"})
    roof, _ = library_roof(bench)
    assert roof == pytest.approx(55.975e-3, abs=1e-9)


def test_library_is_referred_to_the_crown(bench: Bench) -> None:
    """A map from a deck 0.3 mm further over the crown counts by its crown."""
    tell(bench, "L-1", {"engine.deck": "0.30 mm"})
    roof, _ = library_roof(bench)
    assert roof == pytest.approx((55.60 + 56.00 + 55.95) / 3 * 1e-3, abs=1e-9)


@pytest.mark.slow
def test_real_jobs_and_invented_ones_are_kept_apart(bench: Bench) -> None:
    """A real job of the same engine finds no invented map behind it."""
    open_job(bench, "R-1", {**OPENING, "invented": False})
    tell(bench, "R-1", {**ENGINE, **cells_of()})
    assert seen_targets(bench, "R-1", 1).maps == 0
    assert seen_targets(bench, "J-1", 1).maps == 3


def test_frozen_target_is_not_changed_by_a_later_map(bench: Bench) -> None:
    """Taken from the library and frozen, it stays when a fourth map would shift the mean."""
    pick_target(bench, "J-1", 1, Pick("rear left", source="library", reason="most jobs"))
    pick_target(bench, "J-1", 1, Pick("rear right", source="library", reason="most jobs"))
    assert "rear left" in freeze_targets(bench, "J-1", 1)
    before = seen_targets(bench, "J-1", 1).port("rear left")
    assert before.is_frozen
    assert before.edges["roof"].place == pytest.approx(55.95e-3, abs=1e-6)
    assert before.port.doubt.roof == pytest.approx(0.1e-3, rel=0.05)
    mapped(bench, "L-4", "55.45 mm")
    after = seen_targets(bench, "J-1", 1).port("rear left")
    assert library_roof(bench)[0] < 55.85e-3
    assert after.edges["roof"].place == before.edges["roof"].place
    assert after.port.points.tolist() == before.port.points.tolist()
    assert "the shop's own maps" in matched_of(look(bench, "J-1", 1))


@pytest.mark.slow
def test_frozen_outline_is_the_one_that_was_shown(bench: Bench) -> None:
    """What is written comes back to a thousandth of a degree and a micrometre."""
    shown = seen_targets(bench, "J-1", 1).port("rear left").port
    freeze_targets(bench, "J-1", 1, port="rear left")
    kept = seen_targets(bench, "J-1", 1).port("rear left").port
    assert abs(kept.points - shown.points).max() < 2e-5


@pytest.mark.slow
def test_let_go_target_follows_the_choice_again(bench: Bench) -> None:
    """What was frozen stays in the history, and counts no more."""
    freeze_targets(bench, "J-1", 1, port="rear left")
    with pytest.raises(StateError, match="frozen"):
        pick_target(bench, "J-1", 1, Pick("rear left", wanted="as found"))
    let_go(bench, "J-1", 1, "rear left")
    assert not seen_targets(bench, "J-1", 1).port("rear left").is_frozen
    assert bench.store.folded("J-1").history("port/rear left/target.roof")
    with pytest.raises(StateError, match="not frozen"):
        let_go(bench, "J-1", 1, "rear left")


def test_undecided_port_is_not_frozen(bench: Bench) -> None:
    """The refusal names both figures; with a source picked and a reason it goes."""
    tell(bench, "J-1", {"choice.manual_transfer": "112 deg"})
    for side in ("left", "right"):
        pick_target(bench, "J-1", 1, Pick(f"rear {side}"))
    with pytest.raises(InputError, match=r"library 55\.9.*manual 54\.0"):
        freeze_targets(bench, "J-1", 1, port="rear left")
    with pytest.raises(InputError, match="why this source"):
        pick_target(bench, "J-1", 1, Pick("rear left", source="library"))
    for side in ("left", "right"):
        pick_target(bench, "J-1", 1, Pick(f"rear {side}", source="library", reason="measured"))
    assert freeze_targets(bench, "J-1", 1, port="rear left") == ("rear left",)


@pytest.mark.slow
def test_what_is_not_known_is_refused(bench: Bench) -> None:
    """Port, source, wish, person and the other cylinder are named in the refusal."""
    for pick, word in (
        (Pick("no such"), "no such"),
        (Pick("rear left", source="guess"), "guess"),
        (Pick("rear left", wanted="better"), "better"),
        (Pick("rear left", person="p9"), "p9"),
    ):
        with pytest.raises(InputError, match=word):
            pick_target(bench, "J-1", 1, pick)
    plan = seen_targets(bench, "J-1", 1).plan
    with pytest.raises(InputError, match="D-100/1"):
        named_map(bench, plan, "L-1")
    with pytest.raises(NotFound):
        named_map(bench, plan, "L-9/1")
    with pytest.raises(NotFound):
        named_map(bench, plan, "L-1/7")


@pytest.mark.slow
def test_named_job_is_another_cylinder(bench: Bench) -> None:
    """The cylinder that is named stands apart from the mean of the rest."""
    tell(bench, "J-1", {"choice.map_from": "L-1/1"})
    said = seen_targets(bench, "J-1", 1).port("rear left").edges["roof"].said
    kinds = {row[0].kind: row[0] for row in said}
    assert kinds["another cylinder"].words == "L-1/1, not said whether worked on by hand"
    assert kinds["library"].count == 2


def test_library_made_anew_is_the_same(bench: Bench) -> None:
    """Dropped and written anew from the records, the table holds the same rows."""
    tell(bench, "L-2", {"port/rear left/touched": "yes"})
    before = bench.store.read(mapped_cylinders)
    assert [one.touched for one in before if one.job == "L-2"] == [1]
    bench.store.rebuild("port-library")
    assert bench.store.read(mapped_cylinders) == before
    assert [len(one.cylinders) for one in engines_mapped(bench)] == [4]


def test_pages_show_sources_and_take_presses(bench: Bench) -> None:
    """The table, a pick, the press that freezes; a refusal keeps the words; the library."""
    client = TestClient(create_app(bench), base_url="http://localhost")
    page = client.get("/jobs/J-1/1/choice/targets")
    assert page.status_code == 200
    for words in ("rear left", "library", "3 maps", "as seen from inside", "Take these"):
        assert words in page.text
    own = {"origin": "http://localhost"}
    told = {"port": "rear left", "wanted": "stock", "source": "library", "reason": "most jobs"}
    api = "/api/jobs/J-1/1/targets"
    assert client.post(f"{api}/pick", json=told, headers=own).status_code == 201
    wrong = client.post(f"{api}/pick", json={**told, "port": "x"}, headers=own)
    assert wrong.status_code == 422
    assert client.post(f"{api}/freeze", json={}, headers=own).status_code == 201
    assert "frozen with the job" in client.get("/jobs/J-1/1/choice/targets").text
    let = {"port": "exhaust"}
    assert client.post(f"{api}/let-go", json=let, headers=own).status_code == 201
    assert "L-1, cylinder 1" in client.get("/ports-library").text
    assert "Which map is stock" in client.get("/jobs/J-1/1/choice").text
    assert client.get("/jobs/none/1/choice/targets").status_code == 404
    open_job(bench, "F-1", {**OPENING, "engine_kind": "four-stroke"})
    assert "Which map is stock" not in client.get("/jobs/F-1/1/choice").text
    open_job(bench, "E-1", OPENING)
    empty = client.get("/jobs/E-1/1/choice/targets")
    assert "roofs, floors and widths at As found" in empty.text


def test_freezing_one_port_reads_no_other_anew(tmp_path: Path) -> None:
    """A map told by arc, counter-clockwise, stays so: the port beside it stands where it stood."""
    bench = open_bench(tmp_path / "ways")
    mapped(bench, "J-2", "56.00 mm")
    sizes = {"roof": "55.50 mm", "floor": "71.60 mm", "width": "19.00 mm", "radius": "4 mm",
             "angle": "-112 deg"}  # fmt: skip
    own = {f"port/rear right/target.{size}": text for size, text in sizes.items()}
    ways = {"widths": "arc, along the wall", "round": "counter-clockwise from it"}
    tell(bench, "J-2", {**own, **{f"ports.target.{way}": text for way, text in ways.items()},
                        "port/rear right/target": "customer's own",
                        "ports.found.on": "66.80 mm"})  # fmt: skip
    before = {one.name: one.port.points for one in seen_targets(bench, "J-2", 1).targets.ports}
    assert freeze_targets(bench, "J-2", 1, port="exhaust") == ("exhaust",)
    after = {one.name: one.port.points for one in seen_targets(bench, "J-2", 1).targets.ports}
    assert after["rear right"].tolist() == before["rear right"].tolist()
    assert abs(after["exhaust"] - before["exhaust"]).max() < 2e-5
    folded = bench.store.folded("J-2")
    assert {way: folded.text(f"ports.target.{way}") for way in ways} == ways
    assert not folded.text("ports.target.on")  # it is read on the engine's bore, 66.40
    arc = 66.40 * math.asin(42.0 / 66.80)  # the angle of a chord of 42 on 66.80, along 66.40
    width = folded.value("port/exhaust/target.width")
    assert width is not None
    assert width.body["nm"] * 1e-6 == pytest.approx(arc, abs=2e-3)
    bench.close()


@pytest.mark.slow
def test_maps_that_disagree_are_named_with_their_jobs(bench: Bench) -> None:
    """A map 1 mm off the others: the refusal names each job and what to do about it."""
    tell(bench, "L-1", {f"port/rear {side}/found.roof": "54.90 mm" for side in ("left", "right")})
    for side in ("left", "right"):
        pick_target(bench, "J-1", 1, Pick(f"rear {side}"))
    tell(bench, "J-1", {f"port/rear {side}/touched": "yes" for side in ("left", "right")})
    with pytest.raises(InputError, match=r"L-1/1, 54\.90.*mark the port as worked on by hand"):
        freeze_targets(bench, "J-1", 1, port="rear left")
