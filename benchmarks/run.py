"""Runs every benchmark, one after another, each in a process of its own, and prints all tables.

Run as ``python benchmarks/run.py`` on a quiet machine.  Exit code 1 when one of them breaks;
a goal that is missed is printed and is no failure, because times belong to a machine.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).parent
SCRIPTS = (
    "plan.py",
    "budget.py",
    "grid_budget.py",
    "drops.py",
    "drop_solver.py",
    "ready.py",
    "oven_page.py",
    "chooser.py",
    "passes.py",
    "slider.py",
    "clocking.py",
    "port_curves.py",
    "rubbing.py",
    "zone.py",
    "server.py",
    "shell.py",
    "group_commit.py",
    "load_bench.py",
    "search_scale.py",
    "memory.py",
    "scale.py",
)
"""In the order of the manual's page."""


def main() -> int:
    """Run them all; the number of those that broke decides the exit code."""
    broken = []
    for name in SCRIPTS:
        print(f"\n{name}", flush=True)
        done = subprocess.run([sys.executable, str(HERE / name)], check=False)
        if done.returncode:
            broken.append(name)
    if broken:
        print(f"\nbroke: {', '.join(broken)}")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main())
