"""The line of every key of a job file."""

from __future__ import annotations

import tomllib

import pytest

from sleevewright.jobs.places import places

TEXT = """\
# a comment = [ not a table ]
title = "a # in a string"
"quoted key" = 'literal'
a.b.c = 1

[one]           # tables
x = [ 1, 2,
      3, # three
      [ "in", "side" ],
    ]
y = { p = "1", q = { r = true } }

[one.two]
long = \"\"\"
two lines \\\"\"\" and
[fake]
end\"\"\"\"
after = '''
[[fake]]'''
z = 1979-05-27T07:32:00Z

[[grid]]
feature = "a"
[grid.sub]
k = -0.5
[[grid]]
"fe\\u0061ture" = "b"
readings = [["+1", ""],
            ["+2", "+3"]]
[[grid.part]]
name = 1
[[grid.part]]
name = 2
"""


def paths(value: object, place: tuple[str | int, ...] = ()) -> set[tuple[str | int, ...]]:
    """Every place of a parsed document."""
    found: set[tuple[str | int, ...]] = {place} if place else set()
    inside: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        inside = list(value.items())
    elif isinstance(value, list):
        inside = list(enumerate(value))
    for key, below in inside:
        found |= paths(below, (*place, key))
    return found


def test_every_value_of_the_reader_has_a_line() -> None:
    """The walker and the reader of the standard library find the same places."""
    assert set(places(TEXT)) == paths(tomllib.loads(TEXT))


def test_windows_line_ends_count_once() -> None:
    """A file saved on Windows has the same lines."""
    assert places(TEXT.replace("\n", "\r\n")) == places(TEXT)


@pytest.mark.parametrize(
    ("place", "line"),
    [
        (("title",), 2),
        (("quoted key",), 3),
        (("a", "b", "c"), 4),
        (("one", "x", 0), 7),
        (("one", "x", 2), 8),
        (("one", "x", 3, 1), 9),
        (("one", "y", "q", "r"), 11),
        (("one", "two", "long"), 14),
        (("one", "two", "after"), 18),
        (("one", "two", "z"), 20),
        (("grid", 0, "sub", "k"), 25),
        (("grid", 1), 26),
        (("grid", 1, "feature"), 27),
        (("grid", 1, "readings", 0, 1), 28),
        (("grid", 1, "readings", 1, 0), 29),
        (("grid", 1, "part", 1, "name"), 33),
    ],
)
def test_the_line_of_a_place(place: tuple[str | int, ...], line: int) -> None:
    """The line is the one that a person sees in an editor."""
    assert places(TEXT)[place] == line
