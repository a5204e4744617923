"""What the chooser stands on: the stages of the plan, an assumed ring, and the fits it draws."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.allowances import wall_left
from sleevewright.core.fits.chooser import round_steps
from sleevewright.errors import Caution, InputError
from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.answers import Quantity
from sleevewright.planning.believed import most_believed, refuse_beyond
from sleevewright.planning.finish import finish_stage
from sleevewright.planning.fit import fit_stage
from sleevewright.planning.habit import MEASURED
from sleevewright.planning.heat import heat_stage
from sleevewright.planning.ledger import StageResult
from sleevewright.planning.moving import Moved
from sleevewright.planning.parent import parent_stage
from sleevewright.planning.records import records_of
from sleevewright.planning.running import running_stage
from sleevewright.planning.shop import Shop, default_in
from sleevewright.planning.sleeve import sleeve_stage
from sleevewright.units import from_unit, shown

Array = NDArray[np.float64]

STEPS = 41
"""Fits of one picture, the first of them nothing."""

FIT_MOVED = "fit.as_cut"
"""The entry that moves: the fit to expect, with what the cut and the readings may miss."""

FLANGE_STAYS = "The flange's fit stays as it is: only the body's moves."

_CARRIED = (FIT_MOVED, MEASURED.id)
"""Entries that move with the fit, each as far from it as it stands now."""

_BEYOND = 1.02  # a bit beyond what is marked, so that the mark is not on the edge


@dataclass(frozen=True)
class Ground:
    """The stages that the curves are drawn from, and what had to be assumed for them."""

    job: Job
    results: tuple[StageResult, ...]
    assumptions: tuple[str, ...]

    @cached_property
    def standing(self) -> Moved:
        """Everything where it stands now, at central values."""
        return Moved(self.results, {}, count=0)


def carried(ground: Ground, held: Moved, fits: Any) -> dict[str, Any]:
    """What a fit carries along: the miss of cut and readings, and a habit that was accepted.

    ``held`` are the answers where they stand, as samples or at central values.
    """
    now = ground.standing.value("fit.cold")
    return {name: fits + (held.value(name) - now) for name in _CARRIED if held.has(name)}


def ground(job: Job, shop: Shop, run: Any) -> Ground:
    """Run the stages that the chooser draws from, with a ring assumed where none was told."""
    sleeve = run(sleeve_stage, records_of(job, shop).sleeve)
    outside = sleeve.find("sleeve.od")
    size = None if outside is None else outside.point
    held, assumptions = _with_ring(job, shop, size)
    told = records_of(held, shop)
    parent = run(parent_stage, told.parent, sleeve)
    fit = run(fit_stage, told.fit, sleeve, parent)
    running = run(running_stage, told.running, sleeve, parent, fit)
    heat = run(heat_stage, told.heat, sleeve, parent, fit)
    finish = run(finish_stage, told.finish, sleeve, parent, fit, running, heat)
    return Ground(held, (sleeve, parent, fit, running, heat, finish), assumptions)


def _with_ring(job: Job, shop: Shop, size: float | None) -> tuple[Job, tuple[str, ...]]:
    """The job with the band of a usual casting, where its outside was not told."""
    casting = job.casting
    ends = (casting.outside_low, casting.outside_high)
    if size is None or casting.outside_diameter is not None or None not in ends:
        return job, ()
    usual = default_in(shop.chosen, "casting_ring")
    low, high = (Entry(share * size, usual.stated, "assumed") for share in (usual.low, usual.high))
    words = (
        f"The casting has no outside diameter: a ring of {usual.low:g} to {usual.high:g} times the "
        f"sleeve's outside is assumed ({usual.source}). Its diameter without fins and with them "
        "would make pressure, stress and close-up worth more."
    )
    return replace(job, casting=replace(casting, outside_low=low, outside_high=high)), (words,)


def assumptions_of(ground: Ground, identity: str) -> tuple[str, ...]:
    """What was assumed for an answer, and what does not move with the body's fit."""
    rests = ground.standing.inputs_of(identity)
    ring = ground.assumptions if "casting.outside_diameter" in rests else ()
    return (*ring, FLANGE_STAYS) if "fit.flange_as_cut" in rests else ring


def fits_to_draw(ground: Ground, asked: tuple[float, ...] | None) -> Array:
    """The interferences of the picture: those asked for, else round steps beyond the marks."""
    standing, system = ground.standing, ground.job.units
    diameter = float(standing.value("sleeve.od"))
    largest = most_believed(diameter)
    for field in ("fit.wanted", "fit.cold"):
        told = standing.entry(field).answer.label
        refuse_beyond(told, standing.value(field), diameter=diameter, system=system)
    if asked is None:
        reach = 2.0 * max(standing.value("fit.wanted"), standing.value("fit.cold"))
        at_limit = standing.value("fit.limit_fit") if standing.has("fit.limit_fit") else 0.0
        reach = min(max(reach, at_limit) * _BEYOND, largest)
        unit = from_unit(1.0, "thou" if system == "inch" else "µm")
        steps = round_steps(largest_fit=max(reach, unit), counted_in=unit, count=STEPS)
        return steps[steps <= max(largest, unit)]
    fits = np.asarray(asked, dtype=np.float64)
    is_rising = np.all(np.isfinite(fits)) and np.all(np.diff(fits) > 0.0)
    if fits.ndim != 1 or not 1 <= fits.size <= 10 * STEPS or not is_rising:
        allowed = f"1 to {10 * STEPS} interferences, each larger than the one before"
        raise InputError("interferences", fits.size, "values", allowed, "Give them in order.")
    refuse_beyond("interference", float(fits[-1]), diameter=diameter, system=system)
    if not fits[0] >= 0.0:
        least = shown(float(fits[0]), quantity=Quantity.DEVIATION.value, system=system)
        raise InputError(
            "interference",
            least.figure,
            least.unit,
            "nothing or more",
            "A clearance is no shrink fit: give the interference, larger sleeve counts as more.",
        )
    return fits


def wall_caution(ground: Ground, shop: Shop) -> tuple[Caution, ...]:
    """Say so where the sleeve's wall is thinner than the shop's least already."""
    standing = ground.standing
    if not (standing.has("sleeve.od") and standing.has("sleeve.id")):
        return ()
    outside, inside = standing.value("sleeve.od"), standing.value("sleeve.id")
    wall = float(wall_left(outside_diameter=outside, inside_diameter=inside))
    least = default_in(shop.chosen, "least_sleeve_wall")
    if wall >= least.value:
        return ()
    has, wants = (
        shown(size, quantity=Quantity.SIZE.value, system=ground.job.units)
        for size in (wall, least.value)
    )
    text = (
        f"The sleeve's wall is {has.figure} {has.unit} (radial) before it is finished, below the "
        f"least of {wants.figure} {wants.unit} ({least.source}): a thicker sleeve, or accept it "
        "in writing. The curves are of rings and say nothing about a wall that buckles."
    )
    return (Caution("thin-sleeve", text, least.source),)
