"""Wall time of ``sleevewright quick fit`` from a shell, warm, over twenty runs.

Run as ``python benchmarks/shell.py``.  Prints P50 and P90 beside R of the same run.
"""

from __future__ import annotations

from reference import reference_seconds

# isort: split
import subprocess
import sys
import time

RUNS = 20
WANTED = 0.5
COMMAND = [
    sys.executable,
    "-m",
    "sleevewright",
    "quick",
    "fit",
    "sleeve_od=2.480 in",
    "sleeve_id=2.200 in",
    "parent_bore=2.4768 in",
    "casting_od=4.0 in",
    "length=3.5 in",
    "casting=aluminium-356",
    "sleeve=grey-iron",
    "--json",
]


def main() -> None:
    """Start the command twenty times after one that is not counted."""
    reference = reference_seconds()
    taken = []
    for turn in range(RUNS + 1):
        start = time.perf_counter()
        subprocess.run(COMMAND, check=True, capture_output=True)  # noqa: S603 - our own command
        if turn:
            taken.append(time.perf_counter() - start)
    taken.sort()
    middle, late = taken[len(taken) // 2], taken[int(0.9 * len(taken))]
    met = "yes" if late <= WANTED else "no"
    print(f"R = {1e3 * reference:.1f} ms")
    print(f"quick fit from a shell, P50 {middle:.2f} s, P90 {late:.2f} s, wanted 0.5 s: {met}")


if __name__ == "__main__":
    main()
