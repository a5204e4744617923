"""Cost of reading a rubbing of a whole A4 sheet at 300 to the inch, progress told.

The reference is one Gaussian blur of sigma 4 pixels of the same scan, in the same run; R is
that of all benchmarks.  Five windows of an invented 66.4 mm bore, two degrees askew.
"""

from __future__ import annotations

from reference import interleaved, reference_draw, table

# isort: split
import sys
from pathlib import Path

import numpy as np
from scipy import ndimage

sys.path.insert(0, str(Path(__file__).parents[1] / "tests"))

from made_rubbings import Sheet, Spoilt, known_shapes, made_rubbing
from sleevewright.core.rubbing.records import RubbingTold
from sleevewright.core.rubbing.rubbing import read_rubbing
from sleevewright.errors import NotConverged

GOAL_SECONDS = 3.0
GOAL = 150.0  # 3 s where R is 20 ms
HIGH, WIDE = 2480, 3508


def main() -> None:
    """Print the ratios, the seconds, and how far the roofs are from what was drawn."""
    shapes = known_shapes()
    sheet = Sheet(shapes, high=100.0, size=(283.0, 196.0), down=100.0)
    scan = made_rubbing(sheet, Spoilt(dpi=300.0))[:HIGH, :WIDE]
    lacking = (HIGH - scan.shape[0], WIDE - scan.shape[1])
    scan = np.pad(scan, [(0, max(0, one)) for one in lacking], mode="edge")
    told = RubbingTold(tuple(shapes), 66.4e-3)
    news: list[float] = []

    def read() -> object:
        return read_rubbing(scan, told, lambda share, _words: news.append(share))

    whole, blur, reference = interleaved(
        (read, lambda: ndimage.gaussian_filter(scan, 4.0), reference_draw), repeats=3
    )
    found = read_rubbing(scan, told)
    if found.refused or len(found.ports) != len(shapes):
        raise NotConverged("reading of the drawn sheet", 1, len(found.ports), len(shapes))
    off = [1e3 * (port.shape.roof - shapes[port.name].roof) for port in found.ports]
    rows = [
        ("a whole sheet against R", whole / reference, GOAL),
        ("the same against one blur of sigma 4", whole / blur, None),
    ]
    print(table(f"a rubbing of {scan.shape[1]} x {scan.shape[0]} pixels, one BLAS thread", rows))
    print(
        f"read {whole:.2f} s (goal {GOAL_SECONDS:.0f}), blur {blur:.2f} s, "
        f"{len(news) // 3} pieces of news; roofs {np.mean(off):+.3f} mm, sd {np.std(off):.3f}"
    )


if __name__ == "__main__":
    main()
