"""Modules and functions stay short enough to be read in one go; number tables live in data."""

import ast
import io
import tokenize

from project_files import assert_nothing, place, python_files, text_of, tree_of, written_files

LONGEST_MODULE = 400
LONGEST_FUNCTION = 40
LONGEST_ROW_OF_NUMBERS = 40
LONGER_MODULES: dict[str, str] = {}
"""Modules that may be longer, each with its reason. None is."""
CODE = ("src", "tests", "tools", "benchmarks", "run.py")
NOT_CODE = {
    tokenize.COMMENT, tokenize.NL, tokenize.NEWLINE, tokenize.INDENT, tokenize.DEDENT,
    tokenize.ENDMARKER,
}  # fmt: skip


def lines_of_code(text: str) -> set[int]:
    """Numbers of the lines that hold code: no blank lines, no comments."""
    lines: set[int] = set()
    for token in tokenize.generate_tokens(io.StringIO(text).readline):
        if token.type not in NOT_CODE:
            lines.update(range(token.start[0], token.end[0] + 1))
    return lines


def long_functions(text: str, tree: ast.Module) -> list[tuple[int, str]]:
    """Functions whose body has too many lines of code, docstring apart."""
    code = lines_of_code(text)
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            body = node.body[1:] if ast.get_docstring(node) else node.body
            own = code & set(range(body[0].lineno, node.end_lineno + 1)) if body else set()
            if len(own) > LONGEST_FUNCTION:
                found.append((node.lineno, f"{node.name} has {len(own)} lines"))
    return found


def number_tables(tree: ast.Module) -> list[int]:
    """Lines where a literal holds a whole table of numbers; calls inside it count apart."""
    containers = ast.Tuple | ast.List | ast.Set | ast.Dict
    return [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, containers) and _numbers_in(node) > LONGEST_ROW_OF_NUMBERS
    ]


def _numbers_in(node: ast.AST) -> int:
    """How many numbers a literal holds, rows within it included."""
    if isinstance(node, ast.Constant):
        return int(type(node.value) in (int, float))
    if isinstance(node, ast.UnaryOp):
        return _numbers_in(node.operand)
    if isinstance(node, ast.Tuple | ast.List | ast.Set):
        return sum(_numbers_in(part) for part in node.elts)
    if isinstance(node, ast.Dict):
        return sum(_numbers_in(part) for part in (*node.keys, *node.values) if part)
    return 0


def test_rules_see_what_is_too_long() -> None:
    """A body of 41 lines and a table of 41 numbers are found; 40 of each are not."""
    for count, expected in ((LONGEST_FUNCTION, 0), (LONGEST_FUNCTION + 1, 1)):
        body = '    """Words."""\n\n    # why\n' + "    x = 1\n" * count
        text = f"def f():\n{body}"
        assert len(long_functions(text, ast.parse(text))) == expected
        assert len(number_tables(ast.parse(f"x = {[1.0] * count}"))) == expected


def test_modules_are_short() -> None:
    """No Python or script module is longer than 400 lines without a reason on the list."""
    scripts = [path for path in written_files() if path.suffix == ".js"]
    found = {
        place(path): len(text_of(path).splitlines())
        for path in (*python_files(*CODE), *scripts)
        if len(text_of(path).splitlines()) > LONGEST_MODULE
    }
    assert {name: count for name, count in found.items() if name not in LONGER_MODULES} == {}
    assert set(LONGER_MODULES) <= set(found), "a reason is kept for a module that is short"


def test_functions_are_short() -> None:
    """No function has more than 40 lines of code."""
    found = [
        f"{place(path, line)} {text}"
        for path in python_files(*CODE)
        for line, text in long_functions(text_of(path), tree_of(path))
    ]
    assert_nothing(found)


def test_number_tables_are_data() -> None:
    """No module of the package holds a table of numbers."""
    found = [
        place(path, line) for path in python_files("src") for line in number_tables(tree_of(path))
    ]
    assert_nothing(found)
