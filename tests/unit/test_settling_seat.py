"""What would settle ledge and flange: a depth gauge of the list that is better set."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from sleevewright.jobs.model import Entry, Grid, Instrument
from sleevewright.planning.answers import Judgement, Plan, StageAnswers, Verdict
from sleevewright.planning.athand import Gauging
from sleevewright.planning.beside import with_stage
from sleevewright.planning.proofing import Frame, Gauged
from sleevewright.planning.proofs import ledge, seat
from sleevewright.planning.settling_seat import with_seat_ways
from swept_jobs import THOU, worked_plan

STEP = Entry(0.1 * THOU, "0.1 thou")
PLAIN = Instrument("depth mic", "depth-micrometer", resolution=STEP, setting=Entry(0.4 * THOU, ""))
FINE = Instrument("fine mic", "depth-micrometer", resolution=STEP, setting=Entry(0.02 * THOU, ""))


@pytest.fixture(scope="module")
def made() -> Plan:
    """The plan of the worked job, on few samples."""
    return worked_plan()


def read(feature: str, gauge: Instrument, *thou: float) -> Grid:
    """Four places read with a gauge, in thou."""
    cells = tuple(Entry(one * THOU, f"{one} thou") for one in thou)
    angles = tuple(Entry(1.5708 * k, f"{90 * k} deg") for k in range(len(thou)))
    return Grid(feature, gauge.name, directions=angles, readings=(cells,))


CASES = (
    (ledge, "counterbore-depth", "counterbore.ledge", (155.0, 155.1, 155.85, 155.2)),
    (seat, "stand-out", "cool.seated", (2.1, 2.0, 1.9, 2.85)),
)


def judged(plan: Plan, name: str) -> Judgement:
    """The verdict on an answer."""
    found = plan.answer(name).judgement
    assert found is not None
    return found


@pytest.mark.parametrize(("stage", "feature", "name", "thou"), CASES)
def test_a_better_depth_gauge_is_named_and_turns_the_verdict(
    made: Plan,
    stage: Callable[[Frame, Gauged], StageAnswers],
    feature: str,
    name: str,
    thou: tuple[float, ...],
) -> None:
    """Planned anew with the gauge that is named and the same depths, it is not too close."""
    gauges = (PLAIN, FINE)

    def with_gauge(gauge: Instrument) -> tuple[Plan, Grid]:
        grid = read(feature, gauge, *thou)
        return with_stage(made, stage(Frame(made), Gauged(grid, gauges))), grid

    plan, grid = with_gauge(PLAIN)
    assert judged(plan, name).verdict is Verdict.TOO_CLOSE
    told = judged(with_seat_ways(plan, {feature: Gauging(grid, gauges)}), name)
    assert [one.words.partition("anew ")[2] for one in told.ways] == ["with fine mic, 4 readings"]
    assert told.remedy.endswith("would settle it if the figure stays as it is")
    anew, _ = with_gauge(FINE)
    assert judged(anew, name).verdict is not Verdict.TOO_CLOSE
    assert anew.answer(name).doubt.standard == pytest.approx(told.ways[0].standard)  # type: ignore[union-attr] # judged
    alone = judged(with_seat_ways(plan, {feature: Gauging(grid, (PLAIN,))}), name)
    assert alone.remedy.startswith("nothing at hand would settle it: decide, or ")
