"""One process writes in a folder: the lock of the operating system, and who holds it."""

import json
import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from sleevewright.store.errors import StoreLocked
from sleevewright.store.lock import LOCK, WHO, find_writer
from sleevewright.store.store import open_store
from store_examples import JOB, opening

HOLDS = """
import sys, pathlib
from sleevewright.store.store import open_store
store = open_store(pathlib.Path(sys.argv[1]))
store.announce("loopback:4711")
print("open", flush=True)
sys.stdin.readline()
store.close()
"""
LOOKS = """
import sys, pathlib
from sleevewright.store.lock import find_writer
print("looks", flush=True)
while True:
    find_writer(pathlib.Path(sys.argv[1]))
"""


@contextmanager
def holder(folder: Path) -> Iterator[subprocess.Popen[str]]:
    """Another process that writes in the folder."""
    process = subprocess.Popen(
        [sys.executable, "-c", HOLDS, str(folder)],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
    )  # fmt: skip
    try:
        assert process.stdout is not None
        assert process.stdout.readline() == "open\n"
        yield process
    finally:
        process.kill()
        process.communicate()


def test_second_process_is_told_who_writes(tmp_path: Path) -> None:
    """It is refused with the number and address of the first, and may open after it."""
    with holder(tmp_path) as process:
        with pytest.raises(StoreLocked, match=f"process {process.pid}.*loopback:4711") as refused:
            open_store(tmp_path)
        assert (refused.value.pid, refused.value.address) == (process.pid, "loopback:4711")
        found = find_writer(tmp_path)
        assert found is not None
        assert (found.pid, found.address) == (process.pid, "loopback:4711")
        process.communicate("\n", timeout=20)
        assert process.returncode == 0
    assert find_writer(tmp_path) is None
    store = open_store(tmp_path)
    assert store.append([opening()])[0].number == 1
    store.close()


def test_killed_process_leaves_no_lock(tmp_path: Path) -> None:
    """The text that it leaves behind names nobody, and the next opens at once."""
    with holder(tmp_path) as process:
        os.kill(process.pid, signal.SIGKILL)
        process.wait(20)
        assert (tmp_path / WHO).exists()
        assert find_writer(tmp_path) is None
        store = open_store(tmp_path)
        store.append([opening()])
        assert store.last(JOB) == 1
        found = find_writer(tmp_path)
        assert found is not None
        assert (found.pid, found.address) == (os.getpid(), "")
        store.close()


def test_text_without_a_lock_names_no_writer(tmp_path: Path) -> None:
    """A stale or garbled text is nothing; a folder that was never used has no writer."""
    assert find_writer(tmp_path) is None
    (tmp_path / WHO).write_text(json.dumps({"pid": 1, "address": "x"}), encoding="utf-8")
    assert find_writer(tmp_path) is None
    (tmp_path / LOCK).touch()
    assert find_writer(tmp_path) is None
    store = open_store(tmp_path)
    (tmp_path / WHO).write_text("{", encoding="utf-8")
    found = find_writer(tmp_path)
    assert found is not None
    assert found.pid == 0
    with pytest.raises(StoreLocked, match="another process"):
        open_store(tmp_path)
    store.close()


def test_looking_for_the_writer_does_not_hinder_a_start(tmp_path: Path) -> None:
    """Looks at the lock beside a start: the start wins within its patience."""
    (tmp_path / LOCK).touch()
    looks = subprocess.Popen(
        [sys.executable, "-c", LOOKS, str(tmp_path)], stdout=subprocess.PIPE, text=True
    )
    try:
        assert looks.stdout is not None
        looks.stdout.readline()
        for _ in range(10):
            store = open_store(tmp_path)
            assert store.stopped == ""
            store.close()
    finally:
        looks.kill()
        looks.communicate()


def test_one_postgresql_has_one_writer(tmp_path: Path, database_url: str | None) -> None:
    """Two folders cannot write by one database; a folder's own file is locked with it."""
    store = open_store(tmp_path / "one", url=database_url)
    if database_url is None:
        other = open_store(tmp_path / "two")
        assert other.identity != store.identity
        other.close()
    else:
        with pytest.raises(StoreLocked):
            open_store(tmp_path / "two", url=database_url)
    store.close()
    again = open_store(tmp_path / "one", url=database_url)
    assert again.identity == store.identity
    again.close()
