"""The examples in docstrings are many, are run with the checks, and could fail.

``tools/checks.py`` runs them with this group (``--doctest-modules``).
"""

import doctest
import importlib
import pkgutil

import checks
from sleevewright import core


def test_the_documentation_group_runs_the_examples_of_the_code() -> None:
    """The examples of every module are collected beside these tests."""
    group = next(group for group in checks.GROUPS if group.name == "documentation")
    assert group.tests[:2] == ("--doctest-modules", "src/sleevewright")


def test_the_core_has_many_examples() -> None:
    """There are examples to run, so that running them means something."""
    finder = doctest.DocTestFinder()
    count = 0
    for found in pkgutil.walk_packages(core.__path__, core.__name__ + "."):
        module = importlib.import_module(found.name)
        count += sum(len(test.examples) for test in finder.find(module))
    assert count > 60


def test_a_wrong_example_would_be_found() -> None:
    """An example that shows another number fails."""
    parser = doctest.DocTestParser()
    wrong = parser.get_doctest(">>> 1 + 1\n3\n", {}, "wrong", None, 0)
    silent: list[str] = []
    outcome = doctest.DocTestRunner().run(wrong, out=silent.append)
    assert outcome.failed == 1
