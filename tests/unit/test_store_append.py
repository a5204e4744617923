"""Keeping records: numbers without gaps, once each, all of a group or none, on both databases."""

import threading
import uuid
from collections.abc import Iterator
from concurrent.futures import Future
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from sleevewright.errors import InputError
from sleevewright.jobs.records import Draft
from sleevewright.store.drafts import MOST_BYTES
from sleevewright.store.errors import DeviceNumberUsed, IdUsed, StoreStopped, UnknownJob
from sleevewright.store.store import Store, open_store
from store_examples import JOB, opening, value


@pytest.fixture
def store(tmp_path: Path, database_url: str | None) -> Iterator[Store]:
    """An empty store."""
    opened = open_store(tmp_path, url=database_url)
    yield opened
    opened.close()


def test_records_are_numbered_and_read_back_as_told(store: Store) -> None:
    """What was kept is read back in order, letter for letter, with its number."""
    told = [opening(), value("54,01 mm"), value("Fräsöl, ½ turn, \x00 and \u2028", cell="note")]
    kept = store.append(told)
    assert [one.number for one in kept] == [1, 2, 3]
    assert all(one.is_new for one in kept)
    records = store.records(JOB)
    assert [one.body for one in records] == [one.body for one in told]
    assert [one.id for one in records] == [one.id for one in told]
    assert [one.device_number for one in records] == [1, 2, 3]
    assert store.last(JOB) == 3
    assert store.job_numbers() == (JOB,)
    assert [one.number for one in store.records(JOB, after=1, limit=1)] == [2]


def test_what_was_kept_is_there_after_a_restart(tmp_path: Path, database_url: str | None) -> None:
    """Records, identity and the ends of chains outlive the process."""
    first = open_store(tmp_path, url=database_url)
    first.append([opening(), value()])
    before = (first.records(JOB), first.head(JOB), first.identity)
    first.close()
    second = open_store(tmp_path, url=database_url)
    assert (second.records(JOB), second.head(JOB), second.identity) == before
    assert second.append([value("1")])[0].number == 3
    second.close()


def test_same_id_is_kept_once(store: Store) -> None:
    """What comes twice is answered with its first number and changes nothing."""
    told = value(number=7, device="tablet")
    store.append([opening()])
    first = store.append([told])[0]
    again = store.append([told, told, value("2")])
    assert [one.number for one in again] == [first.number, first.number, 3]
    assert [one.is_new for one in again] == [False, False, True]
    assert again[0].received == first.received
    assert store.last(JOB) == 3


def test_same_id_twice_in_one_group_is_kept_once(store: Store) -> None:
    """A device may pack the same record twice."""
    told = value()
    kept = store.append([opening(), told, told])
    assert [one.number for one in kept] == [1, 2, 2]
    assert store.last(JOB) == 2


OTHERS: dict[str, dict[str, Any]] = {
    "body": {"body": {"cylinder": 1, "cell": "sleeve.od", "text": "2"}},
    "device": {"device": "other"},
    "job": {"job": "N-2"},
}


@pytest.mark.parametrize("change", OTHERS.values(), ids=OTHERS)
def test_same_id_with_another_content_is_refused(store: Store, change: dict[str, Any]) -> None:
    """An id stands for one content for ever."""
    told = value("1")
    store.append([opening(), opening("N-2"), told])
    with pytest.raises(IdUsed, match="kept already as record 2"):
        store.append([replace(told, **change)])
    assert (store.last(JOB), store.last("N-2")) == (2, 1)


def test_a_number_of_a_device_is_used_once_a_job(store: Store) -> None:
    """Two records cannot have one number of one device; other jobs and devices may."""
    store.append([opening(), opening("N-2"), value(device="tablet", number=1)])
    with pytest.raises(DeviceNumberUsed, match="Number 1 of device 'tablet'"):
        store.append([value("2", device="tablet", number=1)])
    store.append([value("2", device="watch", number=1)])
    store.append([value("2", job="N-2", device="tablet", number=1)])
    assert store.last(JOB) == 3


def test_two_records_of_a_group_cannot_share_a_number(store: Store) -> None:
    """Within a group the rule is the same, and none of the group is kept."""
    store.append([opening()])
    with pytest.raises(DeviceNumberUsed):
        store.append([value(device="t", number=5), value(device="t", number=5)])
    assert store.last(JOB) == 1
    assert [one.number for one in store.append([value(device="t", number=5)])] == [2]


def test_number_0_is_replaced_by_the_next_of_the_device(store: Store) -> None:
    """The store numbers what has no number, behind what the device used."""
    store.append([opening(), value(device="t", number=3)])
    kept = store.append([value(device="t"), value(device="t", number=9), value(device="t")])
    assert [one.draft.device_number for one in kept] == [4, 9, 10]
    assert store.folded(JOB).missing() == {"t": 6}


def test_group_is_kept_whole_or_not_at_all(store: Store) -> None:
    """One record that is refused takes its group with it and leaves no trace."""
    store.append([opening(), value(device="t", number=1)])
    good = value("good")
    with pytest.raises(DeviceNumberUsed):
        store.append([good, opening("N-9"), value(device="t", number=1)])
    assert store.last(JOB) == 2
    assert store.last("N-9") == 0
    assert store.append([good])[0].is_new
    assert store.verify_all().is_good


def test_job_begins_with_its_opening(store: Store) -> None:
    """A value of a job that nobody opened is refused and begins nothing."""
    with pytest.raises(UnknownJob):
        store.append([value()])
    with pytest.raises(UnknownJob):
        store.folded(JOB)
    assert store.records(JOB) == ()


def blocked(store: Store) -> tuple[threading.Event, threading.Thread]:
    """Hold the writer until the event is set, so that what comes meanwhile is one commit."""
    began, go = threading.Event(), threading.Event()

    def work(_connection: object) -> None:
        began.set()
        assert go.wait(10)

    thread = threading.Thread(target=store.write, args=(work,))
    thread.start()
    assert began.wait(10)
    return go, thread


def test_refused_group_does_not_spoil_those_beside_it(store: Store) -> None:
    """Of groups that are committed together each is judged by itself."""
    store.append([opening(), value(device="t", number=1)])
    go, thread = blocked(store)
    groups: list[list[Draft]] = [
        [value("a")],
        [value("b"), value("c", device="t", number=1)],
        [value("d", job="N-0")],
        [value("e")],
    ]
    pulse = store.pulse
    futures: list[Future[Any]] = [store.submit(one) for one in groups]
    go.set()
    thread.join()
    assert [one.number for one in futures[0].result()] == [3]
    assert isinstance(futures[1].exception(), DeviceNumberUsed)
    assert isinstance(futures[2].exception(), UnknownJob)
    assert [one.number for one in futures[3].result()] == [4]
    assert [one.body["text"] for one in store.records(JOB, after=2)] == ["a", "e"]
    assert store.pulse == pulse + 2  # the write that blocked, and one commit for all


def test_order_does_not_go_by_the_clock(tmp_path: Path, database_url: str | None) -> None:
    """A clock that jumps back an hour leaves the order as it was told."""
    moments = iter([datetime(2031, 5, 4, 12, tzinfo=UTC) - timedelta(hours=n) for n in range(9)])
    store = open_store(tmp_path, url=database_url, clock=lambda: next(moments))
    store.append([opening()])
    store.append([value("first")])
    store.append([value("second", replaces=[store.records(JOB)[1].id])])
    records = store.records(JOB)
    assert [one.received[11:13] for one in records] == ["12", "11", "10"]
    assert [one.number for one in records] == [1, 2, 3]
    assert store.folded(JOB).text("sleeve.od") == "second"
    assert store.verify_all().is_good
    store.close()


def deep(levels: int) -> list[Any]:
    """A list in a list in a list."""
    made: list[Any] = []
    for _ in range(levels):
        made = [made]
    return made


BAD: dict[str, dict[str, Any]] = {
    "id": {"id": "12"},
    "upper case": {"id": uuid.uuid4().hex.upper().replace("1", "A")},
    "job": {"job": ""},
    "job with a newline": {"job": "N\n1"},
    "job of 65 letters": {"job": "N" * 65},
    "half a letter": {"job": "N\ud800"},
    "device": {"device": " "},
    "kind": {"kind": "wish"},
    "negative": {"device_number": -1},
    "too great": {"device_number": 2**53},
    "version": {"version": 0},
    "not a number": {"body": {"x": float("nan")}},
    "half a letter inside": {"body": {"text": "\ud800"}},
    "no object": {"body": [1]},
    "too long": {"body": {"text": "x" * MOST_BYTES}},
    "no JSON": {"body": {"text": object()}},
    "number as text": {"device_number": "1"},
    "name as number": {"job": 5},
    "cylinder": {"body": {"cylinder": "two"}},
    "no cylinders": {"body": {"cylinders": 0}},
    "value without a cell": {"kind": "value", "body": {"text": "1"}},
    "set without a name": {"kind": "set", "body": {"set": 7}},
    "replaces": {"kind": "value", "body": {"cell": "a", "replaces": [["x"]]}},
    "deep": {"body": {"text": deep(5000)}},
}


@pytest.mark.parametrize("change", BAD.values(), ids=BAD)
def test_what_can_never_be_kept_is_refused_by_its_field(
    tmp_path: Path, change: dict[str, Any]
) -> None:
    """A draft that no store can keep never reaches the writer."""
    store = open_store(tmp_path)
    store.append([opening()])
    with pytest.raises(InputError, match="body" if "body" in change else next(iter(change))):
        store.append([replace(opening(), **change)])
    assert store.last(JOB) == 1
    assert store.append([value()])[0].number == 2
    assert store.folded(JOB).last == 2
    store.close()


def test_many_threads_leave_no_gap(store: Store) -> None:
    """Twenty threads on two jobs: all there, numbered through, each thread's in its order."""
    store.append([opening(), opening("N-2")])

    def device(name: str) -> None:
        job = JOB if int(name) % 2 else "N-2"
        for count in range(1, 16):
            store.append([value(f"{count}", job=job, device=name, number=count)])

    threads = [threading.Thread(target=device, args=(f"{n}",)) for n in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    for job in (JOB, "N-2"):
        records = store.records(job)
        assert [one.number for one in records] == list(range(1, 152))
        for name in {one.device for one in records} - {"bench"}:
            told = [one.device_number for one in records if one.device == name]
            assert told == list(range(1, 16))
        assert store.folded(job).missing() == {}
    assert store.verify_all().is_good


def test_fold_that_was_handed_out_never_changes(store: Store) -> None:
    """Who reads a fold while records come sees one moment; the next asking sees them."""
    store.append([opening(), value("1")])
    before = store.folded(JOB)
    assert store.folded(JOB) is before
    store.append([value("2", replaces=[store.records(JOB)[1].id])])
    assert (before.text("sleeve.od"), before.last) == ("1", 2)
    after = store.folded(JOB)
    assert (after.text("sleeve.od"), after.last) == ("2", 3)


def test_other_writes_have_their_own_transaction(store: Store) -> None:
    """A write that fails is undone and tells its reason; the next goes on."""

    def fails(connection: Any) -> None:
        connection.exec_driver_sql("INSERT INTO meta (key, value) VALUES ('a', 'b')")
        raise ValueError("changed my mind")

    with pytest.raises(ValueError, match="changed my mind"):
        store.write(fails)
    count = "SELECT count(*) FROM meta WHERE key = 'a'"
    assert store.read(lambda connection: connection.exec_driver_sql(count).scalar()) == 0
    assert store.append([opening()])[0].number == 1


def test_waiting_ends_with_the_record_that_was_waited_for(store: Store) -> None:
    """Who waits for a job wakes at its next record and not at that of another."""
    store.append([opening(), opening("N-2")])
    assert store.wait(JOB, 0, 0)
    assert not store.wait(JOB, 1, 0.01)
    heard: list[bool] = []
    thread = threading.Thread(target=lambda: heard.append(store.wait(JOB, 1, 10)))
    thread.start()
    store.append([value(job="N-2")])
    assert not heard
    store.append([value()])
    thread.join(10)
    assert heard == [True]
    assert store.wait("", store.pulse - 1, 0)
    assert not store.wait("", store.pulse, 0.01)


def test_listeners_hear_each_commit_until_they_end(store: Store) -> None:
    """A listener is called with what was kept; one that fails is dropped, the keeping goes on."""
    heard: list[dict[str, list[int]]] = []

    def fails(_fresh: object) -> None:
        raise ValueError("deaf")

    store.listen(fails)
    end = store.listen(
        lambda fresh: heard.append({job: [one.number for one in fresh[job]] for job in fresh})
    )
    store.append([opening(), value()])
    end()
    store.append([value()])
    assert heard == [{JOB: [1, 2]}]


def test_closed_store_takes_nothing(tmp_path: Path, database_url: str | None) -> None:
    """What comes after the closing is told so; those who wait are let go."""
    store = open_store(tmp_path, url=database_url)
    store.append([opening()])
    heard: list[bool] = []
    thread = threading.Thread(target=lambda: heard.append(store.wait(JOB, 1, 30)))
    thread.start()
    store.close()
    thread.join(10)
    assert heard == [False]
    with pytest.raises(StoreStopped, match="closed"):
        store.append([value()])
