"""What was learned counts once a person accepts it, until it is revoked; before, nothing moves."""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from click.testing import CliRunner

from benches import EXAMPLES, bench_in
from past_jobs import WELL, Past, back, keep
from sleevewright.cli.learned import learned as cli
from sleevewright.errors import InputError, NotFound
from sleevewright.planning.answers import Plan
from sleevewright.planning.chooser import chooser
from sleevewright.planning.document import Retrace, plan_document
from sleevewright.planning.habit import HABIT
from sleevewright.planning.learning import own_fit
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Posterior, Settings, Shop
from sleevewright.services.bench import Bench
from sleevewright.services.learned import (
    Acceptance,
    accept_habit,
    acceptances,
    known,
    learned,
    revoke_habit,
    standing,
)
from sleevewright.services.people import add_person, forget_person
from sleevewright.services.plans import load_job
from sleevewright.services.settings import change_setting, shop_of_bench
from sleevewright.store.database import writing_engine
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.learnedkeeping import learned_entries
from sleevewright.store.migrating import migrate
from sleevewright.store.tablecopy import FOLDER, copy_tables, fill_tables
from sleevewright.store.tables import study as study_table

AIR, WATER = "aluminium|iron|air", "aluminium|iron|water"
FEW = Settings(budget_samples=4_000, drop_samples=200)
FOR_GOOD = "B-2 took its place and ended too; this one does not count again"
DEMO = EXAMPLES / "demo-air-175.toml"


def nine(shift: float = -6e-6) -> list[Past]:
    """Nine proved jobs of one pairing that come out by so much; two of them came back."""
    chance = random.Random(4)  # noqa: S311 - invented data
    told = [WELL, back(), (), WELL, back("taps"), (), WELL, (), WELL]
    return [
        Past(f"P-{k + 1}", 80e-6, 80e-6 + shift + chance.gauss(0.0, 3e-6), told=one)
        for k, one in enumerate(told)
    ]


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with nine proved jobs, where one person works."""
    made = bench_in(tmp_path / "data")
    add_person(made, "Ann")
    keep(made, nine())
    yield made
    made.close()


def accept(bench: Bench, *, digest: str = "", **who: str) -> Acceptance:
    """Look at the habit of the air-cooled and accept it as it is looked at."""
    return accept_habit(bench, AIR, digest=digest or learned(bench, AIR).digest, **who)


@cache
def planned(*posteriors: Posterior) -> Plan:
    """The demonstration's plan with what was accepted."""
    return plan(load_job(DEMO), Shop(settings=FEW, posteriors=posteriors))


def test_without_acceptance_not_one_number_changes(bench: Bench) -> None:
    """Past jobs alone leave the shop as it was; what is accepted elsewhere leaves the plan."""
    assert shop_of_bench(bench).posteriors == ()
    found = accept(bench, person="p1")
    revoke_habit(bench, found.number, "only tried", person="p1")
    assert shop_of_bench(bench).posteriors == ()
    elsewhere = Posterior(HABIT, WATER, -9e-6, 5e-6, "B-7")
    before, after = (json.dumps(plan_document(one)) for one in (planned(), planned(elsewhere)))
    assert after == before


def test_accepted_it_moves_the_fit_to_expect_with_its_doubt(bench: Bench) -> None:
    """What was measured stays; what is expected, its doubt and its contributors follow."""
    found = accept(bench, person="Ann")
    (own,) = standing(bench)
    assert (own.pairing, own.value, own.standard) == (AIR, found.value, found.standard)
    assert own.value == pytest.approx(-6e-6, abs=2.5e-6)
    assert shop_of_bench(bench).posteriors == (own,)
    before, after = planned(), planned(own)
    assert after.answer("fit.cold").value == before.answer("fit.cold").value
    moved = float(after.answer("fit.as_cut").value) - float(before.answer("fit.as_cut").value)
    assert moved == pytest.approx(own.value, abs=1e-15)
    wide, narrow = after.answer("fit.as_cut").doubt, before.answer("fit.as_cut").doubt
    assert wide is not None
    assert narrow is not None
    assert wide.standard == pytest.approx((narrow.standard**2 + own.standard**2) ** 0.5, rel=0.05)
    assert "shop.bias" in {one.input for one in wide.contributors}
    fit = next(stage for stage in after.stages if stage.key == "fit")
    assert any("that is counted in (B-1, accepted" in text for text in fit.advice)
    assert after.answer("shop.bias").source == found.source


def test_what_has_to_clear_stays_as_measured_where_that_is_tighter() -> None:
    """A habit of less fit opens no slip at the drop; one of more fit takes some."""
    before = planned().answer("drop.equal_slip").value
    less = planned(Posterior(HABIT, AIR, -10e-6, 0.0, "B-1"))
    more = planned(Posterior(HABIT, AIR, 10e-6, 0.0, "B-1"))
    assert less.answer("drop.equal_slip").value == pytest.approx(before, abs=1e-12)
    own = {"heat.drop_at", "heat.body_slip", "drop.window"}
    known = {one.id for one in less.answers()} & own
    for identity in known:
        assert less.answer(identity).value == planned().answer(identity).value
    assert float(more.answer("drop.equal_slip").value) < float(before)
    assert more.answer("fit.to_clear").value == more.answer("fit.as_cut").value
    assert less.answer("fit.to_clear").value == less.answer("fit.cold").value
    assert float(less.answer("fit.running").value) < float(planned().answer("fit.running").value)


def test_the_own_fit_among_past_fits_is_the_one_measured() -> None:
    """Past fits stand as they were measured: the job in hand does too, habit or not."""
    habit = Posterior(HABIT, AIR, -10e-6, 3e-6, "B-1")
    without, with_it = own_fit(planned()), own_fit(planned(habit))
    assert without is not None
    assert with_it is not None
    assert with_it.ratio == without.ratio
    assert with_it.half == pytest.approx(without.half, rel=0.02)
    assert with_it.ratio == pytest.approx(
        planned(habit).answer("fit.cold").value / planned(habit).answer("sleeve.od").value
    )


def test_the_picture_of_a_fit_carries_the_habit_along() -> None:
    """What is left running at a fit is that of the fit with the habit; heat keeps the tighter."""
    job, habit = load_job(DEMO), Posterior(HABIT, AIR, -10e-6, 0.0, "B-1")
    cold = float(planned().answer("fit.cold").value)
    fits = (cold - 10e-6, cold, cold + 10e-6)
    usual = chooser(job, Shop(settings=FEW), interferences=fits, samples=400)
    moved = chooser(job, Shop(settings=FEW, posteriors=(habit,)), interferences=fits, samples=400)
    for name in ("fit.running", "fit.close_up"):
        without, with_it = usual.curve(name), moved.curve(name)
        assert without is not None
        assert with_it is not None
        assert with_it.middle[1:] == pytest.approx(without.middle[:2], rel=1e-9)
    heat, same = moved.curve("heat.casting"), usual.curve("heat.casting")
    assert heat is not None
    assert same is not None
    assert heat.middle == pytest.approx(same.middle, rel=1e-9)
    now = planned(habit).answer("fit.running").value
    running = moved.curve("fit.running")
    assert running is not None
    assert running.central[1] == pytest.approx(now, abs=1e-12)


def test_a_plan_with_a_habit_can_be_retraced_from_its_document() -> None:
    """What stands in the document computes to the same fit without us."""
    document = json.loads(
        json.dumps(plan_document(planned(Posterior(HABIT, AIR, -6e-6, 2e-6, "B-1"))))
    )
    again = Retrace(document).value("fit.as_cut")
    assert again == pytest.approx(float(planned().answer("fit.as_cut").value) - 6e-6, abs=1e-12)


@pytest.mark.parametrize(("units", "unit"), [("inch", "thou"), ("metric", "µm")])
def test_terminal_tells_a_habit_in_the_shops_units(
    tmp_path: Path, bench: Bench, units: str, unit: str
) -> None:
    """Nine fits that come out some 6 µm looser: accepted and listed as the shop speaks."""
    change_setting(bench, "units", units)
    bench.close()
    place = ["--data", str(tmp_path / "data")]
    run = CliRunner().invoke
    shown = run(cli, ["accept", AIR, *place])
    (digest,) = re.findall(r"--digest (\w{12})\.", shown.output + str(shown.exception))
    made = run(cli, ["accept", AIR, "--person", "Ann", "--digest", digest, *place])
    listed = run(cli, ["list", *place])
    assert (made.exit_code, listed.exit_code) == (0, 0), made.output + listed.output
    size = r"−0\.\d+" if units == "inch" else r"−[4-8]\.\d"
    assert re.search(rf"B-1 counts for {re.escape(AIR)}: {size} {unit}\.", made.output)
    assert re.search(rf"comes out {size} {unit} off, −[\d.]+ to −[\d.]+ {unit}", listed.output)
    other = "µm" if unit == "thou" else "thou"
    assert other not in made.output + listed.output


def test_below_eight_it_says_how_many_are_missing(tmp_path: Path) -> None:
    """Seven proved jobs, whatever others there are, give no habit."""
    bench = bench_in(tmp_path / "few")
    try:
        add_person(bench, "Ann")
        keep(bench, [*nine()[:7], Past("Q-1", proved=None), Past("Q-2", proved=None)])
        found = learned(bench, AIR)
        assert (found.jobs, found.missing, found.habit) == (7, 1, None)
        with pytest.raises(InputError, match=r"7 proved jobs.*1 more"):
            accept(bench, person="p1")
    finally:
        bench.close()


def test_a_habit_of_invented_jobs_is_shown_and_never_counts(tmp_path: Path) -> None:
    """It would move the plans of real jobs, so that it is refused."""
    bench = bench_in(tmp_path / "invented")
    try:
        add_person(bench, "Ann")
        keep(bench, [replace(one, invented=True) for one in nine()])
        assert learned(bench, AIR).habit is not None
        with pytest.raises(InputError, match="real jobs of this shop"):
            accept(bench, person="p1")
    finally:
        bench.close()


def test_somebody_has_to_be_named(tmp_path: Path) -> None:
    """In a bench of nobody, and by a name that nobody has, nothing is accepted."""
    bench = bench_in(tmp_path / "nobody")
    try:
        keep(bench, nine())
        with pytest.raises(InputError, match="one who works here"):
            accept(bench, person="")
        add_person(bench, "Ann", "1234")
        add_person(bench, "Bea", "5678")
        with pytest.raises(InputError):
            accept(bench, person="p1", pin="0000")
        assert accept(bench, person="p1", pin="1234").person == "p1"
    finally:
        bench.close()


def test_what_was_accepted_names_its_jobs_and_keeps_no_name(bench: Bench) -> None:
    """Numbers of the jobs and their hash stand in the record; a name can still be forgotten."""
    found = accept(bench, person="p1")
    assert found.from_jobs == tuple(f"P-{k}/1" for k in range(1, 10))
    assert found.digest == learned(bench, AIR).digest
    forget_person(bench, "p1")
    (kept,) = acceptances(bench)
    assert (kept.person, kept.made, kept.is_standing) == ("p1", found.made, True)
    assert "Ann" not in repr(kept)


def test_a_page_that_is_out_of_date_accepts_nothing(bench: Bench) -> None:
    """Another job meanwhile changes the hash; it has to be looked at again."""
    seen = learned(bench, AIR).digest
    keep(bench, [Past("P-10", 80e-6, 60e-6)])
    with pytest.raises(InputError, match="Load the page anew"):
        accept(bench, person="p1", digest=seen)
    for nothing in ("", seen[:11]):
        with pytest.raises(InputError, match="the hash of what was looked at"):
            accept_habit(bench, AIR, person="p1", digest=nothing)
    assert acceptances(bench) == ()
    begins = learned(bench, AIR).digest[:12]
    assert accept(bench, person="p1", digest=begins).digest == learned(bench, AIR).digest


def test_what_comes_while_it_is_accepted_is_looked_at_first(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A job that is kept between the look and the write changes the hash: nothing is written."""
    now = bench.now

    def meanwhile() -> str:
        keep(bench, [Past("P-10", 80e-6, 60e-6)])
        return now()

    seen = learned(bench, AIR).digest
    monkeypatch.setattr(bench, "now", meanwhile)
    with pytest.raises(InputError, match="the one that stands now"):
        accept(bench, person="p1", digest=seen)
    monkeypatch.undo()
    assert acceptances(bench) == ()
    assert learned(bench, AIR).jobs == 10


@pytest.mark.parametrize("pairing", ["aluminum-iron-air", "", WATER, "aluminium|iron|"])
def test_a_pairing_that_no_job_has_is_never_accepted(bench: Bench, pairing: str) -> None:
    """The record could never be changed again; the refusal lists what there is."""
    with pytest.raises(InputError, match=r"pairing: .*aluminium\|iron\|air") as refused:
        accept_habit(bench, pairing, person="p1", digest=learned(bench, AIR).digest)
    assert "learned list" in str(refused.value)
    assert acceptances(bench) == ()


def test_who_works_alone_stands_for_it_without_being_named(bench: Bench) -> None:
    """As for every signature: of one person there is nobody else that it could be."""
    assert accept(bench, person="").person == "p1"


def test_a_later_acceptance_takes_the_place_of_the_one_before(bench: Bench) -> None:
    """One counts for a pairing; what ended is kept with why, whatever ends later."""
    accept(bench, person="p1")
    keep(bench, [Past("P-10", 80e-6, 60e-6)])
    second = accept(bench, person="p1")
    newest, older = acceptances(bench)
    assert (newest.number, older.number) == (second.number, "B-1")
    assert (newest.is_standing, older.is_standing) == (True, False)
    assert older.reason == "B-2 stands in its place"
    third = accept(bench, person="p1")
    reasons = [one.reason for one in acceptances(bench)[1:]]
    assert reasons == ["B-3 stands in its place", FOR_GOOD]
    revoke_habit(bench, third.number, "looked at twice", person="p1")
    assert [one.is_standing for one in acceptances(bench)] == [False] * 3
    assert standing(bench) == ()
    assert acceptances(bench)[1].reason == FOR_GOOD.replace("B-2", "B-3")


def test_what_is_taken_back_brings_no_older_one_back(bench: Bench) -> None:
    """Nothing counts then, as in a shop that never accepted any; it is taken back once."""
    accept(bench, person="p1")
    accept(bench, person="p1")
    with pytest.raises(InputError, match="reason"):
        revoke_habit(bench, "B-2", "no", person="p1")
    ended = revoke_habit(bench, "B-2", "another bore gauge", person="p1")
    assert (ended.is_standing, ended.reason, ended.ended_by) == (False, "another bore gauge", "p1")
    assert standing(bench) == ()
    assert shop_of_bench(bench).posteriors == ()
    assert acceptances(bench)[1].reason == FOR_GOOD
    with pytest.raises(InputError, match="one that stands"):
        revoke_habit(bench, "B-2", "another bore gauge", person="p1")
    with pytest.raises(NotFound):
        revoke_habit(bench, "B-9", "another bore gauge", person="p1")


def test_an_altered_acceptance_is_told(tmp_path: Path, bench: Bench) -> None:
    """A copy of the tables in which one letter of it differs does not read as an acceptance."""
    accept(bench, person="p1")
    bench.store.read(lambda connection: copy_tables(connection, tmp_path))
    place = tmp_path / FOLDER / f"{study_table.name}.jsonl"
    told = place.read_text(encoding="utf-8")
    assert told.count("P-9/1") == 1
    place.write_text(told.replace("P-9/1", "P-8/1"), encoding="utf-8")
    (tmp_path / "bad").mkdir()
    engine = writing_engine(tmp_path / "bad", None)
    with engine.begin() as connection:
        migrate(connection)
        fill_tables(connection, tmp_path)
        with pytest.raises(StoreDamaged, match="acceptance B-1"):
            learned_entries(connection)
    engine.dispose()


def test_a_come_back_counts_like_any_other(bench: Bench) -> None:
    """The estimate rests on every proved job, and the counts tell of each come-back."""
    (found,) = known(bench)
    assert (found.counts.well, found.counts.back, found.counts.unheard) == (4, 2, 3)
    assert found.learned.jobs == 9
    assert set(found.learned.from_jobs) >= {"P-2/1", "P-5/1"}


def test_the_least_is_judged_on_what_is_expected() -> None:
    """A habit of much less fit makes the chance of less than the least larger."""
    before = float(planned().answer("fit.below_least").value)
    after = planned(Posterior(HABIT, AIR, -30e-6, 5e-6, "B-1"))
    assert float(after.answer("fit.below_least").value) > before + 0.1
