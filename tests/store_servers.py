"""A PostgreSQL of the system's packages for the tests of the store, in a folder of its own.

It listens on a socket in that folder only and is gone after the tests.  It is run without
syncing, because no test of it cuts the power.  Its absence fails the tests, never skips them.
"""

import itertools
import os
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import psycopg
import pytest

USER = "bench"
ACCOUNT = "postgres"
"""The account of the system's package; PostgreSQL refuses to be run by root."""
QUIET = (
    "listen_addresses=", "fsync=off", "synchronous_commit=off", "full_page_writes=off",
    "max_connections=200", "shared_buffers=32MB", "autovacuum=off",
)  # fmt: skip
CUT = """SELECT pg_terminate_backend(pid) FROM pg_stat_activity
    WHERE datname = %s AND pid <> pg_backend_pid()"""
NAMES = itertools.count(1)


@dataclass(frozen=True)
class Server:
    """A server that runs, reached by the socket in its folder."""

    folder: Path
    free: list[str] = field(default_factory=list)

    def url(self, database: str) -> str:
        """Address of one of its databases."""
        return f"postgresql:///{database}?host={self.folder}&user={USER}"

    def order(self, words: str, *, database: str = "postgres") -> None:
        """Have something done outside of a transaction."""
        with psycopg.connect(self.url(database), autocommit=True) as connection:
            connection.execute(words.encode())

    @contextmanager
    def empty(self) -> Iterator[str]:
        """Address of an empty database; it is emptied afterwards and used again."""
        name = self.free.pop() if self.free else self._made()
        yield self.url(name)
        self.cut(name)
        self.order("DROP SCHEMA public CASCADE; CREATE SCHEMA public", database=name)
        self.free.append(name)

    def fresh(self) -> str:
        """Address of a database that was just made."""
        return self.url(self._made())

    def _made(self) -> str:
        name = f"store_{next(NAMES)}"
        self.order(f"CREATE DATABASE {name}")
        return name

    def cut(self, name: str) -> None:
        """End every connection to a database."""
        with psycopg.connect(self.url("postgres"), autocommit=True) as connection:
            connection.execute(CUT, (name,))


def find_server() -> str:
    """Folder of the newest PostgreSQL programs of this machine; empty where there are none."""
    found = shutil.which("initdb")
    if found:
        return str(Path(found).resolve().parent)
    homes = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=_version)
    return str(homes[-1].parent) if homes else ""


def _version(path: Path) -> int:
    return int(path.parent.parent.name)


@contextmanager
def running_server() -> Iterator[Server]:
    """A server for the length of a block."""
    programs = find_server()
    assert programs, "no PostgreSQL: install it, or run python3 run.py test"
    folder = Path(tempfile.mkdtemp(prefix="pg"))
    account = ACCOUNT if sys.platform != "win32" and os.geteuid() == 0 else None
    if account:
        shutil.chown(folder, account)
    data = folder / "data"
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "cwd": folder}
    make = [f"{programs}/initdb", "-D", data, "-U", USER, "-A", "trust", "-E", "UTF8", "--no-sync"]
    subprocess.run([*make, "--no-locale"], user=account, check=True, **quiet)
    settings = itertools.chain.from_iterable(("-c", one) for one in QUIET)
    start = [f"{programs}/postgres", "-D", data, "-k", folder, *settings]
    process = subprocess.Popen(start, user=account, **quiet)
    try:
        server = Server(folder)
        _wait_for(server, process)
        yield server
    finally:
        process.send_signal(signal.SIGQUIT)  # at once: nothing of it is kept
        process.wait(30)
        shutil.rmtree(folder, ignore_errors=True)


def _wait_for(server: Server, process: subprocess.Popen[bytes]) -> None:
    until = time.monotonic() + 30
    while True:
        try:
            psycopg.connect(server.url("postgres")).close()
        except psycopg.OperationalError:
            assert process.poll() is None, "PostgreSQL ended as soon as it was started"
            assert time.monotonic() < until, "PostgreSQL does not answer"
            time.sleep(0.02)
        else:
            return


@pytest.fixture(scope="session")
def postgresql() -> Iterator[Server]:
    """A PostgreSQL that runs as long as the tests do."""
    with running_server() as server:
        yield server


@pytest.fixture(params=["sqlite", "postgresql"])
def database_url(request: pytest.FixtureRequest) -> Iterator[str | None]:
    """Address of an empty database: none for the folder's own file, and one of a server."""
    if request.param == "sqlite":
        yield None
        return
    server: Server = request.getfixturevalue("postgresql")
    with server.empty() as url:
        yield url
