"""Published checks of guard bands from few readings, and of the walk behind a chain."""

from __future__ import annotations

from sleevewright.core.cutting.concentric import Chain, chance_within
from sleevewright.core.uncertainty.risk import chance_out, guard_factor
from sleevewright.evidence.case import published


@published(
    id="U8-few",
    formula=guard_factor,
    source="jcgm-100",
    place="table G.2, 5 degrees of freedom, 90 % on two sides, which is 95 % on one",
    published=2.02,
    unit="1",
    tolerance=0.005,
    reading="memory",
)
def guard_at_five() -> float:
    """Guard band at 5 degrees of freedom, in standard uncertainties."""
    return guard_factor(degrees_of_freedom=5.0)


@published(
    id="U7-out",
    formula=chance_out,
    source="jcgm-106",
    place="clause 7, breakdown voltage of a diode: what its conformance probability leaves",
    published=0.08,
    unit="1",
    tolerance=0.005,
    reading="memory",
)
def diode_out() -> float:
    """Breakdown voltage of a diode: chance that it is out."""
    return chance_out(-5.47, standard=0.05, most=-5.40)


@published(
    id="W1",
    formula=chance_within,
    source="kluyver-1906",
    place="walk of three equal steps ends within one step with 1 / (n + 1)",
    published=0.25,
    unit="1",
    tolerance=1e-3,
    reading="memory",
    because="a spread of a thousandth of the steps stands for none",
)
def walk_of_three() -> float:
    """Three steps of one length, each in any direction: chance to end within one step."""
    return chance_within(1.0, chain=Chain((1.0, 1.0, 1.0)))
