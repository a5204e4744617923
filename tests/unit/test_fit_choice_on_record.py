"""A fit that goes against what is advised: asked for a reason, never refused, kept on record."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from fastapi.testclient import TestClient
from scipy.stats import norm

from benches import app_in, bench_in
from simple_job import simple_job
from sleevewright.jobs.fitreason import EARLIER, GIVEN, WANTED, reason_of
from sleevewright.jobs.holds import MET, NOT_MET, hold_of
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.living import living_job
from sleevewright.jobs.model import Job
from sleevewright.jobs.records import VALUE
from sleevewright.jobs.stageholds import DISAGREES
from sleevewright.planning.advising import asks_reason, range_stage
from sleevewright.planning.answers import Kind, Plan, StageAnswers
from sleevewright.planning.chooser import chooser
from sleevewright.planning.document import plan_document
from sleevewright.planning.fit_disagreements import found_out
from sleevewright.planning.fit_hot import fit_hot
from sleevewright.planning.fit_range import recommended
from sleevewright.planning.shop import Shop
from sleevewright.services.advising import with_advice
from sleevewright.services.bench import Bench
from sleevewright.services.demo import tell
from sleevewright.services.good_fits import with_range
from sleevewright.services.jobs import import_text, look
from sleevewright.services.plans import plan_job
from sleevewright.web.stage.extras import ReleaseView
from sleevewright.web.stage.page import seen_of, stage_page
from sleevewright.web.stage.shop_of import shop_view
from told_jobs import Teller

AIR, WATER = "demo-air-175.toml", "demo-water.toml"
BY_INCH = "fit.least_per_inch"
REASON = "a race barrel, looked at by both of us"
Made = Callable[..., Job]


@pytest.fixture(scope="module")
def text(root: Path) -> Callable[..., str]:
    """A worked job file with some of its lines changed; an empty text takes the line out."""

    def changed(name: str, **lines: str) -> str:
        found = (root / "examples" / name).read_text(encoding="utf-8")
        for key, told in lines.items():
            new = f'{key} = "{told}"' if told else ""
            found, count = re.subn(rf"^{key} = .*$", new, found, count=1, flags=re.MULTILINE)
            assert count == 1, key
        return found

    return changed


@pytest.fixture(scope="module")
def made(text: Callable[..., str]) -> Made:
    """The job of such a file."""
    return lambda name, **lines: read_job(text(name, **lines), name=name)


def value(plan: Plan | StageAnswers, identity: str) -> object:
    """Value of an answer, None where there is none."""
    answers = plan.answers() if isinstance(plan, Plan) else plan.answers
    return next((one.value for one in answers if one.id == identity), None)


def change(bench: Bench, cell: str, told: str) -> None:
    """Tell another value in a cell, in the place of what stands there."""
    heads = look(bench, "J-99").folded.heads(cell, cylinder=1)
    said = {"record": "value", "cylinder": 1, "cell": cell, "text": told}
    tell(bench, "J-99", [said | {"replaces": [one.id for one in heads]}])


def release_note(bench: Bench) -> str:
    """What the release lists beside the hold of the fit."""
    page = stage_page(seen_of(look(bench, "J-99"), shop_view(bench)), "release")
    special = page.special
    assert isinstance(special, ReleaseView)
    return next(one.note for one in special.holds if one.stage == "fit")


def test_hold_names_what_the_choice_goes_against_until_a_reason_is_told(
    text: Callable[..., str], tmp_path: Path
) -> None:
    """150 um in a water-cooled block: not met, then met by a sentence, which the release lists."""
    bench = bench_in(tmp_path / "data")
    import_text(bench, text(WATER, number="J-99", wanted="150 um", reason=""), name="x")
    seen = look(bench, "J-99")
    hold = seen.hold("fit")
    assert hold.state == NOT_MET
    assert "at most 102 µm" in hold.lacks[0].why
    assert hold.lacks[0].cure == "Say why this fit, in a sentence"
    tell(bench, "J-99", [{"record": "value", "cylinder": 1, "cell": "fit.reason", "text": "ok"}])
    assert look(bench, "J-99").hold("fit").state == NOT_MET
    change(bench, "fit.reason", REASON)
    seen = look(bench, "J-99")
    assert seen.hold("fit").state == MET
    assert "150 µm wanted" in seen.verdicts[DISAGREES]
    note = release_note(bench)
    assert REASON in note
    assert "demonstration bench" in note
    assert "at most 102 µm" in note
    assert "last changed" not in note
    change(bench, "fit.wanted", "160 um")
    (lack,) = look(bench, "J-99").hold("fit").lacks
    assert "the reason was told for an earlier fit" in lack.why
    assert "told before the fit was last changed" in release_note(bench)
    change(bench, "fit.reason", f"{REASON} again")
    seen = look(bench, "J-99")
    assert seen.hold("fit").state == MET
    assert "last changed" not in release_note(bench)
    document = plan_document(seen.plan) if seen.plan else {}
    assert REASON in str(document)
    assert "160 µm wanted: the preset is" in str(document)
    bench.close()


def test_a_fit_that_cannot_be_planned_is_not_agreed(
    text: Callable[..., str], tmp_path: Path
) -> None:
    """Half a millimetre keyed for a fit: the plan takes the preset, and the hold says so."""
    bench = bench_in(tmp_path / "data")
    import_text(bench, text(WATER, number="J-99", wanted="90 um", reason=""), name="x")
    assert look(bench, "J-99").hold("fit").state == MET
    change(bench, "fit.wanted", "0.5 mm")
    hold = look(bench, "J-99").hold("fit")
    assert hold.state == NOT_MET
    assert "not planned" in hold.lacks[0].why
    change(bench, "fit.wanted", "90 um")
    assert look(bench, "J-99").hold("fit").state == MET
    bench.close()


def test_reason_stands_for_the_fit_that_it_was_told_for() -> None:
    """Body, flange or least told anew wants it anew; the row says how it stands."""
    for cell, text in (("fit.wanted", "9 thou"), ("fit.flange_wanted", "2 thou"),
                       ("fit.least", "1 thou")):  # fmt: skip
        job = simple_job("two-stroke")
        assert (reason_of(job.folded), row_of(job)) == (WANTED, "nothing")
        fits = job.folded.heads("fit.wanted")
        job.value("fit.wanted", "8 thou", replaces=[one.id for one in fits])
        assert row_of(job).endswith("a reason is wanted")
        job.value("fit.reason", REASON)
        assert row_of(job).endswith("the reason is told")
        assert hold_of("fit", job.folded, verdicts={DISAGREES: "x"}).state == MET
        job.value(cell, text, replaces=[one.id for one in job.folded.heads(cell)])
        assert row_of(job).endswith("the reason was told for an earlier fit"), cell
        (lack,) = hold_of("fit", job.folded, verdicts={DISAGREES: "x"}).lacks
        assert "and the reason was told for an earlier fit: x" in lack.why
        assert hold_of("fit", job.folded).state == MET  # where nothing asks, nothing is asked


def test_reason_that_came_with_the_fit_in_one_file_is_its_reason() -> None:
    """The order in a job file says nothing; what is told at the bench afterwards does."""
    job = Teller()
    for cell, text in (("fit.reason", REASON), ("fit.wanted", "8 thou")):
        body = {"cylinder": 1, "cell": cell, "text": text, "source": "file"}
        job.tell(VALUE, body)
    assert reason_of(job.folded) == GIVEN
    job.value("fit.least", "1 thou")
    assert reason_of(job.folded) == EARLIER


def row_of(job: Teller) -> str:
    """The row of what the choice goes against."""
    told = living_job(job.folded, 1).job
    plan = with_advice(plan_job(told), told, state=reason_of(job.folded))
    return str(value(plan, DISAGREES))


def test_usual_choice_is_asked_for_nothing(made: Made) -> None:
    """The worked jobs and a simple one go against nothing that asks for a reason."""
    for name in (AIR, WATER, "demo-thin-iron.toml"):
        job = made(name)
        assert asks_reason(with_advice(plan_job(job), job)) == "", name
    folded = simple_job("two-stroke").folded
    job = living_job(folded, 1).job
    assert asks_reason(with_advice(plan_job(job), job)) == ""
    assert hold_of("fit", folded).state == MET


def test_plan_without_a_sleeve_says_nothing_of_sources() -> None:
    """Nothing is advised at a diameter that nobody has told."""
    job = Job(number="J-1", units="inch")
    plan = plan_job(job)
    assert with_advice(plan, job) is plan
    assert with_range(plan, job, Shop()) is plan


def test_what_is_out_at_the_chosen_fit_asks_until_the_bore_is_measured(made: Made) -> None:
    """0.5 thou leaves nothing hot: said of a choice, left to the hone's hold of a measured bore."""
    whole = made(AIR, wanted="0.5 thou", least="0.4 thou")
    grids = tuple(one for one in whole.grids if one.feature != "parent-bore")
    chosen = type(whole)(**{**vars(whole), "grids": grids})
    keys = {one.key for one in found_out(plan_job(chosen))}
    assert "out:fit.running" in keys
    assert not found_out(plan_job(whole))


@pytest.mark.parametrize("where", ["body", "flange"])
def test_chance_of_less_than_the_least_is_that_of_the_measured_pair(made: Made, where: str) -> None:
    """The rule is P(i < least) of the whole budget: for a normal doubt Phi((least - i) / u).

    JCGM 106:2012, 7.5. With a least 0.1 thou under what the body has, and as far below what is
    wanted at the flange as at the body, the chance is neither nought nor one.
    """
    plan = plan_job(made(AIR, least="3.4 thou"))
    fit, least, said = {
        "body": ("fit.as_cut", "fit.least", "fit.below_least"),
        "flange": ("fit.flange_as_cut", "fit.flange_least", "fit.flange_below_least"),
    }[where]
    answer, limit = plan.answer(fit), plan.answer(least).value
    assert isinstance(answer.value, float)
    assert isinstance(limit, float)
    assert answer.doubt is not None
    chance = norm.cdf((limit - answer.value) / answer.doubt.standard)
    assert value(plan, said) == pytest.approx(chance, abs=0.02)
    assert 0.0 < chance < 1.0


def test_least_of_the_flange_is_as_far_below_what_is_wanted(made: Made) -> None:
    """Wanted 3.4 and least 2.6 at the body, wanted 2.0 at the flange: its least is 1.2 thou."""
    plan = plan_job(made(AIR))
    assert value(plan, "fit.flange_least") == pytest.approx(1.2 * 25.4e-6, abs=1e-9)


@pytest.mark.parametrize("least", ["2.6 thou", ""])
def test_least_stands_by_the_diameter_too(made: Made, least: str) -> None:
    """Told or not, the least is told as a fit and by the diameter: the one over the other."""
    plan = plan_job(made(AIR, least=least))
    fit, diameter, ratio = (value(plan, one) for one in ("fit.least", "sleeve.od", BY_INCH))
    assert isinstance(fit, float)
    assert isinstance(diameter, float)
    assert ratio == pytest.approx(fit / diameter)
    assert plan.answer(BY_INCH).kind is Kind.COMPUTED


def test_casting_of_steel_has_no_preset_and_no_advice(made: Made) -> None:
    """Nothing is taken from aluminium: wanted and least are asked for, and the stage says so."""
    told = made(AIR, least="")
    steel = replace(told, casting=replace(told.casting, material="steel"))
    plan = plan_job(steel)
    assert value(plan, "fit.least") is None
    assert "no preset and no advice for a casting of steel" in plan.answer("fit.least").needs[0]
    said = with_advice(plan, steel)
    assert value(said, "fit.preset") == "none"
    assert "no advice for a casting of steel" in said.answer("fit.preset").of
    assert not [one.id for one in said.answers() if one.id.startswith("fit.says.")]
    assert not chooser(steel, Shop(), samples=400).curves
    assert with_range(said, steel, Shop()) is said
    fit = fit_hot(said, steel)
    assert fit.answers


def test_sources_stand_in_their_own_words_with_what_they_mean(made: Made) -> None:
    """Printed words and meaning beside each figure; what is not counted with its reason."""
    job = made(WATER)
    said = with_advice(plan_job(job), job)
    second = said.answer("fit.says.feature-second").of
    assert "“interference .0015 to .003”: interference on diameter, inches" in second
    percent = said.answer("fit.not_counted.aluminium-block-percent")
    assert percent.value == "not counted"
    assert percent.of.startswith("“more interference: .003% to .004%”, because printed as per cent")
    others = {one.id for one in said.answers() if one.id.startswith("fit.not_counted.")}
    assert "fit.not_counted.iron-block-percent" not in others  # of another pairing


def test_job_without_a_least_takes_the_preset_and_says_its_source(made: Made) -> None:
    """1.0 thou by the inch of the sleeve, assumed, common practice."""
    plan = plan_job(made(AIR, least=""))
    ratio = plan.answer("fit.least_ratio")
    assert (ratio.value, ratio.kind, ratio.source) == (0.001, Kind.ASSUMED, "practice")
    diameter = value(plan, "sleeve.od")
    assert isinstance(diameter, float)
    assert value(plan, "fit.least") == pytest.approx(0.001 * diameter)


def test_ends_of_a_worked_job_agree_with_a_fine_picture(made: Made) -> None:
    """On points a tenth as far apart the range of the air-cooled job ends at the same fits."""
    job, shop = made(AIR), Shop()
    coarse = recommended(chooser(job, shop, samples=2000))
    fits = tuple(np.round(np.arange(0.0, 203.3e-6, 0.762e-6), 12))
    fine = recommended(chooser(job, shop, interferences=fits, samples=2000))
    assert coarse is not None
    assert fine is not None
    assert coarse.good.low == pytest.approx(fine.good.low, abs=1.0e-6)
    assert coarse.good.high == pytest.approx(fine.good.high, abs=5.08e-6)  # within its cell
    assert coarse.good.below is not None
    assert coarse.good.below.id == "fit.hard"


def test_range_is_told_with_its_ends_its_balance_and_what_lets_the_fit_in(made: Made) -> None:
    """The balanced fit lies in the range, above every source where it does; no word promises."""
    job = made(WATER)
    stage = range_stage(plan_job(job), job, chooser(job, Shop(), samples=1000))
    assert stage is not None
    low, high = re.findall(r"\d+", str(value(stage, "fit.range")))
    best = value(stage, "fit.best")
    assert isinstance(best, float)
    assert float(low) <= best * 1e6 <= float(high)
    told = " ".join(f"{one.value} {one.of}" for one in stage.answers)
    assert "the fit as it stands, 90 µm, lies below" in told
    assert "it lies above every range" in told
    assert "clamped" in told
    iron = made("demo-thin-iron.toml")
    stage = range_stage(plan_job(iron), iron, chooser(iron, Shop(), samples=1000))
    assert stage is not None
    assert value(stage, "fit.range") == "none"
    assert value(stage, "fit.best") is None
    assert "chilled" in str(value(stage, "fit.range_opens"))


def test_pages_show_the_range_the_sources_and_the_preset(tmp_path: Path, root: Path) -> None:
    """Stage Fit has a row for each; the plan's page has them as sections of its own."""
    app = app_in(tmp_path / "data", [root / "examples" / AIR])
    with TestClient(app, base_url="http://127.0.0.1") as client:
        number = look_number(root / "examples" / AIR)
        stage = client.get(f"/jobs/{number}/1/fit").text
        plan = client.get(f"/jobs/{number}/plan").text
    app.state.bench.close()
    for words in ("Fits at which all is good", "Balanced fit", "Owners&#39; club, air-cooled",
                  "Preset of this kind of casting", "The choice goes against",
                  "The least, by the diameter", "not counted", "Friction that is taken",
                  "Opens, one in two", "Lets go, one such fit in twenty",
                  "Lets go, one in two", "Lets go, nineteen in twenty"):  # fmt: skip
        assert words in stage, words
    for section in ("stage-advice", "stage-fit-range"):
        assert f'id="{section}"' in plan, section


def look_number(path: Path) -> str:
    """The number that a job file gives its job."""
    return read_job(path.read_text(encoding="utf-8"), name=path.name).number
