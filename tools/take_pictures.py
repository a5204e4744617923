"""Take the pictures of the documents from the real pages.

It serves the worked jobs, opens the demonstration's plan in the browser of the tests and
writes ``docs/pictures/plan.png``.  Run it when the page has changed, and look at the result.
"""

from __future__ import annotations

import socket
import sys
import tempfile
import threading
import time
from pathlib import Path

import uvicorn
from playwright.sync_api import sync_playwright

from needs import find_browser
from sleevewright.services.bench import open_bench
from sleevewright.services.demo import seed
from sleevewright.web.app import create_app

ROOT = Path(__file__).resolve().parents[1]
PICTURES = ROOT / "docs" / "pictures"
JOB = "/jobs/D-175/plan"
SIZE = {"width": 1280, "height": 800}
LARGEST = 300_000


def serve() -> tuple[uvicorn.Server, str]:
    """A bench on the worked jobs, in a thread, on a free port of this machine."""
    listening = socket.socket()
    listening.bind(("127.0.0.1", 0))
    bench = open_bench(Path(tempfile.mkdtemp()))
    seed(bench, ROOT / "examples")
    app = create_app(bench)
    server = uvicorn.Server(uvicorn.Config(app, log_level="error"))
    threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True).start()
    while not server.started:
        time.sleep(0.05)
    return server, f"http://127.0.0.1:{listening.getsockname()[1]}"


def take(address: str, target: Path) -> None:
    """One picture of the plan page, as a wide screen shows it by day."""
    browser_path = find_browser()
    if not browser_path:
        sys.exit("no browser: name one in SHOP_BROWSER")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=browser_path, args=["--no-sandbox", "--disable-gpu"]
        )
        page = browser.new_page(viewport=SIZE, color_scheme="light")
        page.goto(f"{address}{JOB}")
        page.evaluate("document.fonts.ready")
        page.screenshot(path=target)
        browser.close()


def main() -> None:
    """Take every picture."""
    PICTURES.mkdir(parents=True, exist_ok=True)
    server, address = serve()
    target = PICTURES / "plan.png"
    take(address, target)
    server.should_exit = True
    size = target.stat().st_size
    print(f"{target.name}: {size} bytes")
    if size > LARGEST:
        sys.exit(f"{target.name} is larger than {LARGEST} bytes")


if __name__ == "__main__":
    main()
