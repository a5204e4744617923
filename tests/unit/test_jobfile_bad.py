"""What is refused in a job file, and what the person is told."""

from __future__ import annotations

import re

import pytest

from sleevewright.jobs.jobfile import JobFileErrors, read_job
from sleevewright.jobs.schema import job_schema

GOOD = """\
[job]
number = "T-1"
units = "inch"

[engine]
bore = "2.402 in"
stroke = "2.360 in"
rod = "4.725 in"

[casting]
material = "aluminium-356"
outside_diameter = "3.70 in"
outside_low = "3.30 in"
outside_high = "4.05 in"
limit = "446 F"

[sleeve]
material = "grey-iron"
inside_diameter = "2.340 in"
flange_diameter = "2.840 in"

[fit]
wanted = "3.4 thou"
least = "2.6 thou"

[heat]
slip = "5.4 thou"

[[port]]
name = "exhaust"
roof = "1.345 in"
floor = "2.330 in"

[[instrument]]
name = "mic"
setting = "0.2 thou"

[[instrument]]
name = "bore gauge"
set_from = "mic"
turn = "0.010 in"

[[grid]]
feature = "sleeve-od"
instrument = "mic"
stations = ["0.4 in", "3.1 in"]
directions = ["0 deg", "90 deg"]
readings = [["2.6403 in", "2.6402 in"], ["2.6402 in", "2.6401 in"]]

[[grid]]
feature = "parent-bore"
instrument = "bore gauge"
nominal = "2.6300 in"
stations = ["0.4 in", "3.1 in"]
directions = ["0 deg", "90 deg"]
readings = [["+6.8", "+6.7"],
            ["+6.9", "+6.8"]]
temperatures = [["70 F", "70 F"], ["-", "71 F"]]
"""


def refusal(old: str, new: str) -> JobFileErrors:
    """What is said about the good file with one piece replaced."""
    assert GOOD.count(old) >= 1, old
    with pytest.raises(JobFileErrors) as caught:
        read_job(GOOD.replace(old, new, 1), name="t.toml")
    return caught.value


def test_the_file_that_the_others_start_from_is_good() -> None:
    """Without a fault nothing is refused."""
    assert read_job(GOOD, name="t.toml").number == "T-1"


CASES = [
    ('wanted = "3.4 thou"', 'wantd = "3.4 thou"', "", ["'wantd'", "did you mean wanted?"]),
    ("[fit]", "[fitt]", "", ["[fitt]", "did you mean fit?"]),
    ('bore = "2.402 in"', 'slip = "2 thou"', "", ["engine has no 'slip'", "belongs in [heat]"]),
    ("[job]", 'bore = "1 in"\n[job]', 'bore = "1 in"', ["bore belongs in a table", "[engine]"]),
    ('"3.4 thou"', '"3.4"', "", ["fit.wanted", "No unit was given"]),
    ('"3.4 thou"', "3.4", "", ["no unit", 'wanted = "3.4 thou"']),
    ('"3.4 thou"', "3.4 thou", "", ["stands in quotes", '"3.5 thou"']),
    ('"3.4 thou"', '"3.4 %"', "", ["percent given for thou"]),
    ('"3.4 thou"', '"34 thou"', "", ["fit.wanted", "34 thou", "point in the wrong"]),
    ('"3.4 thou"', '"12 thou"', "", ["fit.wanted", "hundredths"]),
    ('"3.4 thou"', '"0 thou"', "", ["fit.wanted", "without interference"]),
    ('"2.6 thou"', '"4.6 thou"', "", ["fit.least", "at most the wanted fit, 3.4 thou"]),
    ('"446 F"', '"-500 F"', "", ["casting.limit", "absolute zero"]),
    ('"446 F"', '"446"', "", ["casting.limit", "No unit was given"]),
    ('"446 F"', '"900 C"', "", ["casting.limit", "900 C", "F for C"]),
    ('bore = "2.402 in"', 'bore = "2.402 mm"', "", ["engine.bore", "entered in inches?"]),
    ('bore = "2.402 in"', 'bore = "61 in"', "", ["engine.bore", "entered in millimetres?"]),
    ('bore = "2.402 in"', 'bore = "24.02 in"', "", ["engine.bore", "point in the wrong"]),
    ('bore = "2.402 in"', 'bore = "2.7 in"', "", ["engine.bore", "inside of the sleeve"]),
    ('rod = "4.725 in"', 'rod = "1.725 in"', "", ["engine.rod", "stroke swapped?"]),
    ('inside_diameter = "2.340 in"', 'inside_diameter = "2.74 in"', "",
     ["sleeve.inside_diameter", "less than 2.6402 in", "swapped"]),
    ('inside_diameter = "2.340 in"', 'inside_diameter = "2.630 in"', "",
     ["sleeve.inside_diameter", "(2.6300 in)", "a wall of 0.3 mm (0.012 in)", "(0.0051 in)"]),
    ('flange_diameter = "2.840 in"', 'flange_diameter = "2.54 in"', "",
     ["sleeve.flange_diameter", "2.5400 in"]),
    ('outside_diameter = "3.70 in"', 'outside_diameter = "1.85 in"', "",
     ["casting.outside_diameter", "a wall is left", "radius entered for a diameter"]),
    ('outside_low = "3.30 in"', 'outside_low = "3.90 in"', "3.70 in", ["outside_low", "3.9000 in"]),
    ('"aluminium-356"', '"aluminum-356"', "", ["casting.material", "did you mean aluminium-356?"]),
    ('"grey-iron"', '"cheese"', "", ["sleeve.material", "known are"]),
    ('"sleeve-od"', '"sleeve-o"', "", ["grid 1.feature", "did you mean sleeve-od?"]),
    ('instrument = "mic"', 'instrument = "mick"', "", ["'mick'", "did you mean mic?"]),
    ('set_from = "mic"', 'set_from = "bore gauge"', "", ["set from itself"]),
    ('name = "bore gauge"', 'name = "mic"', "", ["two named 'mic'"]),
    ('roof = "1.345 in"', 'roof = "2.345 in"', "", ["port 1.roof", "floor swapped?"]),
    ('["0.4 in", "3.1 in"]', '["3.1 in", "0.4 in"]', "", ["stations 2", "downwards"]),
    ('["0.4 in", "3.1 in"]', '["0.4 in", "0.4 in"]', "", ["stations 2", "there twice"]),
    ('["0.4 in", "3.1 in"]', '["0.4 in"]', 'readings = [["2.6403', ["2 rows for 1 station"]),
    ('["0 deg", "90 deg"]', '["0 deg"]', 'readings = [["2.6403', ["2 readings for 1 direction"]),
    ('["0 deg", "90 deg"]', '["0 deg", "0 deg"]', "", ["0 deg is there twice"]),
    ('["+6.9", "+6.8"]', '["+6.9"]', "", ["1 reading for 2 directions"]),
    ('"+6.9"', "6.9", "", ["stands without quotes", '"+0.8"']),
    ('"+6.9"', '"+69"', "", ["readings 2.1", "+69", "decimal place"]),
    ('"+6.9"', '"+173"', "", ["readings 2.1", "25.4 times the others"]),
    ('"+6.9"', '"26.37 in"', "", ["readings 2.1", "Too far from the nominal"]),
    ('nominal = "2.6300 in"\n', "", '[["+6.8', ["over what?", "nominal"]),
    ('nominal = "2.6300 in"', 'nominal = "2.6400 in"', '[["+6.8', ["no interference", "nominal"]),
    ('nominal = "2.6300 in"', 'nominal = "2.6000 in"', '[["+6.8', ["of interference", "mistyped?"]),
    ('[["70 F", "70 F"], ["-", "71 F"]]', '[["70 F"]]', "", ["not shaped as the readings"]),
    ('[["70 F", "70 F"], ["-", "71 F"]]', '"70 F"', "", ["a list is expected"]),
    ('feature = "parent-bore"\n', "", "[[grid]]", ["grid 2: feature is missing"]),
    ("[[port]]", "[port]", "", ["write [[port]]"]),
    ('setting = "0.2 thou"', 'setting = { value = "0.2 thou", sort = "x" }', "",
     ["'sort'", "known are value, kind, doubt"]),
    ('setting = "0.2 thou"', 'setting = { value = "0.2 thou", kind = "guess" }', "",
     ["'guess' is no kind", "assumed"]),
    ('setting = "0.2 thou"', 'setting = { kind = "typed" }', "", ["the value is missing"]),
    ('number = "T-1"', "number = 1", "", ["words in quotes"]),
    ('units = "inch"', 'units = "imperial"', "", ["'imperial'", "inch, metric"]),
    ("[heat]", "[heat]\ndry = 1", "dry = 1", ["heat.dry", "true or false"]),
    ("[heat]", '[heat]\nslip = "1 thou"', 'slip = "5.4 thou"', ["twice"]),
    ("[heat]", "[heat]\ndry = yes", "dry = yes", ["not TOML"]),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "at", "words"), CASES, ids=[case[1] for case in CASES])
def test_a_fault_is_told_with_its_line_and_its_cure(
    old: str, new: str, at: str, words: list[str]
) -> None:
    """Each fault names the line, what is wrong and what would be taken."""
    refused = refusal(old, new)
    text = GOOD.replace(old, new, 1)
    line = text[: text.rindex(at or new)].count("\n") + 1
    told = " ".join(one.text for one in refused.problems if one.line == line)
    assert told, refused.lines()
    for word in words:
        assert word in told
    assert f"line {line}: " in str(refused)


def grid_of(down: int, across: int) -> str:
    """A grid of the sleeve's inside with so many rows and columns."""
    stations = ", ".join(f'"{0.1 + 0.01 * k:.2f} in"' for k in range(down))
    directions = ", ".join(f'"{360.0 * k / across:.3f} deg"' for k in range(across))
    row = "[" + ", ".join(['"2.34 in"'] * across) + "]"
    rows = ", ".join([row] * down)
    return (
        f'\n[[grid]]\nfeature = "sleeve-id"\nstations = [{stations}]\n'
        f"directions = [{directions}]\nreadings = [{rows}]\n"
    )


def test_a_grid_has_an_end() -> None:
    """400 readings of one feature are taken, one more is not, in one grid or in two."""
    assert read_job(GOOD + grid_of(20, 20), name="t.toml").grid("sleeve-id") is not None
    line = GOOD.count("\n") + 6
    for grids, count, told_line in (
        (grid_of(1, 401), 401, line),
        (grid_of(100, 100), 10000, line),
        (grid_of(20, 20) + grid_of(1, 8), 408, line + 6),
    ):
        with pytest.raises(JobFileErrors) as caught:
            read_job(GOOD + grids, name="t.toml")
        told = str(caught.value)
        assert f"{count} readings of sleeve-id" in told
        assert "at most 400" in told
        assert f"line {told_line}: " in told


def test_the_thinnest_wall_is_taken() -> None:
    """A wall of 0.3 mm is still a sleeve."""
    text = GOOD.replace('inside_diameter = "2.340 in"', 'inside_diameter = "66.461 mm"')
    job = read_job(text, name="t.toml")
    assert job.sleeve.inside_diameter is not None


NUMBERS = [
    "5\N{EN DASH}6", "a/b", "a b", ".hidden", "..", "J\\n31", "31\\n", "x" * 25, "50%",
    "caf\N{LATIN SMALL LETTER E WITH ACUTE}",
]  # fmt: skip


@pytest.mark.parametrize("number", NUMBERS)
def test_a_number_that_no_address_holds_is_refused(number: str) -> None:
    """A job's number goes into addresses and names of files: plain letters, none too many."""
    refused = refusal('number = "T-1"', f'number = "{number}"')
    assert refused.problems[0].line == 2
    assert "1 to 24 letters" in str(refused)
    pattern = job_schema()["properties"]["job"]["properties"]["number"]["pattern"]
    assert not re.search(pattern, number)


@pytest.mark.parametrize("number", ["J-31", "2026.11_a", "-", "x" * 24, "_.", ""])
def test_a_plain_number_is_taken(number: str) -> None:
    """Letters, digits and three signs; none at all means that the file's name stands for it."""
    text = GOOD.replace('number = "T-1"', f'number = "{number}"')
    assert read_job(text, name="t.toml").number == number
    assert re.search(job_schema()["properties"]["job"]["properties"]["number"]["pattern"], number)


LONG = "9" * 200_000


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('"3.4 thou"', f'"{LONG} thou"'),
        ('"3.4 thou"', f'"3.4 {LONG}x"'),
        ('"3.4 thou"', f'"3.4{"0" * 200_000} thou"'),
        ('"3.4 thou"', f"{LONG[:4000]}"),
        ('"3.4 thou"', f'{{ value = "3.4 thou", kind = "{LONG}" }}'),
        ("wanted =", f"{LONG} ="),
        ("[fit]", f"[{LONG}]"),
        ('"aluminium-356"', f'"{LONG}"'),
        ('instrument = "mic"', f'instrument = "{LONG}"'),
        ('name = "bore gauge"', f'name = "{LONG}"'),
        ('"+6.9"', f'"+{LONG}"'),
        ('"+6.9"', LONG[:4000]),
        ("[heat]", f'[heat]\ndry = "{LONG}"'),
    ],
    ids=range(13),
)
def test_a_long_text_is_not_repeated_whole(old: str, new: str) -> None:
    """However long the text that is refused, the message stays one that can be read."""
    told = str(refusal(old, new))
    assert len(told) < 700
    assert "line " in told


def test_all_faults_are_told_together() -> None:
    """A file with three faults is refused once, with three lines in their order."""
    text = GOOD.replace("wanted", "wantd").replace('"446 F"', '"446"').replace("mic", "mac", 1)
    with pytest.raises(JobFileErrors) as caught:
        read_job(text, name="t.toml")
    lines = [problem.line for problem in caught.value.problems]
    assert lines == sorted(lines)
    assert len(lines) == 2  # names are compared once every value can be read
    assert str(caught.value).startswith("t.toml: 2 things to put right.")
    assert all(line.startswith("t.toml: line ") for line in caught.value.lines())


def test_a_whole_turn_of_the_dial_is_left_to_the_plan() -> None:
    """A reading ten thou off on a ten-thou dial is a fact, even where it is ten times others."""
    text = GOOD.replace('"2.6300 in"', '"2.6357 in"').replace('"+6.9"', '"+11.1"')
    for old, new in (("+6.8", "+1.1"), ("+6.7", "+1.0")):
        text = text.replace(old, new)
    job = read_job(text, name="t.toml")
    grid = job.grid("parent-bore")
    assert grid is not None
    assert grid.readings[1][0] is not None
    assert grid.readings[1][0].text == "+11.1"


@pytest.mark.parametrize(
    "text", ["", "# nothing\n", "[job]\n", "\N{ZERO WIDTH NO-BREAK SPACE}[job]"]
)
def test_an_empty_job_is_a_job(text: str) -> None:
    """Nothing told is not a fault; a byte-order mark is not either."""
    assert read_job(text, name="t.toml").grids == ()


def test_a_blank_value_is_not_told_yet() -> None:
    """A form with blanks reads as if the keys were left out."""
    text = GOOD.replace('slip = "5.4 thou"', 'slip = ""').replace(
        'least = "2.6 thou"', 'least = "-"'
    )
    job = read_job(text, name="t.toml")
    assert job.heat.slip is None
    assert job.choice.least is None
