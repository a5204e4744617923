"""The shelf: jobs by number, numbers that two files share, files read no more than needed."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from sleevewright.errors import InputError, NotFound, SleevewrightError
from sleevewright.jobs.jobfile import read_job
from sleevewright.services import jobfiles
from sleevewright.services.jobfiles import JobFiles
from sleevewright.services.shelf import find_job, shelf
from sleevewright.web.app import create_app

HERE = "http://127.0.0.1:8000"


def put(folder: Path, file: str, number: str = "", title: str = "a job") -> Path:
    """A job file that tells a number and a title."""
    path = folder / file
    told = f'number = "{number}"\n' if number else ""
    path.write_text(f'[job]\n{told}title = "{title}"\n', encoding="utf-8")
    return path


def test_two_files_with_one_number_are_both_marked(tmp_path: Path) -> None:
    """Neither is opened for the other: both rows and the refusal name both files."""
    for file, number in (("a.toml", "D-175"), ("b.toml", "D-175"), ("c.toml", "D-176")):
        put(tmp_path, file, number)
    told = "two files call themselves D-175: a.toml and b.toml; give one another number"
    rows = shelf(tmp_path)
    assert [row.problem for row in rows] == [told, told, ""]
    assert [row.file for row in rows] == ["a.toml", "b.toml", "c.toml"]
    with pytest.raises(SleevewrightError) as caught:
        find_job(tmp_path, "D-175")
    assert str(caught.value) == f"{told}."
    assert find_job(tmp_path, "D-176") == tmp_path / "c.toml"


def test_a_name_of_a_file_can_be_the_number_of_another(tmp_path: Path) -> None:
    """A file without a number goes by its name, and shares it with one that tells it."""
    put(tmp_path, "a.toml", "b")
    put(tmp_path, "b.toml")
    put(tmp_path, "c.toml", "b")
    problems = {row.problem for row in shelf(tmp_path)}
    files = "a.toml, b.toml and c.toml"
    assert problems == {f"three files call themselves b: {files}; give each its own number"}


def test_a_job_goes_before_a_broken_file_of_that_name(tmp_path: Path) -> None:
    """A file that cannot be read keeps no job from being found."""
    (tmp_path / "D-1.toml").write_text("[", encoding="utf-8")
    good = put(tmp_path, "good.toml", "D-1")
    assert find_job(tmp_path, "D-1") == good
    good.unlink()
    assert find_job(tmp_path, "D-1") == tmp_path / "D-1.toml"
    with pytest.raises(NotFound) as caught:
        find_job(tmp_path, "D-2")
    assert caught.value.known == ("D-1",)


def test_the_bench_refuses_a_shared_number_on_every_page(tmp_path: Path) -> None:
    """Page, document and ticket say which files share it; the shelf shows both and no link."""
    put(tmp_path, "a.toml", "D-175")
    put(tmp_path, "b.toml", "D-175")
    with TestClient(create_app(tmp_path), base_url=HERE) as client:
        for rest in ("", "/plan.json", "/ticket.pdf"):
            answer = client.get(f"/jobs/D-175{rest}")
            assert answer.status_code == 422
            assert "a.toml and b.toml" in answer.text
        text = client.get("/").text
    assert text.count("two files call themselves D-175") == 2
    assert 'href="/jobs/' not in text


STEMS = ["5\N{EN DASH}6", "a b", "50%", "what?", "x#1", 'say "no"', "a\nb", "..b", "ü;x=1"]


@pytest.mark.skipif(os.name == "nt", reason="Windows allows few of these names")
@pytest.mark.parametrize("stem", STEMS)
def test_any_name_of_a_file_leads_to_its_job(tmp_path: Path, stem: str) -> None:
    """Every link of the shelf and of the plan page opens, the ticket's header among them."""
    put(tmp_path, f"{stem}.toml", title="the one")
    with TestClient(create_app(tmp_path), base_url=HERE) as client:
        link = client.get("/").text.partition('class="job" href="')[2].partition('"')[0]
        page = client.get(link)
        assert page.status_code == 200
        assert "the one" in page.text
        assert f'href="{link}/ticket.pdf"' in page.text
        ticket = client.get(f"{link}/ticket.pdf")
    assert ticket.status_code == 200
    told = ticket.headers["content-disposition"]
    assert told.startswith('inline; filename="ticket-')
    assert "filename*=UTF-8''ticket-" in told or stem == "..b"


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such names")
@pytest.mark.parametrize("name", [b"caf\xe9.toml", b"..toml", b"...toml"])
def test_a_name_that_no_address_holds_is_shown(tmp_path: Path, name: bytes) -> None:
    """Such a file is told of with the cure; a number of its own makes it a job."""
    path = put(tmp_path, os.fsdecode(name))
    with TestClient(create_app(tmp_path), base_url=HERE) as client:
        text = client.get("/").text
        assert "Rename the file, or give the job a number." in text
        assert 'href="/jobs/' not in text
        put(tmp_path, path.name, "J-9")
        assert 'href="/jobs/J-9"' in client.get("/").text


def test_a_file_is_read_once_until_it_changes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Looking again reads nothing; a file that was changed is read anew, a broken one too."""
    read: list[str] = []

    def counted(text: str, *, name: str) -> object:
        read.append(name)
        return read_job(text, name=name)

    monkeypatch.setattr(jobfiles, "read_job", counted)
    paths = [put(tmp_path, f"{k}.toml", f"J-{k}") for k in range(3)]
    (tmp_path / "x.toml").write_text("[", encoding="utf-8")
    for _ in range(3):
        assert find_job(tmp_path, "J-1") == paths[1]
    assert sorted(read) == ["0.toml", "1.toml", "2.toml", "x.toml"]
    put(tmp_path, "1.toml", "J-11")
    assert find_job(tmp_path, "J-11") == paths[1]
    assert read[4:] == ["1.toml"]


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
