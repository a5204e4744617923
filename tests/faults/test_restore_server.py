"""Backups of a database on a server: its tables as lines, restored there, drilled here."""

from __future__ import annotations

import shutil
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import create_engine, func, insert, select

from benches import EXAMPLES
from sleevewright.errors import InputError
from sleevewright.services.backups import back_up, restore
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.drills import drill
from sleevewright.services.exchange import export_job, import_file
from sleevewright.services.jobs import import_text, open_job
from sleevewright.services.shelf import shelf
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.tables import metadata, person
from store_servers import Server

NOW = datetime(2031, 5, 2, 8, 0, tzinfo=UTC)


def filled(folder: Path, url: str) -> Bench:
    """A bench on a server, with a worked job, another one and a person."""
    bench = open_bench(folder, url=url)
    path = EXAMPLES / "demo-air-175.toml"
    import_text(bench, path.read_text(encoding="utf-8"), name=path.name)
    open_job(bench, "J-1", {"title": "äöü – 175", "invented": True})
    row = {"key": "p1", "name": "Invented Person", "pin": None, "is_active": True, "since": "x"}
    bench.store.write(lambda connection: connection.execute(insert(person).values(row)))
    return bench


def counts(url: str) -> dict[str, int]:
    """Rows of each table that a migration makes."""
    engine = create_engine(url.replace("postgresql:", "postgresql+psycopg:"))
    try:
        with engine.connect() as connection:
            return {
                table.name: int(
                    connection.execute(select(func.count()).select_from(table)).scalar() or 0
                )
                for table in metadata.sorted_tables
            }
    finally:
        engine.dispose()


def test_a_server_is_backed_up_drilled_and_restored(postgresql: Server, tmp_path: Path) -> None:
    """The same records, people and shelf on another, empty server."""
    first, second = postgresql.fresh(), postgresql.fresh()
    with closing(filled(tmp_path / "bench", first)) as bench:
        sealed = counts(first)["seal"]
        made = back_up(bench)
        assert (made.path / "data" / "tables" / "record.jsonl").stat().st_size > 50_000
        assert drill(bench).state == "good"
        links = {job: bench.store.links(job) for job in bench.store.job_numbers()}
        rows = shelf(bench)
    done, _ = restore(made.path, tmp_path / "new", url=second, now=NOW)
    assert done.ends.records == sum(map(len, links.values()))
    with closing(open_bench(tmp_path / "new", url=second)) as again:
        assert {job: again.store.links(job) for job in links} == links
        assert shelf(again) == rows
        assert again.store.verify_all().is_good
        assert again.store.identity == done.identity
    restored, was = counts(second), counts(first)
    assert {name: restored[name] for name in ("record", "person")} == {
        name: was[name] for name in ("record", "person")
    }
    assert restored["seal"] == sealed < was["seal"]  # the seal of a backup comes after its copy


def test_a_full_server_is_not_restored_into(postgresql: Server, tmp_path: Path) -> None:
    """What is in a database is never mixed with a backup; a file is not taken for a server."""
    url = postgresql.fresh()
    with closing(filled(tmp_path / "bench", url)) as bench:
        made = back_up(bench)
        before = counts(url)
    with pytest.raises(StoreDamaged, match="not empty"):
        restore(made.path, tmp_path / "new", url=url, now=NOW)
    with pytest.raises(InputError, match="database"):
        restore(made.path, tmp_path / "new", now=NOW)
    assert counts(url) == before
    assert not (tmp_path / "new").exists()


def test_the_journal_brings_what_a_server_lost(postgresql: Server, tmp_path: Path) -> None:
    """The server's disk is gone, the folder is there: backup and journal give all of it."""
    url, fresh = postgresql.fresh(), postgresql.fresh()
    with closing(filled(tmp_path / "bench", url)) as bench:
        back_up(bench)
        open_job(bench, "J-2", {"invented": True})
    done, aside = restore(None, tmp_path / "bench", url=fresh, replace=True, now=NOW)
    assert done.replayed == 1
    assert aside is not None
    with closing(open_bench(tmp_path / "bench", url=fresh)) as again:
        assert "J-2" in again.store.job_numbers()


def test_a_job_goes_from_a_server_to_a_file_and_back(postgresql: Server, tmp_path: Path) -> None:
    """An export does not tell which database it came from."""
    with closing(filled(tmp_path / "bench", postgresql.fresh())) as bench:
        export_job(bench.store, "D-175", tmp_path / "one.zip")
        with closing(open_bench(tmp_path / "other")) as other:
            import_file(other, tmp_path / "one.zip")
            export_job(other.store, "D-175", tmp_path / "two.zip")
    assert (tmp_path / "one.zip").read_bytes() == (tmp_path / "two.zip").read_bytes()
    shutil.rmtree(tmp_path / "other")
