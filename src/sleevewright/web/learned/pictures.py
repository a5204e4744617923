"""From past jobs to the pictures of the page: the fits, and how long jobs last."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from markupsafe import Markup

from sleevewright.jobs.pastjobs import BACK, DAY, UNHEARD, WELL, PastJob
from sleevewright.planning.answers import Plan
from sleevewright.planning.learning import Lasting, counted, own_fit
from sleevewright.web.pictures import past_fits as drawn
from sleevewright.web.pictures.past_fits import PastFitsPicture, PastPoint, past_fits
from sleevewright.web.pictures.survival_steps import SurvivalPicture, survival_steps

MOST_POINTS = 600
"""Points that are drawn; of more the newest, and every come-back."""

PER_UNIT = {"inch": "thou per inch", "metric": "µm per mm"}
THOUSAND = 1000.0
MARKS = {WELL: drawn.WELL, UNHEARD: drawn.UNHEARD, BACK: drawn.BACK}


def fits_picture(jobs: Sequence[PastJob], units: str, plan: Plan | None) -> Markup | None:
    """The fits of past jobs with this job's; nothing where no fit was signed."""
    told = [one for one in jobs if one.per_diameter is not None]
    if not told:
        return None
    backs = [one for one in told if one.outcome == BACK]
    rest = [one for one in told if one.outcome != BACK]
    points = tuple(_point(one) for one in (*rest[-MOST_POINTS:], *backs))
    own = None if plan is None else own_fit(plan)
    value, half = (None, 0.0) if own is None else (THOUSAND * own.ratio, THOUSAND * own.half)
    says = f"{counted(told).words}; fit by the diameter over the day of release."
    return past_fits(PastFitsPicture(points, PER_UNIT[units], says, value, half))


def left_out(jobs: Sequence[PastJob]) -> int:
    """How many points are not drawn; a come-back always is."""
    rest = sum(one.per_diameter is not None and one.outcome != BACK for one in jobs)
    return max(0, rest - MOST_POINTS)


def _point(one: PastJob) -> PastPoint:
    fit = THOUSAND * float(one.per_diameter or 0.0)
    return PastPoint(date.fromisoformat(one.released), fit, MARKS[one.outcome])


def lasting_picture(one: Lasting, place: int) -> Markup | None:
    """The steps; nothing where none came back, because a straight line would mislead."""
    curve = one.curve
    if curve is None:
        return None
    days = tuple(float(time) / DAY for time in curve.times)
    backs = tuple(day for day, n in zip(days, curve.failures, strict=True) for _ in range(int(n)))
    last = round(100.0 * float(curve.share[-1]))
    says = (
        f"Share that still runs by days since release, {one.title}: {last} of 100 beyond "
        f"day {days[-1]:.0f}."
    )
    return survival_steps(
        SurvivalPicture(
            times=days,
            share=tuple(map(float, curve.share)),
            low=tuple(map(float, curve.low)),
            high=tuple(map(float, curve.high)),
            followed=(*one.ends, *backs),
            running=one.ends,
            says=says,
            name=f"lasting{place}",
        )
    )
