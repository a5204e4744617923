"""Commands on a data folder: what they say, as JSON too, and that a refusal is one line."""

from __future__ import annotations

import json
import threading
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from typing import Any

import click
import httpx2
import pytest
import uvicorn
from click.testing import CliRunner, Result

from benches import EXAMPLES
from sleevewright.cli.backup import backup
from sleevewright.cli.exchange import export_one, import_one
from sleevewright.cli.job import job
from sleevewright.cli.journal import journal
from sleevewright.cli.learned import learned
from sleevewright.cli.outlines import outlines
from sleevewright.cli.serve import listen
from sleevewright.cli.shell import Shell
from sleevewright.cli.wrap import wrap
from sleevewright.services.bench import Bench, open_bench
from sleevewright.services.calling import HEADER, is_private, remove_token, write_token
from sleevewright.services.commands import COMMANDS
from sleevewright.services.folders import VARIABLE, data_folder
from sleevewright.store.lock import FolderLock
from sleevewright.web.app import create_app
from sleevewright.web.loopback.routes import router

COMMAND = Shell(
    "sleevewright",
    commands={
        "job": job, "backup": backup, "export": export_one, "import": import_one,
        "journal": journal, "learned": learned, "wrap": wrap, "outlines": outlines,
    },
)  # fmt: skip
DEMO = str(EXAMPLES / "demo-air-175.toml")


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A data folder named by the environment, in a place of its own."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv(VARIABLE, str(tmp_path / "bench"))
    return tmp_path / "bench"


def run(*words: str) -> Result:
    """Run a command in this process."""
    return CliRunner().invoke(COMMAND, words)


def said(*words: str, code: int = 0) -> str:
    """What a command prints, once it ends as expected."""
    done = run(*words)
    assert done.exit_code == code, done.output
    return done.stdout


def document(*words: str, code: int = 0) -> Any:
    """The answer of a command as JSON."""
    return json.loads(said(*words, "--json", code=code))


def test_a_day_on_a_folder() -> None:
    """Open, list, show, next: each says the same thing in words and as data."""
    assert said("job", "new", "J-31", "--title", "175 twin", "--cylinders", "2").startswith(
        "Job J-31"
    )
    assert document("job", "new") == {"job": "J-32"}
    rows = document("job", "list")
    assert {(row["number"], row["cylinder"]) for row in rows} == {
        ("J-31", 1),
        ("J-31", 2),
        ("J-32", 1),
    }
    shown = document("job", "show", "J-31", "--cylinder", "2")
    assert (shown["job"], shown["cylinder"], shown["cylinders"], shown["records"]) == (
        "J-31",
        2,
        2,
        1,
    )
    assert len(shown["head"]) == 64
    sentence = document("job", "next", "J-31")["words"]
    assert said("job", "next", "J-31").strip() == sentence
    assert f"next: {sentence}" in said("job", "show", "J-31")
    assert sentence in said("job", "list")
    assert document("job", "list", "--released") == []
    order = said("job", "order", "J-31", "--cylinder", "2")
    assert order.splitlines() == document("job", "order", "J-31", "--cylinder", "2")
    assert order.startswith("Order for J-31, 175 twin")
    assert "length over all: not known; give length over all that is needed" in order


def test_a_job_file_and_an_export_are_taken_in(tmp_path: Path) -> None:
    """Import a job file, export the job, take it in elsewhere, twice."""
    assert document("import", DEMO)["job"] == "D-175"
    assert "D-175.zip" in said("export", "D-175")
    assert (tmp_path / "D-175.zip").is_file()
    out = document("export", "D-175", "again.zip")
    assert Path("again.zip").read_bytes() == Path("D-175.zip").read_bytes()
    other = ("--data", str(tmp_path / "other"))
    taken = document("import", "again.zip", *other)
    assert (taken["new"], taken["head"]) == (out["records"], out["head"])
    assert "none of them new" in said("import", "again.zip", *other)
    assert document("job", "show", "D-175", *other)["head"] == out["head"]


def test_backups_are_made_drilled_and_restored(tmp_path: Path) -> None:
    """The state is bad until a drill restored one; a restored folder holds the same."""
    said("import", DEMO)
    assert not document("backup", "state", code=1)["is_good"]
    made = document("backup", "make")
    assert "drill yet" in said("backup", "state", code=1)
    assert document("backup", "drill")["state"] == "good"
    assert document("backup", "state")["is_good"]
    assert [row["state"] for row in document("backup", "list")] == ["good"]
    assert made["name"] in said("backup", "list")
    new = ("--data", str(tmp_path / "new"))
    assert document("backup", "restore", made["path"], *new)["replayed"] == 0
    assert document("job", "list", *new) == document("job", "list")
    assert "empty folder" in run("backup", "restore").stderr
    done = document("backup", "restore", "--replace")
    assert Path(done["aside"]).is_dir()
    assert [row["name"] for row in document("backup", "list")] == [made["name"]]


def test_a_bad_backup_ends_the_drill_with_one() -> None:
    """Exit code 1 and a sentence that names the file."""
    said("job", "new")
    path = Path(document("backup", "make")["path"]) / "data" / "records.db"
    path.write_bytes(path.read_bytes()[:-1] + b"x")
    assert "records.db" in said("backup", "drill", code=1)


def test_the_journal_is_shown_checked_and_replayed(folder: Path) -> None:
    """A database that is gone is made anew from the journal."""
    said("job", "new", "J-31")
    said("import", DEMO)
    assert document("journal", "check")["good"]
    shown = document("journal", "show", "--job", "J-31")
    assert [line["kind"] for line in shown] == ["job"]
    assert "J-31 1" in said("journal", "show", "--job", "J-31")
    before = document("job", "list")
    for path in folder.glob("records.db*"):
        path.unlink()
    assert "journal" in run("job", "list").stderr
    assert document("journal", "replay")["new"] == 128
    assert document("job", "list") == before
    assert document("journal", "replay")["new"] == 0


def test_a_changed_journal_is_told(folder: Path) -> None:
    """Exit code 1, and where it is."""
    said("import", DEMO)
    path = next((folder / "journal").iterdir())
    path.write_bytes(path.read_bytes().replace(b"invented", b"imvented", 1))
    assert "changed" in said("journal", "check", code=1)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("job", "list"), "job new"),
        (("job", "show", "J-1"), "data folder"),
        (("export", "J-1"), "data folder"),
        (("import", "none.zip"), "none.zip"),
        (("backup", "restore"), "backup"),
        (("backup", "restore", "nowhere"), "nowhere"),
        (("backup", "list"), "data folder"),
        (("backup", "make"), "data folder"),
        (("backup", "drill"), "data folder"),
        (("journal", "replay"), "journal"),
        (("job", "new", "../x"), "number"),
        (("job", "new", "J-1", "--cylinders", "99"), "cylinders"),
        (("job", "nwe"), "did you mean new?"),
        (("backup", "mkae"), "did you mean make?"),
    ],
)
def test_a_refusal_is_one_line_and_two(words: tuple[str, ...], told: str, folder: Path) -> None:
    """No traceback, exit code 2, nothing made that was not asked for."""
    done = run(*words)
    assert done.exit_code == 2, done.output
    assert len(done.stderr.strip().splitlines()) == 1
    assert told in done.stderr
    assert "Traceback" not in done.output
    assert not any(folder.parent.glob("*.zip"))
    assert words[0] != "backup" or not folder.exists()


def test_refusals_about_what_is_there(tmp_path: Path) -> None:
    """Unknown job or cylinder, a taken number, a file in the way, a folder that is none."""
    said("job", "new", "J-31")
    for words, told in (
        (("job", "show", "J-99"), "J-99"),
        (("job", "next", "J-31", "--cylinder", "2"), "cylinder"),
        (("job", "new", "J-31"), "J-31"),
        (("export", "J-99"), "J-99"),
        (("export", "J-31", "no/such/folder.zip"), "no/such"),
        (("import", str(tmp_path)), "directory"),
    ):
        done = run(*words)
        assert (done.exit_code, told in done.stderr) == (2, True), (words, done.output)
        assert len(done.stderr.strip().splitlines()) == 1
    Path("J-31.zip").write_bytes(b"mine")
    assert run("export", "J-31").exit_code == 2
    assert Path("J-31.zip").read_bytes() == b"mine"
    said("export", "J-31", "--replace")
    assert Path("J-31.zip").read_bytes() != b"mine"
    Path("file").write_bytes(b"x")
    assert run("job", "new", "--data", "file").exit_code == 2


def test_a_database_that_is_none_is_told(folder: Path) -> None:
    """Reading and writing both refuse it in a line."""
    said("job", "new", "J-31")
    (folder / "records.db").write_bytes(b"no database at all" * 500)
    for words in (("job", "list"), ("job", "new"), ("backup", "make")):
        done = run(*words)
        assert done.exit_code == 2, done.output
        assert "damaged" in done.stderr
        assert len(done.stderr.strip().splitlines()) == 1


def test_who_writes_in_the_folder_is_named(folder: Path) -> None:
    """Where another process writes and answers nowhere, a writing command says so."""
    said("job", "new", "J-31")
    with closing(FolderLockClosed(folder)):
        done = run("job", "new")
        assert done.exit_code == 2
        assert "process" in done.stderr
        assert document("job", "list")[0]["number"] == "J-31"


class FolderLockClosed(FolderLock):
    """The lock, released at the end of a block."""

    def close(self) -> None:
        """Let the folder go."""
        self.release()


@contextmanager
def served(bench: Bench) -> Iterator[str]:
    """The bench as a server on this machine, until the block ends."""
    app = create_app(bench)
    app.include_router(router)
    listening = listen("127.0.0.1", 0)
    address = f"http://127.0.0.1:{listening.getsockname()[1]}/"
    server = uvicorn.Server(uvicorn.Config(app, log_level="error"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listening]})
    thread.start()
    while not server.started:
        time.sleep(0.01)
    bench.store.announce(address)
    write_token(bench.folder)
    try:
        yield address
    finally:
        remove_token(bench.folder)
        server.should_exit = True
        thread.join()


def test_commands_go_through_the_bench_that_runs(folder: Path, tmp_path: Path) -> None:
    """Every writing command is done by the server; its refusals come back as they are."""
    with closing(open_bench(folder)) as bench, served(bench):
        assert document("job", "new", "J-31")["job"] == "J-31"
        assert bench.store.last("J-31") == 1
        assert document("import", DEMO)["new"] == 127
        assert document("backup", "make")["state"] == "made"
        assert document("backup", "drill")["state"] == "good"
        assert document("journal", "replay")["new"] == 0
        assert document("export", "D-175", str(tmp_path / "out.zip"))["records"] == 127
        done = run("job", "new", "J-31")
        assert done.exit_code == 2
        assert "on the shelf already" in done.stderr
        assert "number" in run("job", "new", "a b").stderr
        assert run("backup", "restore", "--replace").exit_code == 2


def test_only_this_machine_with_the_token_may_command(folder: Path) -> None:
    """Without the token, with a wrong one or from a page, nothing is done."""
    with closing(open_bench(folder)) as bench, served(bench) as address:
        place = f"{address}api/commands/job-new"
        assert is_private(folder)
        token = (folder / "command.token").read_text("ascii")
        for headers in ({}, {HEADER: ""}, {HEADER: "0" * 64}, {HEADER: "ä".encode()}):
            answer = httpx2.post(place, json={"number": "J-31"}, headers=headers)  # type: ignore[arg-type] # bytes are allowed
            assert answer.status_code == 403
        page = httpx2.post(place, json={}, headers={HEADER: token, "Origin": "http://shop.test"})
        assert page.status_code == 403
        assert bench.store.job_numbers() == ()
        unknown = httpx2.post(f"{address}api/commands/shutdown", json={}, headers={HEADER: token})
        assert unknown.status_code == 404
        for told in ({"number": 7}, {"cylinders": "two"}, {"number": "../x"}):
            assert httpx2.post(place, json=told, headers={HEADER: token}).status_code == 422
        assert httpx2.post(place, json=["J"], headers={HEADER: token}).status_code == 422
        done = httpx2.post(place, json={"number": "J-31"}, headers={HEADER: token})
        assert (done.status_code, done.json()) == (200, {"job": "J-31"})


def test_a_token_is_made_anew_at_each_start(tmp_path: Path) -> None:
    """Two starts have two tokens; after the end there is none."""
    first, second = write_token(tmp_path), write_token(tmp_path)
    assert first != second
    assert len(second) == 64
    remove_token(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_the_data_folder_is_the_one_that_was_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The option goes before the environment, the environment before the system's place."""
    assert data_folder(tmp_path / "x") == tmp_path / "x"
    assert data_folder(None) == tmp_path / "bench"
    monkeypatch.setenv(VARIABLE, " ")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "system"))
    assert data_folder(None).name == "sleevewright"
    assert data_folder(Path("here")).is_absolute()


def commands(
    group: click.Group, path: tuple[str, ...]
) -> Iterator[tuple[tuple[str, ...], click.Command]]:
    """Every command of a group with its words."""
    for name, command in sorted(group.commands.items()):
        yield (*path, name), command
        if isinstance(command, click.Group):
            yield from commands(command, (*path, name))


def test_every_command_answers_in_json_and_has_an_example() -> None:
    """Each takes --data and --json, and its help shows its own words."""
    found = list(commands(COMMAND, ()))
    assert len(found) == 26
    for words, command in found:
        shown = said(*words, "--help")
        assert f"sleevewright {' '.join(words)}" in shown
        if not isinstance(command, click.Group):
            options = {option for one in command.params for option in one.opts}
            assert {"--data", "--json", "--url"} <= options, words
    assert set(COMMANDS) == {
        "job-new", "import", "backup-make", "backup-drill", "journal-replay",
        "learned-accept", "learned-revoke", "outlines-keep",
    }  # fmt: skip
