"""The shelf: who must act, what waits, what was put away; taking a job in."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from sleevewright.jobs.route import ROUTE
from sleevewright.services.shelf import MOST_AWAY, ShelfRow
from sleevewright.web.render import render
from sleevewright.web.shelf.views import Standing, address, shelf_page
from sleevewright.web.times import moment_of, moment_words

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
GOOD = Standing("last drill: yesterday 02:00, 41 s, chain good", is_good=True)
ROW = ShelfRow(
    number="J-31",
    cylinder=1,
    of_cylinders=1,
    title="270 two-stroke <water>",
    stage="parent",
    next_words="Read the parent bore",
    turn="yours",
    waits_for="",
    since="2026-11-25T10:41:00.000Z",
    place="on the mill",
    promised="",
    is_invented=False,
    is_released=False,
    changed="2026-11-25T10:41:00.000Z",
)


def shown(*rows: ShelfRow, released: tuple[ShelfRow, ...] = (), **more: str) -> str:
    """The shelf's page."""
    page = shelf_page(rows, released, GOOD, now=NOW, **more)
    return render("shelf/shelf.html", page=page)


def test_rows_stand_under_who_must_act() -> None:
    """Yours, heat, people, in this order, whatever order they come in; one row is blue."""
    heat = replace(ROW, number="28", turn="heat", waits_for="the oven")
    people = replace(ROW, number="30", turn="people", waits_for="the sleeve")
    text = shown(people, heat, ROW, replace(ROW, number="29"))
    order = [text.index(words) for words in ("Yours now", "Waits for heat or cold", "for people")]
    assert order == sorted(order)
    assert text.index(">J-31<") < text.index(">28<") < text.index(">30<")
    assert text.count("first-row") == 1
    assert "<h1" in text
    assert text.count("<h1") == 1


def test_a_row_says_what_where_and_since_when() -> None:
    """Next action, title escaped, place, hour, and the stage with its rule."""
    text = shown(ROW)
    for words in ("Read the parent bore", "270 two-stroke &lt;water&gt;", "on the mill"):
        assert words in text
    assert "Parent bore" in text
    assert moment_words(ROW.since, now=NOW) in text
    line = shelf_page((ROW,), (), GOOD, now=NOW).groups[0].lines[0]
    assert [state for _, _, state in line.marks].count("past") == 8
    assert len(line.marks) == len(ROUTE)


def test_each_cylinder_has_a_row_and_an_address() -> None:
    """Of several cylinders each names itself; the job counts once."""
    rows = [replace(ROW, cylinder=n, of_cylinders=3) for n in (1, 2, 3)]
    page = shelf_page(rows, (), GOOD, now=NOW)
    assert page.count == 1
    assert [one.href for one in page.groups[0].lines] == [f"/jobs/J-31/{n}" for n in (1, 2, 3)]
    assert "cylinder 2 of 3" in shown(*rows)


def test_what_was_released_waits_behind_one_press() -> None:
    """It does not count as being on the shelf, and it is not among the groups."""
    out = replace(ROW, number="27", is_released=True, stage="after")
    page = shelf_page((ROW,), (out,), GOOD, now=NOW)
    assert page.count == 1
    assert [one.row.number for one in page.put_away] == ["27"]
    text = shown(ROW, released=(out,))
    assert "Put away: 1 released" in text
    assert text.index("<details") < text.index(">27<")


def test_invented_jobs_say_so() -> None:
    """The demo never passes for a customer's job."""
    assert "invented" in shown(replace(ROW, is_invented=True))
    assert "invented" not in shown(ROW)


def test_damage_stands_above_everything() -> None:
    """When nothing is written any more the first page says it, as an alert."""
    text = shown(ROW, damage="The disk gave an error.")
    assert text.index('role="alert"') < text.index("Yours now")
    assert "The disk gave an error." in text
    assert 'role="alert"' not in shown(ROW)


def test_the_standing_of_the_copies_shows() -> None:
    """A drill that failed is drawn as out."""
    bad = Standing("last drill failed", is_good=False)
    page = shelf_page((ROW,), (), bad, now=NOW)
    assert "outed" in render("shelf/shelf.html", page=page)
    assert GOOD.words in shown(ROW)
    assert "outed" not in shown(ROW)


def test_an_empty_bench_says_how_to_begin() -> None:
    """No job: a way to take one in, and no blank sheet."""
    text = shown()
    assert "No job is on the shelf" in text
    assert 'href="/new"' in text


def test_where_nothing_is_yours_it_is_said() -> None:
    """The first group stays, without a blue row."""
    text = shown(replace(ROW, turn="people"))
    assert "Nothing is yours now." in text
    assert "first-row" not in text


def test_promises_and_waits_stand_at_the_end_of_a_row() -> None:
    """What was promised comes before since when; what is waited for is named once."""
    promised = shelf_page((replace(ROW, promised="2026-12-04"),), (), GOOD, now=NOW)
    line = promised.groups[0].lines[0]
    assert line.when == "4 Dec"
    assert line.when_note.startswith("promised; since")
    waits = replace(ROW, turn="people", waits_for="the piston")
    assert shown(waits).count("the piston") == 1


def test_a_new_job_asks_little() -> None:
    """Number, cylinders, words, kind, cooling, units: each with a label."""
    text = render(
        "shelf/new.html",
        number="J-1",
        engine_kinds=("two-stroke",),
        coolings=("air",),
        most=16,
        units="metric",
    )
    for name in ("number", "cylinders", "title", "engine_kind", "cooling", "units"):
        assert f'name="{name}"' in text
    assert text.count("<label") == 7
    assert 'value="J-1"' in text


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", ""),
        ("not a moment", ""),
        ("2026-11-25T07:05:00", "07:05"),
        ("2025-03-01T00:00:00Z", "1 Mar 2025"),
    ],
)
def test_moments_are_said_shortly(text: str, expected: str) -> None:
    """The hour today, the date long ago; a text that is none says nothing."""
    assert moment_words(text, now=NOW, zone=UTC) == expected


def test_a_moment_to_come_is_a_date_not_a_weekday() -> None:
    """A clock that runs ahead is not read as last week."""
    later = (NOW + timedelta(days=3)).isoformat()
    assert moment_words(later, now=NOW, zone=UTC) == "28 Nov"
    assert moment_of(later) == NOW + timedelta(days=3)


def test_an_address_is_quoted() -> None:
    """A number with odd letters still leads to its job."""
    assert address("A/7 b") == "/jobs/A%2F7%20b"


@pytest.mark.parametrize(("count", "says_so"), [(3, False), (MOST_AWAY, True)])
def test_only_the_last_that_were_released_stand_there(count: int, says_so: bool) -> None:
    """A shop that worked for years opens its shelf as quickly; the rest is found by search."""
    out = tuple(replace(ROW, number=f"{n}", is_released=True, stage="after") for n in range(count))
    text = shown(ROW, released=out)
    assert ("found by searching" in text) is says_so
    assert f"{count} released" in text
