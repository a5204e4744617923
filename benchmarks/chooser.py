"""Cost of the picture of a fit against R, and how far its bands are from a larger sample.

Closed form: 41 interferences by 4,000 common samples, all answers with their P5, P50 and
P95, chances and verdicts.  Second wave: the same drops at 13 interferences.  The stages of
the plan that both stand on are run beforehand, as they are when a plan was looked at.
"""

from __future__ import annotations

from reference import interleaved, reference_draw, table

# isort: split
from pathlib import Path

import numpy as np

from sleevewright.errors import NotFound
from sleevewright.planning.answers import Quantity
from sleevewright.planning.chooser import SAMPLES, Chooser, Curve, chooser, draw
from sleevewright.planning.chooser_ground import fits_to_draw, ground
from sleevewright.planning.chooser_seconds import COMMON_DROPS, RECKONED, seconds_wave
from sleevewright.planning.ledger import SHALLOW
from sleevewright.planning.shop import Settings, Shop
from sleevewright.services.plans import StageCache, load_job

EXAMPLES = Path(__file__).parents[1] / "examples"
PICTURE_GOAL, WAVE_GOAL = 2.5, 7.5  # 50 ms and 150 ms where R is 20 ms


def main() -> None:
    """Print ratios and how much the bands of fewer samples differ from those of many."""
    job, shop, cache = load_job(EXAMPLES / "demo-air-175.toml"), Shop(), StageCache()
    base = ground(job, shop, cache)
    fits = fits_to_draw(base, None)
    seconds_wave(job, shop, run=cache)
    closed, wave, whole, reference = interleaved(
        (
            lambda: draw(base, shop, fits, samples=SAMPLES),
            lambda: seconds_wave(job, shop, run=cache),
            lambda: chooser(job, shop),
            reference_draw,
        )
    )
    few = draw(base, shop, fits, samples=SAMPLES)
    rows = [
        (f"{len(few.curves)} answers, {fits.size} x {SAMPLES}", closed / reference, PICTURE_GOAL),
        (f"seconds, {RECKONED} x {COMMON_DROPS} drops", wave / reference, WAVE_GOAL),
        ("the picture with the stages of its plan", whole / reference, None),
    ]
    print(table("the picture of a fit against R, one BLAS thread", rows))
    print(
        f"R {1e3 * reference:.1f} ms, picture {1e3 * closed:.1f} ms (goal 50), "
        f"seconds {1e3 * wave:.1f} ms (goal 150)"
    )
    other = Shop(settings=Settings(seed=shop.settings.seed + 1))
    many = draw(ground(job, other, cache), other, fits, samples=SHALLOW)
    for one in few.curves:
        if one.quantity is not Quantity.PROBABILITY:
            print(f"  {one.id:<22} ends within {_apart(one, many):4.1f} % of the band's width")


def _apart(one: Curve, many: Chooser) -> float:
    """How far the ends of a band are from those of another draw, in per cent of its width."""
    other = many.curve(one.id)
    if other is None:
        raise NotFound("curve", one.id)
    pairs = ((one.low, other.low), (one.high, other.high))
    apart = max(np.nanmax(np.abs(np.subtract(line, full))) for line, full in pairs)
    return float(100.0 * apart / np.nanmax(np.subtract(other.high, other.low)))


if __name__ == "__main__":
    main()
