"""Limits and fits against the tables of ISO 286, JIS B 0401 and ANSI B4.1."""

import csv
from pathlib import Path

import pytest

from sleevewright.core.fits.grades import (
    fundamental_deviation,
    greatest_interference,
    least_interference,
    standard_tolerance,
    tolerance_factor,
)
from sleevewright.errors import InputError, NotFound, OutOfRange

DATA = Path(__file__).parent / "data"
MICRON = 1e-6
THOU = 25.4e-6

Row = dict[str, str]


def rows(name: str) -> list[Row]:
    """Rows of a table of this folder."""
    with (DATA / name).open(encoding="utf-8", newline="") as table:
        return list(csv.DictReader(table))


GRADES = rows("iso_286_grades_um.csv")
SHAFTS = rows("iso_286_shafts_um.csv")
FORCE_FITS = rows("ansi_b41_force_fits_thou.csv")


def name_of(row: Row) -> str:
    """A short name of a row, for the list of tests."""
    first = row.get("shaft") or row.get("class") or "IT"
    return f"{first} {row.get('over_mm') or row['over_in']}"


@pytest.mark.parametrize("row", GRADES, ids=name_of)
@pytest.mark.parametrize("grade", [6, 7])
def test_rounded_formula_gives_the_table(row: Row, grade: int) -> None:
    """10 i and 16 i, rounded to whole micrometres, are the tabulated IT6 and IT7."""
    width = standard_tolerance(
        over=float(row["over_mm"]) * 1e-3, up_to=float(row["up_to_mm"]) * 1e-3, grade=grade
    )
    assert width / MICRON == pytest.approx(float(row[f"it{grade}_um"]), abs=1e-6)


@pytest.mark.parametrize("row", SHAFTS, ids=name_of)
def test_sixth_grade_shafts_are_as_wide_as_the_formula(row: Row) -> None:
    """Upper minus lower deviation of each tabulated shaft is IT6 of its step."""
    width = standard_tolerance(
        over=float(row["step_over_mm"]) * 1e-3,
        up_to=float(row["step_up_to_mm"]) * 1e-3,
        grade=6,
    )
    tabulated = float(row["upper_um"]) - float(row["lower_um"])
    assert width / MICRON == pytest.approx(tabulated, abs=1e-6)


@pytest.mark.parametrize(
    "row",
    [r for r in SHAFTS if r["shaft"][0] in "stu" and float(r["over_mm"]) >= 50.0],
    ids=name_of,
)
def test_deviation_formulas_give_the_table(row: Row) -> None:
    """IT7 + 0.4, 0.63 and 1 times the mean size are the lower deviations of s, t and u."""
    low = fundamental_deviation(
        letter=row["shaft"][0],
        over=float(row["over_mm"]) * 1e-3,
        up_to=float(row["up_to_mm"]) * 1e-3,
        step_over=float(row["step_over_mm"]) * 1e-3,
        step_up_to=float(row["step_up_to_mm"]) * 1e-3,
    )
    assert low / MICRON == pytest.approx(float(row["lower_um"]), abs=1e-6)


@pytest.mark.parametrize("row", FORCE_FITS, ids=name_of)
def test_force_fits_agree_with_their_own_limits(row: Row) -> None:
    """Machinery's Handbook, 27th edition, page 663: limits and interferences agree."""
    least = least_interference(
        shaft_low=float(row["shaft_lower"]) * THOU, hole_high=float(row["hole_upper"]) * THOU
    )
    most = greatest_interference(shaft_high=float(row["shaft_upper"]) * THOU, hole_low=0.0)
    assert least / THOU == pytest.approx(float(row["least"]), abs=0.01)
    assert most / THOU == pytest.approx(float(row["most"]), abs=0.01)


def test_factor_of_the_step_that_most_bores_fall_into() -> None:
    """Over 50 mm to 80 mm i is 1.856 um before any rounding, so 10 i is 18.56 um."""
    assert tolerance_factor(over=50e-3, up_to=80e-3) / MICRON == pytest.approx(1.856, abs=5e-4)


def test_steps_where_rounding_departs_from_the_table_are_refused() -> None:
    """Below 18 mm the table is 8 um where plain rounding gives 7: no number is given."""
    with pytest.raises(OutOfRange, match="18 mm to 315 mm"):
        standard_tolerance(over=3e-3, up_to=6e-3, grade=6)
    with pytest.raises(OutOfRange, match="over 50 mm"):
        fundamental_deviation(
            letter="s", over=30e-3, up_to=40e-3, step_over=30e-3, step_up_to=50e-3
        )


def test_unknown_grades_and_letters_are_refused_by_name() -> None:
    """What is not there is refused with what is."""
    with pytest.raises(NotFound, match="IT12"):
        standard_tolerance(over=50e-3, up_to=80e-3, grade=12)
    with pytest.raises(NotFound, match="Known are: s, t, u"):
        fundamental_deviation(
            letter="p", over=50e-3, up_to=65e-3, step_over=50e-3, step_up_to=80e-3
        )
    with pytest.raises(InputError, match="more than the lower end"):
        tolerance_factor(over=80e-3, up_to=50e-3)
