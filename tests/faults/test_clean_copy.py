"""A copy of the project in an empty folder is set up by its first command, and starts again."""

import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import httpx2
import pytest

from project_files import BUILT_REFERENCE, MADE, ROOT

OVERHEAD = 1.0  # seconds that a second start may add to the command
PATIENCE = 240  # seconds for the set-up and the manual

pytestmark = [pytest.mark.slow]


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """What a clone holds, in a folder whose name has a space."""
    target = tmp_path_factory.mktemp("clean") / "a copy"
    leave = shutil.ignore_patterns(*MADE, BUILT_REFERENCE.name, "*.egg-info")
    shutil.copytree(ROOT, target, ignore=leave)
    return target


@pytest.fixture(scope="module")
def bench(copy: Path) -> Iterator[str]:
    """Address printed by the first start without words."""
    said = []
    with subprocess.Popen(
        [sys.executable, "run.py"],
        cwd=copy,
        env={**os.environ, "BROWSER": "true", "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
    ) as process:
        assert process.stdout is not None
        for line in process.stdout:
            said.append(line)
            if "http://" in line:
                yield next(word for word in line.split() if word.startswith("http://"))
                break
        process.terminate()
    assert any("http://" in line for line in said), "".join(said)
    assert not any("not built" in line for line in said), "".join(said)


@pytest.mark.timeout(PATIENCE)
def test_first_command_opens_the_bench(bench: str) -> None:
    """The shelf shows a worked job, and the manual is there under its own address."""
    assert "D-175" in httpx2.get(bench).text
    manual = httpx2.get(f"{bench}manual/", follow_redirects=True)
    assert manual.status_code == 200
    assert "Sleevewright" in manual.text


def test_second_start_adds_well_under_a_second(bench: str, copy: Path) -> None:
    """With the set-up standing, the launcher costs little beside the command itself."""
    assert bench
    python = copy / ".venv" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
    with_launcher = seconds_of([sys.executable, "run.py", "--help"], copy)
    alone = seconds_of([str(python), "-m", "sleevewright", "--help"], copy)
    assert with_launcher - alone < OVERHEAD


def seconds_of(command: list[str], folder: Path) -> float:
    """The quickest of five runs."""
    times = []
    for _ in range(5):
        began = time.perf_counter()
        subprocess.run(command, cwd=folder, capture_output=True, check=True)
        times.append(time.perf_counter() - began)
    return min(times)
