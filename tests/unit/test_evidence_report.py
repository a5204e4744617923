"""The evidence says what was checked against what, what failed, and what has no check."""

import math
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace

import pytest

from sleevewright.core.formulas import Formula
from sleevewright.errors import InputError
from sleevewright.evidence.case import Case
from sleevewright.evidence.report import EvidenceReport, Kept, report
from sleevewright.evidence.words import document, summary_lines, table_lines
from sleevewright.services.evidence import (
    COLUMNS,
    evidence_report,
    kept_results,
    results_to_keep,
)

PRESSURE = Formula("pressure", "core.pressure", "p = F / A", ("book",), "thin ring", "Pa")
GROWTH = Formula("growth", "core.growth", "g = a D T", ("derived",), "free part", "m")
LOSS = Formula("loss", "core.loss", "k Rz", ("practice",), "rough", "m")


def made(
    identity: str,
    computed: float | Callable[[], float],
    *,
    formula: Formula = PRESSURE,
    published: float = 100.0,
    tolerance: float = 1.0,
    reading: str = "read",
    because: str = "",
) -> Case:
    """A case that gives what it is told to."""
    compute = computed if callable(computed) else lambda: computed
    return Case(
        identity,
        f"title of {identity}",
        formula.function,
        "book",
        "table 1",
        published,
        "psi",
        tolerance,
        reading,
        compute,
        because,
    )


def told(*cases: Case, kept: tuple[Kept, ...] = ()) -> EvidenceReport:
    """A report on two formulas."""
    return report(cases=cases, formulas=(GROWTH, PRESSURE), kept=kept)


def test_worst_case_is_the_one_nearest_to_its_tolerance() -> None:
    """A small error with a tighter tolerance outweighs a large one with a loose one."""
    row = told(made("A", 100.5), made("B", 100.1, tolerance=0.11)).rows[1]
    assert row.worst is not None
    assert row.worst.case.id == "B"
    assert row.worst.error == pytest.approx(0.1)
    assert row.worst.share == pytest.approx(0.1 / 0.11)


def test_case_beyond_its_tolerance_has_failed() -> None:
    """A difference above the tolerance is a failure and is named with both numbers."""
    result = told(made("A", 101.5))
    assert [outcome.case.id for outcome in result.failed] == ["A"]
    assert any("A" in line and "101.5" in line for line in summary_lines(result))


def test_case_that_gives_no_number_has_failed() -> None:
    """Not a number is never within a tolerance."""
    assert told(made("A", math.nan)).failed


def test_refusal_of_the_core_is_a_failed_case_with_its_reason() -> None:
    """A case whose inputs the core refuses fails with the refusal's words, not a traceback."""

    def refuse() -> float:
        raise InputError("bore", -1.0, "m", "more than zero")

    result = told(made("A", refuse))
    assert "more than zero" in result.failed[0].refusal
    assert any("more than zero" in line for line in summary_lines(result))
    assert "refused" in "\n".join(table_lines(result))


def test_derived_case_is_no_check_from_outside() -> None:
    """A formula with derived checks only is counted among those without one, in words."""
    result = told(made("A", 100.0), made("D", 100.0, formula=GROWTH, reading="derived"))
    assert [row.formula.name for row in result.unchecked] == ["growth"]
    text = "\n".join(table_lines(result))
    assert "1 formula has no check from outside (none):\n  growth." in text
    assert "none from outside; D derived here" in text


def test_summary_counts_published_checks_apart_from_derived_ones() -> None:
    """A derived number is no published check, and a loose tolerance is counted and explained."""
    loose = made("L", 100.0, tolerance=2.0, because="the source rounds")
    result = told(made("A", 100.0, tolerance=0.5), loose, made("D", 100.0, reading="derived"))
    lines = summary_lines(result)
    assert lines[0] == "2 published checks of 2 formulas: 2 read in the source."
    assert "1 are looser than their printed digits" in lines[1]
    assert "1 more are derived here" in lines[1]
    assert "L: 2 for 0.5 psi because the source rounds" in "\n".join(table_lines(result))
    assert document(result)["looser"] == ["L"]


@pytest.mark.parametrize(
    ("number", "digits", "half"),
    [
        (15265.0, None, 0.5),
        (37500.0, None, 0.5),
        (0.87, None, 0.005),
        (-0.41, None, 0.005),
        (2.3184e-3, None, 5e-8),
        (5.073e6, 4, 500.0),
        (13.0, 3, 0.05),
    ],
)
def test_printed_digits_leave_half_of_the_last(
    number: float, digits: int | None, half: float
) -> None:
    """Half of the last digit that is written, or of the last of so many significant ones."""
    case = replace(made("A", number, published=number, tolerance=half), digits=digits)
    assert case.printed == pytest.approx(half, rel=1e-12)
    assert not case.is_looser
    assert replace(case, tolerance=1.01 * half).is_looser


def test_formula_without_any_case_says_none() -> None:
    """No case is the word none, not an empty cell and not a zero."""
    result = report(cases=(), formulas=(LOSS,))
    assert "checks         none" in "\n".join(table_lines(result))


@pytest.mark.parametrize(
    ("kept", "change"),
    [
        ((), "first release"),
        ((Kept("0.1", "core.growth", "G", 1.0, "m"),), "new"),
        ((Kept("0.1", "core.pressure", "A", 100.0, "psi"),), "none"),
        ((Kept("0.1", "core.pressure", "A", 100.25, "psi"),), "A: 100.25 to 100 psi"),
        (
            (
                Kept("0.1", "core.pressure", "A", 100.0, "psi"),
                Kept("0.1", "core.pressure", "B", 7.0, "psi"),
            ),
            "B removed",
        ),
        ((Kept("0.1", "core.pressure", "B", 7.0, "psi"),), "A new; B removed"),
    ],
)
def test_change_since_the_last_release_is_said_in_words(
    kept: tuple[Kept, ...], change: str
) -> None:
    """First release, new, none, or the old and the new value of the case that moved."""
    assert told(made("A", 100.0), kept=kept).rows[1].change == change


def test_document_has_the_same_facts_as_the_table() -> None:
    """The JSON carries counts, failures, and each case with how its number was read."""
    facts = document(told(made("A", 100.5), made("D", 1.0, formula=GROWTH, reading="derived")))
    assert facts["checks"] == 1
    assert facts["derived"] == 1
    assert facts["failed"] == ["D"]
    assert facts["count_without_outside_check"] == 1
    growth, pressure = facts["formulas"]
    assert growth["outside_checks"] == "none"
    assert pressure["worst_error"] == pytest.approx(0.5)
    assert pressure["worst_error_unit"] == "psi"
    assert pressure["cases"][0]["reading"] == "read in the source"


def test_file_of_the_last_release_is_read_and_has_its_columns() -> None:
    """The file in the package is readable; before the first release it holds no results."""
    assert all(entry.release and entry.case for entry in kept_results())


def test_what_a_release_keeps_can_be_read_again() -> None:
    """The file that a release writes gives back each result to the last digit."""
    result = told(made("A", 100.0 + 1.0 / 3.0), made("B", 5.0))
    lines = results_to_keep(result, release="0.2.0").splitlines()
    assert lines[2] == ",".join(COLUMNS)
    release, formula, case, computed, unit = lines[3].split(",")
    assert (release, formula, case, unit) == ("0.2.0", "core.pressure", "A", '"psi"')
    assert float(computed) == 100.0 + 1.0 / 3.0


def test_every_registered_check_holds_and_belongs_to_a_formula() -> None:
    """The real evidence has no failure, and no case without a formula of the core."""
    result = evidence_report()
    assert not result.failed
    functions = {row.formula.function for row in result.rows}
    assert {outcome.case.formula for outcome in result.outcomes} <= functions
    assert result.outcomes


def test_evidence_has_the_same_formulas_whoever_asks() -> None:
    """A fresh interpreter reports on every relation that is declared anywhere."""
    code = (
        "import importlib, pkgutil, sleevewright\n"
        "from sleevewright.services.evidence import evidence_report\n"
        "first = len(evidence_report().rows)\n"
        "for found in pkgutil.walk_packages(sleevewright.__path__, 'sleevewright.'):\n"
        "    if not found.name.endswith('__main__'):\n"
        "        importlib.import_module(found.name)\n"
        "assert len(evidence_report().rows) == first\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
