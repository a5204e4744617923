"""Use cases of choosing a fit: the picture while it moves, and the seconds that it leaves.

The stages that both stand on are those of the plan and are kept with them, so that after a
look at the plan only the moving is reckoned; pictures are kept too, for the next look.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import Any

from sleevewright.core.materials import default
from sleevewright.jobs.model import Job
from sleevewright.planning.chooser import SAMPLES, Chooser, chooser
from sleevewright.planning.chooser_document import chooser_document, wave_document
from sleevewright.planning.chooser_hand import places_of_hand
from sleevewright.planning.chooser_seconds import Reckoning, SecondsWave, seconds_wave
from sleevewright.planning.shop import Shop
from sleevewright.services.bench import Bench
from sleevewright.services.jobs import cylinder_of
from sleevewright.services.plans import with_stages
from sleevewright.services.settings import shop_of_bench

PICTURES_KEPT = 16
"""A picture is some 100 kB."""


def choose_fit(
    job: Job,
    shop: Shop | None = None,
    *,
    interferences: tuple[float, ...] | None = None,
    units: str | None = None,
) -> Chooser:
    """Everything that the interference decides, over a range of interferences.

    ``units`` makes the picture count in inches or millimetres whatever the job speaks in.
    """
    spoken = job if units is None else replace(job, units=units)
    return _picture(spoken, shop or Shop(), interferences)


def fits_by_hand(job: Job, shop: Shop | None = None) -> Chooser:
    """The picture at every fit that its hand can stand at, each told exactly by its figure."""
    usual = choose_fit(job, shop)
    if not usual.interferences:
        return usual
    largest = float(default("interference_most").value) * usual.diameter
    reach = min(usual.interferences[-1], largest)
    places = places_of_hand(reach, system=job.units)
    return choose_fit(job, shop, interferences=places)


def seconds_left(
    job: Job,
    shop: Shop | None = None,
    *,
    interferences: tuple[float, ...] | None = None,
    is_held: bool = False,
) -> SecondsWave:
    """Seconds before it grips over the same range; ``is_held`` keeps the heat of today's fit."""
    return _seconds(job, shop or Shop(), interferences, is_held)


def fits_of_job(bench: Bench, number: str, cylinder: int = 1) -> dict[str, Any]:
    """The picture of a cylinder by the shop's settings, as a document in the job's units.

    Raises
    ------
    NotFound
        If there is no such job, or it has no such cylinder.
    InputError
        If something told cannot be right.
    """
    job, shop = cylinder_of(bench, number, cylinder).job, shop_of_bench(bench)
    return chooser_document(choose_fit(job, shop), system=job.units)


def seconds_of_job(
    bench: Bench, number: str, cylinder: int = 1, *, is_held: bool = False
) -> dict[str, Any]:
    """The seconds of a cylinder by the shop's settings, as a document in the job's units.

    Raises
    ------
    NotFound
        If there is no such job, or it has no such cylinder.
    InputError
        If something told cannot be right.
    NotConverged
        If a drop does not reach grip or the end of the forecast.
    """
    job, shop = cylinder_of(bench, number, cylinder).job, shop_of_bench(bench)
    return wave_document(seconds_left(job, shop, is_held=is_held), system=job.units)


@lru_cache(maxsize=PICTURES_KEPT)
def _picture(job: Job, shop: Shop, interferences: tuple[float, ...] | None) -> Chooser:
    return with_stages(
        lambda run: chooser(job, shop, interferences=interferences, samples=SAMPLES, run=run)
    )


@lru_cache(maxsize=PICTURES_KEPT)
def _seconds(
    job: Job, shop: Shop, interferences: tuple[float, ...] | None, is_held: bool
) -> SecondsWave:
    made = Reckoning(is_held=is_held)
    return with_stages(lambda run: seconds_wave(job, shop, interferences, made=made, run=run))
