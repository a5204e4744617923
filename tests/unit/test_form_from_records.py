"""From what is told at the bench to the page: sweeps of the worn wall, three points, ports."""

from __future__ import annotations

import math

import pytest

from sleevewright.jobs.living import living_job
from sleevewright.planning.answers import Answer
from sleevewright.planning.shop import Shop
from sleevewright.services.alongside import widened
from sleevewright.services.plans import plan_job
from sleevewright.services.proving import proved
from told_jobs import GAUGE, Teller

EIGHT = [f"{45 * step} deg" for step in range(8)]
FOUR = EIGHT[:4]
DEPTHS = ["0.50 in", "0.90 in", "2.10 in", "2.70 in"]
INDICATOR = {"name": "indicator", "kind": "indicator", "resolution": "0.0001 in"}


def answers(job: Teller) -> dict[str, Answer]:
    """What follows from all that was told, by name."""
    living = living_job(job.folded, 1)
    plan = widened(plan_job(living.job), living.job, job.folded)
    plan = proved(plan, living.job, job.folded, Shop())
    return {one.id: one for one in plan.answers()}


def told() -> Teller:
    """A worn bore of 2.2830 in with its ports, gauged across and swept."""
    job = Teller()
    job.value("engine.bore", "2.2830 in", cylinder=0)
    job.value("found.unworn", "2.2832 in")
    job.value("port/exhaust/name", "exhaust")
    job.value("port/exhaust/found.roof", "1.10 in")
    job.value("port/exhaust/found.floor", "1.80 in")
    rows = [[f"{over + 0.1 * (d % 2):+.1f}" for d in range(4)] for over in (0.5, 0.5, 2.5, 2.5)]
    job.grid("wrn", "as-found-bore", "found", rows, stations=DEPTHS, directions=FOUR,
             nominal="2.2830 in", unit="thou", entry="deviation", instruments=[GAUGE])  # fmt: skip
    worn = [f"{-0.5 - 1.5 * max(0.0, math.sin(math.radians(45 * d))):.1f}" for d in range(8)]
    job.grid("swp", "found-wear", "found", [["0.0"] * 8, worn, worn],
             stations=["0.15 in", "0.90 in", "2.10 in"], directions=EIGHT, unit="thou",
             entry="deviation", instrument="indicator", instruments=[INDICATOR])  # fmt: skip
    return job


def test_a_swept_wall_reaches_the_page_with_both_centres() -> None:
    """The worn side lies at 90 degrees: the best centre is smaller, the table goes to -Y."""
    found = answers(told())
    best, centred = found["found.best_clean_up"].value, found["found.centred_clean_up"].value
    assert isinstance(best, float)
    assert isinstance(centred, float)
    assert 20e-6 < centred - best < 60e-6
    move = found["found.move_y"].value
    assert isinstance(move, float)
    assert -40e-6 < move < -10e-6
    unworn = found["found.unworn"].value
    assert isinstance(unworn, float)
    assert abs(unworn - 2.2832 * 0.0254) < 1e-12


def one_wall(turns: str, counted: str, lever: float) -> dict[str, Answer]:
    """One worn wall, two thou deep towards 60 deg on the bore, as an indicator would read it.

    Where the table turns counter-clockwise, the places under the plunger go clockwise round.
    """
    way = {"counter-clockwise": 1, "clockwise": -1}[counted]
    on_bore = way if turns == "spindle" else -way
    shown = 1.0 / math.cos(math.radians(lever))

    def row(depth: float) -> list[str]:
        places = [math.radians(on_bore * 45 * step - 60) for step in range(8)]
        return [f"{-depth * shown * (1.0 + max(0.0, math.cos(one))):.4f}" for one in places]

    job = Teller()
    job.value("engine.bore", "2.2830 in", cylinder=0)
    job.value("found.unworn", "2.2832 in")
    for cell, text in (("turns", turns), ("counted", counted), ("lever", f"{lever} deg")):
        job.value(f"setup.{cell}", text)
    job.grid("swp", "found-wear", "found", [["0.0"] * 8, row(0.5), row(1.0)],
             stations=["0.15 in", "0.90 in", "2.10 in"], directions=EIGHT, unit="thou",
             entry="deviation", instrument="indicator", instruments=[INDICATOR])  # fmt: skip
    return answers(job)


@pytest.mark.parametrize("lever", [0.0, 30.0])
@pytest.mark.parametrize("counted", ["counter-clockwise", "clockwise"])
@pytest.mark.parametrize("turns", ["spindle", "table"])
def test_a_worn_wall_is_the_same_however_it_was_swept(
    turns: str, counted: str, lever: float
) -> None:
    """Two thou at 60 deg on the bore: the same sizes, and the table goes away from the wear."""
    found, plain = one_wall(turns, counted, lever), one_wall("spindle", "counter-clockwise", 0.0)
    for name in ("deepest_wear", "best_clean_up", "centred_clean_up", "move_x", "move_y"):
        here, there = found[f"found.{name}"].value, plain[f"found.{name}"].value
        assert isinstance(here, float)
        assert isinstance(there, float)
        assert abs(here - there) < (
            0.1e-6 if name in ("move_x", "move_y", "deepest_wear") else 3e-6
        )
    deepest, right, up = (
        found[f"found.{name}"].value for name in ("deepest_wear", "move_x", "move_y")
    )
    assert isinstance(deepest, float)
    assert isinstance(right, float)
    assert isinstance(up, float)
    assert abs(deepest - (1.0 + math.cos(math.radians(15))) * 25.4e-6) < 0.1e-6
    assert right < -2e-6
    assert up < -5e-6


def test_a_step_gets_the_name_of_its_port_from_the_port_map() -> None:
    """Two thou wider below the exhaust."""
    shape = answers(told())["found.shape"].value
    assert str(shape).startswith("step at the exhaust port, wider below it")


def test_three_points_told_at_the_parent_bore_are_compared() -> None:
    """One thou below the mean of two points: an out-of-round of a thou on radius, at least."""
    job = told()
    rows = [["+0.1", "+0.0", "+0.1", "+0.0"]] * 4
    job.grid("bored", "parent-bore", "parent", rows, stations=DEPTHS, directions=FOUR,
             nominal="2.6000 in", unit="thou", entry="deviation",
             instruments=[GAUGE], part_temperature="68 F", gauge_temperature="68 F")  # fmt: skip
    job.value("parent.three_point", "2.59905 in")
    lobes = answers(job)["bore.odd_lobes"].value
    assert isinstance(lobes, float)
    assert abs(lobes - 25.4e-6) < 1e-6
