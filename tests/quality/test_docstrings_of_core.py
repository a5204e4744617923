"""Each public function of the core states its parameters, units and sources as they are."""

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable

import pytest

from docstrings import entries, sections, source_keys
from project_files import ROOT, assert_nothing, text_of
from sleevewright import core
from sleevewright.core.formulas import all_formulas, formula_of
from sleevewright.errors import NotFound
from sleevewright.evidence.case import all_cases

PLUMBING = {"sleevewright.core.formulas", "sleevewright.core.checks"}
"""Modules of the core that compute nothing: the register and the guards."""
SPECIAL_KEYS = {"practice", "from-memory", "derived"}
NUMBERS = re.compile(r"\b(float|Number|NDArray|Samples)\b")
SYMBOLS = {"m", "kg", "s", "K", "Pa", "N", "rad", "W", "J", "Hz"}
INSTEAD_OF_UNITS = {"record", "text", "own unit"}
"""What stands in the brackets of a thing that has no unit, or the unit of what it describes."""
Function = Callable[..., object]


def known_keys() -> set[str]:
    """Keys that have an entry in the list of sources."""
    fragments = sorted((ROOT / "docs" / "sources").glob("*.md"))
    headings = (re.findall(r"^## (\S+)", text_of(path), re.MULTILINE) for path in fragments)
    return SPECIAL_KEYS.union(*headings)


def public_functions() -> dict[str, Function]:
    """Public functions of the core by their path, each where it is defined."""
    found: dict[str, Function] = {}
    for module in pkgutil.walk_packages(core.__path__, core.__name__ + "."):
        if module.name in PLUMBING:
            continue
        loaded = importlib.import_module(module.name)
        for name, function in inspect.getmembers(loaded, inspect.isfunction):
            if not name.startswith("_") and function.__module__ == module.name:
                found[f"{module.name}.{name}"] = function
    return found


def annotation(thing: object) -> str:
    """An annotation as it is written."""
    return thing if isinstance(thing, str) else getattr(thing, "__name__", str(thing))


def gives_numbers(function: Function) -> bool:
    """Whether a function returns a number or an array of numbers."""
    returned = annotation(inspect.signature(function).return_annotation)
    return bool(NUMBERS.search(returned)) and not returned.startswith(("dict", "Callable"))


def faults_of(function: Function) -> list[str]:
    """What is wrong with the docstring of one function."""
    docstring = inspect.getdoc(function) or ""
    parts = sections(docstring)
    signature = inspect.signature(function)
    return [
        *faults_of_parameters(signature, parts),
        *faults_of_results(function, parts),
        *faults_of_sources(function, docstring),
    ]


def faults_of_parameters(signature: inspect.Signature, parts: dict[str, list[str]]) -> list[str]:
    """Parameters that are missing, renamed, out of order or without a unit."""
    written = entries(parts.get("Parameters", []), named=True)
    names = [name for entry in written for name in entry.names]
    if names != list(signature.parameters):
        return [f"parameters are {list(signature.parameters)}, the docstring has {names}"]
    kinds = {name: annotation(one.annotation) for name, one in signature.parameters.items()}
    found = []
    for entry in written:
        is_number = any(NUMBERS.search(kinds[name]) for name in entry.names)
        if is_number and not entry.unit:
            found.append(f"{', '.join(entry.names)} has no [unit] at the end of its text")
        found += faults_of_unit(entry.unit)
    return found


def faults_of_results(function: Function, parts: dict[str, list[str]]) -> list[str]:
    """A result that is not described, or a number without its unit."""
    if annotation(inspect.signature(function).return_annotation) == "None":
        return []
    written = entries(parts.get("Returns", []), named=False)
    if not written:
        return ["Returns is missing"]
    found = []
    if gives_numbers(function):
        found += ["a result has no [unit]" for entry in written if not entry.unit]
    return found + [fault for entry in written for fault in faults_of_unit(entry.unit)]


def faults_of_unit(unit: str) -> list[str]:
    """A unit that is not built from SI symbols without prefixes."""
    parts = [part.strip() for part in unit.split(",") if part.strip() not in INSTEAD_OF_UNITS]
    symbols = re.findall(r"[^\W\d_]+", " ".join(parts))
    strange = [symbol for symbol in symbols if symbol not in SYMBOLS]
    return [f"[{unit}] is not in SI base symbols: {', '.join(strange)}"] if strange else []


def faults_of_sources(function: Function, docstring: str) -> list[str]:
    """A source that is missing, unknown, or other than what the formula declares."""
    keys = source_keys(docstring)
    found = [f"source {key} is not on the list" for key in keys if key not in known_keys()]
    if not gives_numbers(function):
        return found
    try:
        declared = formula_of(function).sources
    except NotFound:
        return [*found, "gives a number and has no @formula"]
    if not keys:
        found.append("Notes have no Source: with a key")
    if set(keys) - set(declared):
        found.append(f"Notes name {sorted(set(keys) - set(declared))}, @formula does not")
    return found


def test_docstrings_of_the_core_say_what_is_there() -> None:
    """Names, order, units and sources of each public function agree with its code."""
    found = [
        f"{path}: {fault}"
        for path, function in public_functions().items()
        for fault in faults_of(function)
    ]
    assert_nothing(found)


def test_core_has_functions_to_check() -> None:
    """The walk over the core finds its functions; an empty walk would prove nothing."""
    assert len(public_functions()) > 20


def test_declared_sources_are_on_the_list() -> None:
    """Each source of a formula, and of a published check, has its entry."""
    known = known_keys()
    found = [
        f"{one.function}: {key}"
        for one in all_formulas()
        for key in one.sources
        if key not in known
    ]
    found += [f"{case.id}: {case.source}" for case in all_cases() if case.source not in known]
    assert_nothing(found)


def test_every_formula_says_where_it_holds() -> None:
    """No formula is declared without words for its name, relation, range, unit and source."""
    found = [
        one.function
        for one in all_formulas()
        if not all((one.name, one.expression, one.sources, one.validity, one.unit))
    ]
    assert_nothing(found)


def _good(*, bore: float, name: str) -> float:
    """Growth.

    Parameters
    ----------
    bore : float
        Bore at 20 degC. [m], > 0
    name : str
        What it is of.

    Returns
    -------
    float
        Growth on diameter. [m]

    Notes
    -----
    Definition. Source: ``derived`` from ``practice``; eq. 1.
    """
    return bore * len(name)


def test_a_right_docstring_has_no_fault_but_its_missing_formula() -> None:
    """The form of the guide passes; only the register is missed."""
    assert faults_of(_good) == ["gives a number and has no @formula"]


@pytest.mark.parametrize(
    ("right", "wrong", "fault"),
    [
        ("bore : float", "hole : float", "parameters are"),
        ("Bore at 20 degC. [m], > 0", "Bore at 20 degC.", "no [unit]"),
        ("Growth on diameter. [m]", "Growth on diameter.", "result has no [unit]"),
        ("Growth on diameter. [m]", "Growth on diameter. [mm]", "not in SI"),
        ("``practice``", "``nowhere``", "not on the list"),
    ],
)
def test_rule_sees_each_fault(right: str, wrong: str, fault: str) -> None:
    """A renamed parameter, a missing or foreign unit and an unknown source are found."""

    def worse(*, bore: float, name: str) -> float:
        return bore * len(name)

    worse.__doc__ = (_good.__doc__ or "").replace(right, wrong)
    assert any(fault in one for one in faults_of(worse))
