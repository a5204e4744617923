"""A whole job handed out and taken in: round trip, repetition, continuation, other histories."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from benches import bench_in, worked_jobs
from sleevewright.errors import InputError, NotFound, StateError
from sleevewright.jobs.records import ATTACHMENT, Draft, canonical
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.exchange import export_job, import_file, whole_job, write_job_file
from sleevewright.services.jobs import draft_id, open_job, server_draft
from sleevewright.services.shelf import rows_of
from sleevewright.store.attachments import attachment_path, keep_attachment, read_attachment
from sleevewright.store.chain import Link
from sleevewright.store.errors import ChainBroken, StoreDamaged
from sleevewright.store.keeping import chained
from sleevewright.store.packing import WholeJob

JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00 invented photo"
NUMBER = "J-31"


def note(number: int, text: str = "") -> Draft:
    """A value of a device."""
    body: dict[str, Any] = {"cylinder": 1, "cell": f"note/{number}", "text": text or f"{number}"}
    return Draft(NUMBER, draft_id(), "tablet-1", number, "value", body)


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    """A bench with one job: two cylinders, ten values, a photo."""
    with closing(open_bench(tmp_path / "bench")) as made:
        open_job(made, NUMBER, {"title": "175 twin", "cylinders": 2, "invented": True})
        made.store.append([note(number) for number in range(1, 11)])
        photo = keep_attachment(made.folder, JPEG)
        body = {"cylinder": 1, "stage": "intake", "sha256": photo.sha256, "size": photo.size,
                "type": photo.type, "name": "as it came", "caption": ""}  # fmt: skip
        made.store.append([server_draft(NUMBER, ATTACHMENT, body)])
        made.store.seal("backup")
        yield made


@pytest.fixture
def other(tmp_path: Path) -> Iterator[Bench]:
    """Another bench, empty."""
    with closing(open_bench(tmp_path / "other")) as made:
        yield made


def test_a_job_goes_to_another_bench_and_back_byte_for_byte(
    bench: Bench, other: Bench, tmp_path: Path
) -> None:
    """Records, hashes and photo are the same; the shelf of the other bench shows the job."""
    path = tmp_path / "out.zip"
    done = export_job(bench.store, NUMBER, path)
    assert (done.records, done.attachments) == (12, 1)
    taken = import_file(other, path)
    assert (taken.job, taken.records, taken.new) == (NUMBER, 12, 12)
    assert other.store.links(NUMBER) == bench.store.links(NUMBER)
    sha256 = whole_job(bench.store, NUMBER).attachments.keys()
    assert [read_attachment(other.folder, one)[0] for one in sha256] == [JPEG]
    assert [row.next_words for row in rows_of(other, NUMBER)] == [
        row.next_words for row in rows_of(bench, NUMBER)
    ]
    assert other.store.verify_all().is_good
    back = tmp_path / "back.zip"
    export_job(other.store, NUMBER, back)
    assert import_file(bench, back).new == 0


@pytest.mark.parametrize("path", worked_jobs(), ids=lambda path: path.stem)
def test_each_worked_job_goes_round(path: Path, other: Bench, tmp_path: Path) -> None:
    """Every example taken in from its file, exported, taken in elsewhere: the same records."""
    with closing(bench_in(tmp_path / "first", [path])) as first:
        number = first.store.job_numbers()[0]
        export_job(first.store, number, tmp_path / "out.zip")
        import_file(other, tmp_path / "out.zip")
        assert other.store.links(number) == first.store.links(number)
        assert other.store.last(number) > 20


def test_taking_in_twice_is_taking_in_once(bench: Bench, other: Bench, tmp_path: Path) -> None:
    """The second time nothing is new and nothing is wrong."""
    path = tmp_path / "out.zip"
    export_job(bench.store, NUMBER, path)
    import_file(other, path)
    again = import_file(other, path)
    assert (again.records, again.new) == (12, 0)
    assert len(other.store.links(NUMBER)) == 12


def test_a_longer_history_is_taken_and_a_shorter_one_changes_nothing(
    bench: Bench, other: Bench, tmp_path: Path
) -> None:
    """What was measured since goes after what is there; an old export takes nothing back."""
    old, new = tmp_path / "old.zip", tmp_path / "new.zip"
    export_job(bench.store, NUMBER, old)
    import_file(other, old)
    bench.store.append([note(11), note(12)])
    export_job(bench.store, NUMBER, new)
    assert import_file(other, new).new == 2
    assert import_file(other, old).new == 0
    assert other.store.links(NUMBER) == bench.store.links(NUMBER)


def test_another_history_of_the_number_is_refused(
    bench: Bench, other: Bench, tmp_path: Path
) -> None:
    """A job of the same number that began elsewhere, or went on differently, is not mixed in."""
    path = tmp_path / "out.zip"
    export_job(bench.store, NUMBER, path)
    open_job(other, NUMBER, {"title": "another"})
    with pytest.raises(StateError, match="from record 1 on"):
        import_file(other, path)
    assert len(other.store.links(NUMBER)) == 1


def test_two_that_went_on_differently_are_not_mixed(
    bench: Bench, other: Bench, tmp_path: Path
) -> None:
    """The record from which they differ is named; nothing of the file is kept, no photo either."""
    path = tmp_path / "out.zip"
    export_job(bench.store, NUMBER, path)
    import_file(other, path)
    other.store.append([note(11, "here")])
    bench.store.append([note(11, "there")])
    export_job(bench.store, NUMBER, path)
    with pytest.raises(StateError, match="from record 13 on"):
        import_file(other, path)
    assert other.store.last(NUMBER) == 13


def test_an_id_that_another_job_has_is_refused(bench: Bench, other: Bench, tmp_path: Path) -> None:
    """One record cannot belong to two jobs."""
    links = bench.store.links(NUMBER)
    open_job(other, "J-99", {})
    stolen = replace(note(1), job="J-99", id=links[3].id)
    other.store.append([stolen])
    path = tmp_path / "out.zip"
    export_job(bench.store, NUMBER, path)
    with pytest.raises(ChainBroken):
        import_file(other, path)
    assert other.store.job_numbers() == ("J-99",)


def test_an_export_needs_every_photo(bench: Bench, tmp_path: Path) -> None:
    """A photo that is missing or rotten is told, and no file is left."""
    path = tmp_path / "out.zip"
    sha256 = next(iter(whole_job(bench.store, NUMBER).attachments))
    photo = attachment_path(bench.folder, sha256)
    photo.write_bytes(JPEG + b"x")
    with pytest.raises(StoreDamaged, match="taken in again"):
        export_job(bench.store, NUMBER, path)
    photo.unlink()
    with pytest.raises(StoreDamaged, match="missing"):
        export_job(bench.store, NUMBER, path)
    assert not path.exists()


def test_what_is_no_export_is_refused_in_a_sentence(other: Bench, tmp_path: Path) -> None:
    """Not there, empty, text that is no job, neither text nor zip."""
    with pytest.raises(InputError, match="No such file"):
        import_file(other, tmp_path / "none.zip")
    path = tmp_path / "in.zip"
    for content in (b"\xff\x00", b"PK\x03\x04", b"PK\x03\x04" + b"\0" * 5000):
        path.write_bytes(content)
        with pytest.raises(InputError, match=r"in\.zip"):
            import_file(other, path)
    with pytest.raises(NotFound):
        export_job(other.store, "J-404", path)
    assert other.store.job_numbers() == ()


def test_the_job_file_in_an_export_is_for_the_eye(bench: Bench, tmp_path: Path) -> None:
    """Each cylinder stands in the file as a job file, which is never read back."""
    texts = whole_job(bench.store, NUMBER).job_files
    assert len(texts) == 2
    assert all(f'number = "{NUMBER}"' in text for text in texts)
    assert all(isinstance(link, Link) for link in bench.store.links(NUMBER))
    assert export_job(bench.store, NUMBER, tmp_path / "out.zip").size > 4000


def written(path: Path, *bodies: dict[str, Any]) -> Path:
    """An export whose chain is right, with values as they are given here."""
    told = [("job", {"title": "t", "cylinders": 1}), *(("value", one) for one in bodies)]
    links: list[Link] = []
    for number, (kind, body) in enumerate(told, 1):
        draft = Draft(NUMBER, draft_id(), "x", number, kind, body)
        head = links[-1].hash if links else "0" * 64
        links.append(chained(draft, canonical(body), number, "2031-05-02T08:00:00.000Z", head))
    with path.open("wb") as file:
        write_job_file(file, WholeJob(tuple(links), (), {}, ("x",)))
    return path


def length(text: str, **more: Any) -> dict[str, Any]:
    """A value of the sleeve."""
    cell = "sleeve.outside_diameter"
    return {"cylinder": 1, "cell": cell, "text": text, "kind": "typed", "replaces": [], **more}


def test_numbers_that_are_what_the_texts_come_to_are_taken(other: Bench, tmp_path: Path) -> None:
    """2.6400 in is 67,056,000 nm (an inch is 25.4 mm exactly, ISO 31 and NIST SP 811)."""
    path = written(tmp_path / "good.zip", length("2.6400 in", nm=67_056_000), length("2.65 in"))
    assert import_file(other, path).new == 3


@pytest.mark.parametrize(
    ("body", "names"),
    [
        (length("2.6400 in", nm=67_310_000), "67310000 nm"),
        (length("2.6400 in", nm=67_056_001), "67056000 nm"),
        (length("2.6400 in", nm=67_056_000, si=0.067), "0.067 si"),
        (length("2.6400 in", mk=67_056_000), "67056000 mk"),
        (length("2.6400 in", nm="67056000"), "record 2 is a value whose nm"),
        (length("2.6400 in", nm=True), "record 2 is a value whose nm"),
        (length("", nm=67_056_000), "record 2, sleeve.outside_diameter"),
        (length("two and a bit", nm=67_056_000), "record 2, sleeve.outside_diameter"),
        ({**length("2.64 in", nm=67_056_000), "cell": "no.such"}, "record 2, no.such"),
        ({**length("6.2 lb", si=2.9), "cell": "casting.mass"}, "2.9 si"),
    ],
)
def test_numbers_that_the_texts_do_not_come_to_are_refused(
    other: Bench, tmp_path: Path, body: dict[str, Any], names: str
) -> None:
    """A file hashed anew after its numbers were altered: named, and nothing of it is taken."""
    with pytest.raises(InputError) as caught:
        import_file(other, written(tmp_path / "bad.zip", body))
    assert names in str(caught.value)
    assert other.store.job_numbers() == ()
