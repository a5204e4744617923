"""A power cut while readings are kept: what was acknowledged is there at the next start.

A run of readings goes through the real store with its own settings; every write, cut and
sync of database, write-ahead log and journal is recorded on the way.  Then folders are made
as the disk may look after a cut, and each is opened as the program opens it.  What is and
is not modelled stands in ``power_loss``.
"""

import random
import shutil
import uuid
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Connection, Row, select

from file_layer import layered
from power_loss import Cut, Recorder, Step, Unsynced, cuts, places_to_cut
from sleevewright.jobs.records import Draft
from sleevewright.services.shelf import ShelfProjection, VerdictProjection, shelf_table
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.journal import Disk
from sleevewright.store.search import SearchProjection
from sleevewright.store.store import Store, open_store
from sleevewright.store.tables import record

READINGS = 1000
JOBS = ("J-1", "J-2", "J-3")
OPENING = {"title": "invented", "units": "inch", "invented": True, "cylinders": 1}
PROJECTIONS = (VerdictProjection(), ShelfProjection(), SearchProjection())
"""As a bench has them."""


def draft(job: str, count: int) -> Draft:
    """A reading of a tablet, about as long as a real one."""
    body = {
        "cylinder": 1,
        "cell": f"set/k3f9/{count % 40}/{count % 8}",
        "text": f"{count % 7}.{count % 10}",
        "unit": "thou",
        "nm": 2540 * (count % 70),
        "kind": "measured",
        "source": "gauge",
        "replaces": [],
    }
    return Draft(job, uuid.uuid4().hex, "tablet", count, "value", body)


def recorded(folder: Path, readings: int) -> list[Step]:
    """What happens to the files while readings are kept, one by one and by handfuls."""
    chance = random.Random(20310502)  # noqa: S311 - a repeatable choice, no secret
    recorder = Recorder()
    with layered(recorder) as disk:
        store = open_store(folder, projections=PROJECTIONS, disk=disk)
        try:
            for job in JOBS:
                told = Draft(job, uuid.uuid4().hex, "bench", 0, "job", OPENING)
                store.append([told])
                recorder.told([told.id])
            keep_readings(store, recorder, readings, chance)
        finally:
            store.close()
    return recorder.steps


def keep_readings(store: Store, recorder: Recorder, readings: int, chance: random.Random) -> None:
    """Hand readings in, three times in four alone, else a few at once as a burst does."""
    count = 0
    while count < readings:
        handful = min(1 if chance.random() < 0.75 else chance.randint(2, 12), readings - count)
        drafts = [draft(chance.choice(JOBS), count + place + 1) for place in range(handful)]
        count += handful
        waiting = [(one.id, store.submit([one])) for one in drafts]
        for told, future in waiting:
            future.result()
            recorder.told([told])
        if chance.random() < 0.01:
            store.seal("test")


@pytest.fixture(scope="module")
def steps(tmp_path_factory: pytest.TempPathFactory) -> list[Step]:
    """The steps of one run of a thousand readings."""
    return recorded(tmp_path_factory.mktemp("run") / "data", READINGS)


def what_is_wrong(cut: Cut, folder: Path, *, twice: bool) -> str:
    """Make a folder as a cut left it, and say what is wrong with it."""
    cut.put(folder)
    try:
        with layered(Unsynced()) as disk:
            return looked_at(cut, folder, disk) or (again(cut, folder, disk) if twice else "")
    finally:
        shutil.rmtree(folder)


def looked_at(cut: Cut, folder: Path, disk: Disk) -> str:
    """Open a folder as the program does, look at everything, keep one reading more."""
    try:
        store = open_store(folder, projections=PROJECTIONS, disk=disk)
    except StoreDamaged as error:
        return f"{cut.words}: {error}"
    try:
        verdict = store.verify_all()
        kept = store.read(lambda connection: set(connection.scalars(select(record.c.id))))
        more = store.append([Draft("J-9", uuid.uuid4().hex, "bench", 0, "job", OPENING)])
        cautions = store.cautions
    finally:
        store.close()
    if not verdict.is_good:
        return f"{cut.words}: {verdict.problem}"
    if cut.told - kept:
        return f"{cut.words}: {len(cut.told - kept)} of {len(cut.told)} acknowledged are lost"
    if cautions or not more[0].is_new:
        return f"{cut.words}: {cautions}"
    return ""


def again(cut: Cut, folder: Path, disk: Disk) -> str:
    """Open it once more: the shelf is that which follows from the records."""
    store = open_store(folder, projections=PROJECTIONS, disk=disk)
    try:
        shelf = store.read(rows_of_shelf)
        store.rebuild("shelf")
        is_same = store.read(rows_of_shelf) == shelf
    finally:
        store.close()
    return "" if is_same else f"{cut.words}: the shelf is not that of the records"


def rows_of_shelf(connection: Connection) -> list[Row[Any]]:
    """The shelf as it is kept."""
    return list(connection.execute(shelf_table.select().order_by(shelf_table.c.job)))


def problems(all_cuts: Iterable[Cut], folder: Path) -> list[str]:
    """What is wrong with each of these, where something is; each sixth is looked at twice."""
    found = (
        what_is_wrong(cut, folder / str(place), twice=place % 6 == 0)
        for place, cut in enumerate(all_cuts)
    )
    return [one for one in found if one]


def test_every_sync_of_the_run_is_recorded(steps: list[Step]) -> None:
    """Each acknowledged reading follows a sync of the journal and one of the log behind it."""
    syncs: list[str] = []
    told = 0
    for step in steps:
        if step.what == "sync":
            syncs.append(step.name)
        elif step.what == "told":
            told += 1
            assert any(name.endswith(".jsonl") for name in syncs[-6:])
            assert any(name.endswith("-wal") for name in syncs[-6:])
    assert told == READINGS + len(JOBS)


def test_cut_leaves_all_that_was_acknowledged(steps: list[Step], tmp_path: Path) -> None:
    """At 150 places of a run, in five ways, the folder opens whole and lacks nothing."""
    assert problems(cuts(steps, places_to_cut(steps, 150, 1), 1), tmp_path) == []


def test_cut_while_the_store_is_made(steps: list[Step], tmp_path: Path) -> None:
    """At forty steps before the first reading, however little of it reached the disk."""
    first = next(place for place, step in enumerate(steps) if step.what == "told")
    places = random.Random(2).sample(range(1, first + 2), 40)  # noqa: S311 - likewise
    assert problems(cuts(steps, places, 2), tmp_path) == []


@pytest.mark.slow
def test_cut_at_a_thousand_places(steps: list[Step], tmp_path: Path) -> None:
    """The same at another thousand places."""
    assert problems(cuts(steps, places_to_cut(steps, 1000, 10), 10), tmp_path) == []


@pytest.mark.slow
def test_cut_at_every_step_while_the_store_is_made(steps: list[Step], tmp_path: Path) -> None:
    """At each step before the first reading."""
    first = next(place for place, step in enumerate(steps) if step.what == "told")
    assert problems(cuts(steps, range(1, first + 2), 2), tmp_path) == []


@pytest.mark.slow
def test_cut_after_every_sync(steps: list[Step], tmp_path: Path) -> None:
    """Every prefix of the run that ends at a sync."""
    places = [place + 1 for place, step in enumerate(steps) if step.what == "sync"]
    assert problems(cuts(steps, places, 3), tmp_path) == []


def test_disk_that_does_not_sync_would_be_found_out(steps: list[Step], tmp_path: Path) -> None:
    """The test of the test: with the syncs left out, readings are lost or the store refused."""
    unsynced = [step for step in steps if step.what != "sync" or step.name == "records.db"]
    found = problems(cuts(unsynced, places_to_cut(steps, 10, 4), 4), tmp_path)
    assert found
