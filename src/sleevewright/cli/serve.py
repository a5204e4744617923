"""``sleevewright serve``: the bench in a browser, on this machine alone by default."""

from __future__ import annotations

import socket
from pathlib import Path

import click

from sleevewright.cli.output import say
from sleevewright.errors import InputError

LOOPBACK = "127.0.0.1"
FIRST_PORT = 8175
TRIES = 20


@click.command(short_help="Serve the bench in a browser.")
@click.argument("folder", metavar="[FOLDER]", default=".", type=click.Path(path_type=Path))
@click.option("--host", default=LOOPBACK, show_default=True, help="Address to listen on.")
@click.option("--port", default=FIRST_PORT, show_default=True, type=click.IntRange(0, 65535),
              help="Port to listen on; the next free one is taken where it is busy.")  # fmt: skip
@click.option("--open", "is_opened", is_flag=True, help="Open the page in a browser.")
def serve(folder: Path, host: str, port: int, is_opened: bool) -> None:
    """Serve the bench on a FOLDER of job files.

    \b
    Example:
      sleevewright serve examples --open
    """
    _refuse_no_folder(folder)
    import uvicorn

    from sleevewright.web.app import create_app

    listening = listen(host, port)
    taken = listening.getsockname()[1]
    if taken != port and port:
        say(f"Port {port} is taken; the bench is on {taken}.")
    address = f"http://{f'[{host}]' if ':' in host else host}:{taken}/"
    say(f"The bench is at {address} with the jobs of {folder}. Ctrl+C ends it.")
    app = create_app(folder.resolve(), manual=built_manual(), hosts=(host,))
    server = uvicorn.Server(uvicorn.Config(app, log_level="warning"))
    if is_opened:
        open_when_ready(address)
    server.run(sockets=[listening])


def _refuse_no_folder(folder: Path) -> None:
    """The folder must be there."""
    if not folder.is_dir():
        raise InputError("FOLDER", str(folder), "", "a folder of job files", "Is it there?")


def listen(host: str, port: int) -> socket.socket:
    """A socket on the wanted port, or on the next that is free."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    for candidate in range(port, min(port + TRIES, 65536)) if port else (0,):
        bound = socket.socket(family, socket.SOCK_STREAM)
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
