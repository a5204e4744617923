"""How often intervals hold, over 10,000 jobs of each kind of simulated shop.

Run as ``python tests/long/coverage.py [jobs]`` from the folder of the project.  It prints
coverage, bias in standard errors, and the stated beside the found doubt, for the sleeve, the
bore and their fit, and how often form stays below its upper bound.  It takes a quarter of an
hour on one core with 10,000 jobs.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from simulated_shops import HARD_SHOPS, USUAL_SHOPS, form_coverage, size_coverage


def say(line: str) -> None:
    """Print a line as soon as it is known."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def main(jobs: int) -> None:
    """Print the coverage of every shop."""
    for name, pair in (USUAL_SHOPS | HARD_SHOPS).items():
        say(f"{name}, {jobs} jobs")
        for what, found in size_coverage(pair, jobs, seed=101).items():
            say(f"  {what:8}{found}")
        for kind, share in form_coverage(pair, max(jobs // 4, 1), seed=102).items():
            say(f"  {kind.value}, upper bound: {100.0 * share:.2f} %")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10_000)
