"""Every code block of the manual and of the readme runs, and shows what it says it shows."""

import json
import shlex
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from click.testing import CliRunner

from blocks import ROOT, Block, all_blocks, blocks_of, commands_of, pages
from sleevewright.cli.main import main
from sleevewright.jobs.jobfile import read_job

LANGUAGES = {"python", "console", "toml", "json", "text"}
SET_UP = {
    "python3 run.py": "the launcher's own tests start it",
    "python3 run.py test": "this very run",
    "python3 run.py test slow": "the slow set",
}
"""Commands that start the bench or the checks themselves: they are run elsewhere."""

PYTHON = all_blocks("python")
CONSOLE = all_blocks("console")
TOML = all_blocks("toml")


def name_of(block: Block) -> str:
    """Page and line."""
    return block.name


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder as the project's own, with the worked jobs in it, to run commands in."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_every_block_is_written_in_a_language_that_is_run() -> None:
    """A block is a directive of the manual or in a language that these tests run."""
    for page in pages():
        for block in blocks_of(page):
            assert block.language in LANGUAGES or block.language.startswith("{"), block.name


def test_there_is_something_to_run() -> None:
    """The manual shows code, commands and job files."""
    assert len(PYTHON) >= 6
    assert len(CONSOLE) >= 8
    assert TOML


@pytest.mark.parametrize("block", PYTHON, ids=name_of)
def test_python_block_runs(block: Block, bench: Path) -> None:
    """A block of Python runs by itself, in an interpreter of its own, assertions included."""
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", block.text],
        cwd=bench,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    assert done.returncode == 0, f"{block.name}\n{done.stderr}"


@pytest.mark.parametrize("block", CONSOLE, ids=name_of)
def test_console_block_shows_what_the_command_prints(block: Block, bench: Path) -> None:
    """Each line shown below a command is printed by it, in that order."""
    assert bench.is_dir()
    commands = commands_of(block)
    assert commands, f"{block.name}: no line starts with a prompt"
    for command in commands:
        if command.typed in SET_UP:
            continue
        words = shlex.split(command.typed)
        if words[:2] == ["python3", "run.py"]:
            words = ["sleevewright", *words[2:]]
        assert words[0] == "sleevewright", command.typed
        done = CliRunner().invoke(main, words[1:], catch_exceptions=False)
        assert done.exit_code in (0, 1, 2), done.output
        assert "Traceback" not in done.output
        printed = iter([line.rstrip() for line in done.output.splitlines()])
        for line in command.shown:
            if line in ("...", ""):
                continue
            found = any(line == other for other in printed)
            assert found, f"{block.name}: not printed: {line!r}\n{done.output}"


@pytest.mark.parametrize("block", TOML, ids=name_of)
def test_job_file_block_can_be_read(block: Block) -> None:
    """A block of a job file is TOML, and one with a number is a job that is taken."""
    document = tomllib.loads(block.text)
    if "job" in document:
        job = read_job(block.text, name=block.name)
        assert job.number == document["job"].get("number", "")


def test_json_blocks_are_json() -> None:
    """Every block of JSON can be read."""
    for block in all_blocks("json"):
        assert json.loads(block.text), block.name
