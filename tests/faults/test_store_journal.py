"""The journal: what it has and the database lacks is brought at the start, and only that."""

import errno
import json
import shutil
from pathlib import Path
from typing import BinaryIO

import pytest

from sleevewright.store import journal
from sleevewright.store.database import DATABASE
from sleevewright.store.errors import StoreDamaged, StoreFull
from sleevewright.store.journal import FOLDER, Disk, file_of
from sleevewright.store.store import Store, open_store
from store_examples import JOB, Counts, opening, value


def lines(folder: Path, number: int = 1) -> list[bytes]:
    """Lines of a file of the journal."""
    return file_of(folder / FOLDER, number).read_bytes().splitlines(keepends=True)


def put(folder: Path, written: list[bytes], number: int = 1) -> None:
    """Write a file of the journal anew."""
    file_of(folder / FOLDER, number).write_bytes(b"".join(written))


def older_database(folder: Path) -> Store:
    """A store that is closed, whose database is that of an earlier moment: a restored backup."""
    store = open_store(folder, projections=[Counts()])
    store.append([opening(), value("1")])
    store.seal("backup")
    store.close()
    shutil.copy(folder / DATABASE, folder / "backup")
    store = open_store(folder, projections=[Counts()])
    store.append([value("2"), value("3")])
    store.append([value("4"), opening("N-2")])
    store.seal("print")
    store.append([value("5")])
    store.close()
    shutil.move(folder / "backup", folder / DATABASE)
    return store


def test_lines_tell_everything(tmp_path: Path) -> None:
    """Each line is JSON with number, hash and body; the first names the store."""
    store = open_store(tmp_path)
    store.append([opening(), value("54,01 mm ½")])
    store.append([value("2")])
    head, *told = (json.loads(line) for line in lines(tmp_path))
    assert head == {"journal": 1, "store": store.identity.partition("-")[0], "file": 1}
    assert [(one["lot"], one["left"]) for one in told] == [(1, 1), (1, 0), (2, 0)]
    assert [one["record"] for one in told] == [vars(link) for link in store.links(JOB)]
    store.close()


def test_journal_brings_what_a_backup_lacks(tmp_path: Path) -> None:
    """Records, seals and projections are as before; numbers and hashes are the same."""
    before = older_database(tmp_path)
    told = [json.loads(line) for line in lines(tmp_path)[1:]]
    store = open_store(tmp_path, projections=[Counts()])
    kept = {one.id: one for job in store.job_numbers() for one in store.links(job)}
    assert {one["record"]["id"] for one in told if "record" in one} == set(kept)
    assert [one.body.get("text") for one in store.records(JOB)] == [None, *"12345"]
    assert store.read(Counts().rows) == [(JOB, 6, 1, 6), ("N-2", 1, 0, 1)]
    assert store.identity == before.identity
    assert store.verify_all().is_good
    assert store.append([value("6")])[0].number == 7
    store.close()
    again = open_store(tmp_path)
    assert again.last(JOB) == 7
    again.close()


def test_database_that_is_gone_is_made_from_the_journal(tmp_path: Path) -> None:
    """It is not replaced by an empty one; asked for, the journal makes all of it."""
    older_database(tmp_path)
    (tmp_path / DATABASE).unlink()
    with pytest.raises(StoreDamaged, match="database is missing"):
        open_store(tmp_path)
    assert not (tmp_path / DATABASE).exists()
    store = open_store(tmp_path, projections=[Counts()], from_journal=True)
    assert (store.last(JOB), store.last("N-2")) == (6, 1)
    assert store.verify_all().seals == 3
    assert store.verify_all().is_good
    store.close()


@pytest.mark.parametrize("cut", [1, 2, 40, 10_000])
def test_torn_last_lot_is_cut_off(tmp_path: Path, cut: int) -> None:
    """What the power cut in two was never acknowledged; the journal goes on behind the cut."""
    older_database(tmp_path)
    written = lines(tmp_path)
    whole = open_store(tmp_path)
    whole.close()
    shutil.copy(tmp_path / DATABASE, tmp_path / "backup")
    store = open_store(tmp_path)
    store.append([value("torn 1"), value("torn 2")])
    store.close()
    shutil.move(tmp_path / "backup", tmp_path / DATABASE)
    torn = lines(tmp_path)[len(written) :]
    left = b"".join(torn)[:-cut]
    put(tmp_path, [*written, left])
    store = open_store(tmp_path)
    assert store.last(JOB) == 6
    assert lines(tmp_path) == written
    assert store.append([value("6")])[0].number == 7
    store.close()
    assert open_and_last(tmp_path) == 7


@pytest.mark.parametrize("junk", [b"\0" * 600, b"x\ny\n\0\0", b'{"lot":9,"left":', b"\n\n"])
def test_junk_behind_the_last_lot_is_cut_off(tmp_path: Path, junk: bytes) -> None:
    """A file that grew without its content, as after a power cut, tells nothing."""
    older_database(tmp_path)
    written = lines(tmp_path)
    put(tmp_path, [*written, junk])
    store = open_store(tmp_path)
    assert store.last(JOB) == 6
    assert lines(tmp_path) == written
    store.append([value("6")])
    store.close()
    assert open_and_last(tmp_path) == 7


def open_and_last(folder: Path) -> int:
    """The last number after one more start."""
    store = open_store(folder)
    last = store.last(JOB)
    assert store.verify_all().is_good
    store.close()
    return last


def test_damage_in_the_middle_is_told(tmp_path: Path) -> None:
    """A line that is unreadable while later lots follow is no power cut; nothing is changed."""
    older_database(tmp_path)
    written = lines(tmp_path)
    bad = [*written[:4], b'{"lot":3' + written[4][8:].replace(b'"', b"'", 3), *written[5:]]
    put(tmp_path, bad)
    with pytest.raises(StoreDamaged, match="a line of the journal is unreadable"):
        open_store(tmp_path)
    assert lines(tmp_path) == bad


def test_changed_reading_in_the_journal_is_told(tmp_path: Path) -> None:
    """A line that is readable but not what was kept does not continue the chain."""
    older_database(tmp_path)
    written = lines(tmp_path)
    place = next(n for n, line in enumerate(written) if b'\\"text\\":\\"2\\"' in line)
    written[place] = written[place].replace(b'\\"text\\":\\"2\\"', b'\\"text\\":\\"7\\"')
    put(tmp_path, written)
    with pytest.raises(StoreDamaged, match="journal and database differ"):
        open_store(tmp_path)


def test_journal_of_another_store_is_refused(tmp_path: Path) -> None:
    """Two folders that were mixed up are not merged."""
    older_database(tmp_path / "one")
    older_database(tmp_path / "two")
    shutil.copy(file_of(tmp_path / "two" / FOLDER, 1), file_of(tmp_path / "one" / FOLDER, 1))
    with pytest.raises(StoreDamaged, match="another store"):
        open_store(tmp_path / "one")


def test_lost_journal_is_told_and_begun_anew(tmp_path: Path) -> None:
    """The database is whole without it: a caution, and a fresh file behind the old number."""
    store = open_store(tmp_path)
    store.append([opening(), value()])
    store.close()
    shutil.rmtree(tmp_path / FOLDER)
    store = open_store(tmp_path)
    assert "journal is shorter" in store.cautions[0]
    store.append([value()])
    store.close()
    assert [path.name for path in (tmp_path / FOLDER).iterdir()] == ["journal-00000002.jsonl"]
    store = open_store(tmp_path)
    assert store.cautions == ()
    assert store.last(JOB) == 3
    store.close()


def test_journal_is_a_row_of_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A long file is followed by a fresh one, and all of them are replayed in their order."""
    monkeypatch.setattr(journal, "_LONGEST", 3000)
    store = open_store(tmp_path)
    store.append([opening()])
    for n in range(40):
        store.append([value(f"{n}")])
    store.close()
    files = sorted((tmp_path / FOLDER).iterdir())
    assert len(files) > 5
    (tmp_path / DATABASE).unlink()
    store = open_store(tmp_path, from_journal=True)
    assert [one.body["text"] for one in store.records(JOB, after=1)] == [f"{n}" for n in range(40)]
    store.append([value("40")])
    store.close()
    assert open_and_last(tmp_path) == 42


def test_file_whose_beginning_was_cut_is_begun_anew(tmp_path: Path) -> None:
    """The power went while a fresh file was made: nothing in it was acknowledged."""
    store = open_store(tmp_path)
    store.append([opening()])
    store.close()
    file_of(tmp_path / FOLDER, 2).write_bytes(b'{"journal":1,"sto')
    store = open_store(tmp_path)
    assert store.append([value()])[0].number == 2
    store.close()
    assert [path.name for path in (tmp_path / FOLDER).iterdir()] == ["journal-00000001.jsonl"]
    assert open_and_last(tmp_path) == 2


class NoRoom(Disk):
    """A disk that is full after so many bytes, and whose folder may refuse to let a file go."""

    room: int | None = None

    def write(self, file: BinaryIO, data: bytes) -> int:
        """Write what has room."""
        if self.room is None:
            return super().write(file, data)
        if not self.room:
            raise OSError(errno.ENOSPC, "No space left on device")
        done = super().write(file, data[: self.room])
        self.room -= done
        return done


@pytest.mark.parametrize("room", [0, 20])
@pytest.mark.parametrize("stays", [False, True])
def test_first_line_torn_by_a_full_disk_loses_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, room: int, stays: bool
) -> None:
    """What was kept when there was room again is all brought from the journal, each try of it."""
    disk = NoRoom()
    store = open_store(tmp_path, disk=disk)
    with monkeypatch.context() as patch:
        if stays:
            patch.setattr(Path, "unlink", refuse)
        for _ in range(3):
            disk.room = room
            with pytest.raises(StoreFull):
                store.append([opening()])
    disk.room = None
    store.append([opening(), value("1")])
    store.append([opening("N-2")])
    store.close()
    assert len(list((tmp_path / FOLDER).iterdir())) == (4 if stays else 1)
    (tmp_path / DATABASE).unlink()
    store = open_store(tmp_path, from_journal=True)
    assert (store.last(JOB), store.last("N-2")) == (2, 1)
    assert store.append([value("2")])[0].number == 3
    store.close()
    assert open_and_last(tmp_path) == 3


def refuse(*_: object) -> None:
    """A folder that lets nothing go."""
    raise PermissionError(errno.EACCES, "not permitted")


def test_full_disk_while_a_lost_journal_is_begun_anew(tmp_path: Path) -> None:
    """The next try begins the fresh file again; nothing goes into the one that was cut short."""
    store = open_store(tmp_path)
    store.append([opening(), value("1")])
    store.close()
    put(tmp_path, lines(tmp_path)[:1])
    disk = NoRoom()
    store = open_store(tmp_path, disk=disk)
    disk.room = 5
    with pytest.raises(StoreFull):
        store.append([value("2")])
    disk.room = None
    store.append([value("2")])
    store.close()
    assert len(lines(tmp_path)) == 1
    assert len(lines(tmp_path, 2)) == 2
    assert open_and_last(tmp_path) == 3


def test_missing_file_in_the_row_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A hole in the row of files is damage when the database lacks what was in it."""
    monkeypatch.setattr(journal, "_LONGEST", 2000)
    store = open_store(tmp_path)
    store.append([opening()])
    for n in range(30):
        store.append([value(f"{n}")])
    store.close()
    (tmp_path / DATABASE).unlink()
    file_of(tmp_path / FOLDER, 3).unlink()
    with pytest.raises(StoreDamaged):
        open_store(tmp_path, from_journal=True)
