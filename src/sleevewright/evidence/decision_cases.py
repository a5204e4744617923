"""Published checks of guard bands from few readings, and of the walk behind a chain."""

from __future__ import annotations

from sleevewright.core.cutting.concentric import Chain, chance_within
from sleevewright.core.uncertainty.risk import guard_factor
from sleevewright.evidence.case import published


@published(
    named="U8-few",
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
    named="W1",
    formula=chance_within,
    source="kluyver-1906",
    place="walk of three equal steps ends within one step with 1 / (n + 1)",
    published=0.25,
    unit="1",
    tolerance=1e-3,
    reading="memory",
)
def walk_of_three() -> float:
    """Three steps of one length, each in any direction: chance to end within one step.

    Of exact steps a spread of a thousandth is taken; what it costs is within the tolerance.
    """
    return chance_within(1.0, chain=Chain((1.0, 1.0, 1.0)))
