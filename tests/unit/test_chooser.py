"""The picture of a fit: its curves, what they are held against, what it refuses."""

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from sleevewright.errors import InputError
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.answers import Verdict
from sleevewright.planning.chooser import SAMPLES, Chooser, chooser
from sleevewright.planning.chooser_ground import ground
from sleevewright.planning.ledger import Ledger
from sleevewright.planning.plan import call_stage, plan
from sleevewright.planning.shop import Settings, Shop, ShopDefault
from sleevewright.services.jobfiles import load_job

EXAMPLES = Path(__file__).parents[2] / "examples"
THOU = 25.4e-6
QUICK = Shop(Settings(budget_samples=10_000, drop_samples=200))
IDS = (
    "fit.running", "fit.hard", "fit.below_least", "fit.pressure", "fit.casting_hoop",
    "fit.sleeve_hoop", "fit.limit_margin", "fit.hold", "fit.torque", "fit.grip", "fit.opens",
    "heat.casting", "heat.oven", "heat.slip_at_limit", "fit.close_up", "finish.stock",
    "cool.lift",
)  # fmt: skip


@cache
def job(name: str = "demo-air-175") -> Job:
    """An invented job."""
    return load_job(EXAMPLES / f"{name}.toml")


@cache
def drawn(name: str = "demo-air-175") -> Chooser:
    """Its picture, as usual."""
    return chooser(job(name), QUICK)


@cache
def at_the_fit(name: str) -> Chooser:
    """Its picture at the one fit that it has."""
    return chooser(job(name), QUICK, interferences=(drawn(name).chosen,))


def test_every_answer_is_drawn() -> None:
    """Seventeen curves, each with three lines as long as the list of fits."""
    picture = drawn()
    assert tuple(one.id for one in picture.curves) == IDS
    assert len(picture.interferences) == 41
    for curve in picture.curves:
        lengths = {len(line) for line in (curve.low, curve.middle, curve.high, curve.central)}
        assert lengths == {41}
        assert curve.basis
        assert curve.basis[0].sources
        if curve.limit is not None:
            assert len(curve.chance_out) == len(curve.verdicts) == 41
            assert curve.limit_words
            assert curve.limit_source


@pytest.mark.parametrize("name", ["demo-air-175", "demo-water", "demo-thin-iron"])
def test_the_picture_passes_through_the_plan(name: str) -> None:
    """At the fit of today every central value is the plan's own, to the last bits."""
    whole = plan(job(name), QUICK)
    for curve in at_the_fit(name).curves:
        answer = whole.answer(curve.id)
        if curve.id == "fit.below_least":
            assert curve.middle[0] == pytest.approx(answer.value, abs=3e-3)
            continue
        assert curve.central[0] == pytest.approx(answer.value, rel=1e-12)
        if answer.judgement is not None:
            assert curve.verdicts[0] is answer.judgement.verdict


@pytest.mark.parametrize("name", ["demo-air-175", "demo-water", "demo-thin-iron"])
def test_bands_are_those_of_the_samples_of_the_plan(name: str) -> None:
    """P5, P50 and P95 lie where those of all samples of the plan do, within four errors."""
    base = ground(job(name), QUICK, call_stage)
    ledger = Ledger(*base.results, count=10_000, seed=QUICK.settings.seed)
    for curve in at_the_fit(name).curves:
        samples = np.asarray(ledger.samples(curve.id))
        if curve.id == "fit.below_least" or samples.ndim == 0:
            continue
        for share, line in ((0.05, curve.low), (0.50, curve.middle), (0.95, curve.high)):
            spread = 4.0 * np.sqrt(share * (1.0 - share) / SAMPLES)
            least, most = np.nanquantile(samples, [max(share - spread, 0.0), share + spread])
            assert least <= line[0] <= most, (curve.id, share)


def test_the_same_seed_draws_the_same_picture() -> None:
    """Two pictures of one job are equal; another seed moves the bands, not the middle."""
    again = chooser(job(), QUICK, interferences=(drawn().chosen,))
    assert again == at_the_fit("demo-air-175")
    other = replace(QUICK, settings=replace(QUICK.settings, seed=77))
    moved = chooser(job(), other, interferences=(drawn().chosen,)).curve("fit.running")
    kept = again.curve("fit.running")
    assert moved is not None
    assert kept is not None
    assert moved.low != kept.low
    assert moved.low[0] == pytest.approx(kept.low[0], abs=0.1 * (kept.high[0] - kept.low[0]))


def test_steps_are_round_and_reach_beyond_the_marks() -> None:
    """Thou in an inch job, microns in a metric one; beyond twice the wanted fit."""
    inch, metric = drawn(), drawn("demo-water")
    assert inch.interferences[0] == 0.0
    assert inch.interferences[1] / THOU == pytest.approx(0.2, abs=1e-9)
    assert metric.interferences[1] == pytest.approx(round(metric.interferences[1] * 1e6) * 1e-6)
    assert inch.interferences[-1] > 2.0 * inch.chosen
    assert inch.diameter == pytest.approx(2.6403 * 0.0254, rel=1e-4)


def test_iron_in_iron_never_lets_go() -> None:
    """There is no such curve, and that is said."""
    picture = drawn("demo-thin-iron")
    assert picture.curve("fit.grip") is None
    assert picture.curve("fit.opens") is None
    assert "never-lets-go" in {one.code for one in picture.cautions}
    assert "hot-metal" in {one.code for one in picture.cautions}


def test_a_fit_that_flattens_away_counts_as_loose_not_as_never_loose() -> None:
    """Near nothing the low end of the band goes first: there the rough fit holds at no heat."""
    curve = drawn("demo-water").curve("fit.grip")
    assert curve is not None
    ends = list(zip(curve.low, curve.high, strict=True))
    assert math.isnan(ends[0][0])
    assert not any(math.isnan(high) and not math.isnan(low) for low, high in ends)
    assert any(math.isnan(low) and not math.isnan(high) for low, high in ends)


def test_an_iron_casting_is_held_against_its_share_of_tensile_strength() -> None:
    """The limit of the hoop tension is half of the tensile strength, whatever the ring."""
    curve = drawn("demo-thin-iron").curve("fit.casting_hoop")
    assert curve is not None
    assert curve.limit == pytest.approx(125e6, rel=1e-9)
    assert curve.side == "most"


def test_a_chance_is_judged_by_the_chance_of_the_shop() -> None:
    """Good below the shop's chance, out above its mirror image, too close between."""
    curve = drawn().curve("fit.below_least")
    assert curve is not None
    assert curve.limit == 0.05
    for chance, verdict in zip(curve.middle, curve.verdicts, strict=True):
        wanted = Verdict.GOOD if chance <= 0.05 else Verdict.TOO_CLOSE
        assert verdict is (Verdict.OUT if chance > 0.95 else wanted)


def test_the_shops_own_guard_and_limit_count() -> None:
    """A shop that wants two thou left, with no guard band, is judged by its own."""
    own = (ShopDefault("guard_factor", 0.0, "0"), ShopDefault("least_hot", 2 * THOU, "2 thou"))
    curve = chooser(job(), replace(QUICK, chosen=own)).curve("fit.running")
    assert curve is not None
    assert curve.limit == pytest.approx(2 * THOU)
    assert Verdict.TOO_CLOSE not in curve.verdicts
    for value, verdict in zip(curve.central, curve.verdicts, strict=True):
        assert verdict is (Verdict.GOOD if value >= 2 * THOU else Verdict.OUT)


def test_a_casting_without_an_outside_gets_a_band_and_that_is_said() -> None:
    """Curves that rest on the ring say what was assumed, the others do not."""
    told = job()
    bare = replace(told.casting, outside_diameter=None, outside_low=None, outside_high=None)
    picture = chooser(replace(told, casting=bare), QUICK)
    pressure, running = picture.curve("fit.pressure"), picture.curve("fit.running")
    assert pressure is not None
    assert running is not None
    assert any("1.25 to 1.6 times" in one for one in pressure.assumptions)
    assert not any("times" in one for one in running.assumptions)
    assert not picture.needs


def test_without_a_sleeve_there_is_no_picture_but_what_is_missing() -> None:
    """Nothing is drawn and nothing is nought: the sleeve is asked for."""
    bare = replace(job(), grids=(), sleeve=replace(job().sleeve, outside_diameter=None))
    picture = chooser(bare, QUICK)
    assert picture.curves == ()
    assert picture.interferences == ()
    assert np.isnan(picture.chosen)
    assert picture.needs


def test_what_is_missing_for_one_curve_is_named() -> None:
    """Without length and bore, hold and stock are not drawn; all else is."""
    told = job()
    bare = replace(
        told,
        sleeve=replace(told.sleeve, length=None),
        piston=replace(told.piston, diameter=None),
        engine=replace(told.engine, bore=None),
    )
    picture = chooser(bare, QUICK)
    missing = set(IDS) - {one.id for one in picture.curves}
    assert missing == {"fit.hold", "fit.torque", "finish.stock", "cool.lift"}
    assert "the piston, or the finished bore" in picture.needs
    assert any("length" in one for one in picture.needs)


def test_the_default_least_is_used_and_named() -> None:
    """A job that sets no least is judged by the default, with who says so."""
    told = job()
    picture = chooser(replace(told, choice=replace(told.choice, least=None)), QUICK)
    caution = next(one for one in picture.cautions if one.code == "default-least")
    assert "1.00 thou/in, 2.6 thou here" in caution.text
    assert "No least was set" in caution.text
    assert caution.source
    assert "default-least" not in {one.code for one in drawn().cautions}


def test_a_thin_sleeve_is_warned_of() -> None:
    """A wall below the shop's least is told with both figures."""
    told = job()
    grids = tuple(one for one in told.grids if one.feature != "sleeve-id")
    thin = replace(told.sleeve, inside_diameter=Entry(0.0645, "64.5 mm"))
    picture = chooser(replace(told, grids=grids, sleeve=thin), QUICK)
    caution = next(one for one in picture.cautions if one.code == "thin-sleeve")
    assert "0.0504 in (radial)" in caution.text
    assert "0.0600 in (practice)" in caution.text
    assert "thin-sleeve" not in {one.code for one in drawn().cautions}


def test_ends_of_a_band_are_known_to_two_per_cent_of_its_width() -> None:
    """Drawn anew with 16 seeds: 1.96 standard errors of an end are 2 % of the band's width.

    Of a normal answer sqrt(0.05 x 0.95 / n) / phi(1.645) sigma is the standard error of its
    5 % end (JCGM 101:2008, 7.9), for n = 4,000 and a width of 3.29 sigma 1.96 of it are 2.0 %.
    """
    at = (drawn().chosen,)
    ends = np.array(
        [
            [(one.low[0], one.high[0]) for one in picture.curves if one.id != "fit.below_least"]
            for picture in (
                chooser(job(), Shop(Settings(budget_samples=4_000, seed=seed)), interferences=at)
                for seed in range(1, 17)
            )
        ]
    )
    width = (ends[..., 1] - ends[..., 0]).mean(axis=0)
    errors = 1.96 * ends.std(axis=0, ddof=1).mean(axis=1) / width
    assert SAMPLES == 4_000
    assert np.median(errors) == pytest.approx(0.020, abs=0.006)


def test_an_impossible_interference_is_read_both_ways() -> None:
    """Half a per cent of the diameter is the most; the number is read as thou and hundredths."""
    with pytest.raises(InputError) as refused:
        chooser(job(), QUICK, interferences=(0.0, 35.0 * THOU))
    assert refused.value.field == "interference"
    assert (refused.value.value, refused.value.unit) == ("35.0", "thou")
    assert "13.2 thou" in refused.value.allowed
    assert "thou of an inch or hundredths of a millimetre" in refused.value.hint
    assert "35.0 thou" in refused.value.hint
    assert "13.8 thou" in refused.value.hint


def test_an_impossible_wanted_fit_is_refused_by_its_name() -> None:
    """A wish above half a per cent is refused before anything is drawn."""
    told = job()
    wild = replace(told, choice=replace(told.choice, wanted=Entry(0.5e-3, "0.5 mm", "chosen")))
    with pytest.raises(InputError, match=r"Fit wanted: .* cannot be used"):
        chooser(wild, QUICK)


@pytest.mark.parametrize(
    "fits",
    [(), (2e-5, 1e-5), (1e-5, 1e-5), (-1e-5, 1e-5), (float("nan"), 1e-5), (1e-5, float("inf"))],
)
def test_fits_that_are_no_list_are_refused(fits: tuple[float, ...]) -> None:
    """None, falling, doubled, negative and not-a-number fits name what is allowed."""
    with pytest.raises(InputError, match="interference"):
        chooser(job(), QUICK, interferences=fits)


def test_too_few_samples_are_refused() -> None:
    """A band of a handful of samples is no band."""
    with pytest.raises(InputError, match="samples"):
        chooser(job(), QUICK, samples=20)


def test_a_metal_without_a_strength_is_drawn_without_that_limit() -> None:
    """Nobody printed a yield strength for this sleeve: no limit is made up, and it is asked for."""
    told = job()
    picture = chooser(replace(told, sleeve=replace(told.sleeve, material="nickel-iron")), QUICK)
    squeeze, pull = picture.curve("fit.sleeve_hoop"), picture.curve("fit.casting_hoop")
    assert squeeze is not None
    assert pull is not None
    assert (squeeze.limit, squeeze.verdicts, squeeze.chance_out) == (None, (), ())
    assert pull.limit is not None
    assert picture.curve("fit.limit_margin") is None
    assert "yield strength of the sleeve" in picture.needs


def test_a_bore_that_is_too_big_already_does_not_make_iron_of_aluminium() -> None:
    """Where the fit stands at a clearance the curve of where it lets go is drawn all the same."""
    told = job()
    grids = tuple(one for one in told.grids if one.feature != "parent-bore")
    loose = replace(told.casting, inside_diameter=Entry(67.10e-3, "67.10 mm"))
    picture = chooser(replace(told, grids=grids, casting=loose), QUICK)
    grip = picture.curve("fit.grip")
    assert picture.chosen < 0.0
    assert grip is not None
    assert grip.middle[20] > 350.0
    assert picture.curve("fit.opens") is None
    assert any("tight" in one for one in picture.needs)
    assert "never-lets-go" not in {one.code for one in picture.cautions}


def test_marks_are_the_plans_own_interferences() -> None:
    """The least, the wish, today's fit and both limits stand where the plan has them."""
    whole = plan(job(), QUICK)
    marks = {one.id: one for one in drawn().marks}
    assert set(marks) == {
        "fit.least", "fit.wanted", "fit.cold", "fit.yield_fit", "fit.sleeve_yield_fit",
    }  # fmt: skip
    for identity, mark in marks.items():
        assert mark.interference == pytest.approx(whole.answer(identity).value, rel=1e-12)
        assert mark.kind is whole.answer(identity).kind
        assert mark.source


def test_what_stands_against_a_fit_is_named_worst_first() -> None:
    """Loose fits are out for what is left hot, the tightest for strain and heat, none between."""
    picture = drawn()
    against = picture.against()
    assert against[0].verdict is Verdict.OUT
    assert set(against[0].curves) >= {"fit.running", "fit.hard", "fit.below_least"}
    assert against[-1].verdict is Verdict.OUT
    assert set(against[-1].curves) >= {"fit.limit_margin", "heat.casting"}
    good = [fit for fit, one in zip(picture.interferences, against, strict=True) if not one.curves]
    assert good
    assert 4.5 * THOU < good[0] < 5.5 * THOU
    for at, one in enumerate(against):
        said = {c.id: c.verdicts[at] for c in picture.curves if c.verdicts}
        assert set(one.curves) == {name for name, verdict in said.items() if verdict != "good"}
        weights = [said[name] is Verdict.TOO_CLOSE for name in one.curves]
        assert weights == sorted(weights)
