"""What a job file means once it is read, and that it can be written again."""

from __future__ import annotations

import dataclasses
import tomllib
from pathlib import Path

import jsonschema
import pytest

from sleevewright.jobs import fields_readings
from sleevewright.jobs.entries import read_entry
from sleevewright.jobs.field import Sort
from sleevewright.jobs.fields import FIELDS, TABLES, fields_of
from sleevewright.jobs.jobfile import read_job
from sleevewright.jobs.jobwriter import write_job
from sleevewright.jobs.model import Entry, Grid, Instrument, Job, Part
from sleevewright.jobs.problems import Findings
from sleevewright.jobs.schema import job_schema

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
INCH = 0.0254


def read(text: str) -> Job:
    """A job from text."""
    return read_job(text, name="t.toml")


def test_a_value_with_its_unit_becomes_si_and_keeps_its_text() -> None:
    """Inches, thou, Fahrenheit and pounds are SI inside; the text stays as typed."""
    job = read(
        '[casting]\nmass = "5 lb"\nlimit = "446 F"\noutside_diameter = \'4.000"\'\n'
        '[fit]\nwanted = "3.5 thou"\n[heat]\nfriction = 0.12\n'
    )
    assert job.casting.mass == Entry(pytest.approx(2.26796185), "5 lb", "typed", None)
    assert job.casting.limit == Entry(pytest.approx(503.15), "446 F", "chosen", None)
    assert job.casting.outside_diameter == Entry(pytest.approx(0.1016), '4.000"', "typed", None)
    assert job.choice.wanted == Entry(pytest.approx(88.9e-6), "3.5 thou", "chosen", None)
    assert job.heat.friction == Entry(0.12, "0.12", "typed", None)


def test_kind_and_doubt_may_be_stated() -> None:
    """An inline table says who says so and how well it is known."""
    job = read(
        '[running]\nsleeve = { value = "300 F", kind = "assumed", doubt = "20 F" }\n'
        'casting = "150 C +- 10 C"\n[heat]\nfriction = { value = 0.15, doubt = 0.05 }\n'
    )
    assert job.running.sleeve is not None
    assert job.running.sleeve.kind == "assumed"
    assert job.running.sleeve.value == pytest.approx(422.039, abs=1e-3)
    assert job.running.sleeve.doubt == pytest.approx(20.0 / 1.8)
    assert job.running.casting is not None
    assert job.running.casting.doubt == pytest.approx(10.0)
    assert job.heat.friction is not None
    assert job.heat.friction.doubt == pytest.approx(0.05)


GRID = """
[job]
units = "{units}"
[[grid]]
feature = "parent-bore"
nominal = "{nominal}"
part_temperature = "73 F"
stations = ["10 mm", "60 mm"]
directions = ["0 deg", "90 deg"]
readings = [["{plus}", ""], ["-", "{whole}"]]
"""


@pytest.mark.parametrize(
    ("units", "nominal", "plus", "whole", "expected"),
    [
        ("inch", "2.4800 in", "+3.5", "2.4836 in", (2.4835 * INCH, 2.4836 * INCH)),
        ("inch", "2.4800 in", "-2 tenths", "2.4836", (2.4798 * INCH, 2.4836 * INCH)),
        ("metric", "63.00 mm", "+12", "63.015 mm", (63.012e-3, 63.015e-3)),
        ("metric", "63.00 mm", "+0,005 mm", "63,015", (63.005e-3, 63.015e-3)),
    ],
)
def test_readings_are_whole_sizes_or_over_the_nominal(
    units: str, nominal: str, plus: str, whole: str, expected: tuple[float, float]
) -> None:
    """A sign counts from the nominal in thou or µm; a blank or a dash is not read."""
    job = read(GRID.format(units=units, nominal=nominal, plus=plus, whole=whole))
    grid = job.grid("parent-bore")
    assert grid is not None
    (first, blank), (dash, last) = grid.readings
    assert blank is None
    assert dash is None
    assert first == Entry(pytest.approx(expected[0], abs=1e-9), plus, "measured", None)
    assert last == Entry(pytest.approx(expected[1], abs=1e-9), whole, "measured", None)
    assert [station.value for station in grid.stations] == pytest.approx([0.010, 0.060])
    assert grid.directions[1].value == pytest.approx(1.5707963, abs=1e-7)


def test_a_later_grid_supersedes_an_earlier() -> None:
    """The last grid of a feature is the one that counts."""
    one = '[[grid]]\nfeature = "flange-od"\nreadings = [["{} mm"]]\n'
    grid = read(one.format("71.00") + one.format("71.02")).grid("flange-od")
    assert grid is not None
    assert grid.readings[0][0] is not None
    assert grid.readings[0][0].text == "71.02 mm"


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_an_example_reads_writes_and_fits_the_schema(path: Path) -> None:
    """Each example is a job, comes back from its own writing, and is valid by the schema."""
    text = path.read_text(encoding="utf-8")
    job = read_job(text, name=path.name)
    assert job.invented
    assert read_job(write_job(job), name="again.toml") == job
    jsonschema.Draft202012Validator(job_schema()).validate(tomllib.loads(text))
    jsonschema.Draft202012Validator(job_schema()).validate(tomllib.loads(write_job(job)))


def test_there_are_three_examples() -> None:
    """The three demonstration jobs are there to be tested."""
    assert [path.stem for path in EXAMPLES] == ["demo-air-175", "demo-thin-iron", "demo-water"]


def test_an_entry_that_counted_on_its_field_is_written_in_full() -> None:
    """A text without a unit cannot be read back, so value and doubt are written in SI."""
    job = Job(
        casting=Part(mass=Entry(2.5, "2.5", doubt=0.1)), sleeve=Part(length=Entry(0.09, "90"))
    )
    again = read(write_job(job))
    assert again.casting.mass is not None
    assert (again.casting.mass.value, again.casting.mass.doubt) == (2.5, 0.1)
    assert again.sleeve.length is not None
    assert again.sleeve.length.value == 0.09


def test_every_attribute_of_the_records_has_its_key() -> None:
    """No record holds something that a job file cannot say, and no key lacks a place."""
    for table in TABLES:
        record = {"job": Job, "grid": Grid, "instrument": Instrument}.get(table.name)
        if record is None:
            default = getattr(Job(), table.attribute)
            record = type(default) if not table.repeated else None
        if record is None:
            continue
        names = {field.name for field in dataclasses.fields(record)}
        assert set(fields_of(table.name)) <= names
        if record is Job:
            names -= {other.attribute for other in TABLES}
        if record is not Part:
            assert names == set(fields_of(table.name))
    both = set(fields_of("casting")) | set(fields_of("sleeve"))
    assert both == {field.name for field in dataclasses.fields(Part)}


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.path)
def test_every_field_is_documented_with_a_true_example(field: object) -> None:
    """Each key has a sentence and an example that the reader takes."""
    assert field in FIELDS
    one = next(known for known in FIELDS if known is field)
    assert one.doc.endswith(".")
    assert len(one.doc) > 4
    value = tomllib.loads(f"x = {one.example}")["x"]
    findings = Findings("t", {})
    if one.sort is Sort.QUANTITY:
        assert read_entry(one, value, ("x",), findings) is not None
    elif one.sort is Sort.CHOICE:
        assert value in one.allowed
    assert findings.problems == []


def test_every_word_for_an_instrument_is_allowed() -> None:
    """The words that the plan knows are those of the table."""
    assert fields_of("instrument")["kind"].allowed == fields_readings.INSTRUMENT_KINDS


BAD = [
    {"fitt": {}},
    {"fit": {"wantd": "3 thou"}},
    {"fit": {"wanted": 3.4}},
    {"fit": {"wanted": "3.4"}},
    {"fit": {"wanted": "3.4 %"}},
    {"fit": {"wanted": "3.4 lb"}},
    {"fit": {"wanted": {"value": "3 thou", "kind": "guess"}}},
    {"fit": {"wanted": {"kind": "typed"}}},
    {"casting": {"limit": "446"}},
    {"casting": {"material": "cheese"}},
    {"port": {"name": "exhaust"}},
    {"port": [{"roof": "1 in"}]},
    {"grid": [{"feature": "parent-bore"}]},
    {"grid": [{"feature": "parent-bore", "readings": [[6.9]]}]},
    {"grid": [{"feature": "parent-bore", "readings": ["6.9"]}]},
    {"job": {"invented": "yes"}},
    {"job": {"units": "imperial"}},
]


@pytest.mark.parametrize("document", BAD, ids=str)
def test_the_schema_refuses_what_the_reader_refuses(document: dict[str, object]) -> None:
    """Unknown keys, missing units, wrong words and wrong shapes are invalid."""
    validator = jsonschema.Draft202012Validator(job_schema())
    assert list(validator.iter_errors(document)) != []


def test_the_schema_is_itself_valid() -> None:
    """The schema obeys the dialect that it names."""
    meta = jsonschema.Draft202012Validator(jsonschema.Draft202012Validator.META_SCHEMA)
    assert list(meta.iter_errors(job_schema())) == []
