"""``sleevewright serve``: an address that answers, and the next port where one is taken."""

from __future__ import annotations

import re
import socket
import subprocess
import sys
import webbrowser
from pathlib import Path
from threading import Event

import httpx2
import pytest

from sleevewright.cli.serve import LOOPBACK, listen, open_when_ready
from sleevewright.errors import InputError

EXAMPLES = Path(__file__).parents[2] / "examples"
ADDRESS = re.compile(r"http://127\.0\.0\.1:\d+/")


def test_the_bench_answers_at_the_address_that_is_printed(tmp_path: Path) -> None:
    """Started on a free port of this machine, the shelf is there; no other name is printed."""
    command = [sys.executable, "-u", "-m", "sleevewright", "serve"]
    command += [str(tmp_path / "data"), "--demo", str(EXAMPLES), "--port", "0"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as process:
        try:
            assert process.stdout is not None
            said = process.stdout.readline()
            address = ADDRESS.search(said)
            assert address is not None, said
            page = httpx2.get(address.group(), timeout=20.0, follow_redirects=True)
        finally:
            process.terminate()
    assert page.status_code == 200
    assert "D-175" in page.text


def test_a_taken_port_gives_the_next() -> None:
    """Where another program listens, the bench listens one further on."""
    first = listen(LOOPBACK, 0)
    port = first.getsockname()[1]
    second = listen(LOOPBACK, port)
    try:
        assert port < second.getsockname()[1] < port + 20
        assert second.getsockname()[0] == LOOPBACK
    finally:
        first.close()
        second.close()


def test_no_port_at_all_is_refused_with_the_cure(monkeypatch: pytest.MonkeyPatch) -> None:
    """When none of the ports can be had, the option that names another is told."""

    def refuse(_: socket.socket, __: object) -> None:
        raise PermissionError(13, "not permitted")

    monkeypatch.setattr(socket.socket, "bind", refuse)
    with pytest.raises(InputError) as caught:
        listen(LOOPBACK, 80)
    assert "--port" in str(caught.value)
    assert "not permitted" in str(caught.value)


def test_an_unknown_host_is_refused() -> None:
    """A name that is no address of this machine is told, without a traceback."""
    with pytest.raises(InputError) as caught:
        listen("no such host", 8175)
    assert "--host: no such host" in str(caught.value)


def test_the_page_is_opened_beside_the_server(monkeypatch: pytest.MonkeyPatch) -> None:
    """The browser is asked for the address without holding the server up."""
    opened: list[str] = []
    done = Event()

    def note(address: str) -> bool:
        opened.append(address)
        done.set()
        return True

    monkeypatch.setattr(webbrowser, "open", note)
    open_when_ready("http://127.0.0.1:8175/")
    assert done.wait(5.0)
    assert opened == ["http://127.0.0.1:8175/"]
