"""What is told to do if a drop goes wrong, by metal, limit and ports."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from sleevewright.jobs.model import Entry, Job
from sleevewright.planning.answers import Plan
from sleevewright.planning.beside import with_stage
from sleevewright.planning.recovery import branches, recovery_stage
from sleevewright.planning.recovery_cases import LATE
from sleevewright.services.jobfiles import load_job
from sleevewright.services.plans import plan_job


@pytest.fixture(scope="module")
def water(root: Path) -> tuple[Job, Plan]:
    """The worked water-cooled job and its plan."""
    job = load_job(root / "examples" / "demo-water.toml")
    return job, plan_job(job)


def told(job: Job, plan: Plan, *, has_ports: bool = True) -> dict[str, tuple[str, str]]:
    """What to do and why, case by case."""
    stage = recovery_stage(plan, casting=job.casting, sleeve=job.sleeve, has_ports=has_ports)
    return {one.key: (one.do, one.why) for one in branches(with_stage(plan, stage))}


def test_aluminium_is_reheated_to_a_figure_within_its_limit(water: tuple[Job, Plan]) -> None:
    """Caught in aluminium: the whole to a temperature, which stands in the words."""
    job, plan = water
    stage = recovery_stage(plan, casting=job.casting, sleeve=job.sleeve, has_ports=True)
    hot = next(one for one in stage.answers if one.id == "recover.reheat")
    grip = plan.answer("fit.grip").value
    assert isinstance(hot.value, float)
    assert isinstance(grip, float)
    assert hot.value >= grip + 40.0
    celsius = f"{hot.value - 273.15:.0f} °C"
    cases = told(job, plan)
    assert celsius in cases["off-clock-gripped"][0]
    assert cases["stopped-early"][0] == "Pull it straight out. Now."
    assert "{" not in "".join(f"{do} {why}" for do, why in cases.values())
    assert all("Iron in iron" not in why for _, why in cases.values())


def test_iron_in_iron_is_never_told_to_heat(water: tuple[Job, Plan]) -> None:
    """Caught in iron: no heat, no quench, and chilling told as the tenth of a thou it is."""
    job, _ = water
    iron = replace(job, casting=replace(job.casting, material="grey-iron"))
    cases = told(iron, plan_job(iron))
    assert "iron-gripped" in cases
    assert all("reheat the whole" not in do.lower() for do, _ in cases.values())
    assert "3 µm" in cases["iron-gripped"][1]


def test_heat_above_the_limit_is_not_told(water: tuple[Job, Plan]) -> None:
    """Never told to heat above what the casting may see: the words say what is left."""
    job, _ = water
    limited = replace(job, casting=replace(job.casting, limit=Entry(430.0, "314 F", "typed")))
    cases = told(limited, plan_job(limited))
    assert cases["off-clock-gripped"][0] == "Leave it where it is."
    assert "more than the casting may see" in cases["past-half"][1]


def test_without_ports_there_is_no_mark_to_miss(water: tuple[Job, Plan]) -> None:
    """Cases of the clocking stand only where there are ports."""
    job, plan = water
    cases = told(job, plan, has_ports=False)
    assert cases
    assert not [one for one in cases if one.startswith("off-clock")]


def test_a_job_of_which_nothing_is_told_says_that_it_does_not_know() -> None:
    """Without sizes no temperature is told, and none is made up."""
    empty = Job()
    cases = told(empty, plan_job(empty))
    assert cases["past-half"][0] == "Leave it, and look up the metals."
    assert not any("°" in why for key, (_, why) in cases.items() if key != "stopped-early")


def test_no_case_tells_to_strike_or_to_quench() -> None:
    """Striking and quenching stand in no order, whatever the metal."""
    orders = [one.do.lower() for late in LATE.values() for one in late]
    assert orders
    assert not [one for one in orders if "hammer" in one or "water" in one or "drive" in one]
