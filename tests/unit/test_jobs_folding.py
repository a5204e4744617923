"""What stands in a cell: what replaces what, and which values contradict each other."""

from __future__ import annotations

import pytest

from sleevewright.jobs.catalog import port_names
from told_jobs import Teller


def test_a_value_does_not_replace_itself() -> None:
    """What names its own id stands as if it named nothing."""
    job = Teller()
    told = job.value("piston.clearance", "2.8 thou", replaces=[f"{2:032x}"])
    assert told.id == f"{2:032x}"
    assert job.folded.text("piston.clearance") == "2.8 thou"


def test_a_value_does_not_replace_what_is_told_later() -> None:
    """An id that is guessed ahead takes nothing out; both values stand and contradict."""
    job = Teller()
    job.value("piston.clearance", "2.8 thou", replaces=[f"{3:032x}"])
    job.value("piston.clearance", "3.8 thou")
    heads = job.folded.heads("piston.clearance")
    assert [one.text for one in heads] == ["2.8 thou", "3.8 thou"]
    job.value("piston.clearance", "3.8 thou", replaces=[one.id for one in heads])
    assert job.folded.text("piston.clearance") == "3.8 thou"


@pytest.mark.parametrize(
    ("first", "second", "is_conflict"),
    [("0.5", "+0.5", False), ("0.5", "0,50", False), ("0.5", "0.6", True),
     ("2.6365 in", "+0.5", False)],
)  # fmt: skip
def test_one_size_keyed_in_two_ways_is_no_contradiction(
    first: str, second: str, is_conflict: bool
) -> None:
    """Two devices that read the same nanometres agree, however they wrote it."""
    job = Teller()
    job.begin("k", "parent-bore", "parent", nominal="2.6360 in", unit="thou", entry="deviation",
              stations=["0.4 in"], directions=["0 deg"])  # fmt: skip
    job.value("set/k/0/0", first)
    job.value("set/k/0/0", second, device="phone")
    assert bool(job.folded.conflicts()) == is_conflict
    assert len(job.folded.heads("set/k/0/0")) == 1 + is_conflict


def test_equal_values_of_unequal_doubt_contradict() -> None:
    """How far a value may be off is a part of what was said."""
    job = Teller()
    job.value("casting.limit", "200 C")
    job.value("casting.limit", "392 F", device="phone")
    assert not job.folded.conflicts()
    job.value("fit.wanted", "3.4 thou")
    job.value("fit.wanted", "3.4 thou +/- 0.2 thou", device="phone")
    assert list(job.folded.conflicts()) == ["fit.wanted"]


def test_what_was_made_of_the_records_is_made_anew_after_the_next() -> None:
    """Names of ports are kept from look to look, and forgotten with the next record or copy."""
    job = Teller()
    job.value("port/boost/found.roof", "56 mm")
    kept = port_names(job.folded)
    assert port_names(job.folded) is kept
    copy = job.folded.copy()
    job.value("port/exhaust/found.roof", "37 mm")
    assert port_names(job.folded) == ("boost", "exhaust")
    assert port_names(copy) == ("boost",)


def test_words_that_differ_contradict() -> None:
    """Where nothing is counted the text is the value; taken back is no value."""
    job = Teller()
    job.value("intake.marks", "tag 31")
    job.value("intake.marks", "tag 13", device="phone")
    job.value("heat.slip", "5 thou")
    job.value("heat.slip", "", device="phone")
    assert set(job.folded.conflicts()) == {"intake.marks", "heat.slip"}
