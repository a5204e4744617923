"""Time of the whole demo plan against drawing 2,000,000 standard normals, in one run.

Run as ``python benchmarks/plan.py``.  One BLAS thread.  A round that says "own draws"
forgets the kept draws first, so that it pays for its own random numbers.
"""

from __future__ import annotations

from reference import interleaved, reference_draw, table

# isort: split
from pathlib import Path

from sleevewright.core.uncertainty.inputs import clear_draws
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Shop
from sleevewright.services.plans import StageCache, load_job

EXAMPLES = Path(__file__).parents[1] / "examples"


def main() -> None:
    """Print the table of ratios."""
    job = load_job(EXAMPLES / "demo-air-175.toml")
    shop = Shop()
    cache = StageCache()

    def cold() -> object:
        clear_draws()
        return plan(job, shop)

    cold()
    reference, own, kept, again = interleaved(
        (
            reference_draw,
            cold,
            lambda: plan(job, shop),
            lambda: plan(job, shop, run=cache),
        )
    )
    rows = [
        ("whole demo plan, own draws", own / reference, 5.0),
        ("whole demo plan, draws kept", kept / reference, None),
        ("the same plan again, stages kept", again / reference, None),
    ]
    print(table(f"R = {1e3 * reference:.1f} ms", rows))


if __name__ == "__main__":
    main()
