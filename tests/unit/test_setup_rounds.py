"""Sweeps of one round belong together: a depth that was not swept again counts no more."""

from __future__ import annotations

import pytest

from sleevewright.planning.answers import Plan
from sleevewright.services.swept import stale_of
from swept_jobs import Setup, both, one, worked_plan

LEANING, UPRIGHT = (2.0, 0.0), (0.2, 0.05)


@pytest.fixture(scope="module")
def made() -> Plan:
    """The plan of the worked job, on few samples."""
    return worked_plan()


def test_a_hold_is_not_met_by_two_set_ups(made: Plan) -> None:
    """Shimmed and swept again at the top alone: the lean is not answered, and why."""
    job = both(LEANING, (0.1, 0.05))
    assert isinstance(one(job.answered(made), "tilt").value, float)
    job.swept("a2", "top", UPRIGHT)
    stage = job.answered(made)
    for name in ("tilt", "offset"):
        answer = one(stage, name)
        assert answer.value is None
        assert answer.judgement is None
    assert any("sweep near the bottom again too" in need for need in one(stage, "tilt").needs)
    job.swept("b2", "bottom", (0.1, 0.05))
    assert isinstance(one(job.answered(made), "tilt").value, float)


@pytest.mark.parametrize(
    ("order", "stale"),
    [
        ("tb", ""),
        ("ttb", ""),
        ("tbt", "bottom"),
        ("tbb", "top"),
        ("tbtb", ""),
        ("tbbt", ""),
        ("ttbb", "top"),
        ("tbtbt", "bottom"),
        ("t", ""),
        ("", ""),
    ],
)
def test_rounds_are_told_by_their_order(order: str, stale: str) -> None:
    """A depth that is swept once more after both were begins the next round."""
    job = Setup()
    for place, letter in enumerate(order):
        job.swept(f"s{place}", "top" if letter == "t" else "bottom", UPRIGHT)
    assert stale_of(job.folded, 1) == stale
