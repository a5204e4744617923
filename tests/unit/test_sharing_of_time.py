"""How a serving process shares its time: set before the number library is loaded."""

import subprocess
import sys
from pathlib import Path

import pytest

TOLD = """
import gc, os, sys
import sleevewright.cli.serve as serve
def seen(*told):
    is_short = sys.getswitchinterval() <= 0.001
    print("numpy" in sys.modules, is_short, os.environ["OPENBLAS_NUM_THREADS"])
serve.serve_folder = seen
serve.serve([sys.argv[1]], standalone_mode=False)
from sleevewright.cli.sharing import leave_out_what_is_loaded
before = len(gc.get_objects())
leave_out_what_is_loaded()
print(gc.get_freeze_count() > before // 2, len(gc.get_objects()) < before // 2)
"""


@pytest.mark.parametrize(("told", "threads"), [({}, "1"), ({"OPENBLAS_NUM_THREADS": "2"}, "2")])
def test_turns_and_threads_are_set_before_numbers_are_loaded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, told: dict[str, str], threads: str
) -> None:
    """Short turns, one thread unless the person said otherwise, and code left uncollected."""
    monkeypatch.delenv("OPENBLAS_NUM_THREADS", raising=False)
    for name, count in told.items():
        monkeypatch.setenv(name, count)
    command = [sys.executable, "-c", TOLD, str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["False", "True", threads, "True", "True"]
