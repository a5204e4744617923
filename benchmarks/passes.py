"""Cost of the closed loop of boring passes: the next cut, 2,000 jobs, a study of 50 shops.

The recursion over arrays is measured against the same recursion over plain floats in the same
run, and both against R.  Each of the 2,000 jobs makes all its ten passes.
"""

from __future__ import annotations

import sys
from pathlib import Path

from reference import interleaved, reference_draw, table

# isort: split
import numpy as np

sys.path[:0] = [str(Path(__file__).resolve().parents[1] / "tests")]

from plain_passes import plain_closed_loop  # noqa: E402 - the tests' loop stands beside the source
from sleevewright.core.cutting.closing_in import ShopCut, next_cut  # noqa: E402 - after the path
from sleevewright.core.cutting.ladder import Depths  # noqa: E402 - after the path
from sleevewright.core.cutting.next_cut import DRAWS, BoreLimits, BoreRead  # noqa: E402 - the same
from sleevewright.core.cutting.pass_study import StudyShop, closed_loop  # noqa: E402 - the same
from sleevewright.core.cutting.passes import CutState  # noqa: E402 - after the path

JOBS, PASSES, SHOPS = 2_000, 10, 50
LOOP_GOAL, STUDY_GOAL, CUT_GOAL = 0.1, 5.0, 1.0  # 2, 100 and 20 ms where R is 20 ms
THOU = 25.4e-6


def shop_of(number: int, *, all_passes: bool = False) -> StudyShop:
    """A shop on paper; one that leaves a little each time makes all its passes."""
    leave = tuple(THOU * (30.0 - 3.0 * k) for k in range(PASSES - 1)) if all_passes else ()
    half = 0.5 * THOU
    return StudyShop(
        0.067, half, 40 * THOU, 2 * THOU, 0.85, 0.05 + 0.001 * number, 0.2 * THOU, half / 4.5,
        half / 4.5, leave or (14 * THOU, 7 * THOU), 2.5758, 2.3263,
    )  # fmt: skip


def next_answer() -> object:
    """One answer at the boring head."""
    depths = Depths(60 * THOU, 10 * THOU, 4 * THOU, 2 * THOU)
    return next_cut(
        cut_state=CutState(0.85, 0.0, 0.01, 0.0, (0.2 * THOU) ** 2),
        bore_read=BoreRead(0.067 - 3.06 * THOU, 0.15 * THOU, 0.1 * THOU),
        limits=BoreLimits(0.067 - 0.5 * THOU, 0.067, 0.067 + 0.5 * THOU),
        shop_cut=ShopCut(depths, 0.15 * THOU, 0.005, 1, 0.01), last_asked=4 * THOU,
    )  # fmt: skip


def main() -> None:
    """Print ratios, milliseconds, and whether both loops agree to the last bit."""
    generator = np.random.default_rng(6)
    one = generator.standard_normal((PASSES + 2, 2, JOBS))
    many = generator.standard_normal((SHOPS, PASSES + 2, 2, JOBS))
    rows, busy = one.tolist(), shop_of(0, all_passes=True)
    loop, study, cut, reference = interleaved((
        lambda: closed_loop(study_shop=busy, cut_deviates=one),
        lambda: [closed_loop(study_shop=shop_of(k), cut_deviates=many[k]) for k in range(SHOPS)],
        next_answer,
        reference_draw,
    ))  # fmt: skip
    (plain,) = interleaved((lambda: plain_closed_loop(busy, rows),), repeats=3)
    found = closed_loop(study_shop=busy, cut_deviates=one)
    told = np.array(plain_closed_loop(busy, rows))
    arrays = (found.bore, found.passes, found.believed, found.believed_variance)
    same = all(np.array_equal(told[:, k], column) for k, column in enumerate(arrays))
    rows_told = [
        (f"{JOBS} jobs x {PASSES} passes", loop / reference, LOOP_GOAL),
        (f"study, {JOBS} jobs x {SHOPS} shops", study / reference, STUDY_GOAL),
        (f"next cut, {DRAWS} draws", cut / reference, CUT_GOAL),
    ]
    print(table("boring passes against R, one BLAS thread", rows_told))
    print(
        f"R {1e3 * reference:.1f} ms, loop {1e3 * loop:.2f} ms (goal 2), plain floats "
        f"{plain / loop:.0f} times that (goal 10), bit-equal {'yes' if same else 'NO'}, mean "
        f"passes {found.passes.mean():.2f}; study {1e3 * study:.1f} ms (goal 100), next cut "
        f"{1e3 * cut:.2f} ms (goal 20)"
    )


if __name__ == "__main__":
    main()
