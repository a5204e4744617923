"""Job files as they lie on disk: each read once, and refused by its name."""

from __future__ import annotations

from pathlib import Path

import pytest

from sleevewright.errors import InputError, NotFound
from sleevewright.jobs.jobfile import read_job
from sleevewright.services import jobfiles
from sleevewright.services.jobfiles import JobFiles


def put(folder: Path, file: str, number: str = "", title: str = "a job") -> Path:
    """A job file that tells a number and a title."""
    path = folder / file
    told = f'number = "{number}"\n' if number else ""
    path.write_text(f'[job]\n{told}title = "{title}"\n', encoding="utf-8")
    return path


def test_a_file_is_read_once_until_it_changes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Looking again reads nothing; a file that was changed is read anew."""
    read: list[str] = []

    def counted(text: str, *, name: str) -> object:
        read.append(name)
        return read_job(text, name=name)

    monkeypatch.setattr(jobfiles, "read_job", counted)
    path = put(tmp_path, "1.toml", "J-1")
    for _ in range(3):
        assert jobfiles.load_job(path).number == "J-1"
    assert read == ["1.toml"]
    put(tmp_path, "1.toml", "J-11")
    assert jobfiles.load_job(path).number == "J-11"
    assert read == ["1.toml", "1.toml"]


def test_what_is_kept_of_files_is_bounded(tmp_path: Path) -> None:
    """The file that was asked for longest ago goes first, and is read again."""
    paths = [put(tmp_path, f"{k}.toml", f"J-{k}") for k in range(3)]
    files = JobFiles(kept=2)
    first = files.load(paths[0])
    assert files.load(paths[0]) is first
    for path in paths:
        files.load(path)
    assert files.load(paths[0]) is not first


def test_a_file_that_is_no_job_is_refused_by_its_name(tmp_path: Path) -> None:
    """Too large, not text, not there: each is said."""
    large, wrong = tmp_path / "large.toml", tmp_path / "wrong.toml"
    large.write_bytes(b"#" * (jobfiles.LARGEST_JOB_FILE + 1))
    wrong.write_bytes(b"\xff\xfe\x00")
    for path, told in ((large, "at most 2000000 bytes"), (wrong, "a text file in UTF-8")):
        with pytest.raises(InputError, match=told):
            jobfiles.load_job(path)
    with pytest.raises(NotFound):
        jobfiles.load_job(tmp_path / "none.toml")
