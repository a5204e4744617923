"""Backups under damage: nothing looks good that is not, and the good ones stay."""

from __future__ import annotations

import json
import os
import random
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import insert

from backup_examples import JPEG, NOW, Fault, drafts, fill, flip
from sleevewright.errors import NotFound, SleevewrightError
from sleevewright.services import drills
from sleevewright.services.backups import (
    back_up,
    find_backup,
    home_of,
    let_go,
    list_backups,
    restore,
)
from sleevewright.services.bench import Bench, open_bench, opened
from sleevewright.services.drills import drill, standing
from sleevewright.store.attachments import attachment_path, keep_attachment, read_attachment
from sleevewright.store.backup_manifest import backup_folders, read_backup
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.tables import setting

FLIPS = 50


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


def told_to(bench: Bench, key: str, value: str) -> None:
    """Set a setting."""
    row = {"key": key, "value": value, "said": bench.now(), "person": None}
    bench.store.write(lambda connection: connection.execute(insert(setting).values(row)))


def places(backup: Path, count: int) -> list[tuple[Path, int, int]]:
    """Places drawn over all bytes of a backup, and one in each file."""
    generator = random.Random(50)  # noqa: S311 - places are repeated, not secret
    files = sorted(path for path in backup.rglob("*") if path.is_file())
    sizes = [path.stat().st_size for path in files]
    drawn = generator.choices(files, weights=sizes, k=count - len(files)) + files
    return [
        (path, generator.randrange(path.stat().st_size), generator.randrange(8)) for path in drawn
    ]


def test_a_drill_reports_a_backup_with_one_flipped_bit(bench: Bench) -> None:
    """One bit in one of 50 places, every file among them: bad each time, good when mended."""
    path = back_up(bench).path
    assert drill(bench).state == "good"
    assert standing(bench).is_good
    for file, place, bit in places(path, FLIPS):
        flip(file, place, bit)
        done = drill(bench)
        assert done.state == "bad", (file.name, place, bit)
        assert not standing(bench).is_good
        flip(file, place, bit)
    assert drill(bench).state == "good"
    assert [row.state for row in list_backups(bench)] == ["good"]


def test_a_long_drill_has_a_process_of_its_own(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It finds the same there; nothing is left of it."""
    path = back_up(bench).path
    monkeypatch.setattr(drills, "BESIDE", 0)
    assert (drill(bench).state, drill(bench).text[:19]) == ("good", "2 jobs, 55 records,")
    flip(path / "data" / "records.db", 5000, 1)
    assert "records.db" in drill(bench).text
    assert not (bench.folder / "scratch").exists()


def test_a_drill_reports_what_is_missing_or_too_many(bench: Bench) -> None:
    """A file gone, a file more, a manifest gone."""
    path = back_up(bench).path
    photo = next((path / "data" / "attachments").iterdir())
    content = photo.read_bytes()
    photo.unlink()
    assert photo.name in drill(bench).text
    photo.write_bytes(content)
    (path / "data" / "stranger").write_bytes(b"x")
    assert "stranger" in drill(bench).text
    (path / "data" / "stranger").unlink()
    (path / "manifest.json").unlink()
    assert drill(bench).state == "bad"
    assert list_backups(bench)[0].state == "bad"


def test_a_drill_reports_a_live_store_that_lost_records(bench: Bench, tmp_path: Path) -> None:
    """A backup that ends in what the live store does not have is not taken for good."""
    back_up(bench)
    newer = tmp_path / "newer"
    restore(bench.folder, newer, now=NOW)
    with opened(newer) as other:
        other.store.append(drafts("J-2", 3, start=16))
        made = back_up(other)
        shutil.copytree(made.path, home_of(bench.folder) / "20991231T000000Z")
    done = drill(bench)
    assert done.state == "bad"
    assert "J-2" in done.text


def test_a_backup_that_breaks_off_leaves_nothing_that_looks_like_one(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk is full at the 1st, 2nd, ... sync until a backup goes through."""
    fault = Fault(monkeypatch)
    home = home_of(bench.folder)
    for count in range(1, 60):
        fault.left = count
        try:
            made = back_up(bench)
        except SleevewrightError:
            assert backup_folders(home) == ()
            assert list_backups(bench) == ()
            continue
        finally:
            fault.left = -1
        break
    assert count > 8
    assert [path.name for path in home.iterdir()] == [made.name]
    assert drill(bench).state == "good"


KILLED = """
import os, signal, sys
from pathlib import Path
from sleevewright.services.backups import back_up
from sleevewright.services.bench import opened
from sleevewright.store import backup

left = int(sys.argv[2])
real = backup.write_whole
def write(*words, **named):
    global left
    left -= 1
    if left == 0:
        os.kill(os.getpid(), signal.SIGKILL)
    real(*words, **named)
backup.write_whole = write
with opened(Path(sys.argv[1])) as bench:
    back_up(bench)
"""


@pytest.mark.parametrize("left", [1, 3])
def test_a_killed_backup_is_passed_by_and_swept_away(folder: Path, left: int) -> None:
    """What a kill leaves is neither listed nor restored, and goes with the next backup."""
    words = [sys.executable, "-c", KILLED, str(folder), str(left)]
    assert subprocess.run(words, check=False).returncode != 0
    leavings = list(home_of(folder).iterdir())
    assert len(leavings) == 1
    assert backup_folders(home_of(folder)) == ()
    with pytest.raises(NotFound):
        find_backup(None, folder)
    with opened(folder) as bench:
        made = back_up(bench)
        assert [path.name for path in home_of(folder).iterdir()] == [made.name]


def test_a_second_folder_has_each_backup_too(bench: Bench, tmp_path: Path) -> None:
    """A stick that is there gets a copy; one that is not is told, and the first copy stands."""
    stick = tmp_path / "stick"
    told_to(bench, "backup_folder", str(stick))
    assert "second copy" in back_up(bench).text
    stick.mkdir()
    second = back_up(bench)
    assert second.text == ""
    assert [path.name for path in backup_folders(stick)] == [second.name]
    bench.close()
    shutil.rmtree(bench.folder)
    done, _ = restore(stick, bench.folder, now=NOW)
    assert done.ends.records == 55


def test_backups_share_their_photos_and_outlive_each_other(bench: Bench) -> None:
    """A photo is on the disk once for all backups; letting one go leaves the others whole."""
    first = back_up(bench)
    drill(bench)
    second = back_up(bench)
    photo = next((second.path / "data" / "attachments").iterdir())
    assert photo.stat().st_nlink == 2
    live = next((bench.folder / "attachments").iterdir())
    assert live.stat().st_nlink == 1
    key = second.path / "data" / "keys" / "session"
    assert key.stat().st_nlink == 2
    assert next((second.path / "data" / "journal").iterdir()).stat().st_nlink == 1
    shutil.rmtree(first.path)
    assert drill(bench).state == "good"


def test_a_photo_that_rotted_in_the_folder_comes_back_from_a_backup(
    bench: Bench, tmp_path: Path
) -> None:
    """The backup keeps its own copy, which the live one's decay does not reach."""
    sha256 = keep_attachment(bench.folder, JPEG).sha256
    back_up(bench)
    drill(bench)
    flip(attachment_path(bench.folder, sha256), 100, 3)
    back_up(bench)
    assert drill(bench).state == "good"
    restore(bench.folder, tmp_path / "new", now=NOW)
    assert read_attachment(tmp_path / "new", sha256)[0] == JPEG


def test_rotation_keeps_the_newest_good_backup(
    bench: Bench, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Backups that no drill took do not push out the last that one did."""
    moments = iter([NOW - timedelta(days=800), NOW - timedelta(days=799), NOW])
    moment = next(moments)
    monkeypatch.setattr(bench, "clock", lambda: moment)
    good = back_up(bench)
    assert drill(bench).state == "good"
    moment = next(moments)
    bad = back_up(bench)
    moment = next(moments)
    newest = back_up(bench)
    let_go(bench, home_of(bench.folder))
    names = [path.name for path in backup_folders(home_of(bench.folder))]
    assert names == [good.name, newest.name]
    assert bad.name not in names


def test_a_manifest_says_what_the_backup_holds(bench: Bench) -> None:
    """Versions, ends of the chains, each file with its sum; the lock and the token stay out.

    The seal that says that there is this backup is made once the copy is, and not in it.
    """
    (bench.folder / "command.token").write_text("x", encoding="ascii")
    before = bench.store.verify_all().seals
    made = read_backup(back_up(bench).path)
    ends = made.manifest["ends"]
    assert (ends["jobs"], ends["records"], ends["seals"]) == (2, 55, before)
    assert bench.store.verify_all().seals == before + 2  # one for each job with news
    names = set(made.files)
    assert {"records.db", "keys/session"} < names
    assert not {"writer.lock", "writer.json", "command.token"} & names
    assert not any(name.startswith(("backups", "records.db-")) for name in names)
    assert json.loads((made.path / "manifest.json").read_text("utf-8"))["made"] == made.made
    if os.name != "nt":
        assert (made.data / "keys" / "session").stat().st_mode & 0o077 == 0


def change_version(told: dict[str, Any]) -> None:
    """A later format."""
    told["version"] = 2


def change_ends(told: dict[str, Any]) -> None:
    """Ends that are not those of the database."""
    told["ends"]["records"] += 1


@pytest.mark.parametrize("change", [change_version, change_ends])
def test_a_manifest_that_fits_itself_but_not_the_rest_is_refused(
    bench: Bench, tmp_path: Path, change: Callable[[dict[str, Any]], None]
) -> None:
    """Even with a sum made to fit."""
    from sleevewright.store import backup_manifest

    made = back_up(bench)
    told = dict(read_backup(made.path).manifest)
    told.pop("sum")
    change(told)
    told["sum"] = backup_manifest._sum(told)
    (made.path / "manifest.json").write_bytes(backup_manifest._text(told))
    with pytest.raises(StoreDamaged):
        restore(made.path, tmp_path / "new", now=NOW)
    assert not (tmp_path / "new").exists()
