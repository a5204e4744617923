"""Published and derived checks of what is learned from passes and how a warm bore reads.

Newcomb's times of light are learned as passes of one stroke from a prior that says nothing:
mean and interval are then those of the textbook.
"""

from __future__ import annotations

import numpy as np

from sleevewright.core.cutting.hone_heat import sleeved_growth
from sleevewright.core.cutting.hone_stock import marks_stock
from sleevewright.core.cutting.honing import HoneRate, Passes, learned_rate, next_scatter
from sleevewright.core.expansion import ExpansionLaw
from sleevewright.core.materials import table_text
from sleevewright.core.tables import rows_of
from sleevewright.core.uncertainty.contributions import coverage_factor
from sleevewright.evidence.case import published

UPWARDS = 50.0
"""Put on every time, since a hone takes nothing below nought; taken off the results again."""
SAYS_NOTHING = HoneRate(0.0, 1e-12, 1e-12, -1.0)


def _newcomb() -> HoneRate:
    """What the times teach."""
    rows = rows_of(table_text("newcomb_times.csv"), name="newcomb_times.csv")
    times = np.array([row.number("time") for row in rows]) + UPWARDS
    told = Passes(np.ones_like(times), times)
    return learned_rate(SAYS_NOTHING, passes=told, reading=0.0, memory=1.0)


def _end(sign: float) -> float:
    """An end of the central 95 % interval of the mean."""
    after = _newcomb()
    half = coverage_factor(degrees_of_freedom=after.freedom) * after.scatter / after.weight**0.5
    return float(after.mean - UPWARDS + sign * half)


@published(
    named="HN-1",
    formula=learned_rate,
    source="gelman-2013",
    place="section 3.2, Newcomb's times of light, mean of 66",
    published=26.2,
    unit="1",
    tolerance=0.05,
    reading="memory",
)
def newcomb_mean() -> float:
    """Mean of Newcomb's times, learned one by one."""
    return _newcomb().mean - UPWARDS


@published(
    named="HN-2",
    formula=learned_rate,
    source="gelman-2013",
    place="section 3.2, Newcomb's times of light, low end of the 95 % interval of the mean",
    published=23.6,
    unit="1",
    tolerance=0.05,
    reading="memory",
)
def newcomb_low() -> float:
    """Low end of what the mean of Newcomb's times may be."""
    return _end(-1.0)


@published(
    named="HN-3",
    formula=learned_rate,
    source="gelman-2013",
    place="section 3.2, Newcomb's times of light, high end of the 95 % interval of the mean",
    published=28.8,
    unit="1",
    tolerance=0.06,
    reading="memory",
    because="the scatter is printed as 10.8, and the times give 10.75",
)
def newcomb_high() -> float:
    """High end of what the mean of Newcomb's times may be."""
    return _end(1.0)


@published(
    named="HN-4",
    formula=next_scatter,
    source="derived",
    place="one more of n like draws: s (1 + 1/n)^(1/2), n = 4, s = 2",
    published=2.236068,
    unit="m",
    tolerance=5e-7,
    reading="derived",
)
def next_of_four() -> float:
    """Scale of the next draw after four."""
    return next_scatter(HoneRate(1.0, 2.0, 4.0, 3.0), memory=1.0)


@published(
    named="HN-5",
    formula=sleeved_growth,
    source="derived",
    place="70 mm of iron, 10 K, 11e-6/K, in a casting of the same growth, no fit: 7.7 um",
    published=7.7e-6,
    unit="m",
    tolerance=5e-8,
    reading="derived",
)
def grown_alone() -> float:
    """Growth of a bore whose fit neither eases nor tightens."""
    law = ExpansionLaw(11.0e-6, 0.0)
    return float(
        sleeved_growth(
            bore=0.070,
            diameter=0.076,
            interference=0.0,
            ratio=0.6,
            casting_law=law,
            sleeve_law=law,
            temperature=303.15,
        )
    )


@published(
    named="HN-6",
    formula=marks_stock,
    source="derived",
    place="marks 4 um deep on both sides of a bore, taken to their bottom: 8 um",
    published=8e-6,
    unit="m",
    tolerance=5e-10,
    reading="derived",
    digits=4,
)
def marks_on_both_sides() -> float:
    """Stock that reaches the bottom of marks."""
    return float(marks_stock(roughness=4e-6, share=1.0))
