"""From the hand of the chooser to what is painted: how long a step takes in the browser.

Each step is a key on the range, as a thumb moves it; it ends with the frame after the one in
which the figures changed.  The reference is a frame alone, in the same page: the least that
any page can do.  Needs a browser.
"""

from __future__ import annotations

import socket
import sys
import tempfile
import threading
import time
from pathlib import Path

import numpy as np
import uvicorn
from playwright.sync_api import sync_playwright

ROOT = Path(__file__).parents[1]
sys.path[:0] = [str(ROOT / "tests"), str(ROOT / "tools")]

from benches import app_in, worked_jobs  # noqa: E402 - the tests' bench stands beside the source
from browser.conftest import FLAGS  # noqa: E402 - stands beside the source, too
from needs import find_browser  # noqa: E402 - stands beside the source, too

STEPS = 200
GOAL = 120.0  # ms, 95 in 100 steps
SIZES = ((820, 1180), (390, 844))

STEP = """(count) => new Promise((done) => {
  const range = document.getElementById('fit');
  const figure = document.querySelector('[data-curve="fit.close_up"] [data-figure]');
  const took = [], alone = [];
  const frame = () => new Promise((go) => requestAnimationFrame(() => requestAnimationFrame(go)));
  (async () => {
    let last = figure.textContent, moved = 0;
    for (let at = 0; at < count; at += 1) {
      let begun = performance.now();
      range.value = String((Number(range.value) + 1) % (Number(range.max) + 1));
      range.dispatchEvent(new Event('input', { bubbles: true }));
      await frame();
      took.push(performance.now() - begun);
      moved += figure.textContent !== last;
      last = figure.textContent;
      begun = performance.now();
      await frame();
      alone.push(performance.now() - begun);
    }
    done({ took, alone, moved });
  })();
})"""


def main() -> None:
    """Print what 50 and 95 in 100 steps took, beside two frames alone."""
    with tempfile.TemporaryDirectory() as folder:
        app = app_in(Path(folder) / "data", worked_jobs())
        listening = socket.socket()
        listening.bind(("127.0.0.1", 0))
        server = uvicorn.Server(uvicorn.Config(app, log_level="error"))
        serving = threading.Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
        serving.start()
        while not server.started:
            time.sleep(0.02)
        address = f"http://127.0.0.1:{listening.getsockname()[1]}/jobs/D-175/1/fit/choose"
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=find_browser(), args=list(FLAGS))
            for width, height in SIZES:
                page = browser.new_page(viewport={"width": width, "height": height})
                page.goto(address)
                page.wait_for_selector('[data-curve="drop.seconds"]')
                told = page.evaluate(STEP, STEPS)
                report(f"{width} x {height}", told)
            browser.close()
        server.should_exit = True
        serving.join(timeout=10.0)
        app.state.bench.close()


def report(size: str, told: dict[str, list[float]]) -> None:
    """Print one row."""
    if told["moved"] < STEPS // 2:  # type: ignore[operator] # a count beside the two lists
        message = f"the figures moved only {told['moved']} times in {STEPS} steps"
        raise RuntimeError(message)
    took, alone = np.array(told["took"]), np.array(told["alone"])
    print(
        f"{size}: P50 {np.median(took):.0f} ms, P95 {np.quantile(took, 0.95):.0f} ms "
        f"(goal {GOAL:.0f}), {np.median(took) / np.median(alone):.2f} times two frames alone"
    )


if __name__ == "__main__":
    main()
