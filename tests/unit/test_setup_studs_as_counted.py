"""Shims go under the stud that they belong under, however its angle is counted.

The readings are made from where the wall stands before the plunger, not from what is tested:
the wall is near where the centre of the bore lies away from the plunger (``derived``).
"""

from __future__ import annotations

import math
from itertools import product

import pytest

from sleevewright.core.metrology.shims import Shims
from sleevewright.core.metrology.sweep import Mount, Sense
from sleevewright.planning.answers import Plan
from sleevewright.web.stage.setup_view import setup_view
from swept_jobs import EIGHT, THOU, Setup, one, with_setup, worked_plan

STUDS = {"1": 90.0, "2": 210.0, "3": 330.0}
RADIUS, APART, LEAN = 2.0, 2.6, 1e-3


@pytest.fixture(scope="module")
def made() -> Plan:
    """The plan of the worked job, on few samples."""
    return worked_plan()


def read_at(counted: float, lean: float, mount: Mount, sense: Sense) -> float:
    """What the indicator shows of a bore whose centre lies along +Y, in thou."""
    turned = math.radians(counted if sense is Sense.COUNTER else -counted)
    if mount is Mount.SPINDLE:
        return -lean * math.sin(turned)
    # The table carries the centre round; the plunger stays at the +X side.
    return -(-lean * math.sin(turned))


def angle_of(stud: float, mount: Mount, sense: Sense) -> float:
    """The angle that is counted when the plunger stands before a stud."""
    turned = stud if mount is Mount.SPINDLE else -stud
    return (turned if sense is Sense.COUNTER else -turned) % 360.0


def leaning(mount: Mount, sense: Sense) -> Setup:
    """The bore leans to +Y: its centre lies there at the top, and under the spindle below."""
    job = Setup()
    job.value("setup.turns", mount.value)
    job.value("setup.counted", sense.value)
    for name, where, off in (("a1", "top", LEAN * APART * 1000.0), ("b1", "bottom", 0.0)):
        job.told(name, where, [read_at(at, off, mount, sense) for at in EIGHT], EIGHT)
    for number, at in STUDS.items():
        job.value(f"setup.stud/{number}/angle", f"{angle_of(at, mount, sense):g} deg")
        job.value(f"setup.stud/{number}/radius", f"{RADIUS:g} in")
    return job


@pytest.mark.parametrize(("mount", "sense"), list(product(Mount, Sense)))
def test_one_set_up_gives_the_same_shims_however_it_is_counted(
    made: Plan, mount: Mount, sense: Sense
) -> None:
    """Leaning 1 thou by the inch to +Y, studs 2 in out: 3 thou under the one that stands there."""
    job = leaning(mount, sense)
    stage = job.answered(made)
    shims = one(stage, "shims").value
    assert isinstance(shims, Shims)
    under = {
        stud.name: height / THOU for stud, height in zip(shims.studs, shims.stepped, strict=True)
    }
    assert under == pytest.approx({"1": 3.0, "2": 0.0, "3": 0.0}, abs=1e-6)
    leans = one(stage, "lean_at").value
    assert isinstance(leans, float)
    assert math.degrees(leans) == pytest.approx(90.0, abs=0.1)
    for stud in shims.studs:
        assert math.cos(stud.angle - math.radians(STUDS[stud.name])) == pytest.approx(1.0)
    picture = str(setup_view(with_setup(made, job)).shims)
    assert "stud 1 3.0 thou, stud 2 none, stud 3 none" in picture
