"""Trials of the forecast on simulated ovens, 1,000 heats a row, as a printed table.

Run from the folder of the project: ``.venv/bin/python tests/long/ready_when.py``.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from oven_bounds import bounds
from oven_scores import Score, scores, trial

HEATS, POOL = 1000, 40_000


def _told(rows: tuple[Score, ...]) -> None:
    """Print one row after each look."""
    for row in rows:
        sys.stdout.write(
            f"  {row.heats:5d} heats {row.bias:+.2f} {row.median:.2f} {row.p90:.2f} min,"
            f" held {row.held:.3f}, earlier {row.below:.3f}, later {row.above:.3f}\n"
        )


def main() -> None:
    """Print bias, median and nine tenths of the error [min] and what the 90 % band held.

    Below each, the same of the best that any forecast can do on these very heats.
    """
    for celsius in (195.0, 212.0, 226.0):
        for is_out in (False, True):
            setting = celsius + 273.15
            heats = trial(HEATS, setting, 1, is_out=is_out)
            where = "taken out 20 s" if is_out else "in the oven"
            sys.stdout.write(f"{celsius:.0f} degC {where}\n")
            _told(scores(heats, setting, 2, is_out=is_out))
            sys.stdout.write("  the best that can be done\n")
            _told(bounds(heats, trial(POOL, setting, 77, is_out=is_out), 2))
            sys.stdout.flush()


if __name__ == "__main__":
    main()
