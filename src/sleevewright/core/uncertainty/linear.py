"""Linear budgets that carry degrees of freedom, for what a certificate has to state.

One uncertain number is held for each named input, so that results which name the same
input share it and what they have in common cancels.  First order: products of inputs
whose estimates are zero are not seen; :mod:`.sampled` sees them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

from sleevewright.core.formulas import formula
from sleevewright.core.uncertainty.contributions import (
    Contribution,
    coverage_factor,
    ranked,
)
from sleevewright.core.uncertainty.inputs import InputQuantity, Shape
from sleevewright.errors import InputError


@dataclass(frozen=True)
class Budget:
    """A result with its standard uncertainty, how well that is known, and who causes it.

    ``low`` to ``high`` is the value minus and plus the coverage factor times ``standard``.
    """

    value: float
    standard: float
    degrees_of_freedom: float
    coverage: float
    coverage_factor: float
    low: float
    high: float
    contributors: tuple[Contribution, ...]


@dataclass
class LinearBudget:
    """Holds the uncertain number of every input that has been named so far."""

    _held: dict[str, tuple[InputQuantity, Any]] = field(default_factory=dict)

    def uncertain(self, quantity: InputQuantity) -> Any:
        """The uncertain number of an input: one object for one name.

        A name that comes back with another value or doubt raises :class:`InputError`,
        because two things would then be treated as one.
        """
        if quantity.name not in self._held:
            self._held[quantity.name] = (quantity, _uncertain_real(quantity))
        known, number = self._held[quantity.name]
        if known != quantity:
            allowed = "one value and one doubt for one name"
            raise InputError(quantity.name, quantity.value, "", allowed)
        return number


def _uncertain_real(quantity: InputQuantity) -> Any:
    """A new uncertain real; a lognormal one is linear in its relative doubt."""
    import GTC

    relative = quantity.shape is Shape.LOGNORMAL
    standard = quantity.standard * (quantity.value if relative else 1.0)
    if standard == 0.0:
        return quantity.value
    return GTC.ureal(quantity.value, standard, df=quantity.degrees_of_freedom, label=quantity.name)


@formula(
    name="linear budget",
    expression="u^2 = sum (df/dx_i)^2 u_i^2; value -+ k u with k from the effective "
    "degrees of freedom",
    sources=("jcgm-100",),
    validity="nearly linear model, independent inputs",
    unit="own unit",
)
def budget(number: Any, *, coverage: float = 0.95) -> Budget:
    """The budget of an uncertain number.

    Parameters
    ----------
    number : Any
        Result of arithmetic on the numbers of a :class:`LinearBudget`. [own unit]
    coverage : float
        Probability that the interval is to hold. [1]

    Returns
    -------
    Budget
        Value, doubt, interval and ranked contributors. [own unit]

    Raises
    ------
    InputError
        If the effective degrees of freedom are below one.

    Notes
    -----
    Source: ``jcgm-100`` clause 5 and annex G.

    Examples
    --------
    >>> held = LinearBudget()
    >>> setting = held.uncertain(InputQuantity("setting", 0.0, 5.0e-6))
    >>> sleeve, bore = 0.063 + setting, 0.0629 + setting
    >>> budget(sleeve - bore).standard
    0.0
    """
    import GTC

    standard = float(GTC.uncertainty(number))
    value = float(GTC.value(number))
    if standard == 0.0:
        normal = coverage_factor(degrees_of_freedom=math.inf, coverage=coverage)
        return Budget(value, 0.0, math.inf, coverage, normal, value, value, ())
    freedom = float(GTC.dof(number))
    factor = coverage_factor(degrees_of_freedom=freedom, coverage=coverage)
    parts = GTC.reporting.budget(number, trim=0)
    contributors = ranked(Contribution(str(part.label), float(part.u)) for part in parts)
    half = factor * standard
    return Budget(
        value, standard, freedom, coverage, factor, value - half, value + half, contributors
    )
