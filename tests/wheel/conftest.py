"""The installed wheel, made once for all its tests, and a bench opened from it."""

import socket
import subprocess
from collections.abc import Iterator
from pathlib import Path

import httpx2
import pytest

from project_files import ROOT
from wheel_environment import Installed, build_and_install, clean_environment

PATIENCE = 200  # tries, a tenth of a second apart
WAIT = 0.1


@pytest.fixture(scope="session")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Installed:
    """The wheel of this tree in an environment of runtime packages alone."""
    return build_and_install(tmp_path_factory.mktemp("wheel"))


@pytest.fixture
def bench(installed: Installed, tmp_path: Path) -> Iterator[str]:
    """Address of a bench that the installed command has opened on a free port."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    process = subprocess.Popen(
        [
            *(installed.command, "serve", tmp_path / "data"),
            *("--demo", ROOT / "examples", "--port", str(port)),
        ],
        cwd=tmp_path,
        env=clean_environment(),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        encoding="utf-8",
    )
    address = f"http://127.0.0.1:{port}"
    try:
        wait_for(address, process)
        yield address
    finally:
        process.terminate()
        process.communicate(timeout=PATIENCE * WAIT)


def wait_for(address: str, process: subprocess.Popen[str]) -> None:
    """Return when the bench answers; fail with its own words when it has left."""
    for _ in range(PATIENCE):
        try:
            httpx2.get(address, timeout=PATIENCE * WAIT)
        except httpx2.TransportError:
            try:
                _, said = process.communicate(timeout=WAIT)
            except subprocess.TimeoutExpired:
                continue
            pytest.fail(f"the bench left with {process.returncode}: {said}")
        else:
            return
    pytest.fail("the bench does not answer")
