"""The plan page as a record: rows, bases, orders and addresses, from a plan made by hand."""

from __future__ import annotations

import dataclasses

import pytest

from browser.sample_plan import sample_plan
from sleevewright.jobs.model import Job
from sleevewright.jobs.route import steps_of
from sleevewright.jobs.walk import NextAction
from sleevewright.planning.answers import Kind, Plan
from sleevewright.web.plan.address import LONGEST_TRAIL, Place, trail_from, trail_text
from sleevewright.web.plan.page import NextView, PlanPage, next_of_job, opened_basis, plan_page
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.plan.views import source_view


def place(**changes: object) -> Place:
    """The sample's own address with changes."""
    return dataclasses.replace(Place("/jobs/J-31", "inch", "inch"), **changes)


def page_at(at: Place, plan: Plan | None = None) -> PlanPage:
    """The sample's page at an address."""
    plan = plan or sample_plan()
    return plan_page(plan, at, steps_of(Job()), NextView("Agree this fit", "#stage-piston"))


def test_the_running_fit_is_opened_first() -> None:
    """A fresh page has one number open, and it is the running fit."""
    page = page_at(place())
    opened = [row.answer.id for row in page.seven if row.basis]
    assert opened == ["fit.running"]


def test_every_answer_of_the_plan_has_a_row_that_opens_it() -> None:
    """No number of the plan is without an address that opens it, below or among the seven."""
    plan = sample_plan()
    page = page_at(place(), plan)
    rows = [
        row
        for stage in page.stages
        for row in (*stage.worked_out, *(one for group in stage.behind for one in group.rows))
    ]
    assert {row.answer.id for row in rows} == {answer.id for answer in plan.answers()}
    for row in rows:
        assert f"more={row.answer.id}" in row.answer.href


def test_every_answer_opens_to_its_own_basis_and_inputs() -> None:
    """Opening any answer shows that answer, and each of its inputs as a way further down."""
    plan = sample_plan()
    for answer in plan.answers():
        basis = opened_basis(plan, place(more=(answer.id,)))
        assert basis.answer.id == answer.id
        wanted = {source for _, source in answer.basis.inputs} if answer.basis else set()
        assert {one.id for one in basis.inputs} == wanted
        assert all(
            one.href.endswith(f"more={answer.id}/{one.id}#{answer.id}-row") for one in basis.inputs
        )


def test_an_opened_input_leads_back_to_where_it_was_opened() -> None:
    """The basis of an input carries the way back, with the row it stands in kept open."""
    page = page_at(place(opened=("fit.running", "sleeve.od")))
    row = next(row for row in page.seven if row.basis)
    assert row.answer.id == "fit.running"
    assert row.basis is not None
    assert row.basis.answer.id == "sleeve.od"
    assert row.basis.back is not None
    assert row.basis.back.id == "fit.running"
    assert row.basis.back.href == "/jobs/J-31?open=fit.running#fit.running"


def test_an_address_with_a_number_that_is_gone_opens_what_is_left_of_it() -> None:
    """An old address does not fail: the trail ends before the number that is not there."""
    page = page_at(place(opened=("fit.cold", "fit.vanished", "sleeve.od")))
    row = next(row for row in page.seven if row.basis)
    assert row.basis is not None
    assert row.basis.answer.id == "fit.cold"


def test_contributors_are_shown_as_half_widths_in_the_unit_of_the_number() -> None:
    """The bars are the parts of the shown ±0.6: 0.4, 0.3 and 0.2 thou, the largest full."""
    basis = Viewer(sample_plan(), "inch").basis(("fit.running",), place().opening)
    assert [bar.figure for bar in basis.bars] == ["0.4", "0.3", "0.2"]
    assert [bar.length for bar in basis.bars] == [100.0, 75.0, 47.5]


def test_decimal_points_of_the_seven_stand_in_line() -> None:
    """Every figure with its unseen digits has as many places as the longest."""
    page = page_at(place())
    places = {
        len((row.answer.shown.figure + row.pad).partition(".")[2])
        for row in page.seven
        if not row.answer.is_blank
    }
    assert len(places) == 1


def test_a_missing_value_is_blank_and_says_what_it_wants() -> None:
    """What is not known is a dash with its wants, never a zero."""
    view = Viewer(sample_plan(), "inch").answer("finish.stock")
    assert view.is_blank
    assert view.shown.figure == "–"
    assert view.needs == ("the piston's diameter",)


def test_orders_carry_their_limits_and_what_stands_beside_them() -> None:
    """The parent bore has its two limits, the oven the casting's, the slip the needle."""
    orders = {order.answer.id: order for order in page_at(place()).orders}
    bore = orders["bore.target"]
    assert bore.low is not None
    assert bore.high is not None
    assert (bore.low.shown.figure, bore.high.shown.figure) == ("2.9997", "3.0003")
    assert [one.id for one in orders["heat.oven"].beside] == ["heat.limit"]
    assert [one.id for one in orders["heat.slip"].beside] == ["heat.needle"]


def test_the_next_action_leads_to_the_stage_in_hand_of_its_cylinder() -> None:
    """The plan of a job says what the job's page says, and leads to the page of that stage."""
    action = NextAction("parent", "Gauge the parent bore")
    at = place(base="/jobs/J-31", cylinder=2)
    assert next_of_job(action, at) == NextView("Gauge the parent bore", "/jobs/J-31/2/parent")
    assert page_at(place()).next.words == "Agree this fit"


def test_what_is_out_is_said_before_any_caution() -> None:
    """The press that must not be overlooked counts both and leads to what is out."""
    watch = page_at(place()).watch
    assert watch is not None
    assert watch.words == "1 out, 1 caution"
    assert watch.href == "#stage-fit"
    assert watch.first.startswith("chance of less than the least: out.")


def test_a_plan_with_nothing_to_watch_says_nothing() -> None:
    """Without a verdict that is out and without cautions there is no such press."""
    plan = sample_plan()
    quiet = dataclasses.replace(plan, cautions=(), stages=plan.stages[:1], seven=(), orders=())
    assert page_at(place(), quiet).watch is None


def test_what_is_worked_out_stands_apart_from_what_was_told() -> None:
    """Told and assumed numbers stand behind their own press; decisions stay in front."""
    for stage in page_at(place()).stages:
        assert all(row.answer.shown.kind in ("computed", "chosen") for row in stage.worked_out)
        told = {Kind.MEASURED.value, Kind.TYPED.value, Kind.ASSUMED.value}
        behind = [row for group in stage.behind for row in group.rows]
        assert all(row.answer.shown.kind in told for row in behind)


@pytest.mark.parametrize(("system", "other"), [("inch", "metric"), ("metric", "inch")])
def test_turning_the_units_keeps_what_is_opened(system: str, other: str) -> None:
    """The turned address has the other units and the same opened number."""
    at = place(units=system, opened=("fit.cold",))
    said = f"units={other}&" if other != "inch" else ""
    assert at.turned() == f"/jobs/J-31?{said}open=fit.cold"


def test_a_long_trail_keeps_its_row_and_its_last_steps() -> None:
    """However far a reader opens, the address stays short and still names its row."""
    trail = tuple(f"step.{k}" for k in range(40))
    kept = trail_from(trail_text(trail))
    assert len(kept) == LONGEST_TRAIL
    assert kept[0] == "step.0"
    assert kept[-1] == "step.39"


def test_a_source_key_leads_to_the_manual_and_words_stay_words() -> None:
    """A key is a link; practice and memory are said in words and lead nowhere."""
    assert source_view("norton-2011").href == "/manual/sources.html#norton-2011"
    assert source_view("practice").href == ""
    assert "no source" in source_view("practice").words
    assert source_view("the job").href == ""
