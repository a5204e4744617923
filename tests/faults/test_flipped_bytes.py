"""One byte flipped in what is kept: found out, or without effect on anything that is kept.

Flipped are bytes of the stored records and seals (through the database, past its guards), of
the database file itself, and of the journal.  What the database holds beside the chains,
as settings, is outside of this: no hash stands over it.
"""

import random
import shutil
import sqlite3
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Connection, create_engine
from sqlalchemy.exc import DBAPIError, IntegrityError

from sleevewright.jobs.records import Draft
from sleevewright.store.chain import Link, Seal, verify_chain, verify_seals
from sleevewright.store.checking import BadPlaceError, verify_everything, verify_recent
from sleevewright.store.database import DATABASE
from sleevewright.store.errors import StoreDamaged, StoreError
from sleevewright.store.journal import FOLDER, Mark, lots_after, store_named
from sleevewright.store.store import open_reader, open_store
from sleevewright.store.tables import record, seal

JOBS = ("J-1", "J-2", "J-3")
READINGS = 25
COLUMNS = [column.name for column in record.columns]
SEAL_COLUMNS = [column.name for column in seal.columns]


@dataclass(frozen=True)
class Kept:
    """A closed store, and all that it holds."""

    folder: Path
    links: list[tuple[Any, ...]]
    seals: list[tuple[Any, ...]]


def reading(job: str, count: int) -> Draft:
    """An invented reading."""
    body = {"cylinder": 1, "cell": f"set/a/{count}/0", "text": f"{count}.5", "nm": 25400 * count}
    return Draft(job, uuid.uuid4().hex, "tablet", count, "value", body)


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    """Three jobs, the first two thirds sealed."""
    folder = tmp_path_factory.mktemp("flips") / "data"
    store = open_store(folder)
    for job in JOBS:
        store.append([Draft(job, uuid.uuid4().hex, "bench", 0, "job", {"title": "invented"})])
        for count in range(1, READINGS + 1):
            store.append([reading(job, count)])
        if job != JOBS[-1]:
            store.seal("test")
    links, seals = store.read(rows)
    store.close()
    assert len(links) == len(JOBS) * (READINGS + 1)
    return Kept(folder, links, seals)


def rows(connection: Connection) -> tuple[list[tuple[Any, ...]], list[tuple[Any, ...]]]:
    """Everything of the two chains."""
    links = connection.execute(record.select().order_by(record.c.job, record.c.number))
    seals = connection.execute(seal.select().order_by(seal.c.number))
    return [tuple(one) for one in links], [tuple(one) for one in seals]


def flipped(value: Any, chance: random.Random) -> Any:
    """The value with one bit of one byte changed; of a text, as bytes."""
    if isinstance(value, int):
        return value ^ (1 << chance.randrange(20))
    data = bytearray(value.encode())
    data[chance.randrange(len(data))] ^= 1 << chance.randrange(8)
    return bytes(data)


def goes_unseen(connection: Connection) -> bool:
    """Whether neither the look at everything nor that at the start finds something.

    The former has to come to a verdict, whatever it meets.
    """
    if not verify_everything(lambda work: work(connection), lambda: False).is_good:
        return False
    try:
        verify_recent(connection)
    except (BadPlaceError, DBAPIError):
        return False
    return True


def unseen_in_cells(kept: Kept, count: int, seed: int) -> Iterator[str]:
    """Flip that many cells, each alone, and tell which of them go unseen."""
    chance = random.Random(seed)  # noqa: S311 - a repeatable choice, no secret
    engine = create_engine(f"sqlite:///{kept.folder / DATABASE}")
    with engine.connect() as connection:
        raw = connection.connection.dbapi_connection
        assert isinstance(raw, sqlite3.Connection)
        raw.isolation_level = None
        for _ in range(count):
            raw.execute("BEGIN")
            told = flip_a_cell(connection, kept, chance)
            if told and goes_unseen(connection):
                yield told
            raw.execute("ROLLBACK")
    engine.dispose()


def flip_a_cell(connection: Connection, kept: Kept, chance: random.Random) -> str:
    """Flip a byte of a record or seal; what was flipped, or nothing where it is refused."""
    is_seal = chance.random() < 0.1
    table, names = ("seal", SEAL_COLUMNS) if is_seal else ("record", COLUMNS)
    row = chance.choice(kept.seals if is_seal else kept.links)
    place = chance.randrange(len(names))
    if row[place] == "":
        return ""
    key = " AND ".join(f"{name} = ?" for name in names[: 1 if is_seal else 2])
    value = flipped(row[place], chance)
    as_text = "CAST(? AS TEXT)" if isinstance(value, bytes) else "?"
    connection.exec_driver_sql(f"DROP TRIGGER {table}_refuses_update")
    try:
        connection.exec_driver_sql(
            f"UPDATE {table} SET {names[place]} = {as_text} WHERE {key}",  # noqa: S608 - our own names
            (value, *row[: 1 if is_seal else 2]),
        )
    except IntegrityError:
        return ""
    return f"{table} {row[:2]}: {names[place]} {row[place]!r} became {value!r}"


def unseen_in_file(kept: Kept, places: list[int], folder: Path) -> Iterator[str]:
    """Flip bytes of the database file, each alone, and tell which of them change what is read."""
    whole = (kept.folder / DATABASE).read_bytes()
    for place in places:
        data = bytearray(whole)
        data[place] ^= 1 << (place % 8)
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        (folder / DATABASE).write_bytes(data)
        try:
            reader = open_reader(folder)
        except (StoreDamaged, ValueError):
            continue
        try:
            if reader.read(goes_unseen) and reader.read(rows) != (kept.links, kept.seals):
                yield f"byte {place}"
        except (DBAPIError, StoreError, UnicodeDecodeError):
            pass
        finally:
            reader.close()


def unseen_in_journal(kept: Kept, places: list[int], folder: Path) -> Iterator[str]:
    """Flip bytes of the journal, each alone, and tell which of them change what is replayed.

    The last lot may be missing then: nobody can tell it from one that the power cut in two.
    """
    path = next((kept.folder / FOLDER).glob("*.jsonl"))
    whole = path.read_bytes()
    name = store_named(kept.folder)
    (folder / FOLDER).mkdir(parents=True)
    last = len(whole[:-1].rpartition(b"\n")[0])
    for place in places:
        data = bytearray(whole)
        data[place] ^= 1 << (place % 8)
        (folder / FOLDER / path.name).write_bytes(data)
        try:
            entries = [one for lot in lots_after(folder, name, Mark()) for one in lot.entries]
        except StoreDamaged:
            continue
        if not is_as_kept(entries, kept, may_lack=place > last):
            yield f"byte {place}: {bytes(whole[place - 20 : place + 20])!r}"
    shutil.rmtree(folder)


def is_as_kept(entries: list[Link | Seal], kept: Kept, *, may_lack: bool) -> bool:
    """Whether the chains refuse what was read, or it is all of what was kept."""
    links = [one for one in entries if isinstance(one, Link)]
    seals = [one for one in entries if isinstance(one, Seal)]
    broken = [verify_chain([one for one in links if one.job == job]) for job in JOBS]
    if any(one is not None for one in broken) or verify_seals(seals) is not None:
        return True
    if any(link.job not in JOBS for link in links):
        return True
    read = sorted(tuple(vars(link).values()) for link in links)
    lacks = len(kept.links) - len(read)
    wanted = [row for row in kept.links if row in read] if may_lack and lacks == 1 else kept.links
    return read == wanted and [tuple(vars(one).values()) for one in seals] == kept.seals


def some(size: int, count: int, seed: int) -> list[int]:
    """Places in a file, none twice."""
    return random.Random(seed).sample(range(size), min(count, size))  # noqa: S311 - no secret


def test_flipped_cell_is_found(kept: Kept) -> None:
    """Two hundred flips in records and seals: none goes unseen."""
    assert list(unseen_in_cells(kept, 200, 1)) == []


def test_flipped_byte_of_the_file_is_found(kept: Kept, tmp_path: Path) -> None:
    """Two hundred flips in the file: found out, or every record and seal reads as before."""
    size = (kept.folder / DATABASE).stat().st_size
    assert list(unseen_in_file(kept, some(size, 200, 2), tmp_path / "one")) == []


def test_flipped_byte_of_the_journal_is_found(kept: Kept, tmp_path: Path) -> None:
    """Two hundred flips in the journal: refused, or it replays to the same."""
    size = next((kept.folder / FOLDER).glob("*.jsonl")).stat().st_size
    assert list(unseen_in_journal(kept, some(size, 200, 3), tmp_path / "one")) == []


def test_flipped_journal_does_not_make_a_store(kept: Kept, tmp_path: Path) -> None:
    """A store that is made from a journal with a flipped byte is refused."""
    (tmp_path / FOLDER).mkdir()
    path = next((kept.folder / FOLDER).glob("*.jsonl"))
    data = bytearray(path.read_bytes())
    data[len(data) // 2] ^= 1
    (tmp_path / FOLDER / path.name).write_bytes(data)
    with pytest.raises(StoreDamaged):
        open_store(tmp_path, from_journal=True)


def test_unflipped_store_is_good(kept: Kept, tmp_path: Path) -> None:
    """The test of the test: what was not flipped is found good and reads as before."""
    shutil.copytree(kept.folder, tmp_path / "same")
    reader = open_reader(tmp_path / "same")
    try:
        assert reader.read(goes_unseen)
        assert reader.read(rows) == (kept.links, kept.seals)
    finally:
        reader.close()


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(10, 13))
def test_thousands_of_flips_are_found(kept: Kept, tmp_path: Path, seed: int) -> None:
    """Two thousand flips of each sort."""
    size = (kept.folder / DATABASE).stat().st_size
    written = next((kept.folder / FOLDER).glob("*.jsonl")).stat().st_size
    found = [
        *unseen_in_cells(kept, 2000, seed),
        *unseen_in_file(kept, some(size, 2000, seed), tmp_path / "file"),
        *unseen_in_journal(kept, some(written, 2000, seed), tmp_path / "journal"),
    ]
    assert found == []
