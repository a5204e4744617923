"""The life of a job as a machine of states: whatever is told in whatever order.

No order of records opens a stage while a hold before it is neither met nor lifted; a hold
that was lifted stays lifted; and no clock and no order of delivery decides between two
values that contradict.
"""

from __future__ import annotations

from typing import Any

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from simple_job import STAGES, Counting
from sleevewright.jobs.catalog import life_of, simple_cells
from sleevewright.jobs.folding import Folded
from sleevewright.jobs.holds import LIFTED, MET, NONE, hold_of, is_reason, verdicts_together
from sleevewright.jobs.living import living_job
from sleevewright.jobs.records import Record
from sleevewright.jobs.stagefield import CHOICE, TICK
from sleevewright.jobs.stageholds import VERDICTS
from sleevewright.jobs.walk import NextAction, is_open, may_go_on, next_action, steps
from told_jobs import Teller

CYLINDERS = (1, 2)
DEVICES = ("tablet", "phone", "bench")
GRIDS = (
    ("sleeve-od", "sleeve", "2.6402 in"),
    ("flange-od", "sleeve", "2.8405 in"),
    ("flange-thickness", "sleeve", "0.157 in"),
    ("sweep-top", "setup", "+0.2"),
    ("sweep-bottom", "setup", "+0.1"),
    ("parent-bore", "parent", "2.6353 in"),
    ("parent-bore", "honefit", "2.6368 in"),
    ("counterbore", "counterbore", "2.8445 in"),
    ("counterbore-depth", "counterbore", "0.155 in"),
    ("sleeve-od-again", "ready", "2.6402 in"),
    ("stand-out", "cool", "+2"),
    ("cooled-bore", "cool", "2.3379 in"),
    ("finish-bore", "hone", "2.402 in"),
)
VERDICT_IDS = sorted({answer for answers in VERDICTS.values() for answer in answers})
SAID = ("good", "too close to call", "out")
REASONS = ("seen and accepted by the customer", "", "ok", "no crack within an inch of it")

cylinders = st.sampled_from(CYLINDERS)
devices = st.sampled_from(DEVICES)


class LifeOfAJob(RuleBasedStateMachine):
    """A job of two cylinders, told by three devices."""

    def __init__(self) -> None:
        super().__init__()
        self.verdicts: dict[int, dict[str, str]] = {1: {}, 2: {}}
        self.sets = 0
        self.lifted: dict[tuple[str, int], tuple[str, str]] = {}

    @initialize(kind=st.sampled_from(["two-stroke", "four-stroke"]))
    def open(self, kind: str) -> None:
        """A job comes in."""
        self.job = Counting(kind, cylinders=2)
        self.worked = 0
        self.cells = [
            field.cell_for("exhaust") if field.each else field.cell for field in simple_cells(kind)
        ] + ["old.accepted", "old.accepted_by", "waits.for", "face.done"]
        self.fields = {
            (field.cell_for("exhaust") if field.each else field.cell): field
            for field in simple_cells(kind)
        }

    def text_for(self, cell: str, pick: int) -> str:
        """Something that can be told for a cell."""
        field = self.fields.get(cell)
        if field is None:
            return "left as it is" if cell == "face.done" else "words of the bench"
        if field.sort == CHOICE:
            return field.allowed[pick % len(field.allowed)]
        if field.sort == TICK:
            return ("yes", "yes", "no")[pick % 3]
        return field.example

    @rule(data=st.data(), cylinder=cylinders, device=devices, pick=st.integers(0, 5))
    def tell(self, data: st.DataObject, cylinder: int, device: str, pick: int) -> None:
        """A value, replacing nothing."""
        cell = data.draw(st.sampled_from(self.cells))
        self.job.value(cell, self.text_for(cell, pick), cylinder=cylinder, device=device)

    @rule(data=st.data(), cylinder=cylinders, device=devices, pick=st.integers(0, 5))
    def correct(self, data: st.DataObject, cylinder: int, device: str, pick: int) -> None:
        """A value that replaces all that stands: then it is the one that stands."""
        cell = data.draw(st.sampled_from(self.cells))
        text = self.text_for(cell, pick)
        standing = [
            one.id
            for one in self.job.folded.history(cell, cylinder=cylinder)
        ]  # fmt: skip
        self.job.value(cell, text, cylinder=cylinder, device=device, replaces=standing)
        told = self.job.folded.value(cell, cylinder=cylinder)
        assert told is not None
        assert told.text == text

    @rule(data=st.data(), cylinder=cylinders)
    def take_back(self, data: st.DataObject, cylinder: int) -> None:
        """An empty text that replaces what stands: then nothing does."""
        cell = data.draw(st.sampled_from(self.cells))
        standing = [one.id for one in self.job.folded.history(cell, cylinder=cylinder)]
        self.job.value(cell, "", cylinder=cylinder, replaces=standing)
        assert self.job.folded.value(cell, cylinder=cylinder) is None

    @rule(cylinder=cylinders, pick=st.sampled_from(GRIDS), whole=st.booleans())
    def gauge(self, cylinder: int, pick: tuple[str, str, str], whole: bool) -> None:
        """A set, whole or with a place left."""
        feature, stage, text = pick
        if feature == "sleeve-od-again" and not any(
            one.key == "ports" for one in life_of(self.job.folded)
        ):
            return
        self.sets += 1
        name = f"set{self.sets}"
        self.job.begin(name, feature, stage, cylinder=cylinder, directions=["0 deg", "90 deg"])
        for column in range(2 if whole else 1):
            self.job.value(f"set/{name}/0/{column}", text, cylinder=cylinder)

    @precondition(lambda self: self.sets > 0)
    @rule(data=st.data())
    def void(self, data: st.DataObject) -> None:
        """A set that does not count."""
        name = f"set{data.draw(st.integers(1, self.sets))}"
        cylinder = self.job.folded.sets[name].cylinder
        self.job.value(f"set/{name}/void", "gauge fell off the bench", cylinder=cylinder)

    @rule(data=st.data(), cylinder=cylinders, person=st.sampled_from(["p1", ""]),
          reason=st.sampled_from(REASONS))  # fmt: skip
    def lift(self, data: st.DataObject, cylinder: int, person: str, reason: str) -> None:
        """A hold lifted, with or without a name and a reason."""
        stage = data.draw(st.sampled_from([one.key for one in life_of(self.job.folded)]))
        self.job.lift(stage, cylinder=cylinder, person=person, reason=reason)
        has_hold = hold_of(stage, self.job.folded, cylinder=cylinder).state != NONE
        if has_hold and person and is_reason(reason):
            self.lifted.setdefault((stage, cylinder), (person, reason))

    @precondition(lambda self: bool(self.lifted))
    @rule(data=st.data())
    def lift_again(self, data: st.DataObject) -> None:
        """A hold that is lifted already, by somebody else for another reason."""
        stage, cylinder = data.draw(st.sampled_from(sorted(self.lifted)))
        self.job.lift(stage, cylinder=cylinder, person="p2", reason="thought better of it")

    @rule(data=st.data(), cylinder=cylinders, said=st.sampled_from(SAID))
    def judge(self, data: st.DataObject, cylinder: int, said: str) -> None:
        """A verdict of the plan."""
        self.verdicts[cylinder][data.draw(st.sampled_from(VERDICT_IDS))] = said

    @rule(cylinder=cylinders)
    def judge_all(self, cylinder: int) -> None:
        """All verdicts good."""
        self.verdicts[cylinder] = dict.fromkeys(VERDICT_IDS, "good")

    @rule(cylinder=cylinders, what=st.sampled_from(["wash", "wipe", "oven-in", "seated"]))
    def happen(self, cylinder: int, what: str) -> None:
        """Something happens."""
        self.job.event("drop" if what == "seated" else "ready", what, cylinder=cylinder)

    @rule(device=devices, skip=st.integers(1, 3))
    def lose(self, device: str, skip: int) -> None:
        """A device has counted records that are not here."""
        note = {"cylinder": 1, "stage": "intake", "what": "note"}
        self.job.tell("event", note, device=device, skip=skip)

    @precondition(lambda self: bool(self.job.folded.missing()))
    @rule()
    def catch_up(self) -> None:
        """All that was not here comes, or is given up."""
        for device in dict(self.job.folded.missing()):
            seen = {one.device_number for one in self.job.records if one.device == device}
            last = self.job.counts[device]
            for count in range(1, last):
                if count not in seen:
                    self.job.counts[device] = count - 1
                    self.job.give_up(device=device)
            self.job.counts[device] = last
        assert not self.job.folded.missing()

    @precondition(lambda self: self.worked < len(STAGES))
    @rule(count=st.integers(1, 6))
    def work(self, count: int) -> None:
        """The next stages of a simple job are told for the first cylinder, in their order."""
        for stage in STAGES[self.worked : self.worked + count]:
            stage(self.job)
        self.worked += count

    @rule()
    def agree(self) -> None:
        """An option is agreed."""
        self.job.agree()

    @rule(cylinder=cylinders)
    def release(self, cylinder: int) -> None:
        """Somebody signs, whatever stands."""
        self.job.release(cylinder=cylinder)

    def together(self) -> dict[str, str]:
        """The verdicts on both cylinders."""
        return verdicts_together(self.verdicts)

    @invariant()
    def no_stage_is_open_behind_a_hold(self) -> None:
        """Every hold before an open stage is met or lifted."""
        for cylinder in CYLINDERS:
            said: dict[str, Any] = {"cylinder": cylinder, "verdicts": self.together()}
            states = [
                (one.key, hold_of(one.key, self.job.folded, **said).state)
                for one in life_of(self.job.folded)
            ]
            for place, (stage, state) in enumerate(states):
                before = all(one in (MET, LIFTED, NONE) for _, one in states[:place])
                assert is_open(stage, self.job.folded, **said) == before
                here = before and state in (MET, LIFTED, NONE)
                assert may_go_on(stage, self.job.folded, **said) == here

    @invariant()
    def the_stage_in_hand_is_the_one_the_action_names(self) -> None:
        """Done, now, ahead, in that order; no finished stage has a hold of its own left."""
        for cylinder in CYLINDERS:
            said: dict[str, Any] = {"cylinder": cylinder, "verdicts": self.together()}
            walked = steps(self.job.folded, **said)
            now = [step.stage for step in walked if step.state == "now"]
            action = next_action(self.job.folded, **said)
            assert now == [action.stage]
            assert action.words
            order = ["done", "now", "ahead"]
            places = [order.index(step.state) for step in walked]
            assert places == sorted(places)
            if not self.job.folded.missing():
                done = [step.hold.state for step in walked if step.state == "done"]
                assert all(state in (MET, LIFTED, NONE) for state in done)

    @invariant()
    def a_lifted_hold_stays_lifted(self) -> None:
        """By whom and why are those of the first lifting, for ever."""
        for (stage, cylinder), (person, reason) in self.lifted.items():
            hold = hold_of(stage, self.job.folded, cylinder=cylinder, verdicts=self.together())
            assert (hold.state, hold.by, hold.reason) == (LIFTED, person, reason)

    @invariant()
    def what_is_not_here_holds(self) -> None:
        """While a device has records that did not come, no hold is met."""
        if self.job.folded.missing():
            states = {
                hold_of(one.key, self.job.folded, verdicts=self.together()).state
                for one in life_of(self.job.folded)
            }
            assert MET not in states

    @invariant()
    def a_living_job_always_comes_out(self) -> None:
        """Whatever was told, the planner gets a job."""
        assert living_job(self.job.folded, 2).job.number == "J-1"

    def teardown(self) -> None:
        """Folded again in parts, and with every clock wrong, the job stands where it stood."""
        if not hasattr(self, "job"):
            return
        records = self.job.records
        here = self.seen(self.job.folded)
        parted = Folded(records[: len(records) // 3])
        for record in records[len(records) // 3 :]:
            parted.add(record)
        assert self.seen(parted) == here
        turned = Folded(
            Record(one.job, one.number, one.id, one.device, one.device_number,
                   f"2026-11-{28 - one.number % 28:02d}T00:00:00.000Z", one.kind, one.version,
                   {**one.body, "said": f"1999-01-{28 - one.number % 28:02d}T00:00:00Z"})
            for one in records
        )  # fmt: skip
        assert [(a.stage, a.words) for a in self.actions(turned)] == [
            (a.stage, a.words) for a in self.actions(self.job.folded)
        ]
        for cylinder in CYLINDERS:
            assert living_job(turned, cylinder).job == living_job(self.job.folded, cylinder).job

    def actions(self, folded: Folded) -> list[NextAction]:
        """The next action of each cylinder."""
        return [
            next_action(folded, cylinder=cylinder, verdicts=self.together())
            for cylinder in CYLINDERS
        ]

    def seen(self, folded: Folded) -> list[Any]:
        """Everything that is seen of a job's walk."""
        return [
            (steps(folded, cylinder=cylinder, verdicts=self.together()), self.actions(folded),
             living_job(folded, cylinder))
            for cylinder in CYLINDERS
        ]  # fmt: skip


LifeOfAJob.TestCase.settings = settings(max_examples=25, stateful_step_count=30, deadline=None)
TestLifeOfAJob = LifeOfAJob.TestCase


def test_a_conflict_is_never_decided_by_order_or_clock() -> None:
    """Two devices, in either order, with any clocks: both values stand and neither counts."""
    for first, second in (("tablet", "phone"), ("phone", "tablet")):
        job = Teller()
        job.value("fit.wanted", "3.4 thou", device=first, received="2026-11-24T09:00:00.000Z")
        job.value("fit.wanted", "3.8 thou", device=second, received="2020-01-01T00:00:00.000Z")
        assert job.folded.value("fit.wanted") is None
        assert {one.text for one in job.folded.heads("fit.wanted")} == {"3.4 thou", "3.8 thou"}


def test_a_chain_of_corrections_ends_at_its_last() -> None:
    """Each correction names what it replaces; only the last of the chain stands."""
    job = Teller()
    told = job.value("fit.wanted", "3.0 thou")
    for tenths in range(1, 20):
        text = f"3.{tenths:02d} thou"
        told = job.value("fit.wanted", text, replaces=[told.id])
        assert job.folded.text("fit.wanted") == text
    assert len(job.folded.history("fit.wanted")) == 20
