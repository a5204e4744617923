"""Restoring: what was lost is told, what was kept comes back, nothing half is left."""

from __future__ import annotations

import random
import shutil
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from backup_examples import JPEG, NOW, Fault, drafts, fill
from sleevewright.errors import InputError, NotFound, SleevewrightError
from sleevewright.jobs.records import ATTACHMENT
from sleevewright.services.backups import back_up, home_of, restore
from sleevewright.services.bench import Bench, open_bench, opened
from sleevewright.services.drills import drill
from sleevewright.services.jobs import server_draft
from sleevewright.services.keys import secret_of
from sleevewright.store.attachments import attachment_path, keep_attachment, read_attachment
from sleevewright.store.backup_manifest import backup_folders
from sleevewright.store.errors import StoreDamaged, StoreLocked
from sleevewright.store.examining import ends_of
from sleevewright.store.tables import attachment, person


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A data folder with two jobs in it, closed."""
    place = tmp_path / "bench"
    with opened(place) as bench:
        fill(bench)
    return place


@pytest.fixture
def bench(folder: Path) -> Iterator[Bench]:
    """The same, open."""
    with closing(open_bench(folder)) as made:
        yield made


def everything(folder: Path) -> dict[str, Any]:
    """What a folder holds of records, people, keys and photos."""
    with opened(folder) as bench:
        links = {job: bench.store.links(job) for job in bench.store.job_numbers()}
        people = bench.store.read(lambda c: [row.name for row in c.execute(person.select())])
        photos = sorted(path.read_bytes() for path in (folder / "attachments").iterdir())
        return {"links": links, "people": people, "photos": photos,
                "key": (folder / "keys" / "session").read_bytes()}  # fmt: skip


def test_a_backup_comes_back_on_an_empty_machine(bench: Bench, tmp_path: Path) -> None:
    """Records byte for byte, people, keys and photos; in one step, from a copied folder."""
    made = back_up(bench)
    bench.close()
    stick = tmp_path / "stick"
    shutil.copytree(made.path, stick / made.name)
    done, aside = restore(stick, tmp_path / "new" / "bench", now=NOW)
    assert aside is None
    assert (done.ends.jobs, done.ends.records, done.replayed) == (2, 55, 0)
    assert everything(tmp_path / "new" / "bench") == everything(bench.folder)
    assert [path.name for path in (tmp_path / "new").iterdir()] == ["bench"]


def test_a_restored_store_is_another_one_to_devices(bench: Bench, tmp_path: Path) -> None:
    """Each restoring of one backup has an identity that none had before."""
    before = bench.store.identity
    back_up(bench)
    names = {before}
    for count in range(3):
        moment = NOW + timedelta(minutes=count)
        done, _ = restore(bench.folder, tmp_path / f"new-{count}", now=moment)
        names.add(done.identity)
        with opened(tmp_path / f"new-{count}") as other:
            assert other.store.identity == done.identity
    assert len(names) == 4


def corrupt(path: Path) -> None:
    """Write noise over one page of a database that is in use."""
    size = path.stat().st_size
    assert size > 20 * 4096
    with path.open("r+b") as file:
        for page in range(4, size // 4096, 3):
            file.seek(page * 4096)
            file.write(random.Random(page).randbytes(4096))  # noqa: S311 - noise, no secret


def test_a_corrupt_page_is_seen_at_start_and_nothing_is_lost(bench: Bench) -> None:
    """The start refuses and offers the restoring; the journal brings what came since."""
    back_up(bench)
    bench.store.append(drafts("J-2", 20, start=16))
    bench.store.append(drafts("J-3", 5))
    bench.store.seal("release")
    whole = {job: bench.store.links(job) for job in ("J-1", "J-2", "J-3")}
    bench.close()
    corrupt(bench.folder / "records.db")
    before = (bench.folder / "records.db").read_bytes()
    with pytest.raises(StoreDamaged, match="Restore the last backup"):
        open_bench(bench.folder)
    assert (bench.folder / "records.db").read_bytes() == before
    done, aside = restore(None, bench.folder, replace=True, now=NOW)
    assert aside is not None
    assert (aside / "records.db").read_bytes() == before
    assert (done.replayed, done.remarks) == (25, "")
    with opened(bench.folder) as again:
        assert {job: again.store.links(job) for job in whole} == whole
        assert again.store.read(ends_of).seals == 4
        assert again.store.verify_all().is_good
        assert backup_folders(home_of(bench.folder))


def test_what_was_attached_since_the_backup_comes_back_too(bench: Bench) -> None:
    """A photo and a key made after the backup are brought; a photo that rotted is named."""
    back_up(bench)
    photos = [attach(bench, "J-2", JPEG + bytes([count])) for count in range(2)]
    secret_of(bench.folder, "later")
    attachment_path(bench.folder, photos[1]).write_bytes(b"rotten")
    bench.close()
    done, _ = restore(None, bench.folder, replace=True, now=NOW)
    assert done.remarks == f"Attachments that are not there: {photos[1][:12]} of job J-2."
    with opened(bench.folder) as again:
        assert read_attachment(again.folder, photos[0])[0] == JPEG + b"\x00"
        rows = again.store.read(lambda c: c.execute(attachment.select()).all())
        assert [(row.sha256, row.type) for row in rows] == [(photos[0], "image/jpeg")]
        assert (again.folder / "keys" / "later").is_file()
        back_up(again)
        assert photos[1][:12] in drill(again).text


def attach(bench: Bench, job: str, content: bytes) -> str:
    """Attach a photo to a job; its hash."""
    one = keep_attachment(bench.folder, content)
    body = {"cylinder": 0, "stage": "intake", "sha256": one.sha256, "size": one.size,
            "type": one.type, "name": "invented", "caption": ""}  # fmt: skip
    bench.store.append([server_draft(job, ATTACHMENT, body)])
    return one.sha256


def test_of_a_damaged_journal_the_readable_part_is_used(bench: Bench) -> None:
    """A line in its middle is unreadable: what comes before is brought, and the loss is told."""
    back_up(bench)
    for start in range(16, 36):
        bench.store.append(drafts("J-2", 1, start=start))
    bench.close()
    path = next((bench.folder / "journal").iterdir())
    lines = path.read_bytes().splitlines(keepends=True)
    lines[-10] = b"\0" * len(lines[-10])
    path.write_bytes(b"".join(lines))
    done, _ = restore(None, bench.folder, replace=True, now=NOW)
    assert done.replayed == 10
    assert "journal" in done.remarks
    with opened(bench.folder) as again:
        assert again.store.last("J-2") == 25
        assert again.store.verify_all().is_good


def test_a_changed_line_of_the_journal_costs_only_its_job(bench: Bench) -> None:
    """A digit changed in one job's line: the other job comes back whole, the loss is named."""
    back_up(bench)
    for start in range(16, 26):
        bench.store.append(drafts("J-2", 1, start=start))
        bench.store.append(drafts("J-1", 1, start=start + 25))
    bench.close()
    path = next((bench.folder / "journal").iterdir())
    path.write_bytes(
        path.read_bytes().replace(b"20 thou", b"29 thou", 1).replace(b"20 thou", b"29 thou")
    )
    text = path.read_bytes()
    assert text.count(b"29 thou") > 1
    done, _ = restore(None, bench.folder, replace=True, now=NOW)
    assert "job J-2 from record 20" in done.remarks
    with opened(bench.folder) as again:
        assert (again.store.last("J-1"), again.store.last("J-2")) == (50, 19)


def test_without_a_journal_the_backup_is_what_there_is(bench: Bench) -> None:
    """The loss is told where the damaged folder has no journal any more."""
    back_up(bench)
    bench.store.append(drafts("J-2", 3, start=16))
    bench.close()
    shutil.rmtree(bench.folder / "journal")
    (bench.folder / "records.db").write_bytes(b"no database")
    done, _ = restore(None, bench.folder, replace=True, now=NOW)
    assert done.ends.records == 55
    assert "lost" in done.remarks


def test_a_folder_in_use_or_with_data_is_not_written_over(bench: Bench) -> None:
    """Neither while a bench runs on it nor unless that was said."""
    back_up(bench)
    with pytest.raises(InputError, match="--replace"):
        restore(None, bench.folder, now=NOW)
    with pytest.raises(StoreLocked):
        restore(None, bench.folder, replace=True, now=NOW)
    assert bench.store.last("J-1") == 40
    with pytest.raises(NotFound, match="backup"):
        restore(bench.folder / "keys", bench.folder.with_name("x"), now=NOW)


def test_a_restoring_that_breaks_off_leaves_nothing(
    bench: Bench, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk fails at the 1st, 2nd, ... sync: no folder, or the whole one at the last."""
    back_up(bench)
    fault = Fault(monkeypatch)
    target = tmp_path / "new" / "bench"
    states = []
    for count in range(1, 40):
        fault.left = count
        try:
            restore(bench.folder, target, now=NOW)
        except SleevewrightError:
            states.append(target.exists())
            assert target.exists() or list(target.parent.iterdir()) == []
            shutil.rmtree(target, ignore_errors=True)
            continue
        finally:
            fault.left = -1
        break
    assert states == [False] * (count - 2) + [True]
    assert count > 4
    with opened(target) as other:
        assert other.store.read(ends_of).records == 55
