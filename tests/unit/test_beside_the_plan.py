"""Old sleeve out and make ready: what is left, what serves, what dirt costs. Plain sums."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest

from sleevewright.core.cutting.cleanout import clean_up_bore, largest_of, outside_diameter_for
from sleevewright.core.metrology.grid import GridReadings
from sleevewright.errors import InputError
from sleevewright.jobs.model import Engine, Entry, Grid, Job, Part
from sleevewright.planning.answers import Plan, StageAnswers, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.found import as_found
from sleevewright.planning.oldout import OldOut, old_out
from sleevewright.planning.proofing import Frame, Gauged
from sleevewright.planning.proofs_heat import HotReading, slip_gauged
from sleevewright.planning.ritual import make_ready
from sleevewright.services.plans import plan_file, plan_job


@pytest.fixture(scope="module")
def water(root: Path) -> Plan:
    """The plan of the worked water-cooled job."""
    return plan_file(root / "examples" / "demo-water.toml")


def said(stage: StageAnswers, identity: str) -> Any:
    """The answer of a stage with this id."""
    return next(answer for answer in stage.answers if answer.id == identity)


def test_a_sleeve_serves_while_metal_is_left_to_bore(water: Plan) -> None:
    """Below the target the fit is more than wanted, above it less, by the same amount."""
    target = water.answer("bore.target").value
    wanted = water.answer("fit.wanted").value
    for over, verdict in ((-120e-6, Verdict.GOOD), (120e-6, Verdict.OUT)):
        stage = old_out(water, OldOut(Entry(target + over, "keyed")))
        stock = said(stage, "old.stock")
        assert stock.value == pytest.approx(-over, abs=1e-9)
        assert stock.judgement.verdict is verdict
        assert ("the sleeve in hand serves" in stock.of) is (verdict is Verdict.GOOD)
        fit = said(stage, "old.fit")
        assert fit.value == pytest.approx(wanted - over, abs=1e-9)
        assert fit.judgement.verdict is verdict


def test_the_next_sleeve_is_the_bore_and_the_fit(water: Plan) -> None:
    """A clean-out 0.2 mm over the target asks for a sleeve 0.2 mm larger."""
    target = water.answer("bore.target").value
    stage = old_out(water, OldOut(Entry(target + 200e-6, "keyed")))
    sleeve = water.answer("sleeve.od").value
    assert said(stage, "old.next").value == pytest.approx(sleeve + 200e-6, abs=1e-8)


def test_the_wall_is_half_of_what_is_left(water: Plan) -> None:
    """92 mm outside and 72 mm inside leave 10 mm, radial."""
    stage = old_out(water, OldOut(Entry(0.072, "keyed"), Entry(0.092, "keyed")))
    wall = said(stage, "old.wall")
    assert wall.value == pytest.approx(0.010, abs=1e-9)
    assert wall.sense == "radial"


def test_what_was_not_told_is_asked_for(water: Plan) -> None:
    """Without a clean-out nothing is said about it, and the stage names what it wants."""
    stage = old_out(water, OldOut())
    assert said(stage, "old.fit").value is None
    assert said(stage, "old.fit").needs == ("clean-out diameter",)


def again(*sizes: float, warm: str = "", kelvin: float = 0.0) -> Gauged:
    """The sleeve measured again at a few places."""
    part = Entry(293.15 + kelvin, warm) if warm else None
    read = tuple(Entry(one, "keyed", "measured") for one in sizes)
    return Gauged(Grid("sleeve-od-again", part_temperature=part, readings=(read,)))


def test_a_grain_takes_its_thickness_off_the_slip(water: Plan) -> None:
    """50 µm of dirt take 50 µm of the slip."""
    stage = make_ready(Frame(water), Gauged(), Part("grey-iron"))
    slip = water.answer("heat.slip").value
    assert said(stage, "ready.slip_left").value == pytest.approx(slip - 50e-6, abs=1e-12)
    assert said(stage, "ready.od").value is None


@pytest.mark.parametrize(("change", "verdict"), [(-30e-6, "out"), (28e-6, "out"), (0.0, "good")])
def test_a_sleeve_that_changed_at_its_edges_is_out(
    water: Plan, change: float, verdict: str
) -> None:
    """30 µm lost or a burr of 28 µm at one place is out, nothing changed is good."""
    sleeve = water.answer("sleeve.od").value
    taken = again(sleeve, sleeve + change, sleeve, warm="20 C")
    found = said(make_ready(Frame(water), taken, Part("grey-iron")), "ready.od")
    assert found.value == pytest.approx(change, abs=1e-9)
    assert found.judgement.verdict.value == verdict


def test_a_warm_sleeve_does_not_hide_what_it_lost(water: Plan) -> None:
    """Read 30 K warm a sleeve is some 20 µm larger: as large as before, it has lost that."""
    sleeve = water.answer("sleeve.od").value
    warm = again(sleeve, sleeve, warm="50 C", kelvin=30.0)
    found = said(make_ready(Frame(water), warm, Part("grey-iron")), "ready.od")
    assert -30e-6 < found.value < -15e-6
    assert found.judgement.verdict is not Verdict.GOOD


@pytest.mark.parametrize(
    ("body", "flange", "verdicts"),
    [(1.2, 1.2, ("good", "good")), (0.3, 1.2, ("out", "good")), (1.2, -0.2, ("good", "out"))],
)
def test_the_slip_is_judged_at_body_and_flange(
    water: Plan, body: float, flange: float, verdicts: tuple[str, str]
) -> None:
    """A third of the slip that is needed is out, and so is a bore smaller than the sleeve."""
    slip = float(water.answer("heat.slip").value)  # type: ignore[arg-type] # a length
    told = [Entry(share * slip, "keyed", "measured") for share in (body, flange)]
    stage = slip_gauged(Frame(water), *(HotReading(one) for one in told))
    found = [said(stage, f"heat.{key}_go").judgement.verdict.value for key in ("body", "flange")]
    assert tuple(found) == verdicts


@pytest.mark.parametrize(("zero", "is_warned"), [(-0.2, False), (0.5, True), (0.0, False)])
def test_a_gauge_put_back_on_its_zero_takes_its_warmth_out(
    water: Plan, zero: float, is_warned: bool
) -> None:
    """A needle that stands below its zero hid that much slip; one above it showed too much."""
    slip, thou = float(water.answer("heat.slip").value), 25.4e-6  # type: ignore[arg-type] # a length
    needle = Entry(1.2 * slip, "keyed", "measured")
    body = HotReading(needle, Entry(zero * thou, "keyed", "measured"))
    stage = slip_gauged(Frame(water), body, HotReading(needle))
    gauged, plain = (said(stage, f"heat.{key}_gauged") for key in ("body", "flange"))
    assert gauged.value == pytest.approx(plain.value - zero * thou, abs=1e-12)
    assert gauged.doubt.standard == pytest.approx(plain.doubt.standard * 2.0**0.5, rel=0.05)
    assert any(one.code.startswith("zeroed-warm") for one in stage.cautions) is is_warned


def test_a_plan_takes_a_stage_beside_it(water: Plan) -> None:
    """The widened plan answers both; the plan itself stays as it was."""
    wider = with_stage(water, old_out(water, OldOut(Entry(0.072, "keyed"))))
    assert wider.answer("old.fit").value is not None
    assert wider.answer("fit.wanted") == water.answer("fit.wanted")
    assert all(stage.key != "old" for stage in water.stages)


def test_a_score_counts_twice() -> None:
    """A score 0.15 mm deep takes 0.30 mm on the diameter."""
    cut = clean_up_bore(bore=0.07, score=150e-6, allowance=0.0)
    assert cut == pytest.approx(0.0703, abs=1e-12)
    with pytest.raises(InputError):
        clean_up_bore(bore=0.07, score=-1e-6, allowance=0.0)
    with pytest.raises(InputError):
        outside_diameter_for(bore=0.0, interference=1e-4)


def test_the_largest_size_is_at_twenty_degrees() -> None:
    """Iron read 10 K warm with a steel gauge at 20 degrees is large by 1.1e-5 x 10 of itself."""
    grid = GridReadings(
        stations=np.array([0.01]),
        directions=np.array([0.0, 1.5]),
        readings=np.array([[0.07, 0.0701]]),
        part_temperature=303.15,
    )
    size = largest_of(readings=grid, part_expansion=1.1e-5, gauge_expansion=1.15e-5)
    assert size == pytest.approx(0.0701 * (1 - 1.1e-4), abs=2e-9)


def test_a_worn_bore_says_what_cleans_it_up(water: Plan) -> None:
    """Nominal 70 mm, worn 0.10 mm at one end, scored 0.05 mm deep; 75 µm clean it up."""
    depths = tuple(Entry(depth, "depth") for depth in (0.01, 0.03, 0.05))
    angles = tuple(Entry(angle, "angle") for angle in (0.0, 0.7854, 1.5708, 2.3562))
    rows = (
        (0.07010, 0.07008, 0.07006, 0.07008),
        (0.07005, 0.07004, 0.07003, 0.07004),
        (0.07001, 0.07, 0.07, 0.07),
    )
    readings = tuple(tuple(Entry(one, "keyed", "measured") for one in row) for row in rows)
    grid = Grid("as-found-bore", stations=depths, directions=angles, readings=readings)
    job = Job(engine=Engine(bore=Entry(0.07, "70 mm")), grids=(grid,))
    stage = as_found(water, job, score=Entry(50e-6, "50 µm"))
    assert said(stage, "found.largest").value == pytest.approx(0.0701, abs=2e-6)
    assert said(stage, "found.wear").value == pytest.approx(100e-6, abs=2e-6)
    assert said(stage, "found.taper").value == pytest.approx(77.5e-6, abs=1e-6)
    assert said(stage, "found.out_of_round").value == pytest.approx(40e-6, abs=2e-6)
    assert said(stage, "found.clean_up").value == pytest.approx(0.0702762, abs=3e-6)


def test_a_grid_that_is_begun_has_a_plan() -> None:
    """One station read of three gives a size and an out-of-round, and no taper yet."""
    depths = tuple(Entry(depth, "depth") for depth in (0.01, 0.03, 0.05))
    angles = tuple(Entry(angle, "angle") for angle in (0.0, 1.5708))
    row = tuple(Entry(one, "keyed", "measured") for one in (0.0720, 0.07202))
    grid = Grid(
        "sleeve-od", stations=depths, directions=angles, readings=(row, (None, None), (None, None))
    )
    begun = plan_job(Job(grids=(grid,)))
    known = {answer.id for answer in begun.answers()}
    assert begun.answer("sleeve.od").value == pytest.approx(0.07201, abs=2e-6)
    assert begun.answer("sleeve.od.out_of_round").value == pytest.approx(20e-6, abs=1e-9)
    assert "sleeve.od.taper" not in known
