"""The page on what the records are worth: every requirement has its row, every test exists."""

import ast
import re
from functools import cache

import pytest

from blocks import ROOT

PAGE = (ROOT / "docs" / "reference" / "trust.md").read_text(encoding="utf-8")
ROWS = [
    [cell.strip() for cell in line.strip("|").split("|")]
    for line in PAGE.splitlines()
    if line.startswith("| ") and not line.startswith("| |") and not line.startswith("| ---")
]
NAMED = sorted(set(re.findall(r"`(test_\w+::\w+)`", PAGE)))

WANTED = (
    *(f"L {number}" for number in range(1, 9)),
    *(f"A {number}" for number in range(1, 8)),
    *(f"({letter})" for letter in "abcdefghijk"),
    "7.11.1", "7.11.2", *(f"7.11.3 {letter}" for letter in "abcde"), "7.11.4", "7.11.5", "7.11.6",
)  # fmt: skip


@cache
def names_in(stem: str) -> frozenset[str]:
    """What a test file defines at its top: functions, and names that are assigned."""
    [path] = (ROOT / "tests").rglob(f"{stem}.py")
    found: set[str] = set()
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            found.add(node.name)
        elif isinstance(node, ast.Assign):
            found |= {one.id for one in node.targets if isinstance(one, ast.Name)}
    return frozenset(found)


def test_every_requirement_has_its_row() -> None:
    """Each of the four texts is there from its first requirement to its last, once."""
    assert [row[0] for row in ROWS] == list(WANTED)


@pytest.mark.parametrize("row", ROWS, ids=[row[0] for row in ROWS])
def test_a_requirement_names_a_test_or_says_why_not(row: list[str]) -> None:
    """Nothing is claimed without a test; what does not apply says so."""
    _, asked, done, tests = row
    assert len(asked.split()) >= 3
    assert done
    if tests == "none":
        assert done.startswith("does not apply")
    else:
        assert re.fullmatch(r"`test_\w+::\w+`(, `test_\w+::\w+`)*", tests)


@pytest.mark.parametrize("name", NAMED)
def test_every_named_test_exists(name: str) -> None:
    """A test that is named on the page is one that is run."""
    stem, _, test = name.partition("::")
    assert test in names_in(stem)


def test_a_test_that_does_not_exist_would_be_seen() -> None:
    """The look at the files is not blind."""
    assert "test_nothing_of_this_name" not in names_in("test_store_chain")
    assert len(NAMED) > 50
