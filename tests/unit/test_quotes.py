"""Offers, what was agreed, invoices: kept as they were told, carried over without retyping."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benches import EXAMPLES, bench_in
from sleevewright.errors import InputError, NotFound, StateError
from sleevewright.jobs.living import living_job
from sleevewright.jobs.records import VALUE
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.choosing import options_of, surface_of
from sleevewright.services.invoices import invoices_of, last_invoice, make_invoice
from sleevewright.services.jobs import look, open_job, server_draft
from sleevewright.services.minutes import minutes_beside, own_minutes
from sleevewright.services.quotes import (
    Agreeing,
    Wanted,
    agree,
    draft,
    is_over,
    make_quote,
    quotes_of,
)
from sleevewright.services.settings import change_setting

KEYS = ("hone", "oversize", "sleeve")
WANTED = (
    Wanted("hone", {}, ()),
    Wanted("oversize", {"bore": "40"}, (("Piston, +0.50", "61,50"),)),
    Wanted("sleeve", {"ports": "100"}, (("Sleeve", "140"), ("Gaskets", "22.40"))),
)


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with one invented job on it."""
    made = open_bench(tmp_path)
    open_job(made, "J-31", {"title": "270 single, water", "units": "inch"})
    yield made
    made.close()


def value(bench: Bench, job: str, cell: str, text: str, **more: object) -> None:
    """Tell a value of cylinder 1."""
    body = {"cylinder": 1, "cell": cell, "text": text, **more}
    bench.store.append([server_draft(job, VALUE, body)])


def agreed(bench: Bench, option: str = "sleeve") -> str:
    """An offer that was made and agreed; its id."""
    quote = make_quote(bench, "J-31", WANTED)
    agree(bench, "J-31", Agreeing(quote.id, option, "by telephone"))
    return quote.id


def test_options_are_expected_with_minutes_before_anything_is_typed(bench: Bench) -> None:
    """A draft prices each option by the starting minutes; the sleeve takes longest."""
    offered = draft(bench, "J-31", KEYS)
    assert [one.key for one in offered] == list(KEYS)
    totals = [one.price.total for one in offered]
    assert totals == sorted(totals)
    assert quotes_of(bench, "J-31") == ()


def test_offer_is_kept_as_it_was_told(bench: Bench) -> None:
    """What was typed stands, and a change of the shop's rate does not alter it afterwards."""
    made = make_quote(bench, "J-31", WANTED, note="without welding")
    change_setting(bench, "price_hour", "200")
    kept = quotes_of(bench, "J-31")[0]
    assert kept == made
    sleeve = kept.offered[2]
    assert next(one for one in sleeve.works if one.name == "ports").minutes == 100
    assert [part.cents for part in sleeve.parts] == [14_000, 2_240]
    assert sleeve.price.total == sleeve.price.net + sleeve.price.tax
    dearer = make_quote(bench, "J-31", WANTED)
    assert (dearer.revision, dearer.id) == (2, "J-31-Q2")
    assert dearer.offered[2].price.total > sleeve.price.total
    assert [one.revision for one in quotes_of(bench, "J-31")] == [2, 1]


@pytest.mark.parametrize(
    ("wanted", "word"),
    [
        (Wanted("hone", {"hone": "half an hour"}, ()), "whole minutes"),
        (Wanted("hone", {"hone": "-5"}, ()), "whole minutes"),
        (Wanted("hone", {"weld": "5"}, ()), "its operations"),
        (Wanted("hone", {}, (("Rings", "1,250"),)), "two decimals"),
        (Wanted("hone", {}, (("", "12.00"),)), "what it is"),
    ],
)
def test_figure_that_cannot_be_taken_is_refused(bench: Bench, wanted: Wanted, word: str) -> None:
    """The refusal says what would be taken, and nothing is kept."""
    with pytest.raises(InputError, match=word):
        make_quote(bench, "J-31", [wanted])
    assert quotes_of(bench, "J-31") == ()


def test_offer_ends_and_cannot_be_agreed_afterwards(bench: Bench) -> None:
    """After its last day an offer asks to be made anew."""
    quote = make_quote(bench, "J-31", WANTED)
    assert not is_over(bench, quote)
    later = replace(bench, clock=lambda: datetime.now(UTC) + timedelta(days=32))
    assert is_over(later, quote)
    with pytest.raises(StateError, match="a new offer"):
        agree(later, "J-31", Agreeing(quote.id, "sleeve", "in person"))
    assert bench.store.folded("J-31").decisions == []
    with pytest.raises(InputError, match="a day"):
        make_quote(bench, "J-31", WANTED, valid_until="2020-01-01")


def test_agreement_is_a_record_of_the_chain(bench: Bench) -> None:
    """Option, price and how stand in the chain, with the planned minutes; no customer's name."""
    agreed(bench)
    folded = bench.store.folded("J-31")
    body = folded.decisions[-1].body
    assert (body["option"], body["how"], body["agreed_by"]) == (
        "sleeve", "by telephone", "customer",
    )  # fmt: skip
    assert body["offered"] == ["hone", "next oversize", "sleeve"]
    planned = {one.stage: one.planned for one in minutes_beside(folded)}
    assert planned["old"] == 45
    assert quotes_of(bench, "J-31")[0].agreed == "sleeve"


def test_last_agreement_counts(bench: Bench) -> None:
    """A customer who thinks again agrees to another option; planned minutes follow."""
    identity = agreed(bench)
    agree(bench, "J-31", Agreeing(identity, "hone", "in writing"))
    assert quotes_of(bench, "J-31")[0].agreed == "hone"
    folded = bench.store.folded("J-31")
    assert folded.conflicts() == {}
    assert len(folded.decisions) == 2


def test_unknown_offer_option_and_manner_are_refused(bench: Bench) -> None:
    """What is agreed must have been offered."""
    quote = make_quote(bench, "J-31", WANTED[:1])
    with pytest.raises(NotFound):
        agree(bench, "J-31", Agreeing("J-9-Q1", "hone", "in person"))
    with pytest.raises(NotFound):
        agree(bench, "J-31", Agreeing(quote.id, "sleeve", "in person"))
    with pytest.raises(InputError):
        agree(bench, "J-31", Agreeing(quote.id, "hone", "somehow"))


def test_invoice_carries_the_agreed_figures_over(bench: Bench) -> None:
    """From offer to invoice no figure is typed again, and nothing differs by a cent."""
    identity = agreed(bench)
    price = quotes_of(bench, "J-31")[0].offered[2].price
    issued = make_invoice(bench, "J-31", paid="50")
    assert (issued.quote, issued.option) == (identity, "Sleeve")
    assert issued.invoice.lines == price.lines
    assert issued.invoice.total == price.total
    assert issued.invoice.due == price.total - 5_000
    assert last_invoice(bench, "J-31") == issued


def test_offer_becomes_an_invoice_on_each_database(
    tmp_path: Path, database_url: str | None
) -> None:
    """Offer, agreement and invoice are kept alike by SQLite and PostgreSQL."""
    made = open_bench(tmp_path, url=database_url)
    try:
        open_job(made, "J-31", {"title": "270 single, water"})
        agreed(made)
        issued = make_invoice(made, "J-31")
        assert last_invoice(made, "J-31") == issued
        assert issued.invoice.total == quotes_of(made, "J-31")[0].offered[2].price.total
    finally:
        made.close()


def test_invoice_changes_only_with_a_reason(bench: Bench) -> None:
    """A change stands below the agreed lines with its reason; without one it is refused."""
    agreed(bench)
    with pytest.raises(InputError, match="reason"):
        make_invoice(bench, "J-31", [("Welding", "60", "")])
    assert invoices_of(bench, "J-31") == ()
    issued = make_invoice(
        bench, "J-31", [("Welding", "60", "crack found"), ("Ports", "-10", "less to do")]
    )
    assert [one.cents for one in issued.invoice.changes] == [6_000, -1_000]
    assert issued.invoice.net == sum(one.cents for one in issued.invoice.lines) + 5_000


def test_no_invoice_without_an_agreement(bench: Bench) -> None:
    """What nobody agreed to is not asked for."""
    make_quote(bench, "J-31", WANTED)
    with pytest.raises(StateError, match="agreed"):
        make_invoice(bench, "J-31")
    with pytest.raises(NotFound):
        last_invoice(bench, "J-31")


def test_minutes_that_were_worked_feed_the_next_offer(bench: Bench) -> None:
    """Jobs like this one say how long the shop takes; the draft names where it is from."""
    for number, minutes in (("J-1", 90), ("J-2", 70), ("J-3", 80)):
        open_job(bench, number, {"title": "270 single, water"})
        value(bench, number, "operation.old.minutes", f"{minutes}", si=minutes * 60.0)
    assert own_minutes(bench, bench.store.folded("J-31")) == {"old": 80}
    works = draft(bench, "J-31", ["sleeve"])[0].works
    old = next(one for one in works if one.name == "bore_out")
    assert (old.minutes, old.why) == (80, "your last ones took so long")


def test_planned_and_worked_stand_side_by_side(bench: Bench) -> None:
    """Minutes of all cylinders are put together."""
    agreed(bench)
    value(bench, "J-31", "operation.old.minutes", "55 min", si=3300.0)
    beside = {one.stage: one for one in minutes_beside(bench.store.folded("J-31"))}
    assert (beside["old"].planned, beside["old"].worked) == (45, 55)
    assert beside["hone"].worked is None


def test_options_of_a_living_job_follow_its_cells(bench: Bench) -> None:
    """A plated bore is plated again; without figures nothing is claimed."""
    value(bench, "J-31", "intake.iron", "plated, flaking")
    folded = bench.store.folded("J-31")
    job = living_job(folded).job
    assert surface_of(folded) == "plated"
    assert [one.key for one in options_of(None, job, folded)] == ["hone", "replate", "sleeve"]
    assert options_of(None, job, folded)[0].stands == "not known yet"


def test_choice_stands_beside_the_plan_once_bore_and_score_are_told(tmp_path: Path) -> None:
    """With bore and score told, the plan of a living job has the figures of the options."""
    made = bench_in(tmp_path, [EXAMPLES / "demo-air-175.toml"])
    try:
        assert plan_ids(made) == set()
        value(made, "D-175", "found.score", "6 thou", nm=152_400, kind="measured")
        value(made, "D-175", "choice.wall", "0.120 in", nm=3_048_000, kind="measured")
        found = plan_ids(made)
        assert {"choice.cleaned", "choice.oversize.next", "choice.oversize.wall"} <= found
        seen = look(made, "D-175")
        options = options_of(seen.plan, seen.living.job, seen.folded)
        assert [one.stands for one in options] == ["not possible", "possible", "possible"]
    finally:
        made.close()


def plan_ids(bench: Bench) -> set[str]:
    """Ids of the choice's answers in the plan of the worked job."""
    plan = look(bench, "D-175").plan
    assert plan is not None
    return {one.id for one in plan.answers() if one.id.startswith("choice.")}
