"""Errors of the disk at the first, the second, ... nth call, until a run is clean.

Each write, cut and sync of database, log and journal is one call.  Whichever of them fails:
nothing that was acknowledged is lost, no group is there in part, the store says why it
stopped or that the disk is full, and the next start brings everything back.
"""

import random
import shutil
import uuid
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from file_layer import layered
from power_loss import Platter, Recorder, Unsynced
from sleevewright.errors import SleevewrightError
from sleevewright.jobs.records import Draft
from sleevewright.store.errors import StoreDamaged, StoreError, StoreFull, StoreStopped
from sleevewright.store.store import Store, open_store

MOST_CALLS = 2000


class Failing(Recorder):
    """Lets one call fail, or each from one on, until it is told that all is well again."""

    def __init__(self, at: int, what: str, *, lasts: bool = False, only: str = "") -> None:
        super().__init__()
        self.calls = 0
        self.has_failed = False
        self._at = at
        self._what = what
        self._lasts = lasts
        self._only = only
        self._is_well = False

    def before(self, what: str, name: str) -> str:
        """Count, and fail where it is due."""
        usual = super().before(what, name)
        if self._only and what != self._only:
            return usual
        self.calls += 1
        is_due = self.calls >= self._at if self._lasts else self.calls == self._at
        if self._is_well or not is_due:
            return usual
        self.has_failed = True
        return self._what

    def get_well(self) -> None:
        """Room was made, or another disk put in."""
        self._is_well = True


def opening(job: str) -> list[Draft]:
    """The group that opens a job."""
    return [Draft(job, uuid.uuid4().hex, "bench", 0, "job", {"title": "invented"})]


def groups() -> list[list[Draft]]:
    """What is handed in: single readings and groups that belong together."""
    made = [opening("J-1"), opening("J-2")]
    for count in range(1, 25, 3):
        drafts = [
            Draft("J-1", uuid.uuid4().hex, "tablet", count + place, "value",
                  {"cylinder": 1, "cell": "casting.mass", "text": f"{count + place} g"})
            for place in range(3)
        ]  # fmt: skip
        made += [drafts] if count % 2 else [[one] for one in drafts]
    return made


class Run:
    """One run under a failing disk: what was handed in and what was acknowledged."""

    def __init__(self) -> None:
        self.groups = groups()
        self.told: set[str] = set()
        self.refusals: list[StoreError] = []

    def hand_in(self, store: Store) -> None:
        """Everything in its order, as far as the store takes it."""
        for group in self.groups:
            try:
                kept = store.append(group)
            except (StoreFull, StoreStopped) as refused:
                self.refusals.append(refused)
            except SleevewrightError:
                assert self.refusals  # a reading of a job whose opening was refused
            else:
                self.told.update(one.draft.id for one in kept)

    def problems(self, store: Store, when: str) -> Iterator[str]:
        """What is wrong with what a store holds now."""
        kept = {record.id for job in store.job_numbers() for record in store.records(job)}
        if self.told - kept:
            yield f"{when}: {len(self.told - kept)} acknowledged are lost"
        for group in self.groups:
            there = [one.id in kept for one in group]
            if any(there) and not all(there):
                yield f"{when}: a group is there in part"
        verdict = store.verify_all()
        if not verdict.is_good:
            yield f"{when}: {verdict.problem}"


Go = Callable[[Path, Failing], list[str]]


def stopped_by(folder: Path, disk: Failing) -> list[str]:
    """A disk that fails once: the store stops for good, and the next start has all."""
    run, found = Run(), []
    with layered(disk) as journal_disk:
        try:
            store = open_store(folder, disk=journal_disk)
        except (StoreDamaged, StoreStopped, StoreFull, OSError):
            store = None
        if store is not None:
            run.hand_in(store)
            if run.refusals and not store.stopped:
                found.append("it refused without saying that it stopped")
            if run.refusals and store.stopped not in str(run.refusals[-1]):
                found.append("the refusal does not say why")
            if run.refusals:
                found += run.problems(store, "while stopped")
            store.close()
    return found + after_restart(run, folder)


def after_restart(run: Run, folder: Path) -> list[str]:
    """Start anew on a disk that works, look, and hand everything in again."""
    with layered(Unsynced()) as disk:
        return found_at_restart(run, open_store(folder, disk=disk))


def found_at_restart(run: Run, store: Store) -> list[str]:
    """What is wrong after a restart."""
    try:
        found = list(run.problems(store, "after the restart"))
        run.refusals.clear()
        run.hand_in(store)
        if run.refusals:
            found.append(f"handed in again, it refused: {run.refusals[0]}")
        found += run.problems(store, "handed in again")
        count = sum(len(store.records(job)) for job in store.job_numbers())
        wanted = sum(len(group) for group in run.groups)
        if count != wanted:
            found.append(f"{count} records where {wanted} were handed in")
    finally:
        store.close()
    return found


def filled_up(folder: Path, disk: Failing) -> list[str]:
    """A disk that is full from a call on, until there is room: the same store goes on."""
    run, found = Run(), []
    with layered(disk) as journal_disk:
        try:
            store = open_store(folder, disk=journal_disk)
        except (StoreDamaged, StoreStopped, StoreFull, OSError):
            return after_restart(run, folder)
        run.hand_in(store)
        found += run.problems(store, "while full")
        stopped = store.stopped
        disk.get_well()
        refusals, run.refusals = run.refusals, []
        run.hand_in(store)
        if stopped:
            found.append(f"it stopped: {stopped}")
        elif run.refusals:
            found.append(f"with room again, it refused: {run.refusals[0]}")
        if any(not isinstance(one, StoreFull) for one in refusals):
            found.append("it did not say that the disk is full")
        store.close()
    return found + after_restart(run, folder)


def dropped(folder: Path, disk: Failing) -> list[str]:
    """A sync fails, the system forgets what it could not write, and then the power goes."""
    run = Run()
    with layered(disk) as journal_disk:
        store = open_store(folder, disk=journal_disk)
        run.hand_in(store)
        count = len(disk.steps)
        store.close()
    platter = Platter()
    for step in disk.steps[:count]:
        platter.take(step)
    image = folder.with_name("image")
    for name, content in platter.image(random.Random(1), 0.0).items():  # noqa: S311 - none of it
        path = image / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content)
    found = after_restart(run, image)
    shutil.rmtree(image)
    return found


def each_call(
    folder: Path, go: Go, make: Callable[[int], Failing], step: int, template: Path | None
) -> tuple[int, list[str]]:
    """Let call after call fail, until a run is clean; how many calls there were."""
    found: list[str] = []
    for at in range(1, MOST_CALLS, step):
        place = folder / "data"
        if template is not None:
            shutil.copytree(template, place)
        disk = make(at)
        found += [f"call {at}: {problem}" for problem in go(place, disk)]
        shutil.rmtree(place)
        if not disk.has_failed:
            return at, found
    raise AssertionError("no run was clean")


@pytest.fixture
def template(tmp_path: Path) -> Path:
    """A folder whose tables are made."""
    folder = tmp_path / "template"
    open_store(folder).close()
    return folder


CASES = {
    "error": (stopped_by, lambda at: Failing(at, "error")),
    "sync": (stopped_by, lambda at: Failing(at, "error", only="sync")),
    "full": (filled_up, lambda at: Failing(at, "full", lasts=True, only="write")),
}


@pytest.mark.parametrize("case", CASES)
def test_disk_fails_at_some_calls(case: str, template: Path, tmp_path: Path) -> None:
    """Each seventh call of a run fails: an error, a failed sync, a full disk."""
    go, make = CASES[case]
    step = 2 if case == "sync" else 7
    calls, found = each_call(tmp_path, go, make, step, template)
    assert found == []
    assert calls > 20


def test_power_goes_after_a_failed_sync(tmp_path: Path) -> None:
    """Nothing acknowledged was on what the failed sync lost."""
    found: list[str] = []
    for at in range(12, 48, 4):
        disk = Failing(at, "error", only="sync")
        found += [f"sync {at}: {problem}" for problem in dropped(tmp_path / f"{at}", disk)]
        assert disk.has_failed
    assert found == []


@pytest.mark.slow
@pytest.mark.parametrize("case", CASES)
@pytest.mark.parametrize("is_fresh", [False, True])
def test_disk_fails_at_every_call(
    case: str, template: Path, tmp_path: Path, *, is_fresh: bool
) -> None:
    """Every call fails in its turn, also those that make the tables of a new store."""
    go, make = CASES[case]
    calls, found = each_call(tmp_path, go, make, 1, None if is_fresh else template)
    assert found == []
    assert calls > 20
