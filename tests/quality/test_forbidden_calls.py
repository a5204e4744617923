"""What keeps the code running on Linux, macOS and Windows, and the core silent."""

import ast
from collections.abc import Iterator

import pytest

from project_files import assert_nothing, place, python_files, tree_of

UNIX_ONLY_MODULES = {"fcntl", "pwd", "grp", "resource", "termios"}
UNIX_ONLY_NAMES = {("os", "fork"), ("os", "forkpty"), ("signal", "SIGKILL")}
FIXED_TEMPORARY = ("/tmp", "/var/tmp", "C:\\Temp", "C:/Temp", "C:\\Windows\\Temp")  # noqa: S108 - the words that are forbidden
NOT_FILES = {"webbrowser", "os"}
TEXT_CALLS = {
    "open": 3, "fdopen": 3, "read_text": 0, "write_text": 1, "NamedTemporaryFile": 9,
}  # fmt: skip
"""Calls that open text, and the place at which an encoding may stand by position."""


def found_in(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Line and words of everything that is forbidden in the package."""
    for node in ast.walk(tree):
        for text in (imports(node), names(node), paths(node), openings(node), claims(node)):
            if text:
                yield node.lineno, text


def imports(node: ast.AST) -> str:
    """A module or name that only Unix has."""
    if isinstance(node, ast.Import):
        used = {alias.name.split(".")[0] for alias in node.names} & UNIX_ONLY_MODULES
        return f"imports {', '.join(used)}" if used else ""
    if isinstance(node, ast.ImportFrom):
        if node.module in UNIX_ONLY_MODULES:
            return f"imports {node.module}"
        used = {alias.name for alias in node.names if (node.module, alias.name) in UNIX_ONLY_NAMES}
        return f"imports {', '.join(used)}" if used else ""
    return ""


def names(node: ast.AST) -> str:
    """``os.fork`` and its like."""
    if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
        pair = (node.value.id, node.attr)
        return f"uses {'.'.join(pair)}" if pair in UNIX_ONLY_NAMES else ""
    return ""


def paths(node: ast.AST) -> str:
    """A temporary path that is written out."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        fixed = node.value.startswith(FIXED_TEMPORARY)
        return f"fixed temporary path {node.value!r}" if fixed else ""
    return ""


def openings(node: ast.AST) -> str:
    """Text opened in whatever encoding the machine happens to have."""
    if not isinstance(node, ast.Call):
        return ""
    called = node.func
    name = called.attr if isinstance(called, ast.Attribute) else getattr(called, "id", "")
    if name not in TEXT_CALLS or _is_not_a_file(called) or _is_binary(node, name):
        return ""
    place_of_encoding = TEXT_CALLS[name] - (name == "open" and isinstance(called, ast.Attribute))
    given = {keyword.arg for keyword in node.keywords}
    if "encoding" in given or None in given or len(node.args) > place_of_encoding:
        return ""
    return f"{name}() without encoding"


def _is_not_a_file(called: ast.expr) -> bool:
    """Whether the call is a method of a module that opens other things than files."""
    return (
        isinstance(called, ast.Attribute)
        and isinstance(called.value, ast.Name)
        and called.value.id in NOT_FILES
        and called.attr == "open"
    )


def _is_binary(node: ast.Call, name: str) -> bool:
    """Whether a mode with ``b`` is given."""
    modes = [keyword.value for keyword in node.keywords if keyword.arg == "mode"]
    if name == "NamedTemporaryFile" and not (modes or node.args):
        return True
    if name in ("open", "fdopen", "NamedTemporaryFile"):
        modes += node.args[:2]
    return any(
        isinstance(mode, ast.Constant)
        and isinstance(mode.value, str)
        and "b" in mode.value
        and set(mode.value) <= set("rwxab+t")
        for mode in modes
    )


def claims(node: ast.AST) -> str:
    """An ``assert``, which is no validation and vanishes under ``-O``."""
    return "assert in the package" if isinstance(node, ast.Assert) else ""


BAD = (
    "import fcntl",
    "from fcntl import flock",
    "import os\nos.fork()",
    "from os import fork",
    "import signal\nsignal.SIGKILL",
    "x = '/tmp/jobs'",
    "open('a')",
    "open('a', 'w')",
    "p.open()",
    "p.read_text()",
    "p.write_text('b')",
    "assert x",
)
GOOD = (
    "open('a', 'rb')",
    "open('a', encoding='utf-8')",
    "p.open('wb')",
    "p.read_text('utf-8')",
    "p.write_text('b', encoding='utf-8')",
    "webbrowser.open(address)",
    "tempfile.NamedTemporaryFile()",
)


@pytest.mark.parametrize("code", BAD)
def test_rule_sees_each_forbidden_form(code: str) -> None:
    """Each form that the rule is about is found."""
    assert list(found_in(ast.parse(code)))


@pytest.mark.parametrize("code", GOOD)
def test_rule_leaves_the_allowed_forms_alone(code: str) -> None:
    """Binary files, stated encodings and openers of other things pass."""
    assert not list(found_in(ast.parse(code)))


def test_package_is_free_of_forbidden_calls() -> None:
    """Nothing in the package or the launcher works on one system only."""
    found = [
        f"{place(path, line)} {text}"
        for path in python_files("src", "run.py")
        for line, text in found_in(tree_of(path))
    ]
    assert_nothing(found)


def test_core_neither_prints_nor_logs() -> None:
    """The core answers with numbers and errors, never with output."""
    found = []
    for path in python_files("src/sleevewright/core"):
        for node in ast.walk(tree_of(path)):
            called = isinstance(node, ast.Call) and getattr(node.func, "id", "") == "print"
            modules = {alias.name for alias in getattr(node, "names", ()) if hasattr(alias, "name")}
            if called or modules & {"logging", "warnings"}:
                found.append(place(path, node.lineno))
    assert_nothing(found)
