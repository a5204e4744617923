"""The manual as the launcher builds it, once for all tests that read it."""

import subprocess
import sys
import time
from pathlib import Path

import pytest

from blocks import ROOT, Built


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The manual, every page built anew by the tool that the launcher calls."""
    folder = tmp_path_factory.mktemp("built") / "manual"
    began = time.monotonic()
    done = subprocess.run(
        [sys.executable, str(ROOT / "tools" / "build_manual.py"), "--anew", "--into", str(folder)],
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )
    took = time.monotonic() - began
    return Built(folder, done.returncode, done.stdout + done.stderr, took)


@pytest.fixture(scope="session")
def manual(built: Built) -> Path:
    """The folder of the manual, which was built without a warning."""
    assert built.code == 0, built.printed
    return built.folder
