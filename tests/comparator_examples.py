"""A job whose bore was gauged over a master, told as a file; invented."""

from __future__ import annotations

from collections.abc import Sequence

from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.model import Job
from sleevewright.planning.answers import Plan
from sleevewright.planning.plan import plan
from sleevewright.planning.shop import Shop

THOU = 25.4e-6
NOMINAL = "2.6393 in"
ON_SLEEVE = 'set_on = "sleeve"'

_TEXT = """
[job]
number = "J-7"
units = "inch"
invented = true
[casting]
material = "aluminium-356"
mass = "2.2 kg"
outside_diameter = "3.6 in"
[sleeve]
material = "grey-iron"
inside_diameter = "2.3 in"
length = "3.5 in"
{flange}
[[instrument]]
name = "mic 2-3"
kind = "micrometer"
setting = "0.2 thou"
[[instrument]]
name = "bore gauge"
kind = "dial-bore-gauge"
setting = "0.3 thou"
set_from = "{set_from}"
[[instrument]]
name = "ring"
kind = "setting-ring"
setting = "0.1 thou"
[[grid]]
feature = "sleeve-od"
instrument = "mic 2-3"
nominal = "{nominal}"
part_temperature = "70 F"
gauge_temperature = "70 F"
stations = ["0.4 in", "1.3 in", "2.2 in"]
directions = ["0 deg", "45 deg", "90 deg", "135 deg"]
readings = {outside}
[[grid]]
feature = "parent-bore"
instrument = "bore gauge"
nominal = "{zero}"
part_temperature = "{part}"
gauge_temperature = "{gauge}"
{setting}
stations = ["0.4 in", "1.3 in", "2.2 in"]
directions = ["0 deg", "45 deg", "90 deg", "135 deg"]
readings = {inside}
"""
OUTSIDE = ((0.0, 0.1, 0.0, -0.1), (0.1, 0.0, -0.1, 0.0), (0.0, -0.1, 0.1, 0.0))
INSIDE = ((-3.5, -3.4, -3.5, -3.6), (-3.4, -3.5, -3.6, -3.5), (-3.5, -3.6, -3.4, -3.5))


def rows(readings: Sequence[Sequence[float]]) -> str:
    """Readings in thou over the nominal, as a file tells them."""
    return "[" + ", ".join(str([f"{one:+.1f}" for one in row]) for row in readings) + "]"


def text_of(
    setting: str = "",
    *,
    part: str = "70 F",
    gauge: str = "70 F",
    zero: str = NOMINAL,
    set_from: str = "mic 2-3",
    flange: str = "",
    inside: Sequence[Sequence[float]] = INSIDE,
) -> str:
    """The job as a file, its bore's gauge set as ``setting`` says."""
    return _TEXT.format(nominal=NOMINAL, zero=zero, part=part, gauge=gauge, setting=setting,
                        set_from=set_from, flange=flange, outside=rows(OUTSIDE),
                        inside=rows(inside))  # fmt: skip


def job_of(setting: str = "", **more: str) -> Job:
    """The job, read."""
    return read_job(text_of(setting, **more), name="t.toml")


def plan_of(setting: str = "", **more: str) -> Plan:
    """Its plan, by a shop that has set nothing."""
    return plan(job_of(setting, **more), Shop())
