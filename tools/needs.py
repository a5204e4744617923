"""What the checks need from outside Python: a browser, and a reader of PDF pages.

The browser is looked for in a fixed order and installed when there is none; a check that
needs one never skips.  The path found is handed on in ``SHOP_BROWSER``.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

CHANNELS = ("google-chrome", "google-chrome-stable", "chrome", "msedge", "microsoft-edge")
CHROMIUMS = ("chromium", "chromium-browser")
DEBIAN_PACKAGES = ("chromium", "fonts-dejavu-core", "poppler-utils")
WINDOWS_HOMES = ("PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA")
WINDOWS_PLACES = ("Google/Chrome/Application/chrome.exe", "Microsoft/Edge/Application/msedge.exe")
MAC_PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
)


def provide() -> str:
    """Path of a browser that starts, installed where there was none; empty where that failed."""
    if can_install() and not (find_browser() and shutil.which("pdftoppm")):
        install_by_apt()
    return find_browser() or install_by_playwright()


def find_browser() -> str:
    """Path of the first browser that starts: the one named, a channel, Debian's, Playwright's."""
    named = os.environ.get("SHOP_BROWSER")
    if named:
        return named if starts(named) else ""
    return next((path for path in candidates() if starts(path)), "")


def candidates() -> list[str]:
    """Where a browser may be on Linux, macOS and Windows, in the order of preference."""
    found = [shutil.which(name) for name in CHANNELS]
    found += [path for path in MAC_PLACES if Path(path).exists()]
    for home in filter(None, map(os.environ.get, WINDOWS_HOMES)):
        found += [str(Path(home, place)) for place in WINDOWS_PLACES if Path(home, place).exists()]
    found += [shutil.which(name) for name in CHROMIUMS]
    found.append(own_of_playwright())
    return [path for path in found if path]


def own_of_playwright() -> str:
    """Path of the browser that Playwright once fetched, if it did."""
    from playwright.sync_api import sync_playwright  # noqa: PLC0415 - costs a process to ask

    with sync_playwright() as playwright:
        path = playwright.chromium.executable_path
    return path if Path(path).exists() else ""


def starts(path: str) -> bool:
    """Whether the program tells its version; on Windows it would open a window instead."""
    if os.name == "nt":
        return Path(path).exists()
    try:
        asked = subprocess.run([path, "--version"], capture_output=True, timeout=60, check=False)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return asked.returncode == 0


def can_install() -> bool:
    """Whether this is Debian or its like, with the right to install packages."""
    return os.name == "posix" and os.geteuid() == 0 and shutil.which("apt-get") is not None


def install_by_apt() -> None:
    """Debian's browser, one lettering for its pages, and the PDF reader of the sheet checks."""
    print(f"Installing {', '.join(DEBIAN_PACKAGES)} with apt-get.", flush=True)
    quiet = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    orders = (
        ["apt-get", "update", "-q"],
        ["apt-get", "install", "-qy", "--no-install-recommends", *DEBIAN_PACKAGES],
    )
    for order in orders:
        done = subprocess.run(
            order, env=quiet, capture_output=True, text=True, errors="replace", check=False
        )
        if done.returncode:
            print(f"{' '.join(order[:2])} failed: {last_line(done.stderr)}", flush=True)


def install_by_playwright() -> str:
    """Playwright's own browser, where the network hands it out."""
    print("Installing a browser with Playwright.", flush=True)
    done = subprocess.run(
        [sys.executable, "-m", "playwright", "install", "chromium"],
        capture_output=True,
        text=True,
        errors="replace",
        check=False,
    )
    if done.returncode:
        print(f"No browser: {last_line(done.stderr)}", flush=True)
    return find_browser()


def last_line(text: str) -> str:
    """The last line that says something."""
    return next((line for line in reversed(text.splitlines()) if line.strip()), "no reason given")
