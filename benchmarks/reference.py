"""The reference R of all benchmarks: numpy's default generator drawing two million normals.

Ratios to R say the same thing on a quick machine and on a slow one.  Import this before
numpy is imported anywhere else: it asks for one BLAS thread.
"""

from __future__ import annotations

import one_thread  # noqa: F401 - must come before numpy

# isort: split
import time
from collections.abc import Callable, Sequence

import numpy as np

NORMALS = 2_000_000


def best_of(run: Callable[[], object], *, repeats: int = 7) -> float:
    """Least wall-clock seconds of several runs: what the machine can do when left alone."""
    return min(_timed(run) for _ in range(repeats))


def _timed(run: Callable[[], object]) -> float:
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def interleaved(runs: Sequence[Callable[[], object]], *, repeats: int = 7) -> tuple[float, ...]:
    """Least seconds of each of several runs, taken in turns so that all see the same machine."""
    times = [[_timed(run) for run in runs] for _ in range(repeats)]
    return tuple(min(column) for column in zip(*times, strict=True))


def reference_draw() -> object:
    """The work that R measures."""
    return np.random.default_rng(1).standard_normal(NORMALS)


def reference_seconds(*, repeats: int = 7) -> float:
    """R in seconds, about 0.02 on the machine that the goals were set on."""
    return best_of(reference_draw, repeats=repeats)


def table(title: str, rows: Sequence[tuple[str, float, float | None]]) -> str:
    """Rows of name, ratio and goal (``None`` where there is none) as aligned text."""
    lines = [title, f"{'what':<52}{'ratio':>8}{'goal':>8}  met"]
    for name, ratio, goal in rows:
        wanted = "" if goal is None else f"{goal:.1f}"
        met = "" if goal is None else ("yes" if ratio <= goal else "no")
        lines.append(f"{name:<52}{ratio:>8.2f}{wanted:>8}  {met}")
    return "\n".join(lines)
