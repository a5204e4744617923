"""The next cut at Parent bore and Bore to piston: from records to answers, words and picture."""

from __future__ import annotations

import re
from typing import Any

import pytest

from bored_jobs import FEW, THOU, about_to_be_bored, found, looked, passes, value
from simple_job import simple_job
from sleevewright.core.cutting.pass_doubts import Pass
from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Plan, Verdict
from sleevewright.planning.beside import with_stage
from sleevewright.planning.next_cut import PassesTold, next_cut_stage
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Shop, ShopDefault
from sleevewright.services.alongside import widened
from sleevewright.services.cut_told import CutTold
from sleevewright.services.cutting import PARTS
from sleevewright.services.jobs import verdicts_of
from sleevewright.services.oldwall_told import old_part
from sleevewright.services.passes_told import parent_pass, piston_pass
from sleevewright.services.settings import shop_of
from sleevewright.services.speeds_told import piston_speeds
from sleevewright.web.plan.viewer import Viewer
from sleevewright.web.stage.cut_pictures import cut_pictures
from wall_jobs import CELLS, wall_job


@pytest.fixture(scope="module")
def boring() -> Plan:
    """Three passes by readings alone."""
    return looked(passes(("25 thou", "-17.4"), ("10 thou", "-9.0"), ("5 thou", "-4.8")))


def test_readings_stand_for_what_a_pass_took(boring: Plan) -> None:
    """8.4 of 10 and 4.2 of 5 teach a share of about 0.84; the first has no reading before it."""
    assert value(boring, "bore.share") == pytest.approx(0.84, abs=0.01)
    rest = value(boring, "bore.bored") - value(boring, "bore.stands")
    assert (
        value(boring, "bore.next_ask") <= rest / value(boring, "bore.share") + 5e-7
    )  # the offset, as learned
    assert value(boring, "bore.next_pass_chance") <= 0.005
    assert "passes told" in found(boring, "bore.share").source


def test_every_order_to_the_head_says_radius_and_diameter(boring: Plan) -> None:
    """No figure to dial stands without its word, whichever way the head is marked."""
    marked = Shop(FEW, chosen=(ShopDefault("head_reads", 1.0, "diameter"),))
    job = passes(("25 thou", "-17.4"), ("10 thou", "-9.0"), ("5 thou", "-4.8"))
    for seen, word, other in (
        (boring, "on radius", "on diameter"),
        (looked(job, marked), "on diameter", "on radius"),
    ):
        turn = found(seen, "bore.head_turn")
        assert turn.sense == word
        assert other in turn.of
        for name in ("next_dial", "next_turn"):
            said = str(found(seen, f"bore.{name}").value)
            assert re.search(r"on radius \(.* on diameter\)", said)
            assert f"its dial reads {word.removeprefix('on ')}" in said


def test_what_the_page_is_asked_comes_from_the_head_that_was_set() -> None:
    """Choices by words are planned with: radius or diameter, and which way is larger."""
    shop = shop_of({"head_reads": "diameter", "head_counts": "counter-clockwise"})
    assert {one.name: one.value for one in shop.chosen} == {"head_reads": 1.0, "head_counts": 1.0}
    said = str(
        found(looked(passes(("9 thou", "-9"), ("5 thou", "-5")), shop), "bore.next_dial").value
    )
    assert "graduations counter-clockwise, its dial reads diameter" in said


def test_passes_that_were_told_after_the_bore_have_taken_it_further() -> None:
    """Asked and got alone move the bore on from its last size."""
    job = passes(("", "-20"), ("9 thou", "-12"))
    before = value(looked(job), "bore.stands")
    job.value("parent.pass/3/asked", "5 thou")
    job.value("parent.pass/3/got", "4.2 thou")
    seen = looked(job)
    assert value(seen, "bore.stands") - before == pytest.approx(4.2 * THOU, abs=1e-9)
    assert "1 pass told after it" in found(seen, "bore.stands").of


def test_a_reading_that_jumps_by_twice_is_told_of() -> None:
    """Asked 5, and the bore is 10 larger: was it on radius? The pass teaches nothing."""
    seen = looked(
        passes(
            ("", "-40"),
            ("5 thou", "-30"),
        )
    )
    texts = [one.text for one in seen.cautions if one.code.startswith("pass-twice")]
    assert len(texts) == 1
    assert "set that far on radius" in texts[0]
    assert value(seen, "bore.share") == pytest.approx(0.85)
    assert all(one.id != "bore.next_turn" for one in seen.answers())
    assert_stopped(seen, "pass 2 is doubted")


def assert_stopped(seen: Plan, why: str) -> None:
    """Nothing to dial and nothing to ask stands beside the stop."""
    assert found(seen, "bore.next_stop").value == "stop"
    assert why in found(seen, "bore.next_stop").of
    orders = {f"bore.{one}" for one in ("next_ask", "head_turn", "next_dial", "next_move")}
    assert not orders & {one.id for one in seen.answers()}


def test_a_doubted_pass_asks_for_no_cut_until_the_bore_is_gauged_again() -> None:
    """Asked 4, took 8 and keyed so: stop. Put right, or the bore read again: on it goes."""
    job = passes(("", "-20"))
    job.value("parent.pass/2/asked", "4 thou")
    job.value("parent.pass/2/got", "8 thou")
    assert_stopped(looked(job), "Gauge the bore again")
    job.value("set/ps/1/0", "-12")
    seen = looked(job)
    assert value(seen, "bore.next_ask") > 0.0
    assert any(one.code.startswith("pass-twice") for one in seen.cautions)


def test_a_wall_below_the_limit_asks_for_no_cut() -> None:
    """Too thin a wall stops the bar; islands that are accepted do not lift it, the hold does."""
    job = wall_job(thinner=0.130, cells={**CELLS, "old.accepted": "two islands",
                                         "old.accepted_by": "p1"})  # fmt: skip
    job.value("parent.pass/1/asked", "5 thou")
    job.value("parent.pass/1/got", "4.2 thou")
    shop = Shop(FEW)
    living = living_job(job.folded)
    seen = widened(plan(living.job, shop), living.job, job.folded)
    told = CutTold(living.job, job.folded, 1, shop)
    seen = with_stage(seen, old_part(seen, told))  # type: ignore[arg-type] # a wall was told
    assert seen.answer("old.thin").judgement.verdict is Verdict.OUT  # type: ignore[union-attr] # judged
    assert_stopped(with_stage(seen, parent_pass(seen, told)), "the wall")  # type: ignore[arg-type] # passes told
    job.lift("old")
    stage = parent_pass(seen, CutTold(living.job, job.folded, 1, shop))
    assert stage is not None
    assert value(with_stage(seen, stage), "bore.next_ask") > 0.0


def test_too_large_a_bore_stops(boring: Plan) -> None:
    """Above the upper limit there is no ask; what serves is said."""
    seen = looked(passes(("", "-10"), ("20 thou", "+8")))
    assert found(seen, "bore.next_stop").value == "stop"
    assert "larger sleeve" in found(seen, "bore.next_stop").of
    assert all(one.id != "bore.next_ask" for one in seen.answers())
    assert all(one.id != "bore.next_stop" for one in boring.answers())


def test_what_lacks_is_asked_for() -> None:
    """Passes without a size of the bore name what they want, and nothing is guessed."""
    job = simple_job("four-stroke", until="setup")
    job.value("parent.pass/1/asked", "5 thou")
    job.value("parent.pass/1/got", "4.2 thou")
    ask = found(looked(job), "bore.next_ask")
    assert ask.value is None
    assert "a reading of the bore as it stands" in ask.needs[0]


def test_nothing_told_answers_nothing() -> None:
    """A job that was not bored has no next cut."""
    job = simple_job("four-stroke", until="setup")
    living = living_job(job.folded)
    told = CutTold(living.job, job.folded, 1, Shop(FEW))
    assert parent_pass(plan(living.job, Shop(FEW)), told) is None


def test_the_clean_out_stands_until_the_bore_is_read() -> None:
    """What the old sleeve left is where boring begins."""
    job = simple_job("four-stroke", until="setup")
    job.value("old.diameter", "2.600 in")
    seen = looked(job)
    assert value(seen, "bore.stands") == pytest.approx(2.6 * 0.0254)
    assert "rough" in str(found(seen, "bore.schedule").value)


def test_a_bore_that_is_not_at_its_size_yet_is_no_mistake() -> None:
    """40 thou too small between passes: no plan is made of it, nothing is told to be mistyped."""
    job = passes(("", "-45"), ("9 thou", "-37"))
    assert living_job(job.folded).problems == ()
    seen = looked(job)
    assert value(seen, "bore.target") - value(seen, "bore.stands") > 30 * THOU


def test_a_pass_of_a_whole_turn_is_no_slip_of_the_needle() -> None:
    """On a 10 thou dial a pass of 10 thou is believed, and so is a last one near its size."""
    job = passes(("", "-21"), ("12 thou", "-11"), ("5 thou", "-6.8"), ("7 thou", "-0.9"))
    assert value(looked(job), "bore.stands") == pytest.approx(2.6351 * 0.0254, abs=1e-7)


def test_the_piston_stage_bores_to_its_own_size() -> None:
    """After cooling the sleeve is bored to the piston less the hone's stock, as iron is cut."""
    seen = looked(about_to_be_bored())
    assert value(seen, "finish.stands") < value(seen, "finish.bored")
    assert value(seen, "finish.next_ask") <= 2.0 * 20.0 * THOU * 1.3
    assert found(seen, "finish.next_size").sense == "diametral"


def test_the_next_cut_stands_for_an_ask_that_was_not_told() -> None:
    """What rests on the ask takes the next cut's; the passes to come take as often its time."""
    job = simple_job("two-stroke", until="piston")
    for cell, text in (("piston.diameter", "2.3992 in"), ("piston.clearance", "2.8 thou"),
                       ("piston.tool", "carbide"), ("piston.feed_per_turn", "3 thou"),
                       ("piston.speed", "300")):  # fmt: skip
        job.value(cell, text)
    told = CutTold(living_job(job.folded).job, job.folded, 1, Shop(FEW))
    seen = looked(job)
    stage = piston_speeds(seen, told)
    assert stage is not None
    cut = with_stage(seen, stage)
    ask, count = value(seen, "finish.next_ask"), len(found(seen, "finish.next_pass").value.ladder)  # type: ignore[union-attr] # a next cut
    assert value(cut, "pistoncut.asked") == ask
    assert 0.0 < value(cut, "pistoncut.lost") < ask
    one = value(cut, "pistoncut.time")
    assert value(cut, "pistoncut.passes_time") == pytest.approx(count * one)
    assert value(cut, "pistoncut.passes_whole") == pytest.approx(count * (one + 300.0))
    assert PARTS.index(piston_pass) < PARTS.index(piston_speeds)


def test_no_pass_comes_next_once_a_bore_is_bored_or_honed() -> None:
    """Neither after the tick of Bore to piston nor once the hone has had the bore."""
    done = looked(simple_job("four-stroke", until="release"))
    names = {one.id for one in done.answers()}
    assert "bore.next_ask" not in names
    assert "finish.next_ask" not in names
    job = about_to_be_bored()
    assert value(looked(job), "finish.next_ask") > 0.0
    job.value("piston.bored", "yes")
    assert "finish.next_ask" not in {one.id for one in looked(job).answers()}


def stage_of(told: PassesTold) -> dict[str, Any]:
    """The answers of a made stage."""
    seen = looked(simple_job("four-stroke", until="setup"))
    return {one.id: one for one in next_cut_stage(seen, told).answers}


def test_the_second_of_two_finish_passes_asks_the_same() -> None:
    """Where two are to come the advice says to key the first before the second is set."""
    seen = looked(passes(("", "-20"), ("20 thou", "-6")))
    stage = next(one for one in seen.stages if one.key == "parent" and one.is_beside and any(
        answer.id == "bore.schedule" for answer in one.answers))  # fmt: skip
    words = str(found(seen, "bore.schedule").value)
    asks = re.findall(r"finish ([\d.]+) thou on diameter", words)
    assert len(asks) == 2
    assert abs(float(asks[0]) - float(asks[1])) <= 1.0  # a graduation of its dial
    assert any("last two passes ask the same" in text for text in stage.advice)


def test_a_spring_pass_is_weighed() -> None:
    """With the head left as it is the rest comes off in part: told, and whether it serves."""
    target = value(looked(simple_job("four-stroke", until="setup")), "bore.target")
    told = PassesTold(
        "parent", "Parent bore", "bore", "bore.target", target - 1.5 * THOU, 0.1 * THOU, "made",
        (Pass("1", 6 * THOU, 5 * THOU),), is_iron=False,
    )  # fmt: skip
    said = str(stage_of(told)["bore.spring"].value)
    assert "more comes off, on diameter" in said
    spoiled = PassesTold(
        "parent", "Parent bore", "bore", "bore.target", target - 1.7 * THOU, 0.1 * THOU, "made",
        (Pass("1", 14 * THOU, 10 * THOU),), is_iron=False,
    )  # fmt: skip
    assert "spoils the bore" in str(stage_of(spoiled)["bore.spring"].value)
    seen = looked(simple_job("four-stroke", until="setup"))
    texts = [one.text for one in next_cut_stage(seen, spoiled).cautions]
    assert any("beyond the upper limit" in text for text in texts)


def test_the_ladder_is_drawn_and_says_its_answer(boring: Plan) -> None:
    """Two passes that are near, where the bore stands, the next; the words carry ask and chance."""
    drawn = [one for one in cut_pictures("parent", boring) if one.title.startswith("Passes")]
    assert len(drawn) == 1
    text = str(drawn[0].picture)
    ask = Viewer(boring, "inch").figure("bore.next_ask")
    assert f"next pass asks {ask} thou on diameter" in text
    assert "chance that it passes the upper limit" in text
    assert "8.4 thou of 10.0 thou" in text
    assert text.count("<svg") == 2


def test_whether_a_pass_is_to_come_is_handed_to_the_holds(boring: Plan) -> None:
    """With a next ask it is; where boring is to stop it is not."""
    assert verdicts_of(boring)["bore.next_ask"] == "to come"
    done = looked(passes(("25 thou", "-4"), ("4 thou", "+0.3")))
    assert found(done, "bore.next_stop").value == "stop"
    assert "bore.next_ask" not in verdicts_of(done)
