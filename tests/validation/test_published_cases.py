"""Every published check of the evidence is within its printed digits, and could fail."""

import pytest

from sleevewright.evidence.case import Case, all_cases

CASES = all_cases()


@pytest.mark.parametrize("case", CASES, ids=[case.id for case in CASES])
def test_case_reproduces_the_published_number(case: Case) -> None:
    """The core gives the published number within the tolerance of its printed digits."""
    assert abs(case.compute() - case.published) <= case.tolerance


@pytest.mark.parametrize("case", CASES, ids=[case.id for case in CASES])
def test_case_fails_when_the_published_number_is_moved(case: Case) -> None:
    """A published number moved by three tolerances either way would be refused."""
    computed = case.compute()
    for moved in (-3.0, 3.0):
        assert abs(computed - (case.published + moved * case.tolerance)) > case.tolerance


@pytest.mark.parametrize("case", CASES, ids=[case.id for case in CASES])
def test_tolerance_is_tight_enough_to_mean_something(case: Case) -> None:
    """No tolerance is looser than five per cent of the number, unless the number is zero."""
    if case.published:
        assert case.tolerance <= 0.05 * abs(case.published)
