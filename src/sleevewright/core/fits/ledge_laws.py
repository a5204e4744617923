"""Power laws of what happens close to a ledge, fitted to axisymmetric finite elements.

Each law is exp(k0 + k1 ln(t/(r h)^(1/2)) + k2 ln(h/r) + k3 ln(H/r) + k4 ln(o/r)) with t the
thickness and o the overhang of the flange, h and H the walls of sleeve and casting and r the
radius of the fit.  Fitted to 110 random pairs and tried on 50 others; ``docs/theory`` says how
far they lay off.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sleevewright.core.checks import Number

HELD = "held"
FREE = "free"


@dataclass(frozen=True)
class EndLaw:
    """One law: its constant and its four powers."""

    constant: float
    reach: float = 0.0
    wall: float = 0.0
    casting: float = 0.0
    overhang: float = 0.0

    def sum_of_logs(self, logs: tuple[Number, ...]) -> Number:
        """The sum that stands in the exponent, from the four logarithms."""
        powers = (self.reach, self.wall, self.casting, self.overhang)
        terms = (power * log for power, log in zip(powers, logs, strict=True))
        return self.constant + sum(terms)

    def of(self, logs: tuple[Number, ...]) -> Number:
        """The law itself."""
        return np.exp(self.sum_of_logs(logs))


@dataclass(frozen=True)
class LedgeLaws:
    """The laws of one state of the flange."""

    kept: EndLaw  # of the body's fit, what the counterbore does not open by
    alone: EndLaw  # give of the flange alone over that of thin walls
    engaged: EndLaw  # give with the body's walls together over that of the flange alone
    ledge_body: EndLaw  # sum of logs: share of the ring's hoop stress on the ledge
    ledge_flange: EndLaw  # hoop stress on the ledge by the flange's pressure


LAWS = {
    HELD: LedgeLaws(
        kept=EndLaw(2.469, 1.481, 0.566, 0.263, 0.599),
        alone=EndLaw(-0.161, -0.121, 0.056),
        engaged=EndLaw(-0.888, 0.167),
        ledge_body=EndLaw(0.613, -0.550, 0.070, -0.477, 0.337),
        ledge_flange=EndLaw(-0.313, 0.500, 0.167, -0.808, -0.333),
    ),
    FREE: LedgeLaws(
        kept=EndLaw(1.082, 1.156, 0.140, 0.246, 0.436),
        alone=EndLaw(-0.133, -0.106, 0.049),
        engaged=EndLaw(-0.513, 0.430),
        ledge_body=EndLaw(1.144, -0.528, 0.263, -0.521, 0.413),
        ledge_flange=EndLaw(0.555, 0.677, 0.304, -0.934, -0.090),
    ),
}
