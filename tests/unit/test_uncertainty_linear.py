"""Linear budgets: one uncertain number for one name."""

import math

import pytest

from sleevewright.core.uncertainty.contributions import (
    coverage_factor,
    effective_degrees_of_freedom,
)
from sleevewright.core.uncertainty.inputs import InputQuantity, Shape
from sleevewright.core.uncertainty.linear import LinearBudget, budget
from sleevewright.errors import InputError

SETTING = InputQuantity("setting", 0.0, 5.0e-6)


def test_one_name_is_one_object() -> None:
    """Asking twice gives the very same uncertain number."""
    held = LinearBudget()
    assert held.uncertain(SETTING) is held.uncertain(InputQuantity("setting", 0.0, 5.0e-6))


def test_one_name_cannot_mean_two_things() -> None:
    """Another value under a known name is refused."""
    held = LinearBudget()
    held.uncertain(SETTING)
    with pytest.raises(InputError, match="one value and one doubt for one name"):
        held.uncertain(InputQuantity("setting", 0.0, 6.0e-6))


def test_budget_ranks_and_expands() -> None:
    """Doubt 5, factor of the normal, contributors 4 and 3 by name."""
    held = LinearBudget()
    a, b = (held.uncertain(InputQuantity(name, 1.0, u)) for name, u in (("a", 3.0), ("b", 4.0)))
    found = budget(a - b)
    assert found.value == 0.0
    assert found.standard == pytest.approx(5.0)
    assert [(one.name, one.standard) for one in found.contributors] == [
        ("b", pytest.approx(4.0)),
        ("a", pytest.approx(3.0)),
    ]
    assert found.coverage_factor == pytest.approx(1.95996, abs=1e-5)
    assert found.high == pytest.approx(-found.low)
    assert found.high == pytest.approx(9.7998, abs=1e-3)


def test_own_welch_satterthwaite_agrees_with_the_library() -> None:
    """Two roads to the effective degrees of freedom."""
    held = LinearBudget()
    parts = [(0.3, 4.0), (0.5, 9.0), (0.2, 30.0)]
    total = 0.0
    for index, (standard, freedom) in enumerate(parts):
        total = total + held.uncertain(InputQuantity(f"x{index}", 0.0, standard, freedom))
    expected = effective_degrees_of_freedom(parts)
    assert budget(total).degrees_of_freedom == pytest.approx(expected, rel=1e-9)


def test_lognormal_is_linear_in_its_relative_doubt() -> None:
    """A median of 200 with 0.1 in the logarithm is uncertain by 20."""
    number = LinearBudget().uncertain(InputQuantity("h", 200.0, 0.1, shape=Shape.LOGNORMAL))
    assert budget(number).standard == pytest.approx(20.0)


def test_exact_numbers_have_an_exact_budget() -> None:
    """No doubt in, none out, and no contributors."""
    found = budget(LinearBudget().uncertain(InputQuantity("exact", 2.0, 0.0)) * 3.0)
    assert (found.value, found.standard, found.low, found.high) == (6.0, 0.0, 6.0, 6.0)
    assert found.contributors == ()


def test_coverage_factor_refuses_what_has_none() -> None:
    """Less than one degree of freedom, or a coverage of one."""
    with pytest.raises(InputError, match="degrees of freedom"):
        coverage_factor(degrees_of_freedom=0.5)
    with pytest.raises(InputError, match="coverage"):
        coverage_factor(degrees_of_freedom=math.inf, coverage=1.0)
