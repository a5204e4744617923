"""Passes that cannot be taken at their word: set on radius for diameter, keyed the wrong way.

The oldest way to scrap a sleeve is a factor of two.  A pass that took twice or half of what
this bar takes of such an ask, and by more than its doubt, teaches nothing until it is cleared
up.  Diametral.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sleevewright.core.cutting.passes import CutState, expected_taken, learned_cut

TWICE, HALF, LESS, NOTHING_ASKED = "twice", "half", "less-than-nothing", "nothing-asked"
TWICE_FROM, TWICE_TO = 1.6, 2.6
"""What a pass took, over what it was expected to, that looks like a factor of two. Practice."""
DEVIATIONS = 3.0
"""Standard deviations by which it must lie off to be doubted. Practice."""


@dataclass(frozen=True)
class Pass:
    """One pass: its number as told, what it was asked and what it took, diametral."""

    number: str
    asked: float
    taken: float


def doubts_of(passes: Sequence[Pass], prior: CutState, variance: float) -> tuple[str, ...]:
    """Why each pass is doubted; empty for those that may be learned from.

    Parameters
    ----------
    passes : Sequence[Pass]
        The passes in order. [record]
    prior : CutState
        What is known before the first. [record]
    variance : float
        Variance of what one takes. [m^2]

    Returns
    -------
    tuple[str, ...]
        A word for each pass, empty where nothing is wrong. [text]
    """
    found, state = [], prior
    for one in passes:
        why = _doubt(one, state, variance)
        if not why:
            state = learned_cut(
                cut_state=state, cut_asked=one.asked, cut_taken=one.taken, taken_variance=variance
            )
        found.append(why)
    return tuple(found)


def overtaken(passes: Sequence[Pass], variance: float) -> tuple[Pass, ...]:
    """The passes that took more than they were asked, by more than their scatter.

    Parameters
    ----------
    passes : Sequence[Pass]
        The passes in order. [record]
    variance : float
        Variance of what one takes. [m^2]

    Returns
    -------
    tuple[Pass, ...]
        Those that no bar can have taken so. [record]
    """
    most = DEVIATIONS * math.sqrt(variance)
    return tuple(one for one in passes if one.asked > 0.0 and one.taken > one.asked + most)


def _doubt(one: Pass, state: CutState, variance: float) -> str:
    """What is wrong with one pass, judged by what was known before it."""
    if one.asked <= 0.0:
        return NOTHING_ASKED
    if one.taken < 0.0:
        return LESS
    expected = float(expected_taken(cut_state=state, cut_asked=one.asked))
    spread = math.sqrt(
        float(
            (state.share_variance * one.asked + 2.0 * state.cut_covariance) * one.asked
            + state.offset_variance
            + variance
        )
    )
    if expected <= 0.0 or abs(one.taken - expected) <= DEVIATIONS * spread:
        return ""
    ratio = one.taken / expected
    if TWICE_FROM <= ratio <= TWICE_TO:
        return TWICE
    return HALF if 1.0 / TWICE_TO <= ratio <= 1.0 / TWICE_FROM else ""
