"""The second wave of the chooser: seconds before it grips, at some fits, and between them.

Each drop keeps its unknowns from fit to fit.  Seconds count from first entry; the low line
is what 19 in 20 drops stay free at least, as in the plan, without the cap of a line-up time.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from sleevewright.core.fits.chooser import HIGH, LOW, MIDDLE, between_fits
from sleevewright.core.heat.drop import HORIZON
from sleevewright.core.heat.drop_case import DropCase
from sleevewright.core.heat.wave import common_drops
from sleevewright.core.uncertainty.sampled import Quantile, quantiles
from sleevewright.errors import Caution
from sleevewright.jobs.model import Job
from sleevewright.planning.chooser_ground import (
    Ground,
    assumptions_of,
    carried,
    fits_to_draw,
    ground,
)
from sleevewright.planning.drop import drop_stage
from sleevewright.planning.moving import Moved
from sleevewright.planning.plan import Runner, call_stage
from sleevewright.planning.records import records_of
from sleevewright.planning.shop import Shop

Array = NDArray[np.float64]

RECKONED = 13
"""Fits at which drops are reckoned."""

COMMON_DROPS = 400
"""Drops at each of them, the same ones."""

FOLLOWS = (
    "The heat follows the fit: at each fit the casting is as hot as its slip needs, and never "
    "above its limit."
)
HELD = "The casting is held as hot as the fit of today needs; a tighter fit then leaves less slip."

UNPROVEN = Caution(
    "seconds-unproven",
    "No measured drop stands behind these seconds: they are chances within a model and its "
    "judged priors. Tilt is left out, and a tilted sleeve can wedge at once.",
    "practice",
)


@dataclass(frozen=True)
class SecondsWave:
    """Seconds before it grips over the interference, SI; nan beyond the forecast's end.

    ``low_error`` is the standard sampling error of the low line, infinite where it cannot
    be told; ``reckoned`` are the fits that drops were reckoned at, all else lies between.
    """

    interferences: tuple[float, ...]
    low: tuple[float, ...]
    middle: tuple[float, ...]
    high: tuple[float, ...]
    low_error: tuple[float, ...]
    reckoned: tuple[float, ...]
    drops: int
    heat: str
    horizon: float
    cautions: tuple[Caution, ...]
    needs: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Reckoning:
    """How the drops are made: how many at how many fits, and how hot the casting is.

    ``is_held`` keeps the casting as hot as today's fit needs; else the heat follows the fit.
    """

    drops: int = COMMON_DROPS
    fits: int = RECKONED
    is_held: bool = False


FOLLOWING = Reckoning()


def seconds_wave(
    job: Job,
    shop: Shop,
    interferences: tuple[float, ...] | None = None,
    *,
    made: Reckoning = FOLLOWING,
    run: Runner = call_stage,
) -> SecondsWave:
    """Seconds before it grips over a range of interferences.

    Parameters
    ----------
    job : Job
        The cylinder, as far as it has been told.
    shop : Shop
        Frozen snapshot of the shop.
    interferences : tuple of float, optional
        Diametral interferences, rising [m]; those of the chooser where none are given.
    made : Reckoning
        Drops at each fit that is reckoned, how many fits are (the answers at the others lie
        between), and whether the casting is held at the heat of today's fit.
    run : Runner
        How a stage is called; a cache may stand here.

    Returns
    -------
    SecondsWave
        Seconds, or what is missing for them.

    Raises
    ------
    InputError
        If an interference is out of range, or something told cannot be right.
    NotConverged
        If a drop does not reach grip or horizon; no number is given then.
    """
    base = ground(job, shop, run)
    told = records_of(base.job, shop)
    sleeve, parent, fit, _, heat, _ = base.results
    drop = run(drop_stage, told.drop, sleeve, parent, fit, heat)
    case = drop.find("drop.case")
    words = HELD if made.is_held else FOLLOWS
    if case is None or case.is_missing or not base.standing.has("fit.cold"):
        needs = case.answer.needs if case is not None else ()
        return SecondsWave((), (), (), (), (), (), 0, words, HORIZON, (UNPROVEN,), needs)
    fits = fits_to_draw(base, interferences)
    nodes = np.linspace(fits[0], fits[-1], max(made.fits, 2)) if fits.size > 1 else fits
    whole = Ground(base.job, (*base.results, drop), base.assumptions)
    cases = _cases(whole, nodes, made)
    seconds = common_drops(cases, count=made.drops, seed=shop.settings.seed)
    wave = _between(fits, nodes, seconds, words)
    return replace(wave, assumptions=assumptions_of(whole, "drop.case"))


def _cases(whole: Ground, nodes: Array, made: Reckoning) -> list[DropCase]:
    """The drop at each fit, with the samples that the plan's own drop rests on."""
    standing = Moved(whole.results, {}, count=made.drops)
    held = {"heat.drop_at": standing.value("heat.drop_at")} if made.is_held else {}
    cases = []
    for fit in nodes:
        moved = Moved(whole.results, carried(whole, standing, fit) | held, count=made.drops)
        cases.append(moved.value("drop.case"))
    return cases


def _between(fits: Array, nodes: Array, seconds: Array, heat: str) -> SecondsWave:
    """Lines through the fits that were reckoned, and how well the low one is known."""
    rows = [quantiles(row, (LOW, MIDDLE, HIGH)) for row in seconds]
    low, middle, high = zip(*rows, strict=True)

    def line(values: list[float]) -> tuple[float, ...]:
        known = np.array(values)
        if nodes.size < 2:
            return tuple(np.where(np.isfinite(known), known, np.nan).tolist())
        curve = between_fits(interferences=nodes, values=known, wanted=fits)
        return tuple(curve.tolist())

    return SecondsWave(
        interferences=tuple(fits.tolist()),
        low=line(_values(low)),
        middle=line(_values(middle)),
        high=line(_values(high)),
        low_error=line([one.sampling_error for one in low]),
        reckoned=tuple(nodes.tolist()),
        drops=seconds.shape[1],
        heat=heat,
        horizon=HORIZON,
        cautions=(UNPROVEN,),
    )


def _values(quantile: tuple[Quantile, ...]) -> list[float]:
    """The values of quantiles."""
    return [one.value for one in quantile]
