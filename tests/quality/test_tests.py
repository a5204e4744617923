"""Tests say what behaviour they hold, and can fail."""

import ast
from collections import Counter

import pytest

from project_files import assert_nothing, place, python_files, tree_of

ASSERTING_CONTEXTS = {"raises", "warns"}
ASSERTING_NAMES = ("assert", "expect", "fail")

Test = ast.FunctionDef | ast.AsyncFunctionDef


def collected(tree: ast.Module) -> list[Test]:
    """The functions that the test runner would collect."""
    return [
        node for node in ast.walk(tree) if isinstance(node, Test) and node.name.startswith("test_")
    ]


def asserts_something(test: Test) -> bool:
    """Whether a test has an assertion that depends on something."""
    return any(_is_assertion(node) for node in ast.walk(test))


def _is_assertion(node: ast.AST) -> bool:
    if isinstance(node, ast.Assert):
        return not isinstance(node.test, ast.Constant)
    if not isinstance(node, ast.Call):
        return False
    name = node.func.attr if isinstance(node.func, ast.Attribute) else ast.unparse(node.func)
    return name in ASSERTING_CONTEXTS or name.startswith(ASSERTING_NAMES)


@pytest.mark.parametrize(
    ("body", "expected"),
    [
        ("x = 1", False),
        ("assert 1", False),
        ("assert x == 1", True),
        ("with pytest.raises(ValueError): f()", True),
        ("assert_close(f(), 1.0, tolerance=0.1)", True),
        ("expect(page).to_have_title('Shelf')", True),
        ("print(x)", False),
    ],
)
def test_rule_knows_an_assertion(body: str, expected: bool) -> None:
    """A test that asserts nothing, or a constant, is told from one that can fail."""
    (test,) = collected(ast.parse(f"def test_x():\n    {body}"))
    assert asserts_something(test) is expected


def test_every_test_says_its_behaviour() -> None:
    """Each test has a docstring."""
    found = [
        f"{place(path, test.lineno)} {test.name}"
        for path in python_files("tests")
        for test in collected(tree_of(path))
        if not ast.get_docstring(test)
    ]
    assert_nothing(found)


def test_every_test_can_fail() -> None:
    """Each test asserts something that is not a constant."""
    found = [
        f"{place(path, test.lineno)} {test.name}"
        for path in python_files("tests")
        for test in collected(tree_of(path))
        if not asserts_something(test)
    ]
    assert_nothing(found)


def test_names_of_test_files_are_unique() -> None:
    """Test folders are no packages, so one name may stand only once in the tree."""
    names = Counter(path.name for path in python_files("tests") if path.name != "conftest.py")
    assert [name for name, count in names.items() if count > 1] == []


def test_a_test_name_stands_once_in_its_file() -> None:
    """No test hides another of the same name above it."""
    found = []
    for path in python_files("tests"):
        names = Counter(test.name for test in collected(tree_of(path)))
        found += [f"{place(path)} {name}" for name, count in names.items() if count > 1]
    assert_nothing(found)
