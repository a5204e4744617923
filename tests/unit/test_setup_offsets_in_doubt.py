"""What the set-up says of an offset and a lean of which little is known, or nothing."""

from __future__ import annotations

import math

import pytest

from sleevewright.planning.answers import Plan, Verdict
from sleevewright.planning.centred import length_doubt, offset_judge
from sleevewright.planning.shown import coverage_words, shown_answer
from sleevewright.web.stage.setup_view import setup_view
from swept_jobs import THOU, Setup, both, one, verdict, with_setup, worked_plan


@pytest.fixture(scope="module")
def made() -> Plan:
    """The plan of the worked job, on few samples."""
    return worked_plan()


def test_an_arc_that_tells_little_is_not_called_good(made: Plan) -> None:
    """Three places over 20 degrees: the doubt is many times the limit, so it does not stay."""
    job = Setup()
    for name, where in (("a1", "top"), ("b1", "bottom")):
        job.told(name, where, [3.0, 2.9, 2.8], (0, 10, 20))
    stage = job.answered(made)
    for name in ("offset", "tilt"):
        found = one(stage, name)
        assert found.doubt is not None
        assert found.judgement is not None
        assert found.doubt.standard > found.judgement.limit
        assert found.judgement.verdict is Verdict.TOO_CLOSE
        assert found.judgement.chance_out is not None
        assert found.judgement.chance_out > 0.5
    view = setup_view(with_setup(made, job))
    assert view.stays == ""
    assert view.comes_first.startswith("Shim first")


def test_four_places_with_the_usual_doubt_are_still_good(made: Plan) -> None:
    """0.2 thou off against a limit of 1: the chance that it is out is small, and it stays."""
    job = both((0.2, 0.1), (0.2, 0.1))
    stage = job.answered(made)
    assert (verdict(stage, "offset"), verdict(stage, "tilt")) == ("good", "good")
    for name in ("offset", "tilt"):
        judged = one(stage, name).judgement
        assert judged is not None
        assert judged.chance_out is not None
        assert judged.chance_out <= 0.05
    assert setup_view(with_setup(made, job)).stays.startswith("It stays as it stands")


@pytest.mark.parametrize("offset", [0.0, 0.02, 0.2, 1.5])
def test_the_interval_of_a_length_is_told_and_never_below_nought(made: Plan, offset: float) -> None:
    """Offset, lean and what is left; the words name both ends, the figure the longer side."""
    stage = both((offset, 0.0), (offset, 0.0)).answered(made)
    for name in ("offset", "tilt"):
        found = one(stage, name)
        assert found.doubt is not None
        assert isinstance(found.value, float)
        assert 0.0 <= found.doubt.low <= found.value < found.doubt.high
        words = coverage_words(found, system="inch")
        assert " each way, from " in words
        assert "holds 95 %" in words
    shown = float(shown_answer(one(stage, "offset"), system="inch").doubt)
    doubt = one(stage, "offset").doubt
    assert doubt is not None
    assert shown * THOU == pytest.approx(doubt.high - offset * THOU, abs=0.06 * THOU)


def test_what_the_doubt_of_an_offset_is_made_of_is_told(made: Plan) -> None:
    """The readings of the sweep always, the angle of the lever where one is told."""
    job = both((4.0, 0.0), (4.0, 0.0))
    plain = one(job.answered(made), "offset").doubt
    job.value("setup.lever", "60 deg")
    steep = one(job.answered(made), "offset").doubt
    assert plain is not None
    assert steep is not None
    assert [part.input for part in plain.contributors] == ["setup.readings"]
    assert [part.input for part in steep.contributors] == ["lever_doubt", "setup.readings"]
    whole = math.hypot(*(part.standard for part in steep.contributors))
    assert whole == pytest.approx(steep.standard)


def test_without_any_knowledge_nothing_is_called() -> None:
    """An endless doubt is too close to call, whatever was read; no doubt is judged as it is."""
    for value in (0.0, 1e-6, 1.0):
        judged = offset_judge(25e-6, "sweep again")(value, None, math.inf)
        assert judged.verdict is Verdict.TOO_CLOSE
        doubt = length_doubt(value, math.inf)
        assert (doubt.low, doubt.high) == (0.0, math.inf)
    assert length_doubt(1e-6, 0.0).high == 1e-6
    assert offset_judge(25e-6, "")(25e-6, None, 0.0).verdict is Verdict.GOOD
