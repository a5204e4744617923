"""Checks of two warming bodies against a pair whose answer can be worked out by hand.

Two equal bodies of 1 J/K, joined by 1 W/K, each losing 1 W/K, one heated by 3 W: the rates are
1 and 3 a second, the ends 2 K and 1 K, and the heated one is at
1.5 (1 - exp(-t)) + 0.5 (1 - exp(-3 t)).
"""

from __future__ import annotations

from sleevewright.core.engine.warmclearance import least_when
from sleevewright.core.engine.warmup import TwoBodies, warm_temperatures
from sleevewright.evidence.case import published

PAIR = TwoBodies(1.0, 1.0, 1.0, 1.0, 3.0, 0.0, 1.0)
_PLACE = "two equal bodies with the rates 1 and 3, by hand"


@published(
    named="warming-piston",
    formula=warm_temperatures,
    source="derived",
    place=_PLACE + ", the heated one after 1 s",
    published=1.4232873,
    unit="K",
    tolerance=5e-8,
    reading="derived",
)
def heated_body_after_a_second() -> float:
    """Rise of the heated one of two equal bodies."""
    return float(warm_temperatures(PAIR, time=1.0)[0])


@published(
    named="warming-cylinder",
    formula=warm_temperatures,
    source="derived",
    place=_PLACE + ", the other one after 1 s",
    published=0.4730744,
    unit="K",
    tolerance=5e-8,
    reading="derived",
)
def other_body_after_a_second() -> float:
    """Rise of the other of two equal bodies."""
    return float(warm_temperatures(PAIR, time=1.0)[1])


@published(
    named="warming-turn",
    formula=least_when,
    source="derived",
    place=_PLACE + ", growths 1 and 2: exp(2 t) = 3, so t = ln(3)/2",
    published=0.5493061,
    unit="s",
    tolerance=5e-8,
    reading="derived",
)
def clearance_turns() -> float:
    """When the clearance turns, the bore growing twice as much by kelvin as the piston."""
    return float(least_when(PAIR, piston_growth=1.0, bore_growth=2.0))
