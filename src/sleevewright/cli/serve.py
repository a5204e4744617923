"""``sleevewright serve``: the bench in a browser, on this machine alone by default."""

from __future__ import annotations

import gc
import socket
import sys
from dataclasses import dataclass
from ipaddress import IPv4Address, ip_address
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from sleevewright.cli.output import say
from sleevewright.errors import InputError

if TYPE_CHECKING:
    from sleevewright.services.bench import Bench
    from sleevewright.services.devices import PairingDesk
    from sleevewright.web.app import Serving

LOOPBACK = "127.0.0.1"
WHO_MARK = "writer.lock"
"""A file that every data folder has."""
EVERYWHERE = str(IPv4Address(0))
"""Every address of this machine: only with --lan, where each device is paired."""
FIRST_PORT = 8175
TRIES = 20
LAST_CALLS = 2
"""Seconds that open streams have when the bench is ended."""


@click.command(short_help="Serve the bench in a browser.")
@click.argument("folder", metavar="[FOLDER]", required=False, type=click.Path(path_type=Path))
@click.option("--demo", metavar="FILES", type=click.Path(path_type=Path),
              help="Take in the worked jobs of this folder where the bench is empty.")  # fmt: skip
@click.option("--lan", "is_lan", is_flag=True,
              help="Answer on the shop's network too; devices are paired by a code.")  # fmt: skip
@click.option("--tls", "is_tls", is_flag=True, help="Serve https by a certificate of its own.")
@click.option("--host", default=None, help=f"Address to listen on.  [default: {LOOPBACK}]")
@click.option("--port", default=FIRST_PORT, show_default=True, type=click.IntRange(0, 65535),
              help="Port to listen on; the next free one is taken where it is busy.")  # fmt: skip
@click.option("--url", envvar="SLEEVEWRIGHT_DATABASE", default=None, metavar="URL",
              help="Database, where it is not a file of the folder.")  # fmt: skip
@click.option("--open", "is_opened", is_flag=True, help="Open the page in a browser.")
def serve(folder: Path | None, **options: Any) -> None:
    """Serve the bench on a data FOLDER; without one, on this person's own.

    \b
    Example:
      sleevewright serve --open
    """
    from sleevewright.cli.sharing import share_time
    from sleevewright.services.folders import data_folder

    share_time()
    serve_folder(data_folder(folder), Asked(**options))


@dataclass(frozen=True)
class Asked:
    """What the command was told."""

    demo: Path | None
    is_lan: bool
    is_tls: bool
    host: str | None
    port: int
    url: str | None
    is_opened: bool

    @property
    def listens_on(self) -> str:
        """The address to listen on."""
        return self.host or (EVERYWHERE if self.is_lan else LOOPBACK)


def serve_folder(place: Path, asked: Asked) -> None:
    """Open a data folder and serve it until it is ended."""
    from sleevewright.services.bench import opened
    from sleevewright.services.calling import remove_token, write_token
    from sleevewright.services.demo import seed

    if asked.demo is not None and not asked.demo.is_dir():
        raise InputError("--demo", str(asked.demo), "", "a folder of job files", "Is it there?")
    refuse_job_files(place)
    listening = listen(asked.listens_on, asked.port)
    port = listening.getsockname()[1]
    with opened(place, url=asked.url) as bench:
        if asked.demo is not None:
            seed(bench, asked.demo)
        if asked.port not in (port, 0):
            say(f"Port {asked.port} is taken; the bench is on {port}.")
        address = address_of(listening, is_tls=asked.is_tls)
        write_token(place)
        bench.store.announce(address)
        try:
            run(bench, asked, listening, address)
        finally:
            remove_token(place)


def refuse_job_files(place: Path) -> None:
    """A folder of job files is no data folder; it would be one if it were taken for one."""
    if any(place.glob("*.toml")) and not (place / WHO_MARK).exists():
        allowed = "a data folder, or one that is yet to be made"
        hint = (
            f"This holds job files: take them in with `sleevewright import {place}/NAME.toml`, "
            f"or look at them with `sleevewright serve NEW_FOLDER --demo {place}`."
        )
        raise InputError("FOLDER", str(place), "", allowed, hint)


def run(bench: Bench, asked: Asked, listening: socket.socket, address: str) -> None:
    """Say where the bench is, and answer until it is ended."""
    import uvicorn

    from sleevewright.cli.sharing import leave_out_what_is_loaded
    from sleevewright.services.certificates import tls_files
    from sleevewright.web.app import create_app

    serving = serving_of(bench, asked, listening)
    app = create_app(bench, serving)
    more: dict[str, Any] = {}
    if asked.is_tls:
        certificate, key = tls_files(bench.folder, (LOOPBACK, "localhost", *serving.hosts))
        more = {"ssl_certfile": str(certificate), "ssl_keyfile": str(key)}
    settings = uvicorn.Config(
        app, log_level="warning", access_log=False, timeout_graceful_shutdown=LAST_CALLS, **more
    )
    say(f"The bench is at {address} with the data in {bench.folder}. Ctrl+C ends it.")
    if asked.is_opened:
        open_when_ready(address)
    leave_out_what_is_loaded()
    uvicorn.Server(settings).run(sockets=[listening])


def address_of(listening: socket.socket, *, is_tls: bool) -> str:
    """Where this machine opens the bench: by loopback, unless it listens at one address alone."""
    host, port = listening.getsockname()[:2]
    bound = ip_address(host)
    shown = (LOOPBACK if bound.version == 4 else "::1") if bound.is_unspecified else host
    scheme = "https" if is_tls else "http"
    return f"{scheme}://{f'[{shown}]' if ':' in shown else shown}:{port}/"


def serving_of(bench: Bench, asked: Asked, listening: socket.socket) -> Serving:
    """How the bench is served: whatever others can reach pairs devices, told --lan or not."""
    from sleevewright.services.network import lan_addresses, lan_names
    from sleevewright.web.app import Serving

    host, port = listening.getsockname()[:2]
    bound = ip_address(host)
    own = (asked.host,) if asked.host and not bound.is_unspecified else ()
    if bound.is_loopback:
        return Serving(built_manual(), own, None, copies=True, settled=gc.freeze)
    places = lan_addresses() if bound.is_unspecified else (host,)
    desk = desk_of(bench, places, port, is_tls=asked.is_tls)
    names = tuple(dict.fromkeys((*lan_names(), *own, *places)))
    return Serving(built_manual(), names, desk, copies=True, settled=gc.freeze)


def desk_of(bench: Bench, addresses: tuple[str, ...], port: int, *, is_tls: bool) -> PairingDesk:
    """What pairs devices, with the code and the way to it shown in this window."""
    from sleevewright.services.devices import PairingDesk
    from sleevewright.services.network import pairing_address, pairing_words, qr_lines

    places = tuple(pairing_address(one, port, is_tls=is_tls) for one in addresses)

    def announce(code: str) -> None:
        say(pairing_words(addresses, port, code, is_tls=is_tls))

    desk = PairingDesk(bench, announce=announce, places=places)
    announce(desk.code())
    if places:
        encoding = getattr(sys.stdout, "encoding", None) or "ascii"
        for line in qr_lines(places[0], encoding=encoding):
            say(line)
    return desk


def listen(host: str, port: int) -> socket.socket:
    """A socket on the wanted port, or on the next that is free."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    for candidate in range(port, min(port + TRIES, 65536)) if port else (0,):
        # With the protocol named the event loop sends answers at once, not after the forty
        # milliseconds for which the other side may keep its acknowledgement back.
        bound = socket.socket(family, socket.SOCK_STREAM, socket.IPPROTO_TCP)
        try:
            _share(bound)
            bound.bind((host, candidate))
            bound.listen()
        except socket.gaierror as refused:
            bound.close()
            raise InputError("--host", host, "", "an address of this machine") from refused
        except OSError as refused:
            bound.close()
            reason = refused
        else:
            return bound
    hint = f"Nothing could be opened from there on ({reason.strerror}); name another with --port."
    raise InputError("--port", port, "", f"one of {TRIES} ports of which one is free", hint)


def _share(bound: socket.socket) -> None:
    """Let a port that was just left be taken again; on Windows that would share a busy one."""
    exclusive = getattr(socket, "SO_EXCLUSIVEADDRUSE", None)
    option = socket.SO_REUSEADDR if exclusive is None else exclusive
    bound.setsockopt(socket.SOL_SOCKET, option, 1)


def built_manual() -> Path | None:
    """The manual that was built into the package, or beside the source, if it was."""
    import sleevewright

    package = Path(sleevewright.__file__).resolve().parent
    places = (package / "manual", package.parents[1] / "docs" / "_build" / "html")
    return next((place for place in places if (place / "index.html").is_file()), None)


def open_when_ready(address: str) -> None:
    """Open the page; the socket listens already, so the browser waits rather than fails."""
    import threading
    import webbrowser

    threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()
