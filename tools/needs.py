"""What the checks need from outside Python: a browser, a reader of PDF pages, a database.

The browser is looked for in a fixed order and installed when there is none; a check that
needs one never skips.  The path found is handed on in ``SHOP_BROWSER``.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

CHANNELS = ("google-chrome", "google-chrome-stable", "chrome", "msedge", "microsoft-edge")
CHROMIUMS = ("chromium", "chromium-browser")
DEBIAN_PACKAGES = ("chromium", "fonts-dejavu-core", "poppler-utils", "libatomic1", "postgresql")
"""The fourth is what Playwright's driver needs and a bare Debian lacks."""

DATABASE_HOMES = ("usr/lib/postgresql/*/bin/initdb", "opt/homebrew/opt/postgresql*/bin/initdb")
"""Where systems keep a program that they leave off the path, seen from the root."""

OWN_PATH = """
from playwright.sync_api import sync_playwright
with sync_playwright() as playwright:
    print(playwright.chromium.executable_path)
"""
WINDOWS_HOMES = ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")
WINDOWS_PLACES = ("Google/Chrome/Application/chrome.exe", "Microsoft/Edge/Application/msedge.exe")
MAC_PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
)


def provide() -> str:
    """Path of a browser that starts, installed where there was none; empty where that failed."""
    is_whole = find_browser() and shutil.which("pdftoppm") and driver_starts() and find_database()
    if can_install() and not is_whole:
        install_by_apt()
    return find_browser() or install_by_playwright()


def find_browser() -> str:
    """Path of the first browser that starts: the one named, a channel, Debian's, Playwright's."""
    named = os.environ.get("SHOP_BROWSER")
    if named:
        return named if starts(named) else ""
    return next((path for path in candidates() if starts(path)), "")


def candidates() -> Iterator[str]:
    """Where a browser may be on Linux, macOS and Windows, in the order of preference."""
    yield from filter(None, map(shutil.which, CHANNELS))
    yield from (path for path in MAC_PLACES if Path(path).exists())
    for home in filter(None, map(os.environ.get, WINDOWS_HOMES)):
        yield from (str(Path(home, one)) for one in WINDOWS_PLACES if Path(home, one).exists())
    yield from filter(None, map(shutil.which, CHROMIUMS))
    yield from filter(os.path.exists, asked("-c", OWN_PATH).stdout.splitlines())


def find_database() -> str:
    """Path of the program that makes a PostgreSQL cluster; empty where there is none."""
    placed = (path for home in DATABASE_HOMES for path in sorted(Path("/").glob(home)))
    return shutil.which("initdb") or str(next(placed, ""))


def driver_starts() -> bool:
    """Whether Playwright's driver, which steers every browser, runs on this machine."""
    return asked("-m", "playwright", "--version").returncode == 0


def asked(*words: str) -> subprocess.CompletedProcess[str]:
    """What this Python answers; a driver that does not start is an answer too."""
    return subprocess.run(
        [sys.executable, *words], capture_output=True, text=True, errors="replace", check=False
    )


def starts(path: str) -> bool:
    """Whether the program tells its version; on Windows it would open a window instead."""
    if os.name == "nt":
        return Path(path).exists()
    try:
        done = subprocess.run([path, "--version"], capture_output=True, timeout=60, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return done.returncode == 0


def can_install() -> bool:
    """Whether this is Debian or its like, with the right to install packages."""
    return os.name == "posix" and os.geteuid() == 0 and shutil.which("apt-get") is not None


def install_by_apt() -> None:
    """Debian's browser, one lettering for its pages, the PDF reader, and PostgreSQL."""
    print(f"Installing {', '.join(DEBIAN_PACKAGES)} with apt-get.", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    orders = (
        ["apt-get", "update", "-q"],
        ["apt-get", "install", "-qy", "--no-install-recommends", *DEBIAN_PACKAGES],
    )
    keep_no_cluster()
    for order in orders:
        done = subprocess.run(
            order, env=quiet, capture_output=True, text=True, errors="replace", check=False
        )
        if done.returncode:
            print(f"{' '.join(order[:2])} failed: {last_line(done.stderr)}", flush=True)


def keep_no_cluster() -> None:
    """See that Debian's package does not start a server of its own beside the tests'."""
    place = Path("/etc/postgresql-common/createcluster.conf")
    if not place.exists():
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_text("create_main_cluster = false\n", encoding="utf-8")


def install_by_playwright() -> str:
    """Playwright's own browser, where the network hands it out."""
    print("Installing a browser with Playwright.", flush=True)
    done = asked("-m", "playwright", "install", "chromium")
    if done.returncode:
        print(f"No browser: {last_line(done.stderr)}", flush=True)
    return find_browser()


def last_line(text: str) -> str:
    """The last line that says something."""
    return next((line for line in reversed(text.splitlines()) if line.strip()), "no reason given")
