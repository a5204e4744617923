"""The linear budget of an entry: the second road to its doubt, with degrees of freedom.

The entries of a ledger are evaluated once more, with uncertain numbers instead of
samples.  Inputs keep their identity, so what two sizes share cancels here too.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sleevewright.core.uncertainty.linear import Budget, LinearBudget, budget
from sleevewright.planning.answers import Contributor, Doubt
from sleevewright.planning.ledger import Entry, Ledger
from sleevewright.planning.second_road import as_sampled, held_against


def linear_budget(ledger: Ledger, identity: str) -> Budget:
    """Budget of one entry by first-order propagation, contributors ranked."""
    held = LinearBudget()
    numbers: dict[str, Any] = {}
    return budget(_number(ledger, identity, held, numbers))


def _number(ledger: Ledger, identity: str, held: LinearBudget, numbers: dict[str, Any]) -> Any:
    """The uncertain number of an entry: each is made once, so that identity is kept."""
    if identity not in numbers:
        entry = ledger.entry(identity)
        numbers[identity] = _evaluate(ledger, entry, held, numbers)
    return numbers[identity]


def _evaluate(ledger: Ledger, entry: Entry, held: LinearBudget, numbers: dict[str, Any]) -> Any:
    if not entry.roots:
        return entry.point
    if entry.function is None:
        return held.uncertain(next(iter(entry.roots.values())))
    inputs = {
        parameter: _number(ledger, source, held, numbers) for parameter, source in entry.inputs
    }
    return entry.function(**inputs)


def with_freedom(ledger: Ledger, identity: str) -> Doubt | None:
    """The sampled doubt of an entry, with what only the linear budget knows.

    Degrees of freedom, and contributors that no sampling error blurs; the interval stays
    the sampled one.
    """
    sampled = ledger.entry(identity).answer.doubt
    if sampled is None:
        return None
    exact = linear_budget(ledger, identity)
    entry = ledger.entry(identity).answer
    labels = {one.input: one.label for one in sampled.contributors}
    return replace(
        sampled,
        degrees_of_freedom=exact.degrees_of_freedom,
        second=held_against("adding squares", "jcgm-100", exact, as_sampled(entry)),
        contributors=tuple(
            Contributor(one.name, labels.get(one.name, ledger.label(one.name)), one.standard)
            for one in exact.contributors
            if one.standard > 0.01 * exact.standard
        ),
    )
