"""Folds that are kept ready: newer ones are taken, older ones passed over, copies are apart."""

from sleevewright.jobs.folding import Folded
from sleevewright.jobs.records import Record
from sleevewright.store import folds
from sleevewright.store.folds import Folds
from sleevewright.store.waiting import News


def record(number: int, text: str = "1", *, job: str = "N-1", kind: str = "value") -> Record:
    """An invented record."""
    body = {"cell": "sleeve.od", "text": text, "cylinder": 1, "set": "k3f9", "what": "wash"}
    return Record(
        job, number, f"{number:032x}", "t", number, f"2031-05-04T12:00:0{number}Z", kind, 1, body
    )


def test_copy_of_a_fold_is_apart_from_it() -> None:
    """What is added to the copy, of every kind, is not seen in what was copied."""
    first = Folded([record(1, kind="job"), record(2, "5")])
    twin = first.copy()
    for number, kind in enumerate(
        ("value", "set", "lift", "decision", "event", "attachment", "release", "job"), 3
    ):
        twin.add(record(number, "6", kind=kind))
    assert (first.last, twin.last) == (2, 10)
    assert (first.text("sleeve.od"), len(first.history("sleeve.od"))) == ("5", 1)
    assert len(twin.heads("sleeve.od")) == 2
    lists = (first.sets, first.lifts, first.decisions, first.events, first.attachments)
    assert not any(lists)
    assert not first.releases
    assert first.missing() == {}
    assert twin.sets
    assert twin.releases


def test_copy_tells_the_same_as_a_fold_of_all() -> None:
    """Copying after each record and adding the next ends where folding at once does."""
    records = [record(1, kind="job"), *(record(n, f"{n}") for n in range(2, 9))]
    grown = Folded()
    for one in records:
        grown = grown.copy()
        grown.add(one)
    whole = Folded(records)
    assert grown.heads("sleeve.od") == whole.heads("sleeve.od")
    assert grown.opened == whole.opened
    assert vars(grown).keys() == vars(whole).keys()


def test_fold_is_topped_up_from_where_it_stands() -> None:
    """Only records that came since are loaded; the old fold stays as it was."""
    kept = [record(1, kind="job"), record(2, "5")]
    asked: list[int] = []

    def load(job: str, after: int) -> list[Record]:
        assert job == "N-1"
        asked.append(after)
        return kept[after:]

    ready = Folds(load)
    first = ready.get("N-1", 2)
    assert ready.get("N-1", 2) is first
    kept.append(record(3, "6"))
    second = ready.get("N-1", 3)
    assert asked == [0, 2]
    assert (first.last, second.last) == (2, 3)


def test_older_fold_does_not_replace_a_newer() -> None:
    """A reader that was slow cannot set the state back."""
    ready = Folds(lambda _job, _after: [])
    newer = Folded([record(1, kind="job"), record(2)])
    ready.publish({"N-1": newer})
    ready.publish({"N-1": Folded([record(1, kind="job")])})
    assert ready.peek("N-1") is newer


def test_only_so_many_folds_are_kept() -> None:
    """The one that was not asked for longest goes first."""
    ready = Folds(lambda _job, _after: [])
    for n in range(folds._MOST + 10):
        ready.publish({f"J-{n}": Folded([record(1, kind="job", job=f"J-{n}")])})
        ready.get("J-0", 1)
    assert ready.peek("J-0") is not None
    assert ready.peek("J-1") is None
    assert ready.peek(f"J-{folds._MOST + 9}") is not None


def test_names_of_jobs_that_do_not_exist_are_not_kept() -> None:
    """Asking for the last number of anything does not fill the memory."""
    news = News(lambda _job: 0)
    assert [news.last(f"J-{n}") for n in range(50)] == [0] * 50
    assert not news.wait("J-7", 0, 0)
    assert news._numbers == {}
