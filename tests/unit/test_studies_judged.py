"""Gauge studies that hold a slip: not accepted, written out plainly, and told why."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from sleevewright.errors import InputError
from sleevewright.jobs.studies import StudyFeature, StudyPlan
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.instruments import save_instrument, snapshot
from sleevewright.services.people import add_person
from sleevewright.services.studies import (
    accept_study,
    answers_of,
    begin_study,
    study,
    take_back,
    tell_study,
)
from sleevewright.web.instruments.study_views import study_page

RINGS = (StudyFeature("small ring", "2.1000 in"), StudyFeature("middle ring", "2.5000 in"),
         StudyFeature("large ring", "2.9000 in"))  # fmt: skip
PLAN = StudyPlan("bore gauge", RINGS, ("p1", "p2"), 3, "inch")


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with a gauge and two people."""
    opened = open_bench(tmp_path / "data")
    save_instrument(opened, {"name": "bore gauge", "kind": "dial-bore-gauge"})
    for name in ("Ann Example", "Bo Example"):
        add_person(opened, name)
    yield opened
    opened.close()


def lots() -> random.Random:
    """The same lots in every run."""
    return random.Random(11)  # noqa: S311 - an order of reading, no secret


def test_a_study_that_no_set_could_use_is_not_accepted(bench: Bench) -> None:
    """One of 18 readings keyed 36 thou: named with feature, reader and round; nothing adopted.

    The others scatter by 0.1 thou; s = 36 (1 - 1/3)^(1/2) / 12^(1/2) = 8.5 thou by hand.
    """
    begun = begin_study(bench, PLAN, lots=lots())
    rng = np.random.default_rng(4)
    slip = begun.order[7]
    for place in begun.order:
        tell_study(bench, begun.id, "+36.0" if place == slip else f"{rng.normal(0.0, 0.1):+.1f}")
    who = ("Ann", "Bo")[slip[1]]
    words = (
        rf"8\.5 thou.*7\.9 thou or less.*\+36\.0 of {RINGS[slip[0]].name} by {who}.*"
        rf"round {slip[2] + 1}.*begin anew"
    )
    with pytest.raises(InputError, match=words):
        accept_study(bench, begun.id, person="p1")
    assert study(bench, begun.id).state == "whole"
    assert "repeatability" not in snapshot(bench, "bore gauge")[0]
    for _ in begun.order[7:]:
        take_back(bench, begun.id)
    assert study(bench, begun.id).left[0] == slip
    for _ in begun.order[7:]:
        tell_study(bench, begun.id, f"{rng.normal(0.0, 0.1):+.1f}")
    assert accept_study(bench, begun.id, person="p1").state == "accepted"


def test_a_total_that_is_less_than_a_part_says_why(bench: Bench) -> None:
    """Two hands 2 apart in the same way: no doing of feature to feature, and less in all."""
    begun = begin_study(bench, PLAN, lots=lots())
    for _, person, repeat in begun.order:
        tell_study(bench, begun.id, f"{2.0 * person + (-0.5, 0.0, 0.5)[repeat]:+.1f}")
    plan = answers_of(study(bench, begun.id))
    told = {one: float(plan.answer(f"study.{one}").value) for one in ("people", "person", "both")}
    assert told["both"] == 0.0
    assert told["people"] < told["person"]
    texts = [one.text for one in plan.cautions]
    assert any("less than the one part" in one for one in texts)
    assert "1.0 degrees" not in plan.answer("study.people").of


def test_no_figure_of_a_study_page_has_an_exponent(bench: Bench) -> None:
    """One reading keyed 900 um makes squares and deviations large; all are written out."""
    rings = tuple(StudyFeature(f"ring {at}", f"{at} mm") for at in (53, 63, 73))
    begun = begin_study(bench, replace(PLAN, features=rings, system="metric"), lots=lots())
    for place in begun.order:
        tell_study(bench, begun.id, "+900" if place == begun.order[7] else "+1")
    shown = repr(study_page(bench, study(bench, begun.id)))
    assert "figure='210'" in shown, "899 (1 - 1/3)^(1/2) / 12^(1/2) is 212"
    assert re.findall(r"\d[\d.]*e[+-]?\d+", shown) == []
