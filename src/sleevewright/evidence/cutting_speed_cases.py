"""Published checks of speeds, force, give and roughness of a boring cut."""

from __future__ import annotations

import math

from sleevewright.core.cutting.deflection import bar_give
from sleevewright.core.cutting.finish_roughness import mean_roughness, ridge_height
from sleevewright.core.cutting.speeds import (
    cut_power,
    cut_torque,
    feed_speed,
    pass_time,
    removal_rate,
    spindle_turns,
    wall_speed,
)
from sleevewright.evidence.case import published

_INCH = 0.0254
_POUND_FORCE = 4.4482216152605
_PSI = _POUND_FORCE / _INCH**2
_MINUTE = 60.0
_TURNS = 400.0 / _MINUTE
_ROOT = {"mean_diameter": 0.01225, "depth": 2.5e-4, "feed": 5e-4, "turns": _TURNS}
_BAR = {"mean_diameter": 0.070, "depth": 0.005, "feed": 5e-4, "turns": _TURNS}
_NOSE = {"feed": 2e-4, "nose": 8e-4, "end_angle": math.radians(15.0)}


@published(
    named="K1", formula=bar_give, source="isakov-2019", place="example 1, US units",
    published=0.003, unit="in", tolerance=0.00002, reading="read",
)  # fmt: skip
def bar_in_inches() -> float:
    """A steel bar of 1 in, 4 in free, under 207.8 lbf."""
    give = bar_give(overhang=4.0 * _INCH, bar=_INCH, bar_modulus=30e6 * _PSI)
    return float(give * 207.8 * _POUND_FORCE / _INCH)


@published(
    named="K2", formula=bar_give, source="isakov-2019", place="example 2, metric",
    published=0.0757, unit="mm", tolerance=0.00005, reading="read",
)  # fmt: skip
def bar_in_millimetres() -> float:
    """The same bar in metric units under 911.1 N."""
    return float(1e3 * 911.1 * bar_give(overhang=0.1016, bar=0.0254, bar_modulus=2.06e11))


@published(
    named="K3-Rz", formula=ridge_height, source="machining-reference-page",
    place="worked example, f 0.2 mm, r 0.8 mm", published=6.25, unit="um", tolerance=0.03,
    reading="read", because="the page takes a parabola for the arc, which is 0.4 % lower",
)  # fmt: skip
def ridges() -> float:
    """Height of the ridges of a nose of 0.8 mm at 0.2 mm a turn."""
    return float(1e6 * float(ridge_height(**_NOSE)))


@published(
    named="K3-Ra", formula=mean_roughness, source="machining-reference-page",
    place="worked example, f 0.2 mm, r 0.8 mm", published=1.603, unit="um", tolerance=0.008,
    reading="read", because="the page's factor 31.2 is the parabola's; the arc has 0.4 % more",
)  # fmt: skip
def mean_of_ridges() -> float:
    """Ra of a nose of 0.8 mm at 0.2 mm a turn."""
    return float(1e6 * float(mean_roughness(**_NOSE)))


@published(
    named="K4-V", formula=wall_speed, source="kalpakjian-schmid-2009",
    place="example of turning a stainless rod", published=15.7, unit="m/min", tolerance=0.05,
    reading="inputs-read",
)  # fmt: skip
def speed_of_a_rod() -> float:
    """Speed of a rod of 12.5 mm at 400 rpm."""
    return float(_MINUTE * wall_speed(diameter=0.0125, turns=_TURNS))


@published(
    named="K4-Q", formula=removal_rate, source="kalpakjian-schmid-2009",
    place="example of turning a stainless rod", published=1924.0, unit="mm3/min", tolerance=0.5,
    reading="inputs-read",
)  # fmt: skip
def metal_of_a_rod() -> float:
    """Metal removed from 12.5 to 12.0 mm at 0.5 mm a turn."""
    return float(1e9 * _MINUTE * removal_rate(**_ROOT))


@published(
    named="K4-t", formula=pass_time, source="kalpakjian-schmid-2009",
    place="example of turning a stainless rod", published=0.75, unit="min", tolerance=0.005,
    reading="inputs-read",
)  # fmt: skip
def time_of_a_rod() -> float:
    """150 mm at 200 mm/min."""
    return float(pass_time(length=0.150, run_out=0.0, feed=5e-4, turns=_TURNS) / _MINUTE)


@published(
    named="K4-P", formula=cut_power, source="kalpakjian-schmid-2009",
    place="example of turning a stainless rod", published=128.0, unit="W", tolerance=0.5,
    reading="inputs-read",
)  # fmt: skip
def power_of_a_rod() -> float:
    """Power at 4 W s/mm3."""
    return float(cut_power(specific_energy=4e9, removal=removal_rate(**_ROOT)))


@published(
    named="K4-T", formula=cut_torque, source="kalpakjian-schmid-2009",
    place="example of turning a stainless rod", published=3.1, unit="N m", tolerance=0.05,
    reading="inputs-read",
)  # fmt: skip
def torque_of_a_rod() -> float:
    """Torque of that power at 400 rpm."""
    return float(cut_torque(power=power_of_a_rod(), turns=_TURNS))


@published(
    named="K5-V", formula=wall_speed, source="kalpakjian-schmid-2009",
    place="problem of turning a titanium rod", published=94.25, unit="m/min", tolerance=0.005,
    reading="read",
)  # fmt: skip
def speed_of_a_bar() -> float:
    """Speed of a rod of 75 mm at 400 rpm."""
    return float(_MINUTE * wall_speed(diameter=0.075, turns=_TURNS))


@published(
    named="K5-P-low", formula=cut_power, source="kalpakjian-schmid-2009",
    place="problem of turning a titanium rod", published=10.996, unit="kW", tolerance=0.0005,
    reading="read",
)  # fmt: skip
def least_power_of_a_bar() -> float:
    """Power from 75 to 65 mm at 3.0 W s/mm3."""
    return float(1e-3 * cut_power(specific_energy=3.0e9, removal=removal_rate(**_BAR)))


@published(
    named="K5-P-high", formula=cut_power, source="kalpakjian-schmid-2009",
    place="problem of turning a titanium rod", published=15.027, unit="kW", tolerance=0.0005,
    reading="read",
)  # fmt: skip
def most_power_of_a_bar() -> float:
    """Power from 75 to 65 mm at 4.1 W s/mm3."""
    return float(1e-3 * cut_power(specific_energy=4.1e9, removal=removal_rate(**_BAR)))


@published(
    named="K6", formula=spindle_turns, source="derived",
    place="bore of 62 mm at 100 m/min", published=513.4, unit="rpm", tolerance=0.05,
    reading="derived",
)  # fmt: skip
def turns_of_a_bore() -> float:
    """Turns for 100 m/min in a bore of 62 mm."""
    return float(_MINUTE * float(spindle_turns(cutting_speed=100.0 / _MINUTE, diameter=0.062)))


@published(
    named="KS1", formula=removal_rate, source="groover-2011", place="problem 15.3 (c)",
    published=1404.0, unit="mm3/s", tolerance=0.5, reading="read",
)  # fmt: skip
def metal_at_a_speed() -> float:
    """Metal removed at 1.8 m/s, 0.30 mm a turn, 2.6 mm deep."""
    turns = float(spindle_turns(cutting_speed=1.8, diameter=0.1))
    return float(1e9 * removal_rate(mean_diameter=0.1, depth=2.6e-3, feed=3e-4, turns=turns))


@published(
    named="KS2-t", formula=pass_time, source="groover-2010", place="problem 22.1 (a)",
    published=598.0, unit="s", tolerance=0.5, reading="memory",
)  # fmt: skip
def time_of_a_long_turn() -> float:
    """700 mm of 200 mm diameter at 2.30 m/s and 0.32 mm a turn."""
    turns = float(spindle_turns(cutting_speed=2.30, diameter=0.200))
    return float(pass_time(length=0.700, run_out=0.0, feed=3.2e-4, turns=turns))


@published(
    named="KS2-Q", formula=removal_rate, source="groover-2010", place="problem 22.1 (b)",
    published=1325.0, unit="mm3/s", tolerance=0.5, reading="memory",
)  # fmt: skip
def metal_of_a_long_turn() -> float:
    """The same, 1.80 mm deep; the book takes the speed at the outside for the mean."""
    turns = float(spindle_turns(cutting_speed=2.30, diameter=0.200))
    return float(1e9 * removal_rate(mean_diameter=0.200, depth=1.8e-3, feed=3.2e-4, turns=turns))


@published(
    named="KS4", formula=cut_power, source="power-formula-page",
    place="worked example, mild steel, machine coefficient 80 %", published=4.65, unit="kW",
    tolerance=0.005, reading="read",
)  # fmt: skip
def power_of_mild_steel() -> float:
    """Power at 120 m/min, 3 mm deep, 0.2 mm a turn, 3100 N/mm2, over 0.8."""
    turns = float(spindle_turns(cutting_speed=120.0 / _MINUTE, diameter=0.1))
    removal = removal_rate(mean_diameter=0.1, depth=3e-3, feed=2e-4, turns=turns)
    return float(1e-3 * cut_power(specific_energy=3.1e9, removal=removal) / 0.8)


@published(
    named="KS3", formula=feed_speed, source="turning-course", place="example of the feed",
    published=100.0, unit="mm/min", tolerance=0.5, reading="read",
)  # fmt: skip
def feed_of_a_shaft() -> float:
    """0.1 mm a turn at 1000 rpm."""
    return float(1e3 * _MINUTE * feed_speed(feed=1e-4, turns=1000.0 / _MINUTE))
