"""What may not stand in the project: addresses, places of one machine, loose words."""

import ast
import re

import pytest

from project_files import ROOT, assert_nothing, place, python_files, text_of, tree_of, written_files

ALLOWED_ADDRESSES = (
    "http://www.w3.org/",  # names of the vector graphics and page languages, never fetched
    "https://json-schema.org/draft/",  # name of the schema language, never fetched
    "http://127.0.0.1",
    r"http://127\.0",  # the same in a pattern
    "http://localhost",
    "http://[::1]",
    "http://testserver",
    "http://shop.test",  # a name that the standard of names keeps for tests
    "http://{",
    "https://{",
)
ADDRESS = re.compile(r"\b(?:https?|ftp|wss?)://[^\s\"'`<>)]+")
MACHINE_PATH = re.compile(r"(?<![\w.~])/(?:work|root|home/\w+|tmp/dev)" + r"(?=/)")
REGISTRIES = (
    "py" + "pi.org",
    "python" + "hosted",
    "npm" + "js",
    "deb.deb" + "ian",
    "github" + ".com",
)
CITED = re.compile("trans" + "cript|se" + "ed document|the se" + "ed (says|states)", re.IGNORECASE)
LOOSE = re.compile(r"\bplease\b|\bsafe(ly)?\b|\b[a-z]+!(?=\s|$)", re.IGNORECASE)
SAFE_AS_A_TERM = re.compile(r"\|\s*safe\b|safe-area-inset|safe_\w+|_safe\b", re.IGNORECASE)


def matches(pattern: re.Pattern[str], allowed: tuple[str, ...] = ()) -> list[str]:
    """Place and words of each match in the files of the project."""
    return [
        f"{place(path, number)} {match.group(0)}"
        for path in written_files()
        for number, line in enumerate(text_of(path).splitlines(), start=1)
        for match in pattern.finditer(line)
        if not match.group(0).startswith(allowed)
    ]


def test_no_file_names_an_address() -> None:
    """No address of another machine stands in code, data or docs."""
    assert_nothing(matches(ADDRESS, ALLOWED_ADDRESSES))


def test_no_file_names_a_registry() -> None:
    """No host of a package registry is named."""
    assert_nothing(matches(re.compile("|".join(map(re.escape, REGISTRIES)))))


def test_no_file_names_a_place_of_one_machine() -> None:
    """No path of a developer's machine stands in a file."""
    assert_nothing(matches(MACHINE_PATH))


def test_no_file_cites_what_is_not_published() -> None:
    """Sources are published ones."""
    assert_nothing(matches(CITED))


@pytest.mark.parametrize(
    ("pattern", "text"),
    [
        (ADDRESS, "see https:" + "//example.org/x"),
        (MACHINE_PATH, "in /wo" + "rk/main"),
        (MACHINE_PATH, "in /ho" + "me/ann/jobs"),
        (CITED, "the trans" + "cript"),
        (LOOSE, "Please try again"),
        (LOOSE, "It is safe to heat"),
        (LOOSE, "Done!"),
    ],
)
def test_patterns_see_what_they_are_for(pattern: re.Pattern[str], text: str) -> None:
    """Each pattern finds an instance of what it forbids."""
    assert pattern.search(text)


def loose_words_in_code() -> list[str]:
    """Loose words in the package's strings, docstrings apart."""
    found = []
    for path in python_files("src"):
        tree = tree_of(path)
        prose = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
        found += [
            f"{place(path, node.lineno)} {node.value[:70]!r}"
            for node in ast.walk(tree)
            if isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and id(node) not in prose
            and LOOSE.search(SAFE_AS_A_TERM.sub("", node.value))
        ]
    return found


def loose_words_in_pages() -> list[str]:
    """Loose words in the text of pages, scripts and sheets, comments and markup apart."""
    markup = re.compile(r"<!--.*?-->|{#.*?#}|/\*.*?\*/|<[^>]*>|(?m:(?<!:)//.*$)", re.DOTALL)
    found = []
    for path in written_files():
        if path.suffix in {".html", ".typ", ".svg", ".js"} and ROOT / "src" in path.parents:
            text = SAFE_AS_A_TERM.sub("", markup.sub("", text_of(path)))
            found += [f"{place(path)} {match.group(0)}" for match in LOOSE.finditer(text)]
    return found


def test_interface_words_are_plain() -> None:
    """No result is called safe, nobody is begged, nothing is shouted."""
    assert_nothing([*loose_words_in_code(), *loose_words_in_pages()])
