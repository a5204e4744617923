"""A database file that is not whole: seen at the start, left as it is, with what to do."""

import random
from pathlib import Path

import pytest

from sleevewright.store.database import DATABASE
from sleevewright.store.errors import StoreDamaged
from sleevewright.store.store import open_reader, open_store
from store_examples import opening, value


def filled(folder: Path) -> Path:
    """A closed store of some pages; its file."""
    store = open_store(folder)
    store.append([opening(), *(value("x" * 200, cell=f"c{n}") for n in range(300))])
    store.close()
    return folder / DATABASE


def assert_refused(folder: Path, content: bytes) -> None:
    """The start says damaged and to restore; the file is byte for byte what it was."""
    with pytest.raises(StoreDamaged, match=r"left as they are\. Restore the last backup"):
        open_store(folder)
    assert (folder / DATABASE).read_bytes() == content


def test_file_that_is_no_database_is_refused(tmp_path: Path) -> None:
    """Something else under that name is not overwritten."""
    (tmp_path / DATABASE).write_bytes(b"a shopping list, and more of it " * 40)
    assert_refused(tmp_path, (tmp_path / DATABASE).read_bytes())


def test_zeroed_pages_are_seen_at_the_start(tmp_path: Path) -> None:
    """Any page in the middle that was lost is noticed before the store is used."""
    path = filled(tmp_path)
    whole = path.read_bytes()
    for page in random.Random(3).sample(range(1, len(whole) // 4096), 12):  # noqa: S311 - a sample
        content = whole[: page * 4096] + bytes(4096) + whole[(page + 1) * 4096 :]
        path.write_bytes(content)
        assert_refused(tmp_path, content)
    path.write_bytes(whole)
    store = open_store(tmp_path)
    assert store.verify_all().is_good
    store.close()


def test_shortened_file_is_seen_at_the_start(tmp_path: Path) -> None:
    """A file of which the end is missing is refused."""
    path = filled(tmp_path)
    content = path.read_bytes()[: 4096 * 9]
    path.write_bytes(content)
    assert_refused(tmp_path, content)


def test_garbled_beginning_is_refused_by_readers_too(tmp_path: Path) -> None:
    """A command that only reads says the same."""
    path = filled(tmp_path)
    content = b"\xff" * 200 + path.read_bytes()[200:]
    path.write_bytes(content)
    assert_refused(tmp_path, content)
    with pytest.raises(StoreDamaged, match="Restore"):
        open_reader(tmp_path)


def test_folder_can_be_opened_after_a_refusal(tmp_path: Path) -> None:
    """A refused start lets the lock go, so that a restored file opens in the same process."""
    path = filled(tmp_path)
    whole = path.read_bytes()
    path.write_bytes(b"\xff" * 4096)
    with pytest.raises(StoreDamaged):
        open_store(tmp_path)
    path.write_bytes(whole)
    store = open_store(tmp_path)
    assert store.last("N-1") == 301
    store.close()
