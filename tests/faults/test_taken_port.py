"""A bench whose port is taken opens on the next one and says so."""

import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import httpx2
import pytest


@pytest.fixture
def taken() -> Iterator[int]:
    """A port on which something else listens."""
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        yield other.getsockname()[1]


def test_next_port_is_offered(taken: int, root: Path, tmp_path: Path) -> None:
    """One line names the port that is taken and the one that the bench answers on."""
    command = [sys.executable, "-u", "-m", "sleevewright", "serve", str(tmp_path / "data")]
    with subprocess.Popen(
        [*command, "--port", str(taken)],
        cwd=root,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        encoding="utf-8",
    ) as process:
        assert process.stdout is not None
        first, second = process.stdout.readline(), process.stdout.readline()
        try:
            assert f"Port {taken} is taken" in first
            address = next(word for word in second.split() if word.startswith("http"))
            assert str(taken) not in address
            assert httpx2.get(address, follow_redirects=True).status_code == 200
        finally:
            process.terminate()
