"""Passes as they are told: late, twice, not gauged, from the clean-out; and a head beyond."""

from __future__ import annotations

import pytest

from bored_jobs import THOU, found, looked, passes, value
from simple_job import Counting, simple_job


def test_a_head_that_stands_beyond_the_limit_is_turned_back() -> None:
    """Asked 12 it took 8.6: the head has to come in, and no line says to leave it."""
    seen = looked(passes(("25 thou", "-17.4"), ("12 thou", "-9.0"), ("12 thou", "-0.4")))
    order = str(found(seen, "bore.next_turn").value)
    assert value(seen, "bore.head_turn") < 0.0
    assert "turn the head back" in order
    assert "counter-clockwise and come 5 up again clockwise" in order
    assert "leave the head" not in order
    assert "come 5 up again" in found(seen, "bore.head_turn").of


def test_a_pass_that_was_asked_and_not_gauged_holds_the_next_cut() -> None:
    """Asked 25, 10, 5 and read twice: nobody knows where the bore is, so nothing is asked."""
    job = passes(("25 thou", "-17.4"), ("10 thou", "-9.0"), ("5 thou", ""))
    ask = found(looked(job), "bore.next_ask")
    assert ask.value is None
    assert "after pass 3" in ask.needs[0]
    job.value("set/ps/2/0", "-4.8")
    assert value(looked(job), "bore.next_ask") > 0.0


def test_what_a_pass_took_is_counted_once_however_late_it_is_keyed() -> None:
    """Readings stand for their pass: its taking, keyed or corrected later, moves no bore."""
    job = passes(("25 thou", "-17.4"), ("10 thou", "-9.0"), ("5 thou", "-4.8"))
    before = value(looked(job), "bore.stands")
    job.value("parent.pass/3/got", "4.2 thou")
    assert value(looked(job), "bore.stands") == before
    job.value("parent.pass/4/asked", "3 thou")
    job.value("parent.pass/4/got", "2.5 thou")
    job.value("set/ps/0/0", "-17.3")
    moved = value(looked(job), "bore.stands") - before
    assert moved == pytest.approx(2.5 * THOU, abs=1e-9)


def test_a_second_set_takes_in_the_passes_before_it() -> None:
    """A set begun anew counts from its own first row: passes told before it are in its reading."""
    job = passes(("25 thou", "-17.4"), ("10 thou", "-9.0"))
    job.value("parent.pass/3/asked", "5 thou")
    job.value("parent.pass/3/got", "4.2 thou")
    job.begin("pt", "parent-pass", "parent", nominal="2.6360 in", unit="thou",
              stations=["1", "2"], directions=["0 deg"])  # fmt: skip
    job.value("set/pt/0/0", "-4.8")
    known = found(looked(job), "bore.stands")
    assert "told after it" not in known.of
    assert known.value == pytest.approx((2.6360 - 4.8e-3) * 0.0254, abs=2e-7)


def test_a_spring_pass_keeps_the_risk() -> None:
    """Asked 10 it took 8.4, 0.6 is left: 1.6 on the head carries more risk than the shop takes."""
    seen = looked(passes(("25 thou", "-17.4"), ("10 thou", "-9.0"), ("10 thou", "-0.6")))
    spring = [one for one in seen.answers() if one.id == "bore.spring"]
    assert all("worth one" not in str(one.value) for one in spring)


def cleaned_out(first: str) -> Counting:
    """Cleaned out to 53.5 mm, one pass asked 0.3 mm and read after it."""
    job = simple_job("four-stroke", until="parent")
    job.value("old.diameter", "53.5 mm")
    job.begin("ps", "parent-pass", "parent", nominal="54.130 mm", unit="µm",
              stations=["1", "2"], directions=["0 deg"])  # fmt: skip
    job.value("parent.pass/1/asked", "0.3 mm")
    job.value("set/ps/0/0", first)
    return job


def test_the_first_pass_starts_from_the_clean_out() -> None:
    """53.5 mm cleaned out and 53.755 mm read: it took 0.255 mm of 0.3 mm, and is on the ladder."""
    seen = looked(cleaned_out("-375"))
    (one,) = found(seen, "bore.ladder").value.passes
    assert one.taken == pytest.approx(0.255e-3, abs=1e-9)


def test_a_pass_that_took_more_than_it_was_asked_is_doubted() -> None:
    """A metric slip of the first reading is flagged, as is 1.35 times; 1.17 times is let be."""
    seen = looked(cleaned_out("-190"))  # 0.44 mm of 0.3 mm asked, 1.7 times what a bar takes
    assert [one for one in seen.cautions if one.code == "pass-twice:bore.pass"]
    seen = looked(cleaned_out("-225"))
    (text,) = [one.text for one in seen.cautions if one.code == "pass-more-than-asked:bore.pass"]
    assert "asked 11.8 thou" in text
    assert "took 15.9 thou" in text
    assert "1.35 times" in text
    seen = looked(cleaned_out("-280"))
    asked = [one.code for one in seen.cautions if one.code.startswith("pass-")]
    assert asked == ["pass-overtaken:bore.pass"]  # looked at, and it still teaches
