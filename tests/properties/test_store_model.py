"""The store against a list: any order of groups, repeats, bad ones, seals and restarts."""

import tempfile
from dataclasses import dataclass, field
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from sleevewright.jobs.records import Draft
from sleevewright.store.database import DATABASE
from sleevewright.store.errors import DeviceNumberUsed, IdUsed, UnknownJob
from sleevewright.store.store import Store, open_store
from store_examples import Counts

JOBS = ("N-1", "N-2", "N-3")
DEVICES = ("tablet", "watch")
DRAFTS = st.builds(
    lambda job, number, told, count, text: Draft(
        job, f"{told:032x}", DEVICES[number], count, "value",
        {"cell": "sleeve.od", "text": text, "cylinder": 1},
    ),
    st.sampled_from(JOBS), st.sampled_from((0, 1)), st.integers(1, 30), st.integers(0, 12),
    st.sampled_from(("1", "54,01 mm", "½")),
)  # fmt: skip


@dataclass
class Model:
    """What must be kept, as plainly as it can be said."""

    kept: dict[str, list[Draft]] = field(default_factory=dict)

    def judge(self, group: list[Draft]) -> tuple[type[Exception] | None, list[int]]:
        """Why a group is refused, if it is; otherwise its numbers, and it is kept."""
        trial = {job: list(some) for job, some in self.kept.items()}
        numbers: list[int] = []
        for draft in group:
            refused = self._one(trial, draft, numbers)
            if refused is not None:
                return refused, []
        self.kept = trial
        return None, numbers

    def _one(
        self, trial: dict[str, list[Draft]], draft: Draft, numbers: list[int]
    ) -> type[Exception] | None:
        for some in trial.values():
            for place, old in enumerate(some, 1):
                if old.id == draft.id:
                    numbers.append(place)
                    return None if _is_same(old, draft) else IdUsed
        if draft.job not in trial and draft.kind != "job":
            return UnknownJob
        own = trial.setdefault(draft.job, [])
        used = {one.device_number for one in own if one.device == draft.device}
        if draft.device_number in used:
            return DeviceNumberUsed
        count = draft.device_number or max(used, default=0) + 1
        own.append(_numbered(draft, count))
        numbers.append(len(own))
        return None


def _numbered(draft: Draft, count: int) -> Draft:
    return Draft(draft.job, draft.id, draft.device, count, draft.kind, draft.body)


def _is_same(old: Draft, new: Draft) -> bool:
    return old == _numbered(new, new.device_number or old.device_number)


class StoreIsAList(RuleBasedStateMachine):
    """Steps in any order; after each, the store tells what the list tells."""

    @initialize()
    def open_it(self) -> None:
        """An empty store beside an empty list."""
        self.home = tempfile.TemporaryDirectory(prefix="store")
        self.folder = Path(self.home.name)
        self.model = Model()
        self.counts = Counts()
        self.store: Store = open_store(self.folder, projections=[self.counts])

    @rule(job=st.sampled_from(JOBS))
    def open_job(self, job: str) -> None:
        """A job is opened, or told of once more."""
        self._append(
            [Draft(job, f"{JOBS.index(job) + 900:032x}", "bench", 0, "job", {"title": job})]
        )

    @rule(group=st.lists(DRAFTS, min_size=1, max_size=4))
    def append(self, group: list[Draft]) -> None:
        """A group of whatever sort."""
        self._append(group)

    def _append(self, group: list[Draft]) -> None:
        refused, numbers = self.model.judge(group)
        answer = self.store.submit(group)
        if refused is None:
            assert [one.number for one in answer.result(20)] == numbers
        else:
            assert type(answer.exception(20)) is refused

    @rule()
    def seal(self) -> None:
        """A backup or a print."""
        assert len(self.store.seal("print")) == 64

    @rule()
    def restart(self) -> None:
        """The process ends and another begins."""
        identity = self.store.identity
        self.store.close()
        self.store = open_store(self.folder, projections=[self.counts])
        assert self.store.identity == identity

    @rule()
    def lose_the_database(self) -> None:
        """The database is gone and is made from the journal."""
        self.store.close()
        if self.model.kept:
            (self.folder / DATABASE).unlink()
        self.store = open_store(self.folder, projections=[self.counts], from_journal=True)

    @invariant()
    def tells_the_same(self) -> None:
        """Records, numbers, folds and projections are those of the list."""
        if not hasattr(self, "store"):
            return
        assert set(self.store.job_numbers()) == set(self.model.kept)
        for job, wanted in self.model.kept.items():
            records = self.store.records(job)
            assert [one.number for one in records] == list(range(1, len(wanted) + 1))
            told = [_numbered(one, one.device_number) for one in records]  # type: ignore[arg-type] # alike
            assert told == wanted
            assert self.store.folded(job).last == len(wanted)
        rows = self.store.read(self.counts.rows)
        assert [(row[0], row[1]) for row in rows] == [
            (job, len(self.model.kept[job])) for job in sorted(self.model.kept)
        ]

    def teardown(self) -> None:
        """At the end all is as it was kept."""
        if hasattr(self, "store"):
            assert self.store.verify_all().is_good
            self.store.close()
            self.home.cleanup()


StoreIsAList.TestCase.settings = settings(max_examples=12, stateful_step_count=15, deadline=None)
TestStoreIsAList = StoreIsAList.TestCase
