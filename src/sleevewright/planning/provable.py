"""What before and after must have in common for the close-up to prove anything.

The same gauge, set from the same master, at the same depths and directions, with no cut on
the sleeve between.  Where they differ the proof is not made: it says what differs, and what
to gauge.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sleevewright.core.fits.closeups import LEAST_DIRECTIONS, SAME_DEPTH, SAME_DIRECTION
from sleevewright.jobs.evidence import REFUSED
from sleevewright.jobs.model import Grid
from sleevewright.planning.answers import Answer
from sleevewright.planning.facts import find_instrument
from sleevewright.planning.gauges import readings_of
from sleevewright.planning.proofing import Gauged

PROOF = "cool.proof"
"""The verdict that a refusal stands in the place of."""

WARMEST = 308.15
"""A bore that was gauged warmer is not corrected but left to cool: 35 degC. [K] practice"""

LIFTED = "a hold lifted in writing"


NOT_GAUGED = Gauged()


@dataclass(frozen=True)
class BothTimes:
    """The sleeve's bore before the drop and after cooling, and a cut between them.

    ``parent`` is the casting's bore, of which a setting of the gauge may be shared.
    """

    before: Gauged
    after: Gauged
    cut: str = ""
    parent: Gauged = NOT_GAUGED


def why_refused(both: BothTimes) -> str:
    """What the proof wants and why it cannot be made; empty where it can.

    A bore that is not gauged cooled yet is no refusal: that is what is still to be done.
    """
    before, after = both.before.grid, both.after.grid
    if after is None:
        return ""
    if before is None:
        return _said("the sleeve's bore was not gauged before the drop")
    if both.cut:
        return _said(f"{both.cut} between both gaugings, so that they differ by the cut too")
    return _too_warm(after) or _gauges(both) or _places(before, after)


def was_refused(answer: Answer) -> bool:
    """Whether an answer is missing because its gaugings prove nothing."""
    return answer.value is None and any(REFUSED in one for one in answer.needs)


def _too_warm(after: Grid) -> str:
    """A cooled bore that was gauged so warm that no correction is worth a proof."""
    used = readings_of(after)
    read = np.isfinite(used.readings)
    warm = np.broadcast_to(np.asarray(used.part_temperature), read.shape)[read]
    hottest = float(warm.max(initial=0.0))
    if hottest <= WARMEST:
        return ""
    celsius = hottest - 273.15
    both = f"{celsius:.0f} °C ({1.8 * celsius + 32.0:.0f} °F)"
    why = f"it was gauged with the part at {both}, above 35 °C (95 °F)"
    return _said(why, "the cooled bore gauged again when it is cold")


def _said(why: str, cure: str = "") -> str:
    """What is wanted, as it goes on after that word, and why."""
    wanted = f"{cure}, else {LIFTED}" if cure else LIFTED
    return f"{wanted}; as it is the fit {REFUSED}: {why}"


def _gauges(both: BothTimes) -> str:
    """A gauge or a master that differs."""
    before, after = both.before.grid, both.after.grid
    if before is None or after is None:
        return ""
    if before.instrument != after.instrument:
        one, other = _named(before.instrument), _named(after.instrument)
        why = f"gauged before with {one}, after with {other}"
        return _said(why, f"the cooled bore gauged again with {one}")
    one, other = _master(both.before), _master(both.after)
    # What nobody told is no other master: the gauge then counts as set anew, which is said.
    if one and other and one != other:
        why = f"the gauge was set on {one} before and on {other} after"
        return _said(why, f"the gauge set on {one} and the cooled bore gauged again")
    return ""


def _named(name: str) -> str:
    return name or "a gauge without a name"


def _master(gauged: Gauged) -> str:
    """What the gauge of a set was set on; empty where nobody told."""
    grid = gauged.grid
    if grid is None:
        return ""
    gauge = find_instrument(grid.instrument, gauged.instruments)
    recorded = "" if gauge is None else gauge.set_from
    return grid.master or grid.set_on or recorded


def _places(before: Grid, after: Grid) -> str:
    """No depth that was gauged both times in the same directions."""
    one, other = readings_of(before), readings_of(after)
    near = np.abs(one.stations[:, None] - other.stations[None, :]) < SAME_DEPTH
    turned = np.remainder(other.directions[None, :] - one.directions[:, None] + np.pi, 2.0 * np.pi)
    alike = np.abs(turned - np.pi) < SAME_DIRECTION
    read, again = (np.isfinite(grid.readings).astype(float) for grid in (one, other))
    shared = np.einsum("ij,ik,jl,kl->ij", near, read, again, alike)
    if shared.max(initial=0.0) >= LEAST_DIRECTIONS:
        return ""
    depths = ", ".join(told.text for told in before.stations) or "the depths of before"
    ways = ", ".join(told.text for told in before.directions) or "the directions of before"
    return _said(
        "no depth was gauged before and after in the same two directions",
        f"the cooled bore gauged at {depths}, at {ways}",
    )
