"""What judges an answer of a ledger, and how it gets the shop's own guard band."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Protocol, runtime_checkable

import numpy as np
from numpy.typing import NDArray

from sleevewright.planning.answers import Doubt, Judgement

Judge = Callable[[float, NDArray[np.float64] | None, float], Judgement]
"""Makes a verdict of a value, its samples where there are any, and its standard uncertainty."""


@runtime_checkable
class GuardedJudge(Protocol):
    """A judge that takes its guard band from the shop's settings."""

    def by(self, guard: float) -> Judge:
        """The judge with this guard band, in standard uncertainties."""


@dataclass(frozen=True, eq=False)
class Sighted:
    """What a judge is shown: the value at the central inputs, its samples, its doubt."""

    point: Any
    samples: Any
    doubt: Doubt | None


def judged(judge: Judge | GuardedJudge | None, guard: float, seen: Sighted) -> Judgement | None:
    """The verdict on a number, where it is to be judged."""
    if judge is None or not isinstance(seen.point, float):
        return None
    bound = judge.by(guard) if isinstance(judge, GuardedJudge) else judge
    doubt = seen.doubt
    is_spread = isinstance(seen.samples, np.ndarray) and doubt is not None
    standard = 0.0 if doubt is None else doubt.standard
    return bound(seen.point, seen.samples if is_spread else None, standard)
