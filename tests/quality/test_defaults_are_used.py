"""Every named default is read somewhere: a row that nothing reads changes nothing."""

import ast
import itertools

from project_files import assert_nothing, python_files, tree_of
from sleevewright.core.materials import defaults

COOLINGS = ("air", "fan", "water", "racing")
COMPOSED = {
    "{fit}_{family}_{cooling}": (("wanted", "least"), ("aluminium", "iron"), COOLINGS),
    "through_flux_{cooling}": (("through_flux",), COOLINGS),
    "{way}_{part}_{cooling}": (("running", "hard"), ("casting", "sleeve"), COOLINGS),
}
"""Names that the planner puts together, and of what."""
AWAITED: dict[str, str] = {}
"""Rows that are kept for a reader that is being written, with the reason."""


def spoken() -> set[str]:
    """Every string that stands in the code of the package."""
    return {
        node.value
        for path in python_files("src")
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }


def patterns() -> set[tuple[str, ...]]:
    """The fixed pieces of every string that is put together of others by underscores."""
    return {
        tuple(part.value for part in node.values if isinstance(part, ast.Constant))
        for path in python_files("src/sleevewright/planning")
        for node in ast.walk(tree_of(path))
        if isinstance(node, ast.JoinedStr)
    }


def composed() -> set[str]:
    """The names that the planner can put together."""
    return {"_".join(pieces) for parts in COMPOSED.values() for pieces in itertools.product(*parts)}


def test_every_default_is_read() -> None:
    """A default's name stands in the code, or is one of those that the planner composes."""
    known = spoken() | composed() | set(AWAITED)
    assert_nothing([one.name for one in defaults() if one.name not in known])


def test_composed_names_are_composed_and_all_there() -> None:
    """The planner still puts such names together, and each that it can make has a row."""
    assert {("wanted_", "_"), ("least_", "_"), ("_", "_"), ("through_flux_",)} <= patterns()
    names = {one.name for one in defaults()}
    assert_nothing(sorted(composed() - names))


def test_no_reason_is_kept_for_a_default_that_is_read() -> None:
    """A row that waits for its reader leaves the list when it is read."""
    assert_nothing(sorted(set(AWAITED) & spoken()))
