"""The same drops at several fits: one march for all, so that fits differ by the fit alone.

Rows are cases, columns are drops.  A drop keeps its unknowns from case to case: carry,
entry, form, oil, lean and the error of the gauge are the same in every row.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.formulas import formula
from sleevewright.core.heat.drop import HORIZON, grip_times, time_from_entry
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.unknowns import draw_unknowns, drop_inputs
from sleevewright.core.materials import default
from sleevewright.core.uncertainty.inputs import DEFAULT_SEED
from sleevewright.errors import InputError

Array = NDArray[np.float64]


@formula(
    name="seconds of the same drops at several fits",
    expression="grip times of each case with common unknowns, from first entry",
    sources=("jcgm-101", "practice", "derived"),
    validity="within the model and its judged priors, fitted to no measured drop; tilt left out",
    unit="s",
)
def common_drops(
    cases: Sequence[DropCase],
    *,
    count: int,
    seed: int = DEFAULT_SEED,
    horizon: float = HORIZON,
) -> Array:
    """Seconds from first entry until it grips, the same drops in every case.

    Parameters
    ----------
    cases : Sequence[DropCase]
        The drop at each fit. [record]
    count : int
        How many drops of each. [1]
    seed : int
        Seed that all streams share. [1]
    horizon : float
        Time up to which they are followed. [s]

    Returns
    -------
    NDArray[np.float64]
        Seconds, infinite beyond the horizon, shape (n_cases, n_drops). [s]

    Raises
    ------
    InputError
        If there is no case, a value cannot be right, or fewer samples are given than
        asked for.
    NotConverged
        If the steps do not reach grip or horizon.

    Notes
    -----
    Each row equals :func:`~.chances.drop_samples` of its case; they are stepped together
    because that is quicker. Source: ``jcgm-101`` for sampling, ``practice``, ``derived``.
    """
    if not cases:
        raise InputError("cases", 0, "", "one or more")
    draws = [draw_unknowns(case, count=count, seed=seed) for case in cases]
    inputs = [
        drop_inputs(case, drawn, count=count, seed=seed)
        for case, drawn in zip(cases, draws, strict=True)
    ]
    grip = grip_times(joined(inputs, count), horizon=horizon).seconds
    entry = np.concatenate([drawn.entry_time for drawn in draws])
    seconds = time_from_entry(grip=grip, entry_time=entry, share=default("entry_lag").value)
    return np.asarray(seconds).reshape(len(cases), count)


def joined(parts: Sequence[Any], count: int) -> Any:
    """Records of one kind end to end: arrays of one length, or the number that all share.

    Parameters
    ----------
    parts : Sequence[Any]
        Records of one kind, each of numbers or of samples. [record]
    count : int
        Samples of each. [1]

    Returns
    -------
    Any
        One record with arrays of all samples in order. [record]

    Notes
    -----
    Source: ``derived``.
    """
    first = parts[0]
    if is_dataclass(first) and not isinstance(first, type):
        members = {
            one.name: joined([getattr(part, one.name) for part in parts], count)
            for one in fields(first)
        }
        return type(first)(**members)
    if not isinstance(first, np.ndarray) and all(part == first for part in parts):
        return first
    return np.concatenate([np.broadcast_to(part, (count,)) for part in parts])
