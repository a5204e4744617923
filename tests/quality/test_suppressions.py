"""Whatever is switched off says why on its own line; what is left to do has its issue."""

import ast
import io
import re
import tokenize

import pytest

from project_files import assert_nothing, place, python_files, text_of, tree_of

CODE = ("src", "tests", "tools", "benchmarks", "docs", "run.py")
UNREASONED = re.compile(
    r"#\s*noqa(?!:\s*[A-Z]+[0-9]+(,\s*[A-Z]+[0-9]+)*\s*([-#;]|--)\s*\w+)"
    r"|#\s*type:\s*ignore(?!\[[\w-]+(,\s*[\w-]+)*\]\s*[-#;]+\s*\w+)"
    r"|#\s*(pragma:\s*no cover|pylint:|pyright:)"
)
TO_DO = re.compile(r"\b(TODO|FIXME|XXX)\b(?!\s*\(?(issue\s+|#)\d+)")
SKIPS = ("skip", "skipif", "xfail")


def unreasoned_comments(text: str) -> list[tuple[int, str]]:
    """Comments that switch something off, or put something off, without a reason."""
    comments = [
        token
        for token in tokenize.generate_tokens(io.StringIO(text).readline)
        if token.type == tokenize.COMMENT
    ]
    return [
        (token.start[0], token.string)
        for token in comments
        if UNREASONED.search(token.string) or TO_DO.search(token.string)
    ]


def unreasoned_skips(tree: ast.Module) -> list[int]:
    """Lines of skips without a reason, and of imports that skip by themselves."""
    found = []
    for node in ast.walk(tree):
        if not isinstance(node, ast.Attribute) or not ast.unparse(node).startswith("pytest."):
            continue
        if node.attr == "importorskip":
            found.append(node.lineno)
        if node.attr in SKIPS and not any(_gives_reason(call, node) for call in ast.walk(tree)):
            found.append(node.lineno)
    return found


def _gives_reason(node: ast.AST, called: ast.Attribute) -> bool:
    """Whether ``node`` is the call of ``called`` with words as its reason."""
    if not isinstance(node, ast.Call) or node.func is not called:
        return False
    given = [keyword.value for keyword in node.keywords if keyword.arg == "reason"]
    given += node.args if ast.unparse(called) == "pytest.skip" else []
    return any(isinstance(value, ast.Constant | ast.JoinedStr) for value in given)


@pytest.mark.parametrize(
    "comment",
    [
        "# no" + "qa",
        "# no" + "qa: S101",
        "# type" + ": ignore",
        "# type" + ": ignore[attr-defined]",
        "# pragma" + ": no cover",
        "# TO" + "DO later",
    ],
)
def test_rule_sees_a_comment_without_reason(comment: str) -> None:
    """Each way of switching something off without a word is found."""
    assert unreasoned_comments(f"x = 1  {comment}\n")


@pytest.mark.parametrize(
    "comment",
    ["# noqa: S101 - a reason", "# type: ignore[misc]  # a reason", "# TO" + "DO #12: later"],
)
def test_rule_takes_a_reason(comment: str) -> None:
    """A code with its reason, and a task with its issue, pass."""
    assert not unreasoned_comments(f"x = 1  {comment}\n")


@pytest.mark.parametrize(
    ("code", "count"),
    [
        ("import pytest\npytest.skip()", 1),
        ("import pytest\n@pytest.mark.skip\ndef test_x(): ...", 1),
        ("import pytest\n@pytest.mark.skipif(True)\ndef test_x(): ...", 1),
        ("import pytest\npytest.importorskip('x')", 1),
        ("import pytest\npytest.skip('needs Windows')", 0),
        ("import pytest\n@pytest.mark.skipif(True, reason='Unix only')\ndef test_x(): ...", 0),
    ],
)
def test_rule_sees_skips_without_reason(code: str, count: int) -> None:
    """A skip needs words; an import that skips by itself is never allowed."""
    assert len(unreasoned_skips(ast.parse(code))) == count


def test_everything_switched_off_has_its_reason() -> None:
    """No comment of the project silences a tool, or puts work off, without saying why."""
    found = [
        f"{place(path, line)} {text}"
        for path in python_files(*CODE)
        for line, text in unreasoned_comments(text_of(path))
    ]
    assert_nothing(found)


def test_every_skip_has_its_reason() -> None:
    """No test is skipped or expected to fail without saying why."""
    found = [
        place(path, line)
        for path in python_files("tests", "src")
        for line in unreasoned_skips(tree_of(path))
    ]
    assert_nothing(found)
