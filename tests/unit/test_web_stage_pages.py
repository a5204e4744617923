"""The page of every stage, for every kind of engine, from an empty job to a full one."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from sleevewright.jobs.catalog import life_of, sheet_of
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.holds import hold_of
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.living import drafts_of_job, living_job
from sleevewright.jobs.records import Record
from sleevewright.jobs.walk import next_action, steps
from sleevewright.planning.shop import Shop
from sleevewright.services.alongside import widened
from sleevewright.services.entry_bodies import body_of
from sleevewright.services.jobs import Look, verdicts_of
from sleevewright.services.plans import plan_job
from sleevewright.services.proving import proved
from sleevewright.web.job.views import Around, job_page
from sleevewright.web.render import render
from sleevewright.web.stage.asks import FROM_A_FILE, Teller, asked_of, single_asks
from sleevewright.web.stage.page import Seen, seen_of, stage_page
from sleevewright.web.stage.shop import Gauge, ShopView
from sleevewright.web.stage.views import PersonChoice

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
KINDS = ("two-stroke", "four-stroke", "compressor")
STATES = ("empty", "half", "full")
Told = list[tuple[str, dict[str, Any]]]
SHOP = ShopView(
    now=NOW,
    store="a" * 16,
    people=(PersonChoice("p1", "Ann"), PersonChoice("p2", "Bo")),
    asks_pin=True,
    gauges=(Gauge("bore gauge 2", "bore gauge 2, 0.4 thou", "bore-gauge", ({"name": "g"},)),),
    names={"p1": "Ann", "p2": "Bo"},
)


CONTACT = dict.fromkeys(("name", "telephone", "address", "email", "note"), "")


def record(number: int, kind: str, body: dict[str, Any]) -> Record:
    """A kept record of the job."""
    received = f"2026-11-25T08:{number // 60 % 60:02d}:{number % 60:02d}.000Z"
    return Record("J-31", number, f"{number:032x}", "bench", number, received, kind, 1, body)


def told(folded: Folded, kind: str, **body: Any) -> None:
    """Tell a job one thing more, judged as if a device had handed it in."""
    made = body_of(kind, {"cylinder": 1, **body}, folded) if kind in ("value", "set") else body
    folded.add(record(folded.last + 1, kind, made))


def opened(kind: str, cylinders: int = 1) -> Folded:
    """A job of which nothing but its opening was told."""
    body = {"title": "one & only <250>", "units": "inch", "engine_kind": kind}
    return Folded([record(1, "job", {**body, "cooling": "water", "cylinders": cylinders})])


def filled(root: Path, kind: str) -> Folded:
    """A job as a job file tells it, and what only a life tells: events, lifts, conflicts."""
    text = (root / "examples" / "demo-air-175.toml").read_text(encoding="utf-8")
    job = read_job(text, name="demo-air-175.toml")
    job = replace(job, engine=replace(job.engine, kind=kind))
    folded = opened(kind)
    for what, body in drafts_of_job(job):
        folded.add(record(folded.last + 1, what, dict(body)))
    return folded


def finished(root: Path, kind: str) -> Folded:
    """The same, with every cell of every stage told as its own example says."""
    folded = filled(root, kind)
    for stage in life_of(folded):
        for field in sheet_of(stage.key).fields:
            if asked_of(field.only, folded, 1) and not folded.heads(field.cell):
                cell = field.cell_for("main/left" if field.each == "port" else 1)
                text = field.allowed[0] if field.allowed else field.example
                text = f"{text} min" if field.sort == "minutes" else text
                told(folded, "value", cell=cell if field.each else field.cell, text=text)
    told(folded, "value", cell="found.note", text="another tablet saw more")
    told(folded, "set", set="ab12cd", stage="honefit", feature="parent-bore", nominal="2.6360 in",
         unit="thou", stations=["0.4 in", "1.3 in"], directions=["0 deg", "90 deg"],
         blank=[[1, 1]], entry="deviation")  # fmt: skip
    for cell, text in (("0/0", "+0.4"), ("0/1", "+0.5"), ("zero-start", "0.0")):
        told(folded, "value", cell=f"set/ab12cd/{cell}", text=text)
    for what, result in (("wash", ""), ("wipe", "dirty")):
        told(folded, "event", cylinder=1, stage="ready", what=what, result=result)
    told(folded, "lift", cylinder=1, stage="old", person="p1", reason="islands accepted <in ink>")
    told(folded, "attachment", cylinder=1, stage="found", sha256="ab", size=2048,
         type="image/png", name="a.png", caption="crack at the bridge")  # fmt: skip
    told(folded, "decision", cylinder=0, option="sleeve", price="380", currency="EUR",
         agreed_by="the customer", how="in writing", offered=["hone", "sleeve"])  # fmt: skip
    told(folded, "release", cylinder=1, person="p2", head="c" * 64, plan={}, holds={})
    return folded


def seen(folded: Folded, cylinder: int = 1) -> Seen:
    """A cylinder as its pages look at it, without a store."""
    living = living_job(folded, cylinder)
    plan = widened(plan_job(living.job), living.job, folded, cylinder=cylinder)
    plan = proved(plan, living.job, folded, Shop(), cylinder=cylinder)
    verdicts = verdicts_of(plan)
    look = Look(
        "J-31",
        cylinder,
        folded,
        living,
        plan,
        "",
        verdicts,
        steps(folded, cylinder=cylinder, verdicts=verdicts),
        next_action(folded, cylinder=cylinder, verdicts=verdicts),
    )
    return seen_of(look, SHOP)


@cache
def made(root: Path, state: str, kind: str) -> Seen:
    """A job in one of the states, looked at once."""
    if state == "empty":
        return seen(opened(kind))
    return seen(filled(root, kind) if state == "half" else finished(root, kind))


class Page(HTMLParser):
    """What a page has: headings, ids, controls with their names, classes of its drawings."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.h1 = 0
        self.ids: list[str] = []
        self.labels: set[str] = set()
        self.controls: list[dict[str, str]] = []
        self.styled: list[str] = []
        self.cells: list[dict[str, str]] = []
        self._labelled = 0
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what matters of a tag."""
        own = {name: value or "" for name, value in attrs}
        self.h1 += tag == "h1"
        if "id" in own:
            self.ids.append(own["id"])
        if "style" in own or any(name.startswith("on") for name in own):
            self.styled.append(tag)
        if tag == "label":
            self._labelled += 1
            self.labels.add(own.get("for", ""))
        if tag in ("input", "select", "textarea") and own.get("type") != "hidden":
            self.controls.append({**own, "inside": "yes" if self._labelled else ""})
        if "data-cell" in own:
            self.cells.append(own)

    def handle_endtag(self, tag: str) -> None:
        """A label ends."""
        self._labelled -= tag == "label"

    def unnamed(self) -> list[dict[str, str]]:
        """Controls that nobody could name."""
        return [
            one
            for one in self.controls
            if not (one["inside"] or one.get("aria-label") or one.get("id") in self.labels)
        ]


def pages(root: Path, state: str, kind: str) -> Iterator[tuple[str, str]]:
    """Each stage of a job and its page."""
    looked = made(root, state, kind)
    for stage in life_of(looked.folded):
        yield stage.key, render("stage/page.html", page=stage_page(looked, stage.key))


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("state", STATES)
def test_every_stage_has_a_page(root: Path, state: str, kind: str) -> None:
    """One heading, no name twice, every control named, nothing undefined, no inline style."""
    for stage, text in pages(root, state, kind):
        page = Page(text)
        assert page.h1 == 1, stage
        assert len(page.ids) == len(set(page.ids)), stage
        assert page.unnamed() == [], stage
        assert page.styled == [], stage
        assert "Undefined" not in text, stage
        assert ">None<" not in text, stage
        assert "one &amp; only &lt;250&gt;" in text, stage


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_of_a_stage_stands_on_its_page(root: Path, kind: str) -> None:
    """A cell that a stage asks this engine for can be told there, with its dimension."""
    looked = made(root, "half", kind)
    for stage, text in pages(root, "half", kind):
        shown = {one["data-cell"]: one for one in Page(text).cells}
        for field in sheet_of(stage).fields:
            if field.each or not asked_of(field.only, looked.folded, 1):
                continue
            if field.cell in FROM_A_FILE:
                assert f"{stage}/log-file" in text
                continue
            assert field.cell in shown, (stage, field.cell)
            assert shown[field.cell]["data-cylinder"] == ("0" if field.per_job else "1")
            if field.sort == "quantity" and field.span is not None:
                assert shown[field.cell]["data-dimension"] == field.span.dimension.value


def test_what_was_told_stands_in_its_cell(root: Path) -> None:
    """The text verbatim, the ids of what stands, and its kind."""
    page = Page(dict(pages(root, "full", "two-stroke"))["intake"])
    mass = next(one for one in page.cells if one["data-cell"] == "casting.mass")
    assert mass["value"] == mass["data-told"] != ""
    assert len(mass["data-told-ids"]) == 32


def test_two_values_are_both_shown(root: Path) -> None:
    """A cell with two values offers each by one press and claims neither."""
    text = dict(pages(root, "full", "two-stroke"))["found"]
    note = next(one for one in Page(text).cells if one["data-cell"] == "found.note")
    assert "data-told" not in note
    assert "another tablet saw more" in note["data-conflict"]
    assert text.count("data-choose=") >= 2


def test_a_port_is_no_place_to_read(root: Path) -> None:
    """Land places of a set have no input; the others deviate from the nominal."""
    text = dict(pages(root, "full", "two-stroke"))["honefit"]
    cells = [one["data-cell"] for one in Page(text).cells]
    assert "set/ab12cd/1/0" in cells
    assert "set/ab12cd/1/1" not in cells
    assert 'data-nominal-nm="66954400"' in text
    assert "2.6364" in text


def test_a_lifted_hold_shows_for_ever(root: Path) -> None:
    """Name and reason stand on every page of the cylinder, and the hold calls itself lifted."""
    for stage, text in pages(root, "full", "two-stroke"):
        assert "islands accepted &lt;in ink&gt;" in text, stage
        assert "Ann" in text, stage
    assert "Hold lifted" in dict(pages(root, "full", "two-stroke"))["old"]


def test_a_hold_that_is_not_met_says_what_would_meet_it(root: Path) -> None:
    """The cure stands beside why, and lifting it asks for a person, a PIN and a reason."""
    looked = made(root, "empty", "two-stroke")
    text = render("stage/page.html", page=stage_page(looked, "sleeve"))
    hold = looked.look.hold("sleeve")
    assert hold.state == "not met"
    assert hold.lacks[0].cure in text
    page = Page(text)
    assert {"lift-reason", "lift-person", "lift-pin"} <= set(page.ids)


def test_a_page_names_one_next_move() -> None:
    """What closes a stage and the bar at its foot ask for the same thing first."""
    page = stage_page(seen(opened("two-stroke")), "old")
    assert page.closed is not None
    assert page.closed.cure == page.next.words == "Say what the casting is made of"


def test_old_sleeve_out_says_whether_the_sleeve_serves(root: Path) -> None:
    """The clean-out that was told gives the fit and the picture its island."""
    text = dict(pages(root, "full", "two-stroke"))["old"]
    assert "Still to bore to the parent bore" in text
    assert "Fit in the clean-out, before it is bored" in text
    assert "1 island of old iron" in text


def test_make_ready_counts_what_dirt_costs(root: Path) -> None:
    """A grain of 2 thou takes 2 thou of the slip, in the figures of the plan."""
    text = dict(pages(root, "half", "two-stroke"))["ready"]
    assert "A grain of 2 thou takes 2 thou of the slip" in text
    assert "phosgene" in text
    assert text.index("Burrs off") < text.index("Wiped, cloth clean") < text.index("Drained")


def test_answers_come_alone(root: Path) -> None:
    """The part that is fetched anew is the one that stands in the page."""
    looked = made(root, "full", "two-stroke")
    page = stage_page(looked, "honefit")
    part = render("stage/answers.html", page=page)
    assert part.strip().startswith('<div data-part="answers">')
    assert part in render("stage/page.html", page=page)
    assert 'data-for="set/ab12cd/0/0" value="2.6364"' in part


def test_a_port_that_is_asked_for_gets_its_row(root: Path) -> None:
    """An address that names a port shows its cells before anything of it was told."""
    looked = made(root, "empty", "two-stroke")
    text = render("stage/page.html", page=stage_page(looked, "found", named=["boost/2"]))
    assert "port/boost%2F2/found.roof" in {one["data-cell"] for one in Page(text).cells}


def test_cylinders_are_switched_between() -> None:
    """A job of two cylinders links the same stage of the other, with a route of its own."""
    looked = seen(opened("four-stroke", cylinders=2), cylinder=2)
    text = render("stage/page.html", page=stage_page(looked, "parent"))
    assert 'href="/jobs/J-31/1/parent"' in text
    assert 'data-cylinder="2"' in text


@pytest.mark.parametrize("state", STATES)
def test_the_page_of_a_job_tells_its_history(root: Path, state: str) -> None:
    """The stage in hand, every stage, every record in words, the last first."""
    looked = made(root, state, "two-stroke")
    records = [record(1, "job", {"title": "a job", "engine_kind": "two-stroke"})]
    records += [record(2, "lift", {"cylinder": 1, "stage": "old", "person": "p1", "reason": "why"})]
    value = {"cylinder": 1, "cell": "casting.mass", "text": "3 lb", "kind": "typed"}
    records += [record(3, "value", value), record(4, "given-up", {"reason": "broken"})]
    shown = job_page(looked, Around(((1, "Next"),), records, CONTACT))
    text = render("job/job.html", page=shown.stage, job=shown)
    assert Page(text).h1 == 1
    assert Page(text).unnamed() == []
    said = [line.words for line in shown.lines]
    assert said[0] == "An entry was given up: broken"
    assert said[1] == "Cylinder 1: Casting weighs: 3 lb (typed)"
    assert "Hold of Old sleeve out lifted by Ann" in said[2]
    assert all(f"/jobs/J-31/1/{stage.key}" in text for stage in life_of(looked.folded))


def test_readings_that_did_not_come_are_told_with_the_name_of_the_device() -> None:
    """A hold speaks of the tablet as the shop calls it, not of its key."""
    folded = opened("four-stroke")
    folded.add(
        replace(record(2, "value", {"cell": "x", "text": ""}), device="d-9", device_number=3)
    )
    lacks = hold_of("intake", folded).lacks
    shop = replace(SHOP, devices={"d-9": "tablet 2"})
    why, cure = shop.named(next(one for one in lacks if one.device))
    assert why == "2 readings of tablet 2 not here yet"
    assert cure.startswith("Bring tablet 2 within reach")


@pytest.mark.parametrize(("cylinders", "said"), [(1, False), (2, True)])
def test_what_all_cylinders_share_says_so(cylinders: int, said: bool) -> None:
    """Whoever types at cylinder 2 sees that it is told of the whole job."""
    folded = opened("four-stroke", cylinders)
    teller = Teller(folded, cylinders, {})
    asks = {one.cell: one.is_shared for one in single_asks(sheet_of("found"), teller)}
    assert asks["found.pressure_test"] is said
    assert not asks["found.cracks"]


def test_what_stands_beside_the_plan_opens_on_the_spot(root: Path) -> None:
    """The chain's answers open where they stand, with bars and what they are made of."""
    text = dict(pages(root, "half", "two-stroke"))["piston"]
    at = text.index("Sleeve&#39;s bore off its outside</b>")
    opened = text[at : text.index("</li>\n<li>\n<p><b>Finish bore off", at)]
    assert '<details class="why screen">' in opened
    assert "eccentricity of a wall" in opened
    assert "thickest less thinnest" in opened
    assert "Verdict: good below 5 %, out above 95 %." in text
    assert "more=chain." not in text


def test_the_chance_stands_beside_the_limit(root: Path) -> None:
    """A verdict on a number that is in doubt tells how likely it is wrong."""
    text = dict(pages(root, "half", "two-stroke"))["piston"]
    assert re.search(r"limit 20\.0; less than 0\.1 % chance that it is out", text)
