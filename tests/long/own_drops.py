"""Where the truth of invented shops stands in what their own drops say, and how often bands hold.

Run as ``python tests/long/own_drops.py [shops]`` from the folder of the project.  It prints the
ranks of the true typical form in ten cells with their chi-square, and the share of shops of
which the 90 % band holds it.  A thousand shops of four drops take some three minutes.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
from scipy.stats import chi2

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "validation"))

from test_learned_drops import ranks


def main(shops: int) -> None:
    """Print ranks, their chi-square and the coverage."""
    found = ranks(shops, 4)
    counted, _ = np.histogram(found, bins=10, range=(0.0, 1.0))
    expected = shops / 10.0
    squares = float(((counted - expected) ** 2 / expected).sum())
    held = float(np.mean((found > 0.05) & (found < 0.95)))
    sys.stdout.write(f"shops {shops}, ranks {' '.join(str(one) for one in counted)}\n")
    sys.stdout.write(f"chi-square {squares:.1f}, as large by luck {chi2.sf(squares, 9):.3f}\n")
    sys.stdout.write(f"90 % band holds {100.0 * held:.1f} % +- {100 * (0.09 / shops) ** 0.5:.1f}\n")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 1000)
