"""Commands, options, settings, errors, job-file keys, answers, metals, formulas, names: all.

No list of exemptions exists and none may be added: what is public is documented.
"""

import dataclasses
import importlib
import inspect
import re
from collections.abc import Iterator
from functools import cache

import click
import pytest

from blocks import ROOT
from make_manual_reference import (
    ERROR_EXAMPLES,
    SETTINGS,
    answer_name,
    error_classes,
    example_plans,
    makers,
)
from sleevewright.cli.main import main
from sleevewright.core.formulas import Formula, all_formulas
from sleevewright.core.materials import defaults, material, material_names
from sleevewright.errors import SleevewrightError
from sleevewright.evidence.case import all_cases
from sleevewright.jobs.catalog import LIFE, Stage, sheet_of
from sleevewright.jobs.field import Field
from sleevewright.jobs.fields import FIELDS, TABLES
from sleevewright.planning.shop import Settings
from sleevewright.services.setting_specs import specs

DOCS = ROOT / "docs"


@cache
def made(name: str) -> str:
    """A page that is made from the code."""
    return makers()[name]()


def written(place: str) -> str:
    """A page that is kept in the repository."""
    return (DOCS / place).read_text(encoding="utf-8")


@cache
def source_keys() -> frozenset[str]:
    """Every key of the list of sources."""
    texts = [written("sources.md")]
    texts += [path.read_text(encoding="utf-8") for path in sorted((DOCS / "sources").glob("*.md"))]
    return frozenset(re.findall(r"^## (\S+)$", "\n".join(texts), re.MULTILINE))


def commands(
    command: click.Command = main, path: str = "sleevewright"
) -> Iterator[tuple[str, click.Command]]:
    """Every command with the words that start it."""
    yield path, command
    if isinstance(command, click.Group):
        for name, child in sorted(command.commands.items()):
            yield from commands(child, f"{path} {name}")


@pytest.mark.parametrize(("path", "command"), list(commands()), ids=str)
def test_command_and_its_options_are_documented(path: str, command: click.Command) -> None:
    """A command, its help, each option and each argument stand in the reference."""
    page = written("reference/commands.md")
    assert path in page
    assert command.help, f"{path} has no help"
    for parameter in command.params:
        if isinstance(parameter, click.Option):
            assert parameter.help, f"{path} {parameter.opts[0]} has no help"
            assert all(option in page for option in parameter.opts), f"{path} {parameter.opts}"
        else:
            assert (parameter.metavar or parameter.name or "").upper().rstrip(".") in page.upper()


@pytest.mark.parametrize("setting", [field.name for field in dataclasses.fields(Settings)])
def test_setting_of_the_shop_is_documented(setting: str) -> None:
    """A setting has a sentence and its default on the page."""
    assert len(SETTINGS[setting].split()) > 3
    assert f"`{setting}`" in made("settings")


def test_no_setting_is_documented_that_does_not_exist() -> None:
    """The list of settings on the page is the record's."""
    assert set(SETTINGS) == {field.name for field in dataclasses.fields(Settings)}


def test_every_default_is_documented() -> None:
    """A named default stands on the page with its source, which is in the list of sources."""
    for one in defaults():
        assert f"`{one.name}`" in made("settings")
        assert len(one.note.split()) > 2, one.name
        assert one.source in source_keys(), f"{one.name}: {one.source}"


def test_every_setting_of_the_page_is_documented() -> None:
    """What a shop may set stands on the page with what it decides and its range."""
    for one in specs():
        assert f"| `{one.key}` |" in made("settings"), one.key
        assert len(one.sentence.split()) > 2, one.key
        assert one.allowed_words("inch"), one.key


@pytest.mark.parametrize("stage", LIFE, ids=lambda stage: stage.key)
def test_every_cell_of_a_stage_is_documented(stage: Stage) -> None:
    """A stage has its hold, its cells, its sets of readings and its events on the page."""
    page, sheet = made("stages"), sheet_of(stage.key)
    assert f"## {stage.title}\n" in page
    assert stage.hold in page
    for field in sheet.fields:
        assert f"| `{field.cell}` |" in page, field.cell
        assert field.title, field.cell
        assert field.doc, field.cell
    for grid in sheet.grids:
        assert f"| `{grid.feature}` |" in page, grid.feature
    assert all(f"`{what}`" in page for what in sheet.events)


@pytest.mark.parametrize("kind", error_classes(), ids=lambda kind: kind.__name__)
def test_error_class_is_documented(kind: type[SleevewrightError]) -> None:
    """An error has a heading, a sentence of its own and a text as it reads."""
    page = made("errors")
    assert f"## {kind.__name__}\n" in page
    said = (inspect.getdoc(kind) or "").splitlines()[0]
    assert said in page
    assert len(said.split()) > 3
    if kind is not SleevewrightError:
        assert kind in ERROR_EXAMPLES, f"{kind.__name__} has no example of its text"


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.path)
def test_job_file_key_is_documented(field: Field) -> None:
    """A key of the job file stands on its page with what it is."""
    page = written("reference/job-file.md")
    key = field.path.partition(".")[2]
    assert re.search(rf"`(?:[\w-]+\.)?{re.escape(key)}`", page), key


def test_every_table_of_the_job_file_is_documented() -> None:
    """A table of the job file stands on its page."""
    page = written("reference/job-file.md")
    for table in TABLES:
        assert f"[{table.name}]" in page, table.name


def test_every_answer_of_the_worked_jobs_is_documented() -> None:
    """Each answer that a plan gives stands on the page, and so does each headline."""
    page = made("answers")
    for plan in example_plans():
        for answer in plan.answers():
            assert f"`{answer_name(answer.id)}`" in page, answer.id
            assert answer.label, answer.id
        for name in (*plan.seven, *plan.orders):
            assert f"`{answer_name(name)}`" in page, name


@pytest.mark.parametrize("name", material_names())
def test_metal_is_documented_with_a_source_for_every_value(name: str) -> None:
    """A metal has a heading and each of its values a known source."""
    assert f"## {name}\n" in made("materials")
    for cell in material(name).cells:
        assert cell.source in source_keys(), f"{name} {cell.property}: {cell.source}"


@pytest.mark.parametrize("formula", all_formulas(), ids=lambda formula: formula.function)
def test_formula_is_documented_with_known_sources(formula: Formula) -> None:
    """A relation has a heading, its expression, its range, and sources that are listed."""
    page = made("formulas")
    assert f"### {formula.name}\n" in page
    for text in (formula.expression, formula.validity, formula.unit):
        assert text, formula.function
    assert formula.sources
    assert set(formula.sources) <= source_keys(), formula.sources


def test_no_two_formulas_have_one_name() -> None:
    """A name is an anchor: two relations of one name could not be told apart."""
    names = [formula.name for formula in all_formulas()]
    assert sorted(names) == sorted(set(names))


def test_every_published_check_has_a_known_source() -> None:
    """A check names a source that is listed."""
    for case in all_cases():
        assert case.source in source_keys(), f"{case.id}: {case.source}"


def test_every_fragment_of_sources_is_part_of_the_page() -> None:
    """No list of sources is left out of the manual."""
    page = written("sources.md")
    for path in sorted((DOCS / "sources").glob("*.md")):
        assert f"{{include}} sources/{path.name}" in page, path.name


def test_every_source_says_what_it_is_and_how_it_was_read() -> None:
    """An entry names the work and whether it was read, or says that it is from memory."""
    said = re.compile(r"\b(read|memory|seen|derived|practice)\b", re.IGNORECASE)
    for path in sorted((DOCS / "sources").glob("*.md")):
        entries = re.split(r"^## ", path.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]
        for entry in entries:
            key, _, text = entry.partition("\n")
            assert len(text.split()) > 6, key
            assert said.search(text), f"{key} does not say how it was read"


def quantities(formula: Formula) -> list[str]:
    """Parameters of a declared relation, and the fields of records that it takes."""
    module, _, name = formula.function.rpartition(".")
    function = getattr(importlib.import_module(module), name)
    signature = inspect.signature(function, eval_str=True)
    found: list[str] = []
    for parameter in signature.parameters.values():
        found.append(parameter.name)
        kind = parameter.annotation
        if dataclasses.is_dataclass(kind):
            found += [field.name for field in dataclasses.fields(kind)]
    return found


@pytest.mark.parametrize("formula", all_formulas(), ids=lambda formula: formula.function)
def test_quantities_of_a_formula_are_in_the_nomenclature(formula: Formula) -> None:
    """Each parameter of a relation has its name, unit and definition in the nomenclature."""
    page = written("nomenclature.md")
    missing = [name for name in quantities(formula) if f"| `{name}` |" not in page]
    assert not missing, f"{formula.function}: {missing}"


def test_nomenclature_defines_each_name_once_and_names_nothing_else() -> None:
    """One name, one row; a row whose name no relation uses is out of date."""
    names = re.findall(r"^\| `(\w+)` \|", written("nomenclature.md"), re.MULTILINE)
    assert sorted(names) == sorted(set(names))
    used = {name for formula in all_formulas() for name in quantities(formula)}
    assert set(names) <= used, sorted(set(names) - used)
