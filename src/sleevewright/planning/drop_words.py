"""What would change the seconds of a drop, in words with numbers, strongest first."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sleevewright.core.heat.drop import HORIZON
from sleevewright.core.heat.sensitivity import (
    COOLER,
    FREEZER,
    STEP,
    Band,
    Sensitivity,
    sensitivities,
    usual_changes,
)
from sleevewright.jobs.model import Job
from sleevewright.planning.chooser_ground import ground
from sleevewright.planning.drop import drop_stage
from sleevewright.planning.drop_ends import Ends, ends_in
from sleevewright.planning.moving import Moved
from sleevewright.planning.plan import Runner, call_stage
from sleevewright.planning.records import records_of
from sleevewright.planning.shop import Shop
from sleevewright.units import shown

DROPS = 400
"""Drops of each change on a page and of a quick question: half a second would be felt."""

NOTHING = (
    "Nothing that was tried moves the middle of the drops by more than chance does, within the "
    f"{HORIZON:.0f} s that are followed."
)


@dataclass(frozen=True)
class Changes:
    """What changes the seconds, strongest first; what is missing where the plan has none."""

    found: tuple[Sensitivity, ...] = ()
    needs: tuple[str, ...] = ()
    ends: Ends | None = None
    is_known: bool = True


def changes_of(job: Job, shop: Shop, *, run: Runner = call_stage) -> Changes:
    """What changes the seconds of a job's drop, or what the plan wants for them.

    Parameters
    ----------
    job : Job
        The cylinder, as far as it has been told.
    shop : Shop
        Frozen snapshot of the shop.
    run : Runner
        How a stage is called; a cache may stand here.

    Returns
    -------
    Changes
        Those above the noise, strongest first. [s]

    Raises
    ------
    InputError
        If something told cannot be right.
    NotConverged
        If a drop does not reach grip or horizon; no number is given then.
    """
    standing, needs = standing_drop(job, shop, count=DROPS, run=run)
    if standing is None:
        return Changes(needs=needs, is_known=False)
    case, seed = standing.value("drop.case"), shop.settings.seed
    found = sensitivities(case, usual_changes(case), count=DROPS, seed=seed)
    return Changes(found, ends=ends_in(standing, case, count=DROPS, seed=seed))


def standing_drop(
    job: Job, shop: Shop, *, count: int, run: Runner = call_stage
) -> tuple[Moved | None, tuple[str, ...]]:
    """The answers behind a planned drop with so many samples, or what is missing for it."""
    base = ground(job, shop, run)
    sleeve, parent, fit, _, heat, _ = base.results
    drop = run(drop_stage, records_of(base.job, shop).drop, sleeve, parent, fit, heat)
    entry = drop.find("drop.case")
    if entry is None or entry.is_missing:
        return None, () if entry is None else entry.answer.needs
    return Moved((*base.results, drop), {}, count=count), ()


def change_words(found: Sequence[Sensitivity], *, system: str) -> tuple[str, ...]:
    """A sentence for each change, in the units of who reads it.

    Parameters
    ----------
    found : Sequence[Sensitivity]
        Changes, strongest first. [s]
    system : str
        ``"inch"`` or ``"metric"``.

    Returns
    -------
    tuple of str
        Sentences.

    Examples
    --------
    >>> one = Sensitivity("oil", Band(4.0, 13.0, 34.0), Band(2.0, 6.4, 20.0), 0.2)
    >>> change_words([one], system="metric")
    ('Oil in the gap would halve it: 6 s instead of 15 s.',)
    """
    return tuple(_sentence(one, system) for one in found) or (NOTHING,)


def _sentence(one: Sensitivity, system: str) -> str:
    """One change with its numbers."""
    before, after = one.before, one.after
    if one.key == "measured":
        return (
            "Gauging the hot bore in two directions at three depths, weighing the casting and "
            f"drying both would narrow the band, 19 in 20 at each end, from {_span(before)} to "
            f"{_span(after)}."
        )
    return f"{_leads(system)[one.key]} {_how(one)}."


def _leads(system: str) -> dict[str, str]:
    """What is otherwise, change by change."""
    step = shown(STEP, quantity="deviation", system=system)
    cooler = shown(COOLER, quantity="temperature difference", system=system)
    cold = shown(FREEZER, quantity="temperature", system=system)
    thou = f"{step.figure.lstrip('+')} {step.unit}"
    return {
        "oil": "Oil in the gap",
        "dry": "Both parts dried for certain",
        "more-slip": f"{thou} more slip on diameter, as far as the casting's limit allows,",
        "cooler": f"A casting {cooler.figure.lstrip('+')} {cooler.unit} cooler",
        "more-form": f"{thou} more on diameter lost to hot shape or a burr",
        "centred": "The sleeve held in the middle, not against a side,",
        "chilled": f"The sleeve chilled to {cold.figure} {cold.unit}, the casting as hot,",
    }


def _how(one: Sensitivity) -> str:
    """Halving and doubling by name, the rest by its seconds."""
    before, after = one.before.middle, one.after.middle
    if not (math.isfinite(before) and math.isfinite(after)):
        return f"makes it {_time(after)} instead of {_time(before)}"
    ratio = after / max(before, 1e-3)
    for low, high, words in ((0.44, 0.54, "would halve it"), (1.85, 2.3, "would double it")):
        if low <= ratio <= high:
            return f"{words}: {_time(after)} instead of {_time(before)}"
    apart = abs(after - before)
    seconds = "less than 1 s" if apart < 1.0 else f"about {apart:.0f} s"
    return f"adds {seconds} to {_time(before)}" if ratio > 1.0 else (
        f"takes {seconds} off {_time(before)}"
    )  # fmt: skip


def _time(seconds: float, quantity: str = "time") -> str:
    """Seconds in the steps that a model deserves; beyond the forecast in words."""
    if not math.isfinite(seconds):
        return f"more than {HORIZON:.0f} s"
    figures = shown(seconds, quantity=quantity, system="metric")
    return f"{figures.figure} {figures.unit}"


def _span(band: Band) -> str:
    """From when to when, rounded outward."""
    low, high = _time(band.low, "time at least"), _time(band.high, "time at most")
    return f"({low} … {high})"
