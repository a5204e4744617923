"""Quiet remarks about a set of readings: rounded, never varying, out of order.

A remark blocks nothing and accuses nobody; it says what is seen and what to look at.
Honest readings get one in fewer than one of a thousand sets by each rule.
"""

from __future__ import annotations

import math

import numpy as np

from sleevewright.core.metrology.plausible import (
    FEWEST_DIGITS,
    RARE,
    chance_of_no_change,
    grew_back,
    least_believed,
    looks_rounded,
    too_quick,
)
from sleevewright.core.metrology.repeatability import Repeatability
from sleevewright.jobs.model import Part
from sleevewright.jobs.seeming import SetSeen
from sleevewright.planning.beside import SAMPLES
from sleevewright.planning.facts import enter_metal
from sleevewright.planning.gauges import known_repeatability
from sleevewright.planning.ledger import Ledger
from sleevewright.planning.proofing import Gauged
from sleevewright.planning.shop import DEFAULT_SEED
from sleevewright.planning.sizes import Bench, Feature, enter_size
from sleevewright.units import shown, to_unit

NANO = 1e-9
FEWEST_EQUAL = 6
"""Readings that are all equal say something from so many on."""
FEWEST_QUICK = 3
"""A double press happens; three readings within a second each do not."""
SHRUNK = 3.09
"""Standard uncertainties that one honest pair in a thousand goes beyond. [1]"""


def set_remarks(seen: SetSeen, gauged: Gauged) -> tuple[str, ...]:
    """What is remarked of one set; mostly nothing."""
    grid = gauged.grid
    has_study = grid is not None and grid.repeatability is not None
    stated = known_repeatability(*(() if grid is None else (grid,)))
    return tuple(
        text
        for text in (
            _unvaried(seen, stated) or _rounded(seen, stated, has_study=has_study),
            _quick(seen),
            _before_zero(seen),
        )
        if text
    )


def _unvaried(seen: SetSeen, stated: Repeatability) -> str:
    """All readings equal, though the gauge shows finer steps than it repeats to."""
    step = seen.resolution
    count = len(seen.as_read)
    if step is None or count < FEWEST_EQUAL or len(set(seen.as_read)) > 1:
        return ""
    resolution, least = step * NANO, least_believed(stated)
    if resolution > 1.001 * stated.standard:  # to the digits that both are told in
        return ""
    if chance_of_no_change(count, resolution=resolution, least_scatter=least) >= RARE:
        return ""
    return (
        f"All {count} readings are equal, though {seen.gauge or 'the gauge'} shows steps of "
        f"{_in(seen, resolution)}. Does it follow when it is moved? If it does, it repeats "
        "better than is stated: a gauge study would say so."
    )


def _rounded(seen: SetSeen, stated: Repeatability, *, has_study: bool) -> str:
    """Last digits on a coarser step than the gauge shows."""
    step, count = seen.resolution, len(seen.as_read)
    if not step or count < FEWEST_DIGITS:
        return ""
    found = looks_rounded(
        np.array(seen.as_read) * NANO,
        resolution=step * NANO,
        least_scatter=least_believed(stated) if has_study else 0.0,
    )
    if found is None:
        return ""
    of = "all" if found.on_step == found.readings else f"{found.on_step} of"
    return (
        f"Looks rounded to {_in(seen, found.step)}: {of} {found.readings} readings lie on it, and "
        f"{seen.gauge or 'the gauge'} shows steps of {_in(seen, step * NANO)}. If it was read so, "
        f"put {_in(seen, found.step)} in as its step; the doubt then counts it."
    )


def _quick(seen: SetSeen) -> str:
    """Readings keyed sooner after one another than a gauge can be moved."""
    count = sum(too_quick(np.array(moments)) for moments in seen.moments)
    if count < FEWEST_QUICK:
        return ""
    return (
        f"{count} readings were keyed within a second of the one before. Were they copied from "
        "paper? Then say so in a note; what counts is when they were gauged."
    )


def _before_zero(seen: SetSeen) -> str:
    """Readings told before the gauge was set."""
    if not seen.before_zero:
        return ""
    are = "reading was" if seen.before_zero == 1 else "readings were"
    return (
        f"{seen.before_zero} {are} told before the zero at the start. Was the gauge on its "
        "master first?"
    )


def shrinking(before: Gauged, after: Gauged, part: Part, *, units: str, label: str) -> str:
    """A bore that is smaller after a cut than it was before; empty where it is not."""
    sizes = [_size(one, part, units) for one in (before, after)]
    if any(size is None for size in sizes):
        return ""
    (old, old_doubt), (new, new_doubt) = (size for size in sizes if size is not None)
    if math.hypot(old_doubt, new_doubt) == 0.0:
        return ""
    beyond = grew_back(
        bore_before=old, bore_after=new, before_doubt=old_doubt, after_doubt=new_doubt
    )
    if beyond < SHRUNK:
        return ""
    by = shown(old - new, quantity="deviation", system=units)
    return (
        f"{label} is {by.figure} {by.unit} smaller, on diameter, than in the set before it, and "
        "cutting does not make a bore smaller. Look at the zero of both sets, at the "
        "temperatures, and whether the sets are of one bore."
    )


def _size(gauged: Gauged, part: Part, units: str) -> tuple[float, float] | None:
    """Mean size of a bore at 20 degC with its standard uncertainty."""
    ledger = Ledger(count=SAMPLES, seed=DEFAULT_SEED)
    feature = Feature("seems.bore", "Bore", "seems")
    enter_metal(ledger, "seems", part, fallback="unknown-aluminium", name="part")
    if gauged.grid is None:
        return None
    enter_size(ledger, feature, gauged.grid, None, Bench(gauged.instruments, units))
    answer = ledger.entry("seems.bore").answer
    if not isinstance(answer.value, float) or answer.doubt is None:
        return None
    return answer.value, answer.doubt.standard


def _in(seen: SetSeen, length: float) -> str:
    """A step in the unit that the set is keyed in."""
    return f"{to_unit(length, seen.unit):.3g} {seen.unit}"
