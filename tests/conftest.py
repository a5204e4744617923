"""What every test shares: one BLAS thread, repeatable properties, no other machine."""

import ipaddress
import os
import socket
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, settings

from needs import find_browser

for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")  # no test has imported numpy yet

settings.register_profile(
    "steady",
    deadline=None,  # a shared machine is slow at times, which is no failure of a property
    derandomize=True,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("steady")

ROOT = Path(__file__).resolve().parent.parent


def is_this_machine(host: object) -> bool:
    """Whether a host name or number is the loopback of this machine."""
    if host in ("localhost", ""):
        return True
    try:
        return ipaddress.ip_address(str(host)).is_loopback
    except ValueError:
        return False


@pytest.fixture(scope="session", autouse=True)
def data_of_its_own(tmp_path_factory: pytest.TempPathFactory) -> None:
    """No test reads or writes the data of the person who runs it."""
    os.environ["SLEEVEWRIGHT_DATA"] = str(tmp_path_factory.mktemp("own") / "data")


@pytest.fixture(scope="session", autouse=True)
def no_other_machine() -> Iterator[None]:
    """Refuse every connection that would leave this machine."""
    reach = socket.socket.connect

    def connect(self: socket.socket, address: Any) -> None:
        is_internet = self.family in (socket.AF_INET, socket.AF_INET6)
        if is_internet and not is_this_machine(address[0]):
            raise AssertionError(f"a test reached for another machine: {address[0]}")
        reach(self, address)

    patch = pytest.MonkeyPatch()
    patch.setattr(socket.socket, "connect", connect)
    yield
    patch.undo()


@pytest.fixture(scope="session")
def root() -> Path:
    """The project's folder."""
    return ROOT


@pytest.fixture(scope="session")
def browser_path() -> str:
    """Path of the browser for the pages' tests; its absence fails them, never skips them."""
    path = find_browser()
    assert path, "no browser: name one in SHOP_BROWSER, or run python3 run.py test"
    return path
