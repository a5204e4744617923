"""Use case: what would change the seconds of a job's drop; reckoned when it is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sleevewright.jobs.model import Job
from sleevewright.planning.drop_ends import end_words
from sleevewright.planning.drop_now import DROPS as NOW_DROPS
from sleevewright.planning.drop_now import Now, after_carry
from sleevewright.planning.drop_words import Changes, change_words, changes_of, standing_drop
from sleevewright.planning.shop import Shop
from sleevewright.services.plans import with_stages

KEPT = 8
"""Jobs whose changes are kept ready."""


@dataclass(frozen=True)
class Changed:
    """Sentences, strongest change first; what is missing where the plan has no seconds."""

    words: tuple[str, ...]
    needs: tuple[str, ...]
    ends: tuple[str, ...] = ()


@lru_cache(maxsize=KEPT)
def _changes(job: Job, shop: Shop) -> Changes:
    return with_stages(lambda run: changes_of(job, shop, run=run))


def seconds_changed(job: Job, shop: Shop) -> Changed:
    """What changes the seconds of a cylinder's drop, in the job's units.

    Parameters
    ----------
    job : Job
        The cylinder, as far as it has been told.
    shop : Shop
        Frozen snapshot of the shop.

    Raises
    ------
    InputError
        If something told cannot be right.
    NotConverged
        If a drop does not reach grip or the end of the forecast.
    """
    made = _changes(job, shop)
    words = change_words(made.found, system=job.units) if made.is_known else ()
    return Changed(words, made.needs, () if made.ends is None else end_words(made.ends))


@lru_cache(maxsize=KEPT * 8)
def seconds_now(job: Job, shop: Shop, carried: int) -> Now | None:
    """Seconds of the drop now that the casting has been out so long; none without a plan of it.

    Parameters
    ----------
    job : Job
        The cylinder, as far as it has been told.
    shop : Shop
        Frozen snapshot of the shop.
    carried : int
        Whole seconds since the casting left the oven.

    Raises
    ------
    InputError
        If the time is negative or above ten minutes, or something told cannot be right.
    NotConverged
        If a drop does not reach grip or the end of the forecast.
    """
    standing, _ = with_stages(lambda run: standing_drop(job, shop, count=NOW_DROPS, run=run))
    if standing is None:
        return None
    case = standing.value("drop.case")
    return after_carry(case, carried=float(carried), seed=shop.settings.seed)
