"""Ten thousand kills, outside of every set of checks: half an hour or more.

Run as ``python tests/long/kills.py [kills]`` from the project's folder; its last line is what
the page of evidence keeps.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

KILLS = 10_000


def main(kills: int) -> int:
    """Kill, and print what it came to."""
    sys.path[:0] = [str(Path(__file__).resolve().parents[1])]
    from kill_bench import JOB, kill_many, nursery
    from sleevewright.services.bench import opened
    from sleevewright.services.jobs import open_job

    with tempfile.TemporaryDirectory() as scratch:
        place = Path(scratch)
        folder = place / "data"
        with opened(folder) as bench:
            open_job(bench, JOB, {"title": "invented", "cylinders": 3, "invented": True})
        with nursery(place / "nursery" / "log.txt") as nurse:
            figures = kill_many(folder, nurse, kills, seed=kills, checked_each=100)
    sys.stdout.write("\n".join([*figures.problems[:20], figures.words(), ""]))
    return 1 if figures.problems else 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else KILLS))
