"""What the holds ask to be proved: judged by what was gauged, blank where nothing was."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
from scipy.stats import rice

from benches import EXAMPLES
from sleevewright.core.expansion import thermal_strain
from sleevewright.core.metrology.setup import TwoSweeps, setup_offset, setup_tilt
from sleevewright.core.metrology.sweep import Mount
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Entry, Grid, Instrument, Part
from sleevewright.planning.answers import Plan, StageAnswers
from sleevewright.planning.plan import plan
from sleevewright.planning.proofing import Frame, Gauged
from sleevewright.planning.proofs import ledge, parent_form, seat, with_form_judged
from sleevewright.planning.proofs_bores import PistonRead, finish
from sleevewright.planning.provable import BothTimes
from sleevewright.planning.proved import ToProve, proof
from sleevewright.planning.setting_up import set_up
from sleevewright.planning.setup_told import SetUpSets
from sleevewright.planning.shop import Settings, Shop

THOU = 25.4e-6
INCH = 0.0254
QUARTERS = (0.0, 90.0, 180.0, 270.0)


@pytest.fixture(scope="module")
def made() -> Plan:
    """The plan of the worked job, on few samples."""
    text = Path(EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8")
    shop = Shop(Settings(budget_samples=4000, drop_samples=100))
    return plan(read_job(text, name="demo"), shop)


def grid(
    feature: str, *rows: tuple[float | None, ...], depths: tuple[float, ...] = (), scale: float = 1
) -> Grid:
    """A grid in SI from readings in a unit."""
    return Grid(
        feature,
        instrument="gauge",
        stations=tuple(Entry(depth * INCH, f"{depth} in") for depth in depths),
        directions=tuple(Entry(math.radians(a), f"{a} deg") for a in QUARTERS[: len(rows[0])]),
        readings=tuple(
            tuple(None if one is None else Entry(one * scale, f"{one}") for one in row)
            for row in rows
        ),
    )


def verdict(stage: StageAnswers, name: str) -> str:
    """Verdict of an answer of a stage; empty where there is none."""
    found = next((one for one in stage.answers if one.id == name), None)
    return "" if found is None or found.judgement is None else found.judgement.verdict.value


@pytest.mark.parametrize(
    ("swing", "told"), [(0.8, "good"), (1.95, "too close to call"), (4.0, "out")]
)
def test_a_set_up_is_judged_by_half_of_its_swing(made: Plan, swing: float, told: str) -> None:
    """The limit is 1 thou off centre: a swing of 4 thou is 2 off, and out."""
    half = 0.5 * swing
    upper = grid("sweep-top", (half, 0.0, -half, 0.0), depths=(0.5,), scale=THOU)
    lower = grid("sweep-bottom", (half, 0.0, -half, 0.0), depths=(3.0,), scale=THOU)
    stage = set_up(Frame(made), SetUpSets(Gauged(upper), Gauged(lower)))
    assert verdict(stage, "setup.offset") == told
    assert verdict(stage, "setup.tilt") == "good"


def test_a_set_up_tells_its_chance_and_what_its_doubt_is_made_of(made: Plan) -> None:
    """Half a swing of 1.95 thou against 1 thou: the chance of more is Rice's, as scipy has it."""
    upper = grid("sweep-top", (0.975, 0.0, -0.975, 0.0), depths=(0.5,), scale=THOU)
    lower = grid("sweep-bottom", (0.975, 0.0, -0.975, 0.0), depths=(3.0,), scale=THOU)
    stage = set_up(Frame(made), SetUpSets(Gauged(upper), Gauged(lower)))
    offset = next(one for one in stage.answers if one.id == "setup.offset")
    assert offset.doubt is not None
    assert offset.judgement is not None
    u = offset.doubt.standard
    expected = rice.sf(THOU / u, offset.value / u)
    assert offset.judgement.chance_out == pytest.approx(expected, abs=1e-9)
    assert [one.label for one in offset.doubt.contributors] == [
        "indicator and readings of the sweeps"
    ]


def test_a_lean_is_told_apart_from_an_offset(made: Plan) -> None:
    """Two thou between the depths, 2.5 in apart, lean 0.8 thou by the inch: out of 0.5."""
    upper = grid("sweep-top", (0.8, 0.0, -0.8, 0.0), depths=(0.5,), scale=THOU)
    lower = grid("sweep-bottom", (-1.2, 0.0, 1.2, 0.0), depths=(3.0,), scale=THOU)
    stage = set_up(Frame(made), SetUpSets(Gauged(upper), Gauged(lower)))
    tilt = next(one for one in stage.answers if one.id == "setup.tilt")
    assert tilt.value == pytest.approx(2.0e-3 / 2.5, rel=1e-9)
    assert verdict(stage, "setup.tilt") == "out"


@pytest.mark.parametrize("mount", [Mount.SPINDLE, Mount.TABLE])
@pytest.mark.parametrize("turn", [0.0, 0.3, 2.0, 4.4])
def test_offset_and_lean_do_not_depend_on_where_the_sweep_begins(mount: Mount, turn: float) -> None:
    """Turned by any angle, the same bore has the same offset and the same lean."""
    angles = tuple(turn + k * math.pi / 4.0 for k in range(8))
    upper = tuple(3e-5 * math.cos(a - 1.0) + 2e-6 * math.cos(3.0 * a) for a in angles)
    lower = tuple(1e-5 * math.cos(a - 2.0) for a in angles)
    two = TwoSweeps(angles, upper, lower, 0.06, mount)
    apart = abs(3e-5 * complex(math.cos(1), math.sin(1)) - 1e-5 * complex(math.cos(2), math.sin(2)))
    assert setup_offset(sweeps=two) == pytest.approx(3e-5, rel=1e-9)
    assert setup_tilt(sweeps=two) == pytest.approx(apart / 0.06, rel=1e-9)


def test_a_sweep_that_cannot_tell_a_centre_is_blank(made: Plan) -> None:
    """Two readings, other angles or one depth twice give no verdict and name what lacks."""
    upper = grid("sweep-top", (1.0, None, -1.0, None), depths=(0.5,), scale=THOU)
    lower = grid("sweep-bottom", (1.0, 0.0, -1.0, 0.0), depths=(3.0,), scale=THOU)
    same = grid("sweep-bottom", (1.0, 0.0, -1.0, 0.0), depths=(0.5,), scale=THOU)
    for pair in ((upper, lower), (lower, lower), (None, lower), (lower, same)):
        stage = set_up(Frame(made), SetUpSets(*map(Gauged, pair)))
        offset = next(one for one in stage.answers if one.id == "setup.offset")
        if pair == (lower, same):
            assert offset.value is not None
            continue
        assert offset.value is None
        assert "two depths" in offset.needs[0]


def test_the_worked_bore_is_round_straight_and_not_too_large(made: Plan) -> None:
    """Its form is judged by half a thou, its size by the largest that the fit allows."""
    judged = with_form_judged(Frame(made))
    assert judged.answer("bore.out_of_round").judgement is not None
    assert judged.answer("bore.taper").judgement is not None
    assert verdict(parent_form(Frame(judged)), "bore.stock") == "good"


@pytest.mark.parametrize(
    ("depths", "told"),
    [((155.0, 155.1, 155.0, 155.1), "good"), ((155.0, 155.6, 156.6, 155.2), "out")],
)
def test_a_ledge_is_judged_by_its_spread(made: Plan, depths: tuple[float, ...], told: str) -> None:
    """One thou between its depths is still accepted; 1.6 is not."""
    stage = ledge(Frame(made), Gauged(grid("counterbore-depth", depths, scale=THOU)))
    assert verdict(stage, "counterbore.ledge") == told


@pytest.mark.parametrize(
    ("read", "told"),
    [((2.1, 2.0, 1.9, 2.2), "good"), ((6.1, 6.0, 6.2, 6.1), "out"), ((2.0, 2.0, 2.0, 5.0), "out")],
)
def test_a_flange_is_seated_where_it_was_planned(
    made: Plan, read: tuple[float, ...], told: str
) -> None:
    """Planned 2 thou proud: lifted all round by 4, or on one side by 3, it is not seated."""
    stage = seat(Frame(made), Gauged(grid("stand-out", read, scale=THOU)))
    assert verdict(stage, "cool.seated") == told


def proved_of(made: Plan, before: float, after: float, *gauges: Instrument) -> StageAnswers:
    """The proof of a bore that had one size all over before, and one after."""
    both = BothTimes(
        *(
            Gauged(grid(feature, (size,) * 4, (size,) * 4, depths=(0.5, 3.0)), gauges)
            for feature, size in (("sleeve-id", before), ("cooled-bore", after))
        )
    )
    return proof(Frame(made), ToProve(both, Part("grey-iron")))


def test_a_bore_that_closed_as_it_should_proves_the_fit(made: Plan) -> None:
    """Closed by what the fit gives it is good; closed by nothing the fit was not obtained."""
    before = float(made.answer("sleeve.id").value)  # type: ignore[arg-type] # a size
    closes = float(made.answer("fit.close_up").value)  # type: ignore[arg-type] # a size
    for closed, told in ((closes, "good"), (0.0, "out")):
        stage = proved_of(made, before, before - closed)
        assert verdict(stage, "cool.proof") == told
    nothing = ToProve(BothTimes(Gauged(), Gauged()), Part("grey-iron"))
    assert verdict(proof(Frame(made), nothing), "cool.proof") == ""


def test_a_gauge_that_could_not_see_a_lost_fit_proves_nothing(made: Plan) -> None:
    """Closed by just what was wanted, but read with a caliper: too close to call, not good."""
    before = float(made.answer("sleeve.id").value)  # type: ignore[arg-type] # a size
    closes = float(made.answer("fit.close_up").value)  # type: ignore[arg-type] # a size
    caliper = Instrument("gauge", "caliper", Entry(12.7e-6, ""), Entry(51e-6, ""))
    stage = proved_of(made, before, before - closes, caliper)
    assert verdict(stage, "cool.proof").startswith("too")


@pytest.mark.parametrize(("over", "told"), [(0.0, "good"), (3.0, "out"), (-3.0, "out")])
def test_a_finished_bore_is_judged_by_its_clearance(made: Plan, over: float, told: str) -> None:
    """Three thou more or less than was wanted is out, on either side."""
    size = 2.3992 * INCH + (2.8 + over) * THOU
    bore = Gauged(grid("finish-bore", (size,) * 4, (size,) * 4, depths=(0.5, 3.0)))
    piston = PistonRead(Entry(2.3992 * INCH, "2.3992 in"), Entry(2.8 * THOU, "2.8 thou"))
    stage = finish(Frame(made), bore, piston)
    assert verdict(stage, "finish.clearance") == told
    assert verdict(stage, "finish.out_of_round") == "good"
    assert verdict(stage, "finish.taper") == "good"


def test_the_piston_s_own_doubt_is_in_the_clearance(made: Plan) -> None:
    """Micrometer 0.2 thou, temperature not told: 0.12 thou on top of the bore's, as squares."""
    size = 2.3992 * INCH + 2.8 * THOU
    bore = Gauged(grid("finish-bore", (size,) * 4, (size,) * 4, depths=(0.5, 3.0)))
    entries = Entry(2.3992 * INCH, "2.3992 in"), Entry(2.8 * THOU, "2.8 thou")
    left = {}
    for has in (False, True):
        read = PistonRead(*entries, "cast", has_temperature=has, has_height=has)
        stage = finish(Frame(made), bore, read)
        gap, honed = (
            next(one.doubt for one in stage.answers if one.id == name)
            for name in ("finish.gap", "finish.as_gauged")
        )
        assert gap is not None
        assert honed is not None
        # growth over the micrometer's own, 20.5 less 11.5 by kelvin, times 2 K or half of one
        warmth = 2.3992 * INCH * 9.0e-6 * (0.5 if has else 2.0)
        piston = math.hypot(0.1 * THOU, warmth)
        assert gap.standard == pytest.approx(math.hypot(honed.standard, piston), rel=0.04)
        left[has] = gap.standard
        assert has is not any("At what height" in one for one in stage.advice)
    assert left[True] < left[False]


def test_a_bore_gauged_warm_has_what_its_fit_eased_taken_off(made: Plan) -> None:
    """15 K warm: the aluminium grows away by both laws, and the bore gets its share of it back."""
    size = 2.3992 * INCH + 2.8 * THOU
    cold = grid("finish-bore", (size,) * 4, (size,) * 4, depths=(0.5, 3.0))
    warm = replace(
        cold,
        part_temperature=Entry(308.15, "35 C"),
        gauge_temperature=Entry(308.15, "35 C"),
    )
    piston = PistonRead(Entry(2.3992 * INCH, "2.3992 in"), Entry(2.8 * THOU, "2.8 thou"))
    answers = {one.id: one for one in finish(Frame(made), Gauged(warm), piston).answers}
    gap, honed, read = (
        float(answers[one].value)  # type: ignore[arg-type] # sizes
        for one in ("finish.gap", "finish.as_gauged", "finish.piston")
    )
    growth = [
        float(thermal_strain(made.answer(f"{one}.law").value, temperature=308.15))  # type: ignore[arg-type] # laws
        for one in ("casting", "sleeve")
    ]
    od, fit, closed = (
        float(made.answer(one).value)  # type: ignore[arg-type] # sizes
        for one in ("sleeve.od", "fit.effective", "fit.close_up")
    )
    eased = closed / fit * od * (growth[0] - growth[1])
    assert honed - read - gap == pytest.approx(eased, rel=5e-3)  # growths multiply, not add
    assert 0.2 * THOU < eased < 0.5 * THOU
    assert "finish.eased" not in {
        one.id for one in finish(Frame(made), Gauged(cold), piston).answers
    }


def test_a_poor_gauge_is_not_good_where_a_good_one_is(made: Plan) -> None:
    """The doubt is that of the gauge that was used: a caliper leaves it too close to call."""
    depths = grid("counterbore-depth", (155.0, 155.4, 155.2, 155.5), scale=THOU)
    seated = grid("stand-out", (2.0, 2.4, 2.2, 2.5), scale=THOU)
    for kind, setting, told in (("depth-micrometer", 2e-6, "good"), ("caliper", 38e-6, "close")):
        gauge = Instrument("gauge", kind, Entry(2.54e-6, ""), Entry(setting, ""))
        for stage, name in (
            (ledge(Frame(made), Gauged(depths, (gauge,))), "counterbore.ledge"),
            (seat(Frame(made), Gauged(seated, (gauge,))), "cool.seated"),
        ):
            assert told in verdict(stage, name)


def test_a_flange_cut_loose_has_less_than_its_least() -> None:
    """A counterbore 9 thou over the flange is out, however tight the body is."""
    text = Path(EXAMPLES / "demo-air-175.toml").read_text(encoding="utf-8")
    job = read_job(text, name="demo")
    shop = Shop(Settings(budget_samples=4000, drop_samples=100))
    for size, told in ((2.8384, "good"), (2.8500, "out")):
        cut = grid("counterbore", (size,) * 4, scale=INCH)
        planned = plan(replace(job, grids=(*job.grids, cut)), shop)
        judged = planned.answer("fit.flange_below_least").judgement
        assert judged is not None
        assert judged.verdict.value == told
