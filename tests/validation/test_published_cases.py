"""Every published check of the evidence holds, is as tight as it says, and could fail.

That a case could fail is tried, not argued: the function that it checks is given one entry
after the other one per cent wrong, where the case calls it, and the case has to notice.
"""

import sys
from collections.abc import Callable
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import partial
from typing import Any

import pytest

from sleevewright.errors import SleevewrightError
from sleevewright.evidence.case import Case, all_cases

CASES = all_cases()
ENTRIES = 8  # no function of the core takes more
BLIND = {
    "F4": "a tolerance is the same for every diameter of its step",
    **dict.fromkeys(
        ("F3-u6", "F4-by-table", "F5-FN4", "F7-N7", "F8-LN3"),
        "a row of a table is the same for every diameter of its step",
    ),
    "M8-mean": "takes a count and no other number",
    "U1-expansion": "29 in the second digit: one per cent is less than the printed digit leaves",
    "U1-freedom": "degrees of freedom do not change with the scale of the budget",
    "U2": "two printed digits: one per cent is less than they leave",
}
"""Cases that one per cent on any entry does not move, with the reason."""


@pytest.mark.parametrize("case", CASES, ids=[case.id for case in CASES])
def test_case_reproduces_the_published_number(case: Case) -> None:
    """The core gives the published number within the tolerance of the case."""
    assert abs(case.compute() - case.published) <= case.tolerance


@pytest.mark.parametrize("case", CASES, ids=[case.id for case in CASES])
def test_tolerance_follows_the_printed_digits_or_says_why_not(case: Case) -> None:
    """More than half of the last printed digit needs a reason, and nothing else has one."""
    assert case.is_looser == bool(case.because)


@pytest.mark.parametrize("case", CASES, ids=[case.id for case in CASES])
def test_tolerance_is_tight_enough_to_mean_something(case: Case) -> None:
    """No tolerance is looser than five per cent of the number, unless the number is zero."""
    if case.published:
        assert case.tolerance <= 0.05 * abs(case.published)


@pytest.mark.parametrize("case", CASES, ids=[case.id for case in CASES])
def test_case_notices_a_spoiled_input(case: Case, monkeypatch: pytest.MonkeyPatch) -> None:
    """One per cent more or less on a number of the checked function is refused by its case."""
    noticed = [
        is_refused(case, spoil, monkeypatch)
        for factor in (0.99, 1.01)
        for spoil in (Spoil(entry, factor) for entry in range(ENTRIES))
    ]
    assert any(noticed) == (case.id not in BLIND)


def test_few_cases_are_blind() -> None:
    """All but ten notice one per cent, and the list of the ten names cases that there are."""
    assert set(BLIND) < {case.id for case in CASES}
    assert len(BLIND) == 10


@dataclass
class Spoil:
    """Makes one entry of a function wrong by a factor."""

    entry: int  # of the call, named ones after those by place
    factor: float

    def __call__(self, function: Callable[..., Any], *given: Any, **named: Any) -> Any:
        """The function's result with that entry spoiled; as it is where there is none."""
        entries = [*given, *named.values()]
        if self.entry < len(entries):
            entries[self.entry] = scaled(entries[self.entry], self.factor)
        rest = dict(zip(named, entries[len(given) :], strict=True))
        return function(*entries[: len(given)], **rest)


def is_refused(case: Case, spoil: Spoil, monkeypatch: pytest.MonkeyPatch) -> bool:
    """Whether the case no longer gives its number, or the core refuses the spoiled entry."""
    module = sys.modules[case.compute.__module__]
    name = case.formula.rpartition(".")[2]
    forget(module)
    with monkeypatch.context() as patch:
        patch.setattr(module, name, partial(spoil, getattr(module, name)))
        try:
            return not abs(case.compute() - case.published) <= case.tolerance
        except SleevewrightError:
            return True
        finally:
            forget(module)


def scaled(entry: Any, factor: float) -> Any:
    """A number, or all numbers of a record or a row, times the factor; others as they are."""
    if is_dataclass(entry) and not isinstance(entry, type):
        parts = {field.name: getattr(entry, field.name) for field in fields(entry)}
        return replace(entry, **{key: scaled(part, factor) for key, part in parts.items()})
    if isinstance(entry, list | tuple):
        return type(entry)(scaled(one, factor) for one in entry)
    if entry is None or isinstance(entry, str | int) or callable(entry):
        return entry  # counts and names are not made wrong by a per cent
    return entry * factor


def forget(module: Any) -> None:
    """Drop what the module of the cases keeps between two calls."""
    for held in vars(module).values():
        if hasattr(held, "cache_clear"):
            held.cache_clear()
