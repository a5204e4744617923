"""How near to the truth any forecast could come on the simulated ovens.

Each heat is laid beside many thousands of the same maker; those whose readings are as near as
the doubt of a reading allows are weighed by it.  What the middle of them misses is missed by
every forecast, as this one knows how the ovens were made and the shop does not.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from oven_scores import Score, slips_of, told_of
from simulated_ovens import LOOKS, OvenTrial

Rows = NDArray[np.float64]


def bounds(heats: OvenTrial, pool: OvenTrial, seed: int) -> tuple[Score, ...]:
    """One row after each reading, with the same noise on the heats as the forecast was given."""
    slips, probes, doubts = told_of(heats, seed)
    order = np.argsort(pool.ready)
    told = np.concatenate([slips / doubts[0], probes / doubts[1]], axis=1)
    others = np.concatenate([slips_of(pool) / doubts[0], pool.castings / doubts[1]], axis=1)[order]
    ready = np.minimum(pool.ready[order], 1e9)
    return tuple(_row(heats.ready, told, others, ready, number) for number in range(len(LOOKS)))


def _row(truth: Rows, told: Rows, others: Rows, ready: Rows, number: int) -> Score:
    """Errors and bands at one look, of the heats that were not ready by then."""
    wanted = [*range(number + 1), *range(len(LOOKS), len(LOOKS) + number + 1)]
    now, near = LOOKS[number], others[:, wanted]
    is_late, rows = ready > now, []
    for index in np.flatnonzero(truth > now + 30.0):
        cost = -0.5 * ((near - told[index, wanted]) ** 2).sum(axis=1)
        weights = np.where(is_late, np.exp(cost - cost[is_late].max()), 0.0)
        shares = np.cumsum(weights) / weights.sum()
        rows.append([truth[index], *ready[np.searchsorted(shares, (0.05, 0.5, 0.95))]])
    true, low, middle, high = np.array(rows).T
    with np.errstate(invalid="ignore"):
        off = np.nan_to_num((middle - true) / 60.0)
    under, over = float((true < low).mean()), float((true > high).mean())
    return Score(
        len(rows), float(np.median(off)), float(np.median(np.abs(off))),
        float(np.quantile(np.abs(off), 0.9)), 1.0 - under - over, under, over,
    )  # fmt: skip
