"""Order and acceptance from the cells of a job, as its pages and commands see them."""

from __future__ import annotations

import pytest

from simple_job import simple_job
from sleevewright.jobs.folding import Folded
from sleevewright.services.ordered import arrival_of, ordering_of, wants_sleeve
from told_jobs import Teller

INCH = 0.0254


def test_cells_of_choice_make_the_order() -> None:
    """Planned bore, length, flange, form and ports are read where they were told."""
    job = Teller()
    assert ordering_of(job.folded).bore is None
    assert ordering_of(job.folded).is_flanged
    for cell, text in (
        ("order.bore", "2.700 in"),
        ("order.length", "4.000 in"),
        ("order.flange_thickness", "0.190 in"),
        ("order.form", "blank"),
        ("order.ports", "windows"),
    ):
        job.value(cell, text)
    told = ordering_of(job.folded)
    assert told.bore is not None
    assert told.length is not None
    assert told.flange_thickness is not None
    assert told.bore.value == pytest.approx(2.7 * INCH)
    assert told.length.value == pytest.approx(4.0 * INCH)
    assert told.flange_thickness.value == pytest.approx(0.19 * INCH)
    assert (told.form, told.ports, told.flange_diameter) == ("blank", "windows", None)
    assert told.is_ported
    job.value("sleeve.flange", "plain")
    assert not ordering_of(job.folded).is_flanged


def test_cells_of_the_sleeve_make_the_arrival() -> None:
    """A tick says that it rings; nothing told is not known, and no crack is not a tap."""
    job = Teller("four-stroke")
    assert not ordering_of(job.folded).is_ported
    assert arrival_of(job.folded).rings is None
    assert arrival_of(job.folded).crack_seen is None
    job.value("sleeve.cracks", "none seen")
    job.value("sleeve.rings", "yes")
    told = arrival_of(job.folded)
    assert (told.rings, told.crack_seen) == (True, False)
    seen = Teller()
    seen.value("sleeve.cracks", "seen")
    assert arrival_of(seen.folded).crack_seen is True


@pytest.mark.parametrize(("option", "is_wanted"), [("sleeve", True), ("hone", False)])
def test_nothing_is_ordered_where_something_else_was_agreed(option: str, is_wanted: bool) -> None:
    """Until something is agreed a sleeve may be ordered."""
    job = Teller()
    assert wants_sleeve(job.folded)
    job.agree(option)
    assert wants_sleeve(job.folded) is is_wanted


def test_a_simple_job_needs_none_of_these_cells() -> None:
    """A whole simple job is told without a word of the order."""
    folded: Folded = simple_job("two-stroke").folded
    assert ordering_of(folded).bore is None
    assert not list(folded.cells("order.", cylinder=1))
